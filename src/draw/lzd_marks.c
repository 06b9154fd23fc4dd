// SPDX-License-Identifier: GPL-3.0-or-later
// One door to all marks; and the band and task marks.
#include "lzd_marks.h"

#include <math.h>

#include "lzd_sign.h"

static const char *const names[LZD_MARKS] = {
    [LZD_MARK_NONE] = "none",
    [LZD_BAND_IN] = "in band",
    [LZD_BAND_EDGE_HIGH] = "at upper edge",
    [LZD_BAND_EDGE_LOW] = "at lower edge",
    [LZD_BAND_HIGH] = "high",
    [LZD_BAND_LOW] = "low",
    [LZD_BAND_OLD] = "old",
    [LZD_BAND_SUSPECT] = "suspect",
    [LZD_BAND_UNKNOWN] = "never read",
    [LZD_TASK_LATE] = "late",
    [LZD_TASK_BLOCKED] = "blocked",
    [LZD_TASK_DUE] = "due",
    [LZD_TASK_NOW] = "now",
    [LZD_TASK_DONE] = "done",
    [LZD_TASK_NOT_STARTED] = "not started",
    [LZD_TASK_CONFLICT] = "conflict",
    [LZD_READ_DISC] = "photometer",
    [LZD_READ_SQUARE] = "drop test",
    [LZD_READ_DIAMOND] = "refractometer",
    [LZD_READ_TRIANGLE] = "meter",
    [LZD_READ_CROSS] = "wrong form",
    [LZD_READ_BAR] = "other instrument",
    [LZD_RAIL_DOSE] = "dose",
    [LZD_RAIL_CHANGE] = "change",
    [LZD_RAIL_MOVE] = "move",
    [LZD_RAIL_SEEN] = "seen",
    [LZD_RAIL_DEAD] = "dead",
    [LZD_RAIL_FED] = "fed",
    [LZD_RAIL_NOTE] = "note",
};

const char *
lzd_mark_name(lzd_mark mark)
{
  return mark < LZD_MARKS ? names[mark] : "none";
}

lzd_role
lzd_mark_role(lzd_mark mark, lzd_mark_state state)
{
  if (state == LZD_SUSPECT)
    return LZD_ALARM;
  switch (mark) {
  case LZD_BAND_HIGH:
  case LZD_BAND_LOW:
  case LZD_BAND_SUSPECT:
  case LZD_TASK_LATE:
  case LZD_TASK_CONFLICT: return LZD_ALARM;
  case LZD_TASK_NOW: return LZD_ACCENT;
  default: return LZD_TEXT;
  }
}

void
lzd_sign_stroke(const lzd_sign *sign, double width)
{
  lzd_ink(sign->cr, sign->look->palette, sign->role, 1);
  cairo_set_line_width(sign->cr, width * sign->stroke);
  cairo_stroke(sign->cr);
}

void
lzd_sign_fill(const lzd_sign *sign)
{
  if (sign->state == LZD_HOLLOW) {
    lzd_ink(sign->cr, sign->look->palette, LZD_BACKGROUND, 1);
    cairo_fill_preserve(sign->cr);
    lzd_sign_stroke(sign, 1.3);
    return;
  }
  lzd_ink(sign->cr, sign->look->palette, sign->role, 1);
  cairo_fill(sign->cr);
}

void
lzd_sign_polygon(const lzd_sign *sign, const double (*points)[2], size_t n)
{
  for (size_t i = 0; i < n; i++)
    cairo_line_to(sign->cr, points[i][0] * sign->s, points[i][1] * sign->s);
  cairo_close_path(sign->cr);
}

// Rails at +-g, half as long again as they are apart; the sign between, on, or outside them.
static void
rails(const lzd_sign *sign, double g)
{
  for (int side = -1; side <= 1; side += 2) {
    cairo_move_to(sign->cr, -1.64 * g, side * g);
    cairo_line_to(sign->cr, 1.64 * g, side * g);
  }
  lzd_sign_stroke(sign, 1.6);
}

static void
dot(const lzd_sign *sign, double y, double r)
{
  cairo_arc(sign->cr, 0, y, r, 0, 2 * M_PI);
  lzd_ink(sign->cr, sign->look->palette, sign->role, 1);
  cairo_fill(sign->cr);
}

// A triangle outside the rail on `side` (-1 above, +1 below), pointing away from the band.
static void
outside(const lzd_sign *sign, double g, int side)
{
  cairo_translate(sign->cr, 0, -side * 0.62 * g);
  rails(sign, g);
  double base = side * 1.42 * g, tip = side * 2.62 * g;
  cairo_move_to(sign->cr, -0.88 * g, base);
  cairo_line_to(sign->cr, 0.88 * g, base);
  cairo_line_to(sign->cr, 0, tip);
  cairo_close_path(sign->cr);
  lzd_ink(sign->cr, sign->look->palette, sign->role, 1);
  cairo_fill(sign->cr);
}

