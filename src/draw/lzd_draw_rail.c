// SPDX-License-Identifier: GPL-3.0-or-later
// What surrounds the lines: grid and axes, rail of events, strips of credit, now.
#include <math.h>

#include "lzd_parts.h"

#define GLYPH 14.0

// x of the gutter's texts and of the plot's near edge.
static double
gutter_x(const lzd_drawing *d)
{
  lzd_rect frame = d->layout->frame;
  return d->look->mirrored ? frame.x + frame.w + 8 * d->unit : frame.x - 8 * d->unit;
}

static void
grid(const lzd_drawing *d, double top, double bottom)
{
  lzd_pen_set(d->cr, d->look, LZD_HAIRLINE, 1, LZD_DASH_NONE);
  for (size_t i = 0; i < d->chart->n_ticks; i++) {
    double x = lzd_snap(lzd_x(d, d->chart->ticks[i].minute));
    if (x < d->layout->frame.x || x > d->layout->frame.x + d->layout->frame.w + 1)
      continue;
    cairo_move_to(d->cr, x, top);
    cairo_line_to(d->cr, x, bottom);
  }
  cairo_stroke(d->cr);
}

void
lzd_draw_frame(const lzd_drawing *d, size_t panel)
{
  lzd_rect rect = d->layout->panel[panel].rect;
  const lzd_value_ticks *ticks = &d->layout->panel[panel].ticks;
  char label[48];
  grid(d, rect.y, rect.y + rect.h);
  double near = d->look->mirrored ? rect.x + rect.w : rect.x;
  double out = d->look->mirrored ? 4 * d->unit : -4 * d->unit;
  for (int i = 0; i < ticks->count; i++) {
    double value = lzd_tick_value(ticks, i), y = lzd_y(d, panel, value);
    lzd_pen_set(d->cr, d->look, LZD_RULE, 1, LZD_DASH_NONE);
    lzd_line(d->cr, near, lzd_snap(y), near + out, lzd_snap(y));
    lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .align = LZD_END};
    lzd_number(label, sizeof label, value, ticks->decimals, d->look);
    lzd_text_draw(d->cr, d->look, &type, gutter_x(d), y + 4.6 * d->text, label);
  }
  lzd_pen_set(d->cr, d->look, LZD_HAIRLINE, 1, LZD_DASH_NONE);
  lzd_line(d->cr, lzd_snap(near), rect.y, lzd_snap(near), rect.y + rect.h);
  lzd_type title = {.size = LZD_SIZE_BODY, .bold = true, .role = LZD_TEXT, .width = rect.w};
  double from = d->look->mirrored ? rect.x + rect.w : rect.x;
  lzd_text_draw(d->cr, d->look, &title, from, rect.y - 6 * d->text, d->chart->panels[panel].title);
}

static void
row_head(const lzd_drawing *d, lzd_rect row, const char *name)
{
  double y = row.y + row.h / 2;
  lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .align = LZD_END};
  lzd_text_draw(d->cr, d->look, &type, gutter_x(d), y + 4.6 * d->text, name);
  lzd_pen_set(d->cr, d->look, LZD_HAIRLINE, 1, LZD_DASH_NONE);
  lzd_line(d->cr, row.x, lzd_snap(y), row.x + row.w, lzd_snap(y));
}

// The label of an event, if it fits before the next event of its row.
static void
event_label(const lzd_drawing *d, lzd_rect row, const lzd_rail *rail, size_t i)
{
  const lzd_event *event = &rail->events[i];
  double x = lzd_x(d, event->minute), next = d->look->mirrored ? row.x : row.x + row.w;
  if (i + 1 < rail->n_events && rail->events[i + 1].minute <= d->chart->window.to)
    next = lzd_x(d, rail->events[i + 1].minute) + (d->look->mirrored ? 10 : -10) * d->unit;
  double gap = 12 * d->unit, width = lzd_text_width(d->look, LZD_SIZE_AXIS, false, event->label);
  if (width > fabs(next - x) - gap)
    return;
  lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT};
  lzd_patched(d, &type, x + (d->look->mirrored ? -gap : gap), row.y + row.h / 2 + 4.6 * d->text,
              event->label);
}

static void
draw_rail(const lzd_drawing *d, lzd_rect row, const lzd_rail *rail)
{
  double y = row.y + row.h / 2, last = -INFINITY;
  for (size_t i = 0; i < rail->n_events; i++) {
    const lzd_event *event = &rail->events[i];
    if (event->minute < d->chart->window.from || event->minute > d->chart->window.to)
      continue;
    double x = lzd_x(d, event->minute);
    if (event->label)
      event_label(d, row, rail, i);
    // Events on one pixel are one glyph; there is always at least one.
    if (fabs(x - last) < 1)
      continue;
    lzd_mark_draw(d->cr, d->look, event->mark, event->planned ? LZD_HOLLOW : LZD_PLAIN,
                  lzd_mark_role(event->mark, LZD_PLAIN), x, y, GLYPH * d->unit);
    last = x;
  }
}

