// SPDX-License-Identifier: GPL-3.0-or-later
#ifndef LZ_CHART_MODEL_PRIVATE_H
#define LZ_CHART_MODEL_PRIVATE_H

#include <lz_rows.h>

#include "lz_chart_model.h"

#define LZ_CHART_PANELS 2
enum { LZ_RAIL_DOSE_ROW, LZ_RAIL_CHANGE_ROW, LZ_RAIL_MOVE_ROW, LZ_RAIL_SEEN_ROW, LZ_CHART_RAILS };

struct _LzChartModel {
  LzDesk *desk;
  uint32_t system;
  LzChartData *data[LZ_CHART_PANELS];
  GArray *bands[LZ_CHART_PANELS], *readings[LZ_CHART_PANELS];
  GArray *estimate[LZ_CHART_PANELS], *forecast[LZ_CHART_PANELS], *plan[LZ_CHART_PANELS];
  GArray *exits[LZ_CHART_PANELS];
  GArray *events[LZ_CHART_RAILS];
  GPtrArray *spans; // GArray of lzd_credit_span, one per strip
  GPtrArray *texts; // everything that the chart's strings point to
  lzd_panel panels[LZ_CHART_PANELS];
  lzd_rail rails[LZ_CHART_RAILS];
  lzd_strip strips[LZD_MAX_STRIPS];
  lzd_legend legend;
  guint n_panels;
  LzTimeAxis axis;
  lzd_chart chart;
  char *callout_title;
  lzd_callout_line callout[3];
  char *callout_text[3];
};

// Keeps a text for as long as the model; returns it.
const char *lz_chart_keep(LzChartModel *model, char *text);
// lz_chart_panels.c
void lz_chart_fill_panel(LzChartModel *model, guint panel);
// lz_chart_rails.c
void lz_chart_fill_rails(LzChartModel *model);
void lz_chart_fill_strips(LzChartModel *model);

#endif
