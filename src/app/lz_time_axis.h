// SPDX-License-Identifier: GPL-3.0-or-later
// Where a time axis has its ticks in the station's zone, and what they are called.
#ifndef LZ_TIME_AXIS_H
#define LZ_TIME_AXIS_H

#include <lz_draw.h>
#include <lz_zone.h>

typedef struct {
  GArray *ticks;     // lzd_time_tick
  GPtrArray *labels; // that the ticks point to
  bool label_between;
} LzTimeAxis;

// Zero-initialise before the first fill; pixels is the width of the axis, scale the text scale.
void lz_time_axis_fill(LzTimeAxis *axis, LzZone *zone, lzd_window window, double pixels,
                       double scale, lzq_minute now);
void lz_time_axis_clear(LzTimeAxis *axis);

// A moment's local date by strftime directives ("%a %-d"); newly allocated.
char *lz_time_text(LzZone *zone, lzq_minute at, const char *directives);

#endif
