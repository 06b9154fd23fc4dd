// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the layer only: lines, snapped to whole pixels, in the look's weight.
#ifndef LZD_PEN_H
#define LZD_PEN_H

#include "lzd_base.h"

// Dash patterns of the vocabulary.
typedef enum {
  LZD_DASH_NONE,
  LZD_DASH_PLAN,     // 6-4
  LZD_DASH_FORECAST, // 2-4
  LZD_DASH_EDGE,     // 1-3: the edges of a forecast's interval, the cursor
  LZD_DASH_SALT,     // 4-3: lowered salinity under a basin
  LZD_DASH_SHORT,    // 2-2: drop line of an exit, planned trough
} lzd_dash;

// The middle of the pixel that v falls in, so that a one-pixel line is one pixel.
double lzd_snap(double v);
// Sets colour, width and dash for stroking.
void lzd_pen_set(cairo_t *cr, const lzd_look *look, lzd_role role, double width, lzd_dash dash);
void lzd_line(cairo_t *cr, double x0, double y0, double x1, double y1); // strokes
void lzd_fill_rect(cairo_t *cr, const lzd_look *look, lzd_role role, double alpha, lzd_rect rect);
// A frame whose outer edge is rect.
void lzd_frame_rect(cairo_t *cr, const lzd_look *look, lzd_role role, double width, lzd_rect rect);

#endif
