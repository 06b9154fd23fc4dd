// SPDX-License-Identifier: GPL-3.0-or-later
// The button above a chart: what else it shows, what it is compared with, how wide, and where it
// goes. A menu, so that a pointer, the keys and a screen reader find the same.
#ifndef LZ_CHART_MENU_H
#define LZ_CHART_MENU_H

#include <gtk/gtk.h>

#include "lz_chart.h"

#define LZ_TYPE_CHART_MENU (lz_chart_menu_get_type())
G_DECLARE_FINAL_TYPE(LzChartMenu, lz_chart_menu, LZ, CHART_MENU, GtkWidget)

// Signal "changed": another choice. chart: what it acts on, for as long as the menu lives; F9 and
// Ctrl C act wherever in `place` the focus is.
void lz_chart_menu_set(LzChartMenu *self, LzDesk *desk, LzChart *chart, GtkWidget *place);
// Another water: its tank and its comparison are forgotten.
void lz_chart_menu_set_system(LzChartMenu *self, uint32_t system);
const LzChartChoice *lz_chart_menu_choice(LzChartMenu *self);

#endif