void
lzd_draw_rails(const lzd_drawing *d)
{
  for (size_t i = 0; i < d->chart->n_rails; i++) {
    lzd_rect row = d->layout->rail[i];
    grid(d, row.y, row.y + row.h);
    row_head(d, row, d->chart->rails[i].name);
    draw_rail(d, row, &d->chart->rails[i]);
  }
}

void
lzd_draw_strips(const lzd_drawing *d)
{
  for (size_t i = 0; i < d->chart->n_strips; i++) {
    lzd_rect row = d->layout->strip[i];
    const lzd_strip *strip = &d->chart->strips[i];
    grid(d, row.y, row.y + row.h);
    row_head(d, row, strip->name);
    for (size_t s = 0; s < strip->n_spans; s++) {
      const lzd_credit_span *span = &strip->spans[s];
      if (span->to <= d->chart->window.from || span->from >= d->chart->window.to)
        continue;
      double a = lzd_x_held(d, span->from), b = lzd_x_held(d, span->to), high = 10 * d->unit;
      lzd_rect bar = {fmin(a, b), round(row.y + (row.h - high) / 2), fabs(b - a), high};
      lzd_credit_span_draw(d->cr, d->hatches, d->look, bar, span->state);
    }
  }
}

static void
axis_label(const lzd_drawing *d, size_t i, double y, double *taken)
{
  const lzd_time_tick *tick = &d->chart->ticks[i];
  lzd_rect axis = d->layout->axis;
  double x = lzd_x(d, tick->minute);
  if (d->chart->label_between) {
    lzd_minute end = i + 1 < d->chart->n_ticks ? d->chart->ticks[i + 1].minute
                     : i > 0                   ? 2 * tick->minute - d->chart->ticks[i - 1].minute
                                               : d->chart->window.to;
    x = (lzd_x(d, tick->minute) + lzd_x(d, end)) / 2;
  }
  lzd_type type = {.size = LZD_SIZE_AXIS,
                   .bold = tick->strong,
                   .align = LZD_MIDDLE,
                   .role = tick->strong ? LZD_TEXT : LZD_TEXT2};
  double half = lzd_text_width(d->look, type.size, type.bold, tick->label) / 2;
  double pad = 3 * d->unit;
  if (x < axis.x || x > axis.x + axis.w)
    return;
  x = fmin(fmax(x, axis.x + half - 20 * d->unit), axis.x + axis.w - half + 10 * d->unit);
  bool free = d->look->mirrored ? x + half + pad < *taken : x - half - pad > *taken;
  if (!free)
    return; // crowded: the line is there, the word would overlap its neighbour
  lzd_text_draw(d->cr, d->look, &type, x, y, tick->label);
  *taken = d->look->mirrored ? x - half : x + half;
}

void
lzd_draw_axis(const lzd_drawing *d)
{
  lzd_rect axis = d->layout->axis;
  double taken = d->look->mirrored ? INFINITY : -INFINITY;
  for (size_t i = 0; i < d->chart->n_ticks; i++)
    if (d->chart->ticks[i].label)
      axis_label(d, i, axis.y + 17 * d->text, &taken);
}

void
lzd_draw_now(const lzd_drawing *d)
{
  lzd_rect frame = d->layout->frame;
  if (d->chart->now < d->chart->window.from || d->chart->now > d->chart->window.to)
    return;
  double x = lzd_x(d, d->chart->now), top = d->layout->panel[0].rect.y - 17 * d->text;
  lzd_pen_set(d->cr, d->look, LZD_TEXT, 1.4, LZD_DASH_NONE);
  lzd_line(d->cr, x, top, x, frame.y + frame.h);
  double gap = 6 * d->unit,
         width = lzd_text_width(d->look, LZD_SIZE_AXIS, true, d->chart->now_text);
  bool flip = d->look->mirrored ? x - gap - width < frame.x : x + gap + width > frame.x + frame.w;
  lzd_type type = {
      .size = LZD_SIZE_AXIS, .bold = true, .role = LZD_TEXT, .align = flip ? LZD_END : LZD_START};
  double by = flip != d->look->mirrored ? -gap : gap;
  lzd_patched(d, &type, x + by, top + 11 * d->text, d->chart->now_text);
}
