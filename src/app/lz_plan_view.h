// SPDX-License-Identifier: GPL-3.0-or-later
// The Plan place: systems down, days across, lots as ribbons flowing between them.
#ifndef LZ_PLAN_VIEW_H
#define LZ_PLAN_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_PLAN_VIEW (lz_plan_view_get_type())
G_DECLARE_FINAL_TYPE(LzPlanView, lz_plan_view, LZ, PLAN_VIEW, GtkWidget)

GtkWidget *lz_plan_view_new(LzDesk *desk);

#endif
