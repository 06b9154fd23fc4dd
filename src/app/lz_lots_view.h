// SPDX-License-Identifier: GPL-3.0-or-later
// The Lots place: a lot's way as one ribbon, its credit, and in plain words why it is not released.
#ifndef LZ_LOTS_VIEW_H
#define LZ_LOTS_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_LOTS_VIEW (lz_lots_view_get_type())
G_DECLARE_FINAL_TYPE(LzLotsView, lz_lots_view, LZ, LOTS_VIEW, GtkWidget)

GtkWidget *lz_lots_view_new(LzDesk *desk);

#endif
