// SPDX-License-Identifier: GPL-3.0-or-later
// The Round: what to do this shift, in the order in which one walks the room.
#ifndef LZ_ROUND_VIEW_H
#define LZ_ROUND_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_ROUND_VIEW (lz_round_view_get_type())
G_DECLARE_FINAL_TYPE(LzRoundView, lz_round_view, LZ, ROUND_VIEW, GtkWidget)

GtkWidget *lz_round_view_new(LzDesk *desk);

#endif
