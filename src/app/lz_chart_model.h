// SPDX-License-Identifier: GPL-3.0-or-later
// One water's chart as the drawing layer wants it: the desk's data for copper and salinity, made
// into panels, rails and strips with finished strings. No widget is named here.
#ifndef LZ_CHART_MODEL_H
#define LZ_CHART_MODEL_H

#include <lz_chart_data.h>
#include <lz_draw.h>

#include "lz_time_axis.h"

typedef struct _LzChartModel LzChartModel;

// Everything between from and to. NULL system index gives an empty chart.
LzChartModel *lz_chart_model_new(LzDesk *desk, uint32_t system, lzq_minute from, lzq_minute to);
void lz_chart_model_free(LzChartModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzChartModel, lz_chart_model_free)

// The chart with this window and ticks for `pixels` of width. The pointer lives as long as the
// model; the next call changes what it points to.
lzd_chart *lz_chart_model_view(LzChartModel *model, lzd_window window, double pixels, double scale);
// What data there is for a panel; NULL beyond the last.
const LzChartData *lz_chart_model_data(const LzChartModel *model, guint panel);
// One sentence: what the water holds, its band, and where it goes. Newly allocated.
char *lz_chart_model_sentence(const LzChartModel *model);
// The box at a reading: title and lines, owned by the model until the next call.
void lz_chart_model_callout(LzChartModel *model, guint panel, guint reading, lzd_cursor *out);
// Every reading and event, newest first, as rows of a table (LzTextRow): when, what, value, with,
// remark.
GListModel *lz_chart_model_rows(const LzChartModel *model);
extern const char *const lz_chart_model_titles[];
// The mark of an instrument's readings; name (may be NULL) gets its name, valid until the next
// "changed", and is left alone where there is no such instrument.
lzd_mark lz_chart_instrument_mark(LzDesk *desk, uint32_t instrument, const char **name);

#endif
