// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the parts of a chart's data, one file each.
#ifndef LZ_CHART_PRIVATE_H
#define LZ_CHART_PRIVATE_H

#include "lz_chart_data.h"
#include "lz_desk_private.h"

void lz_chart_level(LzChartData *data, LzDesk *desk); // readings, estimate, carried, forecast, exit
void lz_chart_events(LzChartData *data, LzDesk *desk); // of record and plan
void lz_chart_bands(LzChartData *data, LzDesk *desk);  // in force, past and ahead
void lz_chart_credit(LzChartData *data, LzDesk *desk); // of every lot that stood there

#endif
