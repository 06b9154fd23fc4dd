// SPDX-License-Identifier: GPL-3.0-or-later
// Readings, one mark each or, where they stand too close, a stroke per pixel column from the least
// to the greatest; and the bracket that says when a forecast leaves its band.
#include <math.h>
#include <stdlib.h>

#include "lzd_parts.h"

#define READING 9.0 // size of a mark

// y of a value, held inside the panel. *beyond: -1 above the axis, 1 below, 0 on it.
static double
held_y(const lzd_drawing *d, size_t panel, double value, int *beyond)
{
  lzd_rect rect = d->layout->panel[panel].rect;
  double y = lzd_y(d, panel, value), pad = 9 * d->unit;
  *beyond = y < rect.y - 0.5 ? -1 : y > rect.y + rect.h + 0.5 ? 1 : 0;
  return *beyond < 0 ? rect.y + pad : *beyond > 0 ? rect.y + rect.h - pad : y;
}

// A small wedge at the axis' end: the value lies further out.
static void
off_scale(const lzd_drawing *d, double x, double y, int beyond, lzd_role role)
{
  double half = 4 * d->unit, base = y + beyond * 5 * d->unit, tip = y + beyond * 9 * d->unit;
  lzd_ink(d->cr, d->look->palette, role, 1);
  cairo_move_to(d->cr, x - half, base);
  cairo_line_to(d->cr, x + half, base);
  cairo_line_to(d->cr, x, tip);
  cairo_close_path(d->cr);
  cairo_fill(d->cr);
}

static void
draw_one(const lzd_drawing *d, size_t panel, const lzd_reading *reading, bool labels)
{
  int beyond;
  double x = lzd_x(d, reading->minute), y = held_y(d, panel, reading->value, &beyond);
  lzd_role role = lzd_mark_role(reading->mark, reading->state);
  lzd_mark_draw(d->cr, d->look, reading->mark, reading->state, role, x, y, READING * d->unit);
  if (beyond)
    off_scale(d, x, y, beyond, role);
  if (labels && reading->label) {
    lzd_type type = {.size = LZD_SIZE_AXIS,
                     .role = role == LZD_ALARM ? LZD_ALARM : LZD_TEXT2,
                     .align = LZD_MIDDLE};
    lzd_patched(d, &type, x, y - 9 * d->unit, reading->label);
  }
}

static void
draw_single(const lzd_drawing *d, size_t panel, size_t from, size_t to)
{
  const lzd_panel *p = &d->chart->panels[panel];
  bool labels = (double)(to - from) * 56 * d->text < d->layout->frame.w;
  for (int odd = 0; odd <= 1; odd++) // what is odd lies on top
    for (size_t i = from; i < to; i++)
      if (isfinite(p->readings[i].value) && lzd_reading_counts(&p->readings[i]) != (bool)odd)
        draw_one(d, panel, &p->readings[i], labels);
}

// Columns that reach beyond the axis end at it and carry one wedge per run.
static void
column_wedges(const lzd_drawing *d, size_t panel, const lzd_extreme *column, size_t n)
{
  const lzd_scale *scale = &d->layout->panel[panel].value;
  lzd_rect rect = d->layout->panel[panel].rect;
  double step = rect.w / (double)n, last[2] = {-INFINITY, -INFINITY};
  for (size_t i = 0; i < n; i++) {
    double x = rect.x + ((double)i + 0.5) * step;
    bool out[2] = {column[i].low <= column[i].high && column[i].high > scale->v1,
                   column[i].low <= column[i].high && column[i].low < scale->v0};
    for (int side = 0; side < 2; side++)
      if (out[side] && x - last[side] >= 8 * d->unit) {
        double y = side ? rect.y + rect.h - 9 * d->unit : rect.y + 9 * d->unit;
        off_scale(d, x, y, side ? 1 : -1, LZD_TEXT);
        last[side] = x;
      }
  }
}

static void
draw_columns(const lzd_drawing *d, size_t panel, const lzd_extreme *column, size_t n)
{
  const lzd_panel *p = &d->chart->panels[panel];
  const lzd_scale *scale = &d->layout->panel[panel].value;
  lzd_rect rect = d->layout->panel[panel].rect;
  double step = rect.w / (double)n, odd_x = -INFINITY;
  lzd_ink(d->cr, d->look->palette, LZD_TEXT, 1);
  for (size_t i = 0; i < n; i++) {
    if (!(column[i].low <= column[i].high))
      continue;
    double top = round(lzd_scale_clamp(scale, column[i].high)) - 1;
    double bottom = round(lzd_scale_clamp(scale, column[i].low)) + 1;
    cairo_rectangle(d->cr, rect.x + (double)i * step, top, step, bottom - top);
  }
  cairo_fill(d->cr);
  column_wedges(d, panel, column, n);
  for (size_t i = 0; i < n; i++) {
    double x = rect.x + (double)i * step;
    if (column[i].odd == SIZE_MAX || x - odd_x < 8 * d->unit)
      continue;
    draw_one(d, panel, &p->readings[column[i].odd], false);
    odd_x = x;
  }
}

static lzd_status
draw_dense(const lzd_drawing *d, size_t panel)
{
  const lzd_panel *p = &d->chart->panels[panel];
  size_t n = (size_t)fmax(d->layout->panel[panel].rect.w, 1);
  lzd_extreme *column = malloc(n * sizeof *column);
  if (!column)
    return LZD_NO_MEMORY;
  lzd_index_columns(p->index, p->readings, p->n_readings, d->chart->window.from,
                    d->chart->window.to, column, n);
  if (d->look->mirrored)
    for (size_t i = 0; i < n / 2; i++) {
      lzd_extreme swap = column[i];
      column[i] = column[n - 1 - i];
      column[n - 1 - i] = swap;
    }
  draw_columns(d, panel, column, n);
  free(column);
  return LZD_OK;
}

