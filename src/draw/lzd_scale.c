// SPDX-License-Identifier: GPL-3.0-or-later
// The straight map, and the rules by which a window of time moves.
#include "lzd_scale.h"

#include <math.h>

lzd_scale
lzd_scale_make(double v0, double v1, double p0, double p1)
{
  if (!isfinite(v0))
    v0 = isfinite(v1) ? v1 - 1 : 0;
  if (!isfinite(v1))
    v1 = v0 + 1;
  if (v0 > v1) {
    double swap = v0;
    v0 = v1;
    v1 = swap;
  }
  double least = fmax(fabs(v0), fabs(v1)) * 1e-9 + 1e-9;
  if (v1 - v0 < least) {
    double half = v0 == 0 ? 0.5 : fabs(v0) * 0.05;
    v0 -= half;
    v1 += half;
  }
  return (lzd_scale){v0, v1, p0, p1};
}

double
lzd_scale_at(const lzd_scale *scale, double value)
{
  return scale->p0 + (value - scale->v0) / (scale->v1 - scale->v0) * (scale->p1 - scale->p0);
}

double
lzd_scale_invert(const lzd_scale *scale, double pixel)
{
  if (scale->p1 == scale->p0)
    return scale->v0;
  return scale->v0 + (pixel - scale->p0) / (scale->p1 - scale->p0) * (scale->v1 - scale->v0);
}

double
lzd_scale_clamp(const lzd_scale *scale, double value)
{
  return lzd_scale_at(scale, fmin(fmax(value, scale->v0), scale->v1));
}

static lzd_minute
held_width(double width)
{
  if (!(width > LZD_WINDOW_LEAST))
    return LZD_WINDOW_LEAST;
  return width > (double)LZD_WINDOW_MOST ? LZD_WINDOW_MOST : (lzd_minute)llround(width);
}

lzd_window
lzd_window_zoom(lzd_window window, lzd_minute anchor, double factor)
{
  double width = (double)(window.to - window.from);
  lzd_minute wanted = held_width(width * factor);
  double place = (double)(anchor - window.from) / width;
  lzd_minute from = anchor - (lzd_minute)llround(place * (double)wanted);
  return (lzd_window){from, from + wanted};
}

lzd_window
lzd_window_pan(lzd_window window, double share)
{
  lzd_minute by = (lzd_minute)llround((double)(window.to - window.from) * share);
  return (lzd_window){window.from + by, window.to + by};
}

lzd_window
lzd_window_show(lzd_window window, lzd_minute moment)
{
  lzd_minute margin = (window.to - window.from) / 20, by = 0;
  if (moment < window.from + margin)
    by = moment - margin - window.from;
  else if (moment > window.to - margin)
    by = moment + margin - window.to;
  return (lzd_window){window.from + by, window.to + by};
}
