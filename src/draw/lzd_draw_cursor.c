// SPDX-License-Identifier: GPL-3.0-or-later
// The cursor: a dotted line through all panels, a ring on the reading, and a box that says it.
#include <math.h>

#include "lzd_parts.h"

// Size of the box.
static void
box_size(const lzd_drawing *d, double *width, double *height)
{
  const lzd_cursor *cursor = &d->chart->cursor;
  double widest = lzd_text_width(d->look, LZD_SIZE_AXIS, false, cursor->title);
  for (size_t i = 0; i < cursor->n_lines; i++) {
    const lzd_callout_line *line = &cursor->lines[i];
    double indent = line->mark ? 24 * d->unit : 0;
    widest = fmax(widest, indent + lzd_text_width(d->look, LZD_SIZE_BODY, line->bold, line->text));
  }
  *width = widest + 24 * d->unit;
  *height =
      (cursor->title ? 24 : 6) * d->text + (double)cursor->n_lines * 24 * d->text + 8 * d->unit;
}

// How much of what was read and believed a box would hide.
static double
hidden(const lzd_drawing *d, size_t panel, lzd_rect box)
{
  const lzd_panel *p = &d->chart->panels[panel];
  const lzd_scale *scale = &d->layout->panel[panel].value;
  lzd_minute a = (lzd_minute)lzd_scale_invert(&d->layout->time, box.x);
  lzd_minute b = (lzd_minute)lzd_scale_invert(&d->layout->time, box.x + box.w);
  lzd_minute from = a < b ? a : b, to = a < b ? b : a;
  size_t first = lzd_readings_from(p->readings, p->n_readings, from);
  size_t last = lzd_readings_from(p->readings, p->n_readings, to), stride = (last - first) / 64 + 1;
  double hits = 0;
  for (size_t i = first; i < last; i += stride) {
    double y = lzd_scale_clamp(scale, p->readings[i].value);
    hits += y > box.y - 4 * d->unit && y < box.y + box.h + 4 * d->unit;
  }
  for (size_t i = 0; i < p->n_exits; i++) {
    double x = lzd_x_held(d, p->exits[i].likely);
    hits += x > box.x && x < box.x + box.w ? 2 : 0;
  }
  for (size_t i = 0; i < p->n_bands; i++) {
    double top = lzd_scale_clamp(scale, p->bands[i].high) - 24 * d->text;
    double bottom = lzd_scale_clamp(scale, p->bands[i].low) + 22 * d->text;
    hits += 4 * fmax(fmin(bottom, box.y + box.h) - fmax(top, box.y), 0) / box.h;
  }
  return hits;
}

// Beside the cursor, on either side, at the height where it hides least and stays near.
static lzd_rect
box_place(const lzd_drawing *d, double x)
{
  const lzd_cursor *cursor = &d->chart->cursor;
  lzd_rect frame = d->layout->frame, box = {0}, best = {0};
  size_t panel = cursor->panel < d->chart->n_panels ? cursor->panel : 0;
  lzd_rect rect = d->layout->panel[panel].rect;
  double gap = 14 * d->unit, y = rect.y + rect.h / 2, least = INFINITY;
  box_size(d, &box.w, &box.h);
  if (cursor->panel < d->chart->n_panels && cursor->reading < d->chart->panels[panel].n_readings)
    y = lzd_scale_clamp(&d->layout->panel[panel].value,
                        d->chart->panels[panel].readings[cursor->reading].value);
  for (int i = 0; i < 2 * 9; i++) { // nine heights on two sides
    int row = i / 2;
    lzd_rect at = {i % 2 ? x - gap - box.w : x + gap, rect.y + rect.h * row / 8, box.w, box.h};
    if (row == 8)
      at.y = y - box.h / 2;
    at.x = fmin(fmax(at.x, frame.x), fmax(frame.x, frame.x + frame.w - box.w));
    at.y = fmin(fmax(at.y, rect.y), fmax(frame.y, frame.y + frame.h - box.h));
    bool on_cursor = x > at.x - gap / 2 && x < at.x + at.w + gap / 2;
    double off = fabs(at.y + at.h / 2 - y) / fmax(frame.h, 1);
    double cost = hidden(d, panel, at) + 2 * off + (on_cursor ? 8 : 0);
    if (cost < least) {
      least = cost;
      best = at;
    }
  }
  best.x = floor(best.x);
  best.y = floor(best.y);
  return best;
}

static void
draw_box(const lzd_drawing *d, lzd_rect box)
{
  const lzd_cursor *cursor = &d->chart->cursor;
  lzd_fill_rect(d->cr, d->look, LZD_SURFACE, 1, box);
  lzd_frame_rect(d->cr, d->look, LZD_RULE, 1, box);
  bool back = d->look->mirrored;
  double side = back ? -1 : 1, edge = back ? box.x + box.w : box.x;
  double y = box.y + 6 * d->unit;
  if (cursor->title) {
    lzd_type title = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2};
    y += 17 * d->text;
    lzd_text_draw(d->cr, d->look, &title, edge + side * 12 * d->unit, y, cursor->title);
  }
  for (size_t i = 0; i < cursor->n_lines; i++) {
    const lzd_callout_line *line = &cursor->lines[i];
    y += 23 * d->text;
    lzd_role role = lzd_mark_role(line->mark, line->state);
    lzd_type type = {.size = LZD_SIZE_BODY, .bold = line->bold, .role = role};
    lzd_mark_draw(d->cr, d->look, line->mark, line->state, role, edge + side * 20 * d->unit,
                  y - 5 * d->text, 9 * d->unit);
    lzd_text_draw(d->cr, d->look, &type, edge + side * (line->mark ? 36 : 12) * d->unit, y,
                  line->text);
  }
}

static void
draw_ring(const lzd_drawing *d)
{
  const lzd_cursor *cursor = &d->chart->cursor;
  if (cursor->panel >= d->chart->n_panels ||
      cursor->reading >= d->chart->panels[cursor->panel].n_readings)
    return;
  const lzd_reading *reading = &d->chart->panels[cursor->panel].readings[cursor->reading];
  if (!isfinite(reading->value))
    return;
  double y = lzd_scale_clamp(&d->layout->panel[cursor->panel].value, reading->value);
  cairo_new_path(d->cr);
  cairo_arc(d->cr, lzd_x(d, reading->minute), y, 11 * d->unit, 0, 2 * M_PI);
  lzd_pen_set(d->cr, d->look, LZD_ACCENT, 2, LZD_DASH_NONE);
  cairo_stroke(d->cr);
}

void
lzd_draw_cursor(const lzd_drawing *d)
{
  const lzd_cursor *cursor = &d->chart->cursor;
  if (cursor->minute == LZD_NEVER || cursor->minute < d->chart->window.from ||
      cursor->minute > d->chart->window.to)
    return;
  double x = lzd_snap(lzd_x(d, cursor->minute));
  lzd_rect frame = d->layout->frame;
  lzd_pen_set(d->cr, d->look, LZD_TEXT2, 1, LZD_DASH_EDGE);
  lzd_line(d->cr, x, d->layout->panel[0].rect.y, x, frame.y + frame.h);
  draw_ring(d);
  if (cursor->title || cursor->n_lines)
    draw_box(d, box_place(d, x));
}
