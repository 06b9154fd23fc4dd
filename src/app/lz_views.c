// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_views.h"

#include "lz_start_view.h"

GtkWidget *
lz_view_new(const char *name, LzDesk *desk)
{
  return lz_start_view_new();
}
