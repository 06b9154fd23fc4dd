// SPDX-License-Identifier: GPL-3.0-or-later
// Basin, cells, pennant, walk cord and the bar of room: the drawn things of the vocabulary.
#include <math.h>

#include "lzd_hatch.h"
#include "lzd_marks.h"
#include "lzd_pen.h"
#include "lzd_text.h"

#define BASE 5.0 // height of the copper base, design pixels

static void
trough_path(cairo_t *cr, double x0, double top, double x1, double bottom)
{
  cairo_move_to(cr, x0, top);
  cairo_line_to(cr, x0, bottom);
  cairo_line_to(cr, x1, bottom);
  cairo_line_to(cr, x1, top);
}

// Draws walls and base; answers where the floor is.
static double
basin_walls(cairo_t *cr, const lzd_look *look, lzd_rect rect, unsigned water)
{
  double unit = lzd_look_unit(look), half = 0.75 * unit, base = BASE * fmax(unit, rect.h / 48);
  double x0 = rect.x + half, x1 = rect.x + rect.w - half, bottom = rect.y + rect.h - half;
  double floor_y = water & LZD_WATER_COPPER ? bottom - base : bottom;
  cairo_save(cr);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_MITER);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  if (water & LZD_WATER_COPPER) {
    cairo_rectangle(cr, x0, floor_y, x1 - x0, base);
    lzd_hatch_fill(cr, NULL, look, LZD_HATCH_BAND);
    lzd_pen_set(cr, look, LZD_TEXT, 1.2, LZD_DASH_NONE);
    trough_path(cr, x0, floor_y, x1, bottom);
    cairo_stroke(cr);
  }
  lzd_pen_set(cr, look, LZD_TEXT, 1.5, LZD_DASH_NONE);
  trough_path(cr, x0, rect.y, x1, floor_y);
  cairo_stroke(cr);
  if (water & LZD_WATER_LOW_SALT) {
    lzd_pen_set(cr, look, LZD_TEXT, 1.5, LZD_DASH_SALT);
    lzd_line(cr, x0 - half, bottom + 3.5 * unit, x1 + half, bottom + 3.5 * unit);
  }
  cairo_restore(cr);
  return floor_y;
}

void
lzd_basin_draw(cairo_t *cr, const lzd_look *look, lzd_rect rect, unsigned water, const char *name,
               double size)
{
  double floor_y = basin_walls(cr, look, rect, water);
  lzd_type type = {.size = size,
                   .bold = true,
                   .role = LZD_TEXT,
                   .align = LZD_MIDDLE,
                   .width = rect.w - 6 * lzd_look_unit(look)};
  double cap = 0.35 * size * lzd_look_text(look);
  double middle = (rect.y + floor_y) / 2 - lzd_look_unit(look);
  lzd_text_draw(cr, look, &type, rect.x + rect.w / 2, middle + cap, name);
}

double
lzd_basin_width(const lzd_look *look, const char *name, double size)
{
  return lzd_text_width(look, size, true, name) + 2 * size * lzd_look_text(look);
}

void
lzd_basin_cells(cairo_t *cr, const lzd_look *look, lzd_rect rect, unsigned water,
                const lzd_cell_text *cells, size_t n_cells)
{
  double floor_y = basin_walls(cr, look, rect, water), unit = lzd_look_unit(look);
  double step = n_cells ? rect.w / (double)n_cells : 0, text = lzd_look_text(look);
  for (size_t i = 0; i < n_cells; i++) {
    double place = look->mirrored ? (double)(n_cells - i) - 0.5 : (double)i + 0.5;
    double x = rect.x + step * place;
    lzd_type above = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .align = LZD_MIDDLE, .width = step};
    lzd_type inside = {.size = LZD_SIZE_BODY,
                       .role = LZD_TEXT,
                       .align = LZD_MIDDLE,
                       .width = step,
                       .bold = cells[i].strong};
    lzd_text_draw(cr, look, &above, x, rect.y - 5 * unit, cells[i].above);
    lzd_text_draw(cr, look, &inside, x, (rect.y + floor_y) / 2 + 0.35 * LZD_SIZE_BODY * text,
                  cells[i].inside);
    if (i) {
      lzd_pen_set(cr, look, LZD_TEXT, 1, LZD_DASH_NONE);
      double wall = lzd_snap(rect.x + step * (double)i);
      lzd_line(cr, wall, rect.y + (floor_y - rect.y) * 0.25, wall, floor_y);
    }
  }
}

static void
pennant_path(cairo_t *cr, lzd_rect r, double notch)
{
  cairo_move_to(cr, r.x, r.y);
  cairo_line_to(cr, r.x + r.w, r.y);
  cairo_line_to(cr, r.x + r.w, r.y + r.h);
  cairo_line_to(cr, r.x, r.y + r.h);
  cairo_line_to(cr, r.x + notch, r.y + r.h / 2);
  cairo_close_path(cr);
}

