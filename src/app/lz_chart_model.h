// SPDX-License-Identifier: GPL-3.0-or-later
// One water's chart as the drawing layer wants it: the desk's data for copper, salinity and what
// else was chosen, made into panels, rails and strips with finished strings. No widget is named
// here.
#ifndef LZ_CHART_MODEL_H
#define LZ_CHART_MODEL_H

#include <lz_chart_data.h>
#include <lz_draw.h>

#include "lz_time_axis.h"

typedef struct _LzChartModel LzChartModel;

// What a chart shows beside copper and salinity of the whole water.
typedef struct {
  uint32_t more;         // bits 1u << lzq_analyte of further panels; the first LZ_CHART_MORE count
  uint32_t tank;         // events and credit of the lots of this tank only; LZQ_NONE = all
  uint32_t other_system; // another water's levels over this one's; LZQ_NONE = none
  uint32_t other_lot;    // another lot's course, its day one on this water's; LZQ_NONE = none
} LzChartChoice;
#define LZ_CHART_MORE (LZD_MAX_PANELS - 2)
#define LZ_CHART_PLAIN                                                                             \
  {                                                                                                \
    .tank = LZQ_NONE, .other_system = LZQ_NONE, .other_lot = LZQ_NONE                              \
  }

// Everything between from and to. choice NULL: LZ_CHART_PLAIN. A system index that is none gives an
// empty chart.
LzChartModel *lz_chart_model_new(LzDesk *desk, uint32_t system, lzq_minute from, lzq_minute to,
                                 const LzChartChoice *choice);
void lz_chart_model_free(LzChartModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzChartModel, lz_chart_model_free)

// The chart with this window and ticks for `pixels` of width. The pointer lives as long as the
// model; the next call changes what it points to.
lzd_chart *lz_chart_model_view(LzChartModel *model, lzd_window window, double pixels, double scale);
// What data there is for a panel; NULL beyond the last.
const LzChartData *lz_chart_model_data(const LzChartModel *model, guint panel);
// "Quay Street, Blue-2, 1 Mar to 21 Mar 2027": what a picture of the window says above it.
char *lz_chart_model_title(const LzChartModel *model, lzd_window window);
// One sentence: what the water holds, its band, and where it goes. Newly allocated.
char *lz_chart_model_sentence(const LzChartModel *model);
// The box at a reading, an event, or (kind NONE) a moment, where it says the level of every panel:
// title and lines, owned by the model until the next call.
void lz_chart_model_callout(LzChartModel *model, lzd_hit at, lzd_cursor *out);
// The entry of the reading or event there; 0 = none.
gint64 lz_chart_model_entry(const LzChartModel *model, lzd_hit at);
// Day one of the course that this water's lots are on, LZQ_NEVER = none.
lzq_minute lz_chart_model_day_one(const LzChartModel *model);
// Every reading and event, the bands and the forecast's exits, newest first, as rows of a table
// (LzTextRow): when, what, value, with, remark.
GListModel *lz_chart_model_rows(const LzChartModel *model);
extern const char *const lz_chart_model_titles[];
// The mark of an instrument's readings; name (may be NULL) gets its name, valid until the next
// "changed", and is left alone where there is no such instrument.
lzd_mark lz_chart_instrument_mark(LzDesk *desk, uint32_t instrument, const char **name);

#endif
