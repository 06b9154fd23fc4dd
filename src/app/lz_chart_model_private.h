// SPDX-License-Identifier: GPL-3.0-or-later
#ifndef LZ_CHART_MODEL_PRIVATE_H
#define LZ_CHART_MODEL_PRIVATE_H

#include <lz_rows.h>

#include "lz_chart_model.h"

enum { LZ_RAIL_DOSE_ROW, LZ_RAIL_CHANGE_ROW, LZ_RAIL_MOVE_ROW, LZ_RAIL_SEEN_ROW, LZ_CHART_RAILS };

// A stretch of the water or the course that is compared, as it was recorded.
typedef struct {
  LzChartData *data;
  lzq_minute shift; // added to its minutes
} LzChartOther;

struct _LzChartModel {
  LzDesk *desk;
  uint32_t system;
  LzChartChoice choice;
  lzq_analyte analyte[LZD_MAX_PANELS];
  LzChartData *data[LZD_MAX_PANELS];
  GArray *bands[LZD_MAX_PANELS], *readings[LZD_MAX_PANELS];
  GArray *estimate[LZD_MAX_PANELS], *forecast[LZD_MAX_PANELS], *plan[LZD_MAX_PANELS];
  GArray *exits[LZD_MAX_PANELS], *other[LZD_MAX_PANELS];
  lzd_index *index[LZD_MAX_PANELS]; // NULL where there are few readings
  GPtrArray *others;                // LzChartOther
  const char *other_name;           // NULL where nothing is compared
  GArray *events[LZ_CHART_RAILS];
  GPtrArray *spans; // GArray of lzd_credit_span, one per strip
  GPtrArray *texts; // everything that the chart's strings point to
  lzd_panel panels[LZD_MAX_PANELS];
  lzd_rail rails[LZ_CHART_RAILS];
  lzd_strip strips[LZD_MAX_STRIPS];
  lzd_legend legend;
  guint n_panels;
  LzTimeAxis axis;
  lzd_chart chart;
  char *callout_title;
  lzd_callout_line callout[LZD_MAX_PANELS];
  char *callout_text[LZD_MAX_PANELS];
  guint n_callout;
};

// Keeps a text for as long as the model; returns it.
const char *lz_chart_keep(LzChartModel *model, char *text);
// lz_chart_panels.c
const char *lz_chart_unit(lzq_analyte analyte); // "" = none
void lz_chart_fill_panel(LzChartModel *model, guint panel);
// lz_chart_other.c
void lz_chart_fill_other(LzChartModel *model, guint panel);
void lz_chart_other_free(gpointer other);
// lz_chart_rows.c
const char *lz_chart_event_name(LzChartEventKind kind);
// lz_chart_rails.c
void lz_chart_fill_rails(LzChartModel *model);
void lz_chart_fill_strips(LzChartModel *model);

#endif
