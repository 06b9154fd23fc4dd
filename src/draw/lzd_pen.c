// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of the vocabulary.
#include "lzd_pen.h"

#include <math.h>

double
lzd_snap(double v)
{
  return floor(v) + 0.5;
}

void
lzd_pen_set(cairo_t *cr, const lzd_look *look, lzd_role role, double width, lzd_dash dash)
{
  static const double table[][2] = {
      [LZD_DASH_PLAN] = {6, 4}, [LZD_DASH_FORECAST] = {2, 4}, [LZD_DASH_EDGE] = {1, 3},
      [LZD_DASH_SALT] = {4, 3}, [LZD_DASH_SHORT] = {2, 2},
  };
  double unit = lzd_look_unit(look);
  lzd_ink(cr, look->palette, role, 1);
  cairo_set_line_width(cr, width * unit * look->palette->weight);
  if (dash == LZD_DASH_NONE) {
    cairo_set_dash(cr, NULL, 0, 0);
  } else {
    double dashes[2] = {table[dash][0] * unit, table[dash][1] * unit};
    cairo_set_dash(cr, dashes, 2, 0);
  }
}

void
lzd_line(cairo_t *cr, double x0, double y0, double x1, double y1)
{
  cairo_move_to(cr, x0, y0);
  cairo_line_to(cr, x1, y1);
  cairo_stroke(cr);
}

void
lzd_fill_rect(cairo_t *cr, const lzd_look *look, lzd_role role, double alpha, lzd_rect rect)
{
  lzd_ink(cr, look->palette, role, alpha);
  cairo_rectangle(cr, rect.x, rect.y, rect.w, rect.h);
  cairo_fill(cr);
}

void
lzd_frame_rect(cairo_t *cr, const lzd_look *look, lzd_role role, double width, lzd_rect rect)
{
  lzd_pen_set(cr, look, role, width, LZD_DASH_NONE);
  double half = cairo_get_line_width(cr) / 2;
  if (rect.w <= 2 * half || rect.h <= 2 * half) {
    cairo_rectangle(cr, rect.x, rect.y, rect.w, rect.h);
    cairo_fill(cr);
    return;
  }
  cairo_rectangle(cr, rect.x + half, rect.y + half, rect.w - 2 * half, rect.h - 2 * half);
  cairo_stroke(cr);
}