void
lzd_pennant_draw(cairo_t *cr, const lzd_look *look, lzd_rect rect, lzd_pennant kind,
                 const char *name, double size)
{
  double notch = rect.h * 0.35;
  cairo_save(cr);
  if (look->mirrored) {
    cairo_translate(cr, 2 * rect.x + rect.w, 0);
    cairo_scale(cr, -1, 1);
  }
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_MITER);
  pennant_path(cr, rect, notch);
  if (kind == LZD_PENNANT_SOLID) {
    lzd_ink(cr, look->palette, LZD_ACCENT, 1);
    cairo_fill(cr);
  } else {
    lzd_ink(cr, look->palette, kind == LZD_PENNANT_WHAT_IF ? LZD_BACKGROUND : LZD_ACCENT_TINT, 1);
    cairo_fill_preserve(cr);
    if (kind == LZD_PENNANT_WHAT_IF) {
      lzd_hatch_fill(cr, NULL, look, LZD_HATCH_WHAT_IF);
      pennant_path(cr, rect, notch);
    }
    lzd_pen_set(cr, look, kind == LZD_PENNANT_WHAT_IF ? LZD_ACCENT : LZD_PLANNED, 1.3,
                LZD_DASH_NONE);
    cairo_stroke(cr);
  }
  cairo_restore(cr);
  lzd_type type = {.size = size,
                   .bold = true,
                   .align = LZD_MIDDLE,
                   .role = kind == LZD_PENNANT_SOLID ? LZD_SURFACE : LZD_TEXT};
  double middle = rect.x + rect.w / 2 + (look->mirrored ? -0.4 : 0.4) * notch;
  if (kind == LZD_PENNANT_WHAT_IF) { // a hatch behind letters would cut them
    double half = lzd_text_width(look, size, true, name) / 2 + 3 * lzd_look_unit(look);
    lzd_fill_rect(cr, look, LZD_BACKGROUND, 1,
                  (lzd_rect){middle - half, rect.y + rect.h * 0.1, 2 * half, rect.h * 0.8});
  }
  lzd_text_draw(cr, look, &type, middle, rect.y + rect.h / 2 + 0.36 * size * lzd_look_text(look),
                name);
}

double
lzd_pennant_width(const lzd_look *look, const char *name, double size)
{
  return lzd_text_width(look, size, true, name) + 1.75 * size * lzd_look_text(look);
}

void
lzd_cord_draw(cairo_t *cr, const lzd_look *look, lzd_knot knot, double x, double y0, double y1)
{
  double unit = lzd_look_unit(look), middle = (y0 + y1) / 2;
  bool off = knot == LZD_KNOT_OFF_WALK;
  cairo_save(cr);
  lzd_pen_set(cr, look, off ? LZD_RULE : LZD_TEXT, 2, off ? LZD_DASH_FORECAST : LZD_DASH_NONE);
  lzd_line(cr, x, y0, x, y1);
  if (knot == LZD_KNOT_NEW_WATER || knot == LZD_KNOT_SAME_WATER) {
    bool filled = knot == LZD_KNOT_NEW_WATER;
    cairo_arc(cr, x, middle, (filled ? 6 : 4) * unit, 0, 2 * M_PI);
    lzd_ink(cr, look->palette, filled ? LZD_TEXT : LZD_BACKGROUND, 1);
    cairo_fill_preserve(cr);
    lzd_pen_set(cr, look, LZD_TEXT, filled ? 0.5 : 2, LZD_DASH_NONE);
    cairo_stroke(cr);
  } else if (knot == LZD_KNOT_NOW) {
    lzd_mark_draw(cr, look, LZD_TASK_NOW, LZD_PLAIN, LZD_ACCENT, x + unit, middle, 20 * unit);
  }
  cairo_restore(cr);
}

void
lzd_room_bar(cairo_t *cr, const lzd_look *look, lzd_rect rect, double value, double limit,
             double most)
{
  double unit = lzd_look_unit(look), span = fmax(most, 1e-300);
  double filled = fmin(value / span, 1), mark = fmin(limit / span, 1);
  double kept = fmin(filled, mark), left = rect.x, sign = 1;
  if (look->mirrored) {
    left = rect.x + rect.w;
    sign = -1;
  }
  lzd_pen_set(cr, look, LZD_RULE, 1, LZD_DASH_NONE);
  lzd_line(cr, rect.x, lzd_snap(rect.y + rect.h), rect.x + rect.w, lzd_snap(rect.y + rect.h));
  lzd_rect bar = {left, rect.y, sign * kept * rect.w, rect.h};
  lzd_fill_rect(cr, look, LZD_TEXT2, 1, bar);
  if (filled > mark)
    lzd_fill_rect(
        cr, look, LZD_ALARM, 1,
        (lzd_rect){left + sign * mark * rect.w, rect.y, sign * (filled - mark) * rect.w, rect.h});
  lzd_pen_set(cr, look, LZD_TEXT, 2, LZD_DASH_NONE);
  double x = left + sign * mark * rect.w;
  lzd_line(cr, x, rect.y - 4 * unit, x, rect.y + rect.h + 4 * unit);
}
