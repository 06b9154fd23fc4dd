// SPDX-License-Identifier: GPL-3.0-or-later
// Power or pump failure, a page of the round: what to do first, in order, with this station's own
// waters, and two keys that write down when the pumps stopped and when they ran again.
#ifndef LZ_POWER_VIEW_H
#define LZ_POWER_VIEW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_POWER_VIEW (lz_power_view_get_type())
G_DECLARE_FINAL_TYPE(LzPowerView, lz_power_view, LZ, POWER_VIEW, GtkWidget)

GtkWidget *lz_power_view_new(LzDesk *desk);

#endif