static void
draw_empty(const lzd_drawing *d, size_t panel)
{
  const lzd_panel *p = &d->chart->panels[panel];
  lzd_rect rect = d->layout->panel[panel].rect;
  if (p->n_readings || p->n_estimate || !p->empty_text)
    return;
  lzd_type type = {.size = LZD_SIZE_HEADING, .role = LZD_TEXT2, .align = LZD_MIDDLE};
  lzd_patched(d, &type, rect.x + rect.w / 2, rect.y + rect.h / 2 + 6 * d->unit, p->empty_text);
}

lzd_status
lzd_draw_readings(const lzd_drawing *d, size_t panel)
{
  const lzd_panel *p = &d->chart->panels[panel];
  draw_empty(d, panel);
  if (d->layout->panel[panel].dense)
    return draw_dense(d, panel);
  size_t from = lzd_readings_from(p->readings, p->n_readings, d->chart->window.from);
  size_t to = lzd_readings_from(p->readings, p->n_readings, d->chart->window.to + 1);
  draw_single(d, panel, from, to);
  return LZD_OK;
}

// The bracket itself: cap, line, cap, with a diamond at the likely moment.
static void
draw_bracket(const lzd_drawing *d, const lzd_exit *exit, double y, double edge)
{
  double unit = d->unit, early = lzd_x_held(d, exit->early), likely = lzd_x_held(d, exit->likely);
  double late = lzd_x_held(d, exit->late);
  lzd_pen_set(d->cr, d->look, LZD_ALARM, 1.2, LZD_DASH_SHORT);
  lzd_line(d->cr, likely, edge, likely, y - (y > edge ? 8 : -8) * unit);
  lzd_pen_set(d->cr, d->look, LZD_ALARM, 2, LZD_DASH_NONE);
  lzd_line(d->cr, early, y, late, y);
  lzd_line(d->cr, early, y - 7 * unit, early, y + 7 * unit);
  if (exit->late <= d->chart->window.to) // else it goes on
    lzd_line(d->cr, late, y - 7 * unit, late, y + 7 * unit);
  lzd_ink(d->cr, d->look->palette, LZD_ALARM, 1);
  cairo_move_to(d->cr, likely, y - 8 * unit);
  cairo_line_to(d->cr, likely + 6 * unit, y);
  cairo_line_to(d->cr, likely, y + 8 * unit);
  cairo_line_to(d->cr, likely - 6 * unit, y);
  cairo_close_path(d->cr);
  cairo_fill(d->cr);
}

static void
exit_words(const lzd_drawing *d, size_t panel, const lzd_exit *exit, double y, int side)
{
  lzd_rect rect = d->layout->panel[panel].rect;
  const char *lines[3] = {exit->title, exit->range, exit->note};
  double line = 19 * d->text, first = y + 24 * d->text, widest = 0;
  int n = (exit->title != NULL) + (exit->range != NULL) + (exit->note != NULL);
  if (side < 0)
    first = y - 16 * d->unit - line * (n - 1);
  for (int i = 0; i < 3; i++)
    widest = fmax(widest, lzd_text_width(d->look, LZD_SIZE_BODY, i == 0, lines[i]));
  // Words hang from the bracket's early end, or from the plot's end where they would not fit.
  double early = lzd_x_held(d, exit->early), pad = 4 * d->unit;
  bool fits =
      d->look->mirrored ? early - widest >= rect.x : early + widest <= rect.x + rect.w - pad;
  double end = d->look->mirrored ? rect.x + pad : rect.x + rect.w - pad;
  for (int i = 0; i < 3; i++) {
    lzd_type type = {.size = LZD_SIZE_BODY,
                     .bold = i == 0,
                     .align = fits ? LZD_START : LZD_END,
                     .role = i == 2 ? LZD_TEXT2 : LZD_ALARM};
    if (!lines[i])
      continue;
    lzd_patched(d, &type, fits ? early : end, first, lines[i]);
    first += line;
  }
}

void
lzd_draw_exits(const lzd_drawing *d, size_t panel)
{
  const lzd_panel *p = &d->chart->panels[panel];
  lzd_rect rect = d->layout->panel[panel].rect;
  for (size_t i = 0; i < p->n_exits; i++) {
    const lzd_exit *exit = &p->exits[i];
    if (exit->early >= d->chart->window.to || exit->late <= d->chart->window.from)
      continue;
    double edge = lzd_scale_clamp(&d->layout->panel[panel].value, exit->value);
    double need = 30 * d->unit + 66 * d->text;
    bool upward = false; // leaves through a band's upper edge: the bracket stands above it
    for (size_t b = 0; b < p->n_bands; b++)
      upward = upward || fabs(exit->value - p->bands[b].high) < fabs(exit->value - p->bands[b].low);
    bool room_below = edge + need <= rect.y + rect.h, room_above = edge - need >= rect.y;
    int side = upward ? (room_above || !room_below ? -1 : 1) : (room_below || !room_above ? 1 : -1);
    double y = edge + side * 30 * d->unit;
    y = fmin(fmax(y, rect.y + 8 * d->unit), rect.y + rect.h - 8 * d->unit);
    exit_words(d, panel, exit, y, side);
    draw_bracket(d, exit, y, edge);
  }
}
