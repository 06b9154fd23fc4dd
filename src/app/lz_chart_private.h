// SPDX-License-Identifier: GPL-3.0-or-later
// The chart widget's two halves: what it shows (lz_chart.c) and how it is moved (lz_chart_move.c).
// The handlers take plain numbers, so that tests can do what no test display can: pinch and drag.
#ifndef LZ_CHART_PRIVATE_H
#define LZ_CHART_PRIVATE_H

#include "lz_chart.h"

struct _LzChart {
  GtkWidget parent;
  LzChartModel *model;
  lzd_window window, whole;
  GskRenderNode *node; // of the chart without its cursor
  int node_width, node_height;
  lzd_hit at; // where the cursor stands; NONE with a minute: between readings
  gboolean has_cursor;
  double pointer_x, pointer_y;
  lzd_window grabbed;    // the window when a drag or a pinch began
  lzd_minute pinched_at; // the moment between the fingers then
};

// FALSE where there is nothing to lay out.
gboolean lz_chart_layout(LzChart *self, lzd_chart **chart, lzd_layout *out);
void lz_chart_set_window(LzChart *self, lzd_window window);
// Stands the cursor on a reading, an event or a moment, says it, and brings it into the window.
void lz_chart_stand_at(LzChart *self, lzd_hit hit);

void lz_chart_move_class_init(GtkWidgetClass *widget); // keys that the pad has not
void lz_chart_move_init(LzChart *self);                // controllers and gestures
// Pixels from the widget's corner; dx, dy of a wheel in notches.
void lz_chart_point(LzChart *self, double x, double y);
void lz_chart_wheel(LzChart *self, double dx, double dy, gboolean sideways);
void lz_chart_grab(LzChart *self, double x); // a drag or a pinch begins there
void lz_chart_drag(LzChart *self, double dx);
void lz_chart_pinch(LzChart *self, double scale);

#endif