void
lzd_sign_band(const lzd_sign *sign, lzd_mark mark)
{
  double g = sign->s / 4;
  if (mark == LZD_BAND_HIGH || mark == LZD_BAND_LOW) {
    outside(sign, g, mark == LZD_BAND_HIGH ? -1 : 1);
    return;
  }
  rails(sign, g);
  if (mark == LZD_BAND_IN) {
    dot(sign, 0, 0.56 * g);
  } else if (mark == LZD_BAND_EDGE_HIGH || mark == LZD_BAND_EDGE_LOW) {
    dot(sign, mark == LZD_BAND_EDGE_HIGH ? -g : g, 0.6 * g);
  } else if (mark == LZD_BAND_OLD) {
    cairo_arc(sign->cr, 0, 0, 0.6 * g, 0, 2 * M_PI);
    lzd_sign_stroke(sign, 1.5);
    cairo_move_to(sign->cr, -1.64 * g, -1.9 * g);
    cairo_line_to(sign->cr, 1.64 * g, 1.9 * g);
    lzd_sign_stroke(sign, 1.4);
  } else if (mark == LZD_BAND_SUSPECT) {
    static const double diamond[4][2] = {{0, -0.19}, {0.19, 0}, {0, 0.19}, {-0.19, 0}};
    lzd_sign_polygon(sign, diamond, 4);
    lzd_sign_stroke(sign, 1.5);
  }
}

static void
gate(const lzd_sign *sign)
{
  double half = sign->s * 0.453;
  cairo_rectangle(sign->cr, -half, -half, 2 * half, 2 * half);
  lzd_sign_stroke(sign, 1.5);
  for (int bar = -1; bar <= 1; bar++) {
    cairo_move_to(sign->cr, bar * sign->s * 0.25, -half);
    cairo_line_to(sign->cr, bar * sign->s * 0.25, half);
  }
  lzd_sign_stroke(sign, 1.8);
}

void
lzd_sign_task(const lzd_sign *sign, lzd_mark mark)
{
  static const double glass[4][2] = {{-0.4, -0.5}, {0.4, -0.5}, {-0.4, 0.5}, {0.4, 0.5}};
  static const double arrow[3][2] = {{-0.4, -0.5}, {0.45, 0}, {-0.4, 0.5}};
  static const double wedge[2][3][2] = {{{-0.5, -0.45}, {-0.05, 0}, {-0.5, 0.45}},
                                        {{0.5, -0.45}, {0.05, 0}, {0.5, 0.45}}};
  double s = sign->s;
  switch (mark) {
  case LZD_TASK_LATE:
    lzd_sign_polygon(sign, glass, 4);
    lzd_sign_fill(sign);
    break;
  case LZD_TASK_BLOCKED: gate(sign); break;
  case LZD_TASK_DUE:
    cairo_arc(sign->cr, 0, 0, 0.36 * s, 0, 2 * M_PI);
    lzd_sign_stroke(sign, 1.5);
    break;
  case LZD_TASK_NOW:
    lzd_sign_polygon(sign, arrow, 3);
    lzd_sign_fill(sign);
    break;
  case LZD_TASK_DONE:
    cairo_move_to(sign->cr, -0.328 * s, 0.02 * s);
    cairo_line_to(sign->cr, -0.0875 * s, 0.28 * s);
    cairo_line_to(sign->cr, 0.328 * s, -0.245 * s);
    lzd_sign_stroke(sign, 2);
    break;
  case LZD_TASK_NOT_STARTED:
    cairo_rectangle(sign->cr, -0.42 * s, -0.42 * s, 0.84 * s, 0.84 * s);
    lzd_sign_stroke(sign, 1.5);
    break;
  default: // LZD_TASK_CONFLICT
    lzd_sign_polygon(sign, wedge[0], 3);
    cairo_new_sub_path(sign->cr);
    lzd_sign_polygon(sign, wedge[1], 3);
    lzd_sign_fill(sign);
  }
}

// A mark that points along the time turns about with the page.
static bool
turns(lzd_mark mark)
{
  return mark == LZD_TASK_NOW || mark == LZD_RAIL_MOVE;
}

void
lzd_mark_draw(cairo_t *cr, const lzd_look *look, lzd_mark mark, lzd_mark_state state, lzd_role role,
              double x, double y, double size)
{
  if (mark == LZD_MARK_NONE || mark >= LZD_MARKS || !(size > 0))
    return;
  // Strokes grow slower than the mark: at 48 px they are 1.7 times those at 16 px.
  double unit = lzd_look_unit(look), design = size / unit;
  double stroke = fmax(fmin(design / 9, 1), sqrt(design / 16)) * unit * look->palette->weight;
  lzd_sign sign = {
      .cr = cr, .look = look, .role = role, .state = state, .s = size, .stroke = stroke};
  cairo_save(cr);
  cairo_translate(cr, x, y);
  if (look->mirrored && turns(mark))
    cairo_scale(cr, -1, 1);
  cairo_new_path(cr);
  cairo_set_dash(cr, NULL, 0, 0);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_MITER);
  if (mark <= LZD_BAND_UNKNOWN)
    lzd_sign_band(&sign, mark);
  else if (mark <= LZD_TASK_CONFLICT)
    lzd_sign_task(&sign, mark);
  else if (mark <= LZD_READ_BAR)
    lzd_sign_reading(&sign, mark);
  else
    lzd_sign_rail(&sign, mark);
  cairo_new_path(cr);
  cairo_restore(cr);
}
