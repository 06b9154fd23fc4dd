// SPDX-License-Identifier: GPL-3.0-or-later
// The marks of the chart: readings by instrument, and the events of the rail.
#include <math.h>

#include "lzd_sign.h"

static void
cross(const lzd_sign *sign, double half, double width)
{
  cairo_move_to(sign->cr, -half, -half);
  cairo_line_to(sign->cr, half, half);
  cairo_move_to(sign->cr, half, -half);
  cairo_line_to(sign->cr, -half, half);
  lzd_sign_stroke(sign, width);
}

static void
reading_path(const lzd_sign *sign, lzd_mark mark)
{
  static const double square[4][2] = {{-0.45, -0.45}, {0.45, -0.45}, {0.45, 0.45}, {-0.45, 0.45}};
  static const double diamond[4][2] = {{0, -0.56}, {0.56, 0}, {0, 0.56}, {-0.56, 0}};
  static const double triangle[3][2] = {{-0.5, 0.39}, {0.5, 0.39}, {0, -0.5}};
  static const double bar[4][2] = {{-0.55, -0.2}, {0.55, -0.2}, {0.55, 0.2}, {-0.55, 0.2}};
  switch (mark) {
  case LZD_READ_SQUARE: lzd_sign_polygon(sign, square, 4); break;
  case LZD_READ_DIAMOND: lzd_sign_polygon(sign, diamond, 4); break;
  case LZD_READ_TRIANGLE: lzd_sign_polygon(sign, triangle, 3); break;
  case LZD_READ_BAR: lzd_sign_polygon(sign, bar, 4); break;
  default: cairo_arc(sign->cr, 0, 0, 0.5 * sign->s, 0, 2 * M_PI); cairo_close_path(sign->cr);
  }
}

void
lzd_sign_reading(const lzd_sign *sign, lzd_mark mark)
{
  cairo_t *cr = sign->cr;
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  if (mark == LZD_READ_CROSS) {
    cross(sign, 0.42 * sign->s, 2);
  } else {
    reading_path(sign, mark);
    lzd_ink(cr, sign->look->palette, sign->state == LZD_PLAIN ? sign->role : LZD_SURFACE, 1);
    cairo_fill_preserve(cr);
    lzd_sign_stroke(sign, 1.6);
  }
  if (sign->state == LZD_SUSPECT) {
    cairo_move_to(cr, -0.95 * sign->s, 0.95 * sign->s);
    cairo_line_to(cr, 0.95 * sign->s, -0.95 * sign->s);
    lzd_sign_stroke(sign, 1.6);
  }
}

static void
drop(const lzd_sign *sign)
{
  cairo_t *cr = sign->cr;
  double u = sign->s / 14;
  cairo_move_to(cr, 0, -7 * u);
  cairo_curve_to(cr, 2.1 * u, -2.8 * u, 5.25 * u, 0, 5.25 * u, 2.45 * u);
  cairo_curve_to(cr, 5.25 * u, 5.2 * u, 2.9 * u, 7.2 * u, 0, 7.2 * u);
  cairo_curve_to(cr, -2.9 * u, 7.2 * u, -5.25 * u, 5.2 * u, -5.25 * u, 2.45 * u);
  cairo_curve_to(cr, -5.25 * u, 0, -2.1 * u, -2.8 * u, 0, -7 * u);
  cairo_close_path(cr);
  lzd_sign_fill(sign);
}

static void
trough(const lzd_sign *sign)
{
  cairo_t *cr = sign->cr;
  double u = sign->s / 14;
  if (sign->state == LZD_HOLLOW)
    cairo_set_dash(cr, (double[]){2 * u, 2 * u}, 2, 0);
  cairo_move_to(cr, -4.8 * u, -4.4 * u);
  cairo_line_to(cr, -4.8 * u, 4.4 * u);
  cairo_line_to(cr, 4.8 * u, 4.4 * u);
  cairo_line_to(cr, 4.8 * u, -4.4 * u);
  if (sign->state != LZD_HOLLOW) {
    cairo_move_to(cr, -4.8 * u, 0);
    cairo_line_to(cr, 4.8 * u, 0);
  }
  lzd_sign_stroke(sign, sign->state == LZD_HOLLOW ? 1.3 : 1.6);
}

static void
eye(const lzd_sign *sign)
{
  cairo_t *cr = sign->cr;
  double u = sign->s / 16;
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  // The quadratic curves of the sketch as cubics: control points two thirds of the way.
  cairo_move_to(cr, -8 * u, 0);
  cairo_curve_to(cr, -8 * u / 3, -6.4 * u, 8 * u / 3, -6.4 * u, 8 * u, 0);
  cairo_curve_to(cr, 8 * u / 3, 6.4 * u, -8 * u / 3, 6.4 * u, -8 * u, 0);
  cairo_close_path(cr);
  lzd_sign_stroke(sign, 1.6);
  cairo_arc(cr, 0, 0, 2.7 * u, 0, 2 * M_PI);
  lzd_sign_fill(sign);
}

static void
grains(const lzd_sign *sign)
{
  static const double at[3][2] = {{-0.26, 0.18}, {0.26, 0.18}, {0, -0.24}};
  for (int i = 0; i < 3; i++) {
    cairo_new_sub_path(sign->cr);
    cairo_arc(sign->cr, at[i][0] * sign->s, at[i][1] * sign->s, 0.17 * sign->s, 0, 2 * M_PI);
    cairo_close_path(sign->cr);
  }
  lzd_sign_fill(sign);
}

static void
flag_on_pole(const lzd_sign *sign)
{
  double s = sign->s;
  cairo_move_to(sign->cr, -0.28 * s, 0.46 * s);
  cairo_line_to(sign->cr, -0.28 * s, -0.46 * s);
  lzd_sign_stroke(sign, 1.6);
  cairo_rectangle(sign->cr, -0.28 * s, -0.46 * s, 0.62 * s, 0.46 * s);
  lzd_sign_fill(sign);
}

void
lzd_sign_rail(const lzd_sign *sign, lzd_mark mark)
{
  static const double move[6][2] = {{-0.5, -0.25}, {0.1, -0.25}, {0.5, 0},
                                    {0.1, 0.25},   {-0.5, 0.25}, {-0.3, 0}};
  switch (mark) {
  case LZD_RAIL_DOSE: drop(sign); break;
  case LZD_RAIL_CHANGE: trough(sign); break;
  case LZD_RAIL_MOVE:
    lzd_sign_polygon(sign, move, 6);
    lzd_sign_fill(sign);
    break;
  case LZD_RAIL_SEEN: eye(sign); break;
  case LZD_RAIL_DEAD: cross(sign, 0.26 * sign->s, 2); break;
  case LZD_RAIL_FED: grains(sign); break;
  default: flag_on_pole(sign);
  }
}
