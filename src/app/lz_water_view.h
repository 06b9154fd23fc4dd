// SPDX-License-Identifier: GPL-3.0-or-later
// The Water place: one system and its tanks, its chart, what is in it and what to add.
#ifndef LZ_WATER_VIEW_H
#define LZ_WATER_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_WATER_VIEW (lz_water_view_get_type())
G_DECLARE_FINAL_TYPE(LzWaterView, lz_water_view, LZ, WATER_VIEW, GtkWidget)

GtkWidget *lz_water_view_new(LzDesk *desk);
// Name of the system that is shown, owned by the desk; NULL = there is none.
const char *lz_water_view_system(LzWaterView *self);

#endif
