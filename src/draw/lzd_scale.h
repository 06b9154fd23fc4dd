// SPDX-License-Identifier: GPL-3.0-or-later
// A straight map between values (or minutes) and pixels, and the window of time that a chart shows.
#ifndef LZD_SCALE_H
#define LZD_SCALE_H

#include "lzd_base.h"

// p0 may be greater than p1 (a value axis grows upward, a mirrored time axis leftward).
typedef struct {
  double v0, v1; // v0 < v1
  double p0, p1;
} lzd_scale;

// A range of no width or not finite is widened: a chart of one value still has an axis.
lzd_scale lzd_scale_make(double v0, double v1, double p0, double p1);
double lzd_scale_at(const lzd_scale *scale, double value);     // value to pixel
double lzd_scale_invert(const lzd_scale *scale, double pixel); // pixel to value
double lzd_scale_clamp(const lzd_scale *scale, double value);  // to pixel, held inside the axis

// The window of time. An hour to ten years wide.
#define LZD_WINDOW_LEAST 60
#define LZD_WINDOW_MOST  ((lzd_minute)(3653) * 1440)
typedef struct {
  lzd_minute from, to; // from < to
} lzd_window;

// factor < 1 zooms in; the moment `anchor` stays at its place. Width held to the limits above.
lzd_window lzd_window_zoom(lzd_window window, lzd_minute anchor, double factor);
// Moved by a share of its own width: 0.1 = a tenth later.
lzd_window lzd_window_pan(lzd_window window, double share);
// Moved, not resized, by the least that brings `moment` inside with a margin of a twentieth.
lzd_window lzd_window_show(lzd_window window, lzd_minute moment);

#endif
