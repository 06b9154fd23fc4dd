// SPDX-License-Identifier: GPL-3.0-or-later
// The column beside the chart: copper and salinity so large that they are read from two metres,
// each with its band mark and word, and what to add.
#ifndef LZ_WATER_STATE_H
#define LZ_WATER_STATE_H

#include <gtk/gtk.h>

#include "lz_chart_model.h"

#define LZ_TYPE_WATER_STATE (lz_water_state_get_type())
G_DECLARE_FINAL_TYPE(LzWaterState, lz_water_state, LZ, WATER_STATE, GtkWidget)

// model may be NULL: the system's last readings are then not told.
void lz_water_state_set(LzWaterState *self, LzDesk *desk, uint32_t system,
                        const LzChartModel *model);

#endif
