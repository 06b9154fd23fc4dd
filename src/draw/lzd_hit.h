// SPDX-License-Identifier: GPL-3.0-or-later
// What is under the pointer, and where the keyboard cursor goes next. Pure functions of the
// description and its layout; nothing here draws.
#ifndef LZD_HIT_H
#define LZD_HIT_H

#include "lzd_chart.h"

typedef enum { LZD_HIT_NONE, LZD_HIT_READING, LZD_HIT_EVENT, LZD_HIT_CREDIT } lzd_hit_kind;

typedef struct {
  lzd_hit_kind kind;
  size_t row;   // panel, rail or strip
  size_t index; // reading, event or span
  uint32_t id;  // the reading's or the event's
  lzd_minute minute;
} lzd_hit;

// The nearest reading or event within `radius` pixels of (x, y), readings first where equally near;
// else the credit span under it; else NONE with the minute under x.
lzd_hit lzd_chart_hit(const lzd_chart *chart, const lzd_layout *layout, double x, double y,
                      double radius);
// The next (direction 1) or previous (-1) reading of `panel`, in order of time and then of index,
// after `at`. at.kind NONE: from at.minute. Stays (kind NONE) where there is no further one. It may
// lie outside the window: lzd_window_show brings it in.
lzd_hit lzd_chart_step(const lzd_chart *chart, size_t panel, lzd_hit at, int direction);
// The reading of another panel (direction 1 down, -1 up) nearest in time to `at`.
lzd_hit lzd_chart_step_panel(const lzd_chart *chart, lzd_hit at, int direction);
// The next or previous event of a rail.
lzd_hit lzd_chart_step_event(const lzd_chart *chart, size_t rail, lzd_hit at, int direction);
lzd_minute lzd_chart_minute_at(const lzd_layout *layout, double x);
// Panel under y, or SIZE_MAX.
size_t lzd_chart_panel_at(const lzd_layout *layout, double y);
double lzd_chart_value_at(const lzd_layout *layout, size_t panel, double y);

#endif
