// SPDX-License-Identifier: GPL-3.0-or-later
// Bands with their edges, levels, and the lines: plan, estimate, forecast, comparison.
#include <math.h>
#include <stdlib.h>

#include "lzd_parts.h"

#define TOOTH_PITCH 12.0
#define TOOTH       5.0
#define DOUBLE      3.0 // between the lines of a double edge

// One edge from x0 to x1 at y. inward: +1 where the band lies below the edge on screen, -1 above.
static void
draw_edge(const lzd_drawing *d, lzd_edge edge, double x0, double x1, double y, int inward,
          double anchor)
{
  y = lzd_snap(y);
  lzd_pen_set(d->cr, d->look, LZD_TEXT, edge == LZD_EDGE_HARM ? 0.8 : 1.2, LZD_DASH_NONE);
  lzd_line(d->cr, x0, y, x1, y);
  if (edge == LZD_EDGE_PLAN) {
    double outer = y - inward * DOUBLE * d->unit;
    lzd_line(d->cr, x0, outer, x1, outer);
  } else if (edge == LZD_EDGE_WORKS) {
    double pitch = TOOTH_PITCH * d->unit;
    double first = x0 + pitch / 2 - fmod(x0 - anchor, pitch);
    int teeth = (int)ceil((x1 - first) / pitch);
    for (int i = 0; i < teeth; i++) {
      double x = first + i * pitch;
      if (x <= x0)
        continue;
      cairo_move_to(d->cr, lzd_snap(x), y);
      cairo_line_to(d->cr, lzd_snap(x), y + inward * TOOTH * d->unit);
    }
    cairo_stroke(d->cr);
  }
}

// Left and right pixel of a stretch of time inside the plot; false: it does not show.
static bool
stretch(const lzd_drawing *d, lzd_minute from, lzd_minute to, double *x0, double *x1)
{
  if (to <= d->chart->window.from || from >= d->chart->window.to)
    return false;
  double a = lzd_x_held(d, from), b = lzd_x_held(d, to);
  *x0 = fmin(a, b);
  *x1 = fmax(a, b);
  return *x1 > *x0;
}

static bool
in_box(const lzd_drawing *d, size_t panel, lzd_rect box, lzd_minute minute, double value)
{
  return isfinite(value) && lzd_rect_has(box, lzd_x(d, minute), lzd_y(d, panel, value));
}

// Whether the estimate or a reading runs through the box; long series are looked at in the estimate
// only, which follows them.
static bool
is_crossed(const lzd_drawing *d, size_t panel, lzd_rect box)
{
  const lzd_panel *p = &d->chart->panels[panel];
  for (size_t i = 0; i < p->n_estimate; i++) {
    const lzd_span *at = &p->estimate[i];
    if (in_box(d, panel, box, at->minute, at->mid))
      return true;
    if (i && p->estimate[i - 1].minute == at->minute && isfinite(at->mid)) { // an upright step
      double x = lzd_x(d, at->minute), a = lzd_y(d, panel, p->estimate[i - 1].mid),
             b = lzd_y(d, panel, at->mid);
      if (x >= box.x && x <= box.x + box.w && fmin(a, b) < box.y + box.h && fmax(a, b) > box.y)
        return true;
    }
  }
  for (size_t i = 0; i < p->n_readings && p->n_readings < 5000; i++)
    if (in_box(d, panel, box, p->readings[i].minute, p->readings[i].value))
      return true;
  return false;
}

static void
edge_words(const lzd_drawing *d, size_t panel, double x0, double x1, double y, int outward,
           const char *text)
{
  lzd_rect rect = d->layout->panel[panel].rect;
  double pad = 6 * d->unit, cap = LZD_SIZE_AXIS * d->text;
  double base = outward < 0 ? y - 4 * d->unit - 0.28 * cap : y + cap + 2 * d->unit;
  // Outside the band where there is room, else inside.
  if (outward < 0 && base - cap * 0.8 < rect.y)
    base = y + cap + 6 * d->unit;
  else if (outward > 0 && base > rect.y + rect.h)
    base = y - 9 * d->unit;
  lzd_type type = {.size = LZD_SIZE_AXIS, .role = LZD_TEXT2, .width = x1 - x0 - 2 * pad};
  if (type.width < 40 * d->unit)
    return;
  double x = d->look->mirrored ? x1 - pad : x0 + pad;
  double wanted = lzd_text_width(d->look, type.size, false, text);
  if (wanted < type.width)
    type.width = 0;
  double wide = fmin(wanted, x1 - x0 - 2 * pad);
  lzd_rect box = {d->look->mirrored ? x - wide : x, base - cap, wide, 1.3 * cap};
  if (wide < (x1 - x0) / 2 && is_crossed(d, panel, box)) { // at the other end the plan is flat
    type.align = LZD_END;
    x = d->look->mirrored ? x0 + pad : x1 - pad;
  }
  lzd_patched(d, &type, x, base, text);
}

static void
draw_band(const lzd_drawing *d, size_t panel, const lzd_band *band)
{
  double x0, x1;
  if (!stretch(d, band->from, band->to, &x0, &x1))
    return;
  lzd_rect rect = d->layout->panel[panel].rect;
  double top = isfinite(band->high) ? lzd_y(d, panel, band->high) : rect.y - 1;
  double bottom = isfinite(band->low) ? lzd_y(d, panel, band->low) : rect.y + rect.h + 1;
  bool high_shows = top >= rect.y - 0.5, low_shows = bottom <= rect.y + rect.h + 0.5;
  top = fmax(top, rect.y);
  bottom = fmin(bottom, rect.y + rect.h);
  double anchor = lzd_x(d, band->from);
  if (bottom > top) {
    cairo_rectangle(d->cr, x0, top, x1 - x0, bottom - top);
    lzd_hatch_fill(d->cr, d->hatches, d->look, LZD_HATCH_BAND);
  }
  if (high_shows && top <= rect.y + rect.h)
    draw_edge(d, band->high_edge, x0, x1, top, 1, anchor);
  if (low_shows && bottom >= rect.y)
    draw_edge(d, band->low_edge, x0, x1, bottom, -1, anchor);
  if (high_shows && band->high_text && top <= rect.y + rect.h)
    edge_words(d, panel, x0, x1, top, -1, band->high_text);
  if (low_shows && band->low_text && bottom >= rect.y)
    edge_words(d, panel, x0, x1, bottom, 1, band->low_text);
}

void
lzd_draw_bands(const lzd_drawing *d, size_t panel)
{
  for (size_t i = 0; i < d->chart->panels[panel].n_bands; i++)
    draw_band(d, panel, &d->chart->panels[panel].bands[i]);
}

void
lzd_draw_levels(const lzd_drawing *d, size_t panel)
{
  const lzd_scale *scale = &d->layout->panel[panel].value;
  for (size_t i = 0; i < d->chart->panels[panel].n_levels; i++) {
    const lzd_level *level = &d->chart->panels[panel].levels[i];
    double x0, x1;
    if (level->value < scale->v0 || level->value > scale->v1 ||
        !stretch(d, level->from, level->to, &x0, &x1))
      continue;
    double y = lzd_y(d, panel, level->value);
    draw_edge(d, level->edge, x0, x1, y, 1, lzd_x(d, level->from));
    if (level->text)
      edge_words(d, panel, x0, x1, y, -1, level->text);
  }
}

// The path of one quantity, offset into lzd_vertex.
typedef enum { LOW, MID, HIGH } quantity;

static double
pick(const lzd_vertex *v, quantity q)
{
  return q == LOW ? v->low : q == MID ? v->mid : v->high;
}

static void
stroke_trace(cairo_t *cr, const lzd_vertex *v, size_t n, quantity q)
{
  for (size_t i = 0; i < n; i++) {
    if (v[i].gap)
      cairo_move_to(cr, v[i].x, pick(&v[i], q));
    else
      cairo_line_to(cr, v[i].x, pick(&v[i], q));
  }
  cairo_stroke(cr);
}

// The area between low and high, stretch by stretch.
static void
fill_interval(cairo_t *cr, const lzd_vertex *v, size_t n)
{
  for (size_t from = 0; from < n;) {
    size_t to = from + 1;
    while (to < n && !v[to].gap)
      to++;
    cairo_move_to(cr, v[from].x, v[from].high);
    for (size_t i = from + 1; i < to; i++)
      cairo_line_to(cr, v[i].x, v[i].high);
    for (size_t i = to; i > from; i--)
      cairo_line_to(cr, v[i - 1].x, v[i - 1].low);
    cairo_close_path(cr);
    from = to;
  }
  cairo_fill(cr);
}

static void
draw_estimate(const lzd_drawing *d, const lzd_vertex *v, size_t n)
{
  lzd_ink(d->cr, d->look->palette, LZD_ACCENT, d->look->palette->interval_alpha);
  fill_interval(d->cr, v, n);
  lzd_pen_set(d->cr, d->look, LZD_ACCENT, 2.2, LZD_DASH_NONE);
  stroke_trace(d->cr, v, n, MID);
}

static void
draw_forecast(const lzd_drawing *d, const lzd_vertex *v, size_t n)
{
  if (d->look->palette->forecast_alpha > 0) {
    lzd_ink(d->cr, d->look->palette, LZD_ACCENT, d->look->palette->forecast_alpha);
    fill_interval(d->cr, v, n);
  }
  lzd_pen_set(d->cr, d->look, LZD_ACCENT, 1, LZD_DASH_EDGE);
  stroke_trace(d->cr, v, n, LOW);
  stroke_trace(d->cr, v, n, HIGH);
  lzd_pen_set(d->cr, d->look, LZD_ACCENT, 2.2, LZD_DASH_FORECAST);
  stroke_trace(d->cr, v, n, MID);
}

static void
draw_plan(const lzd_drawing *d, const lzd_vertex *v, size_t n)
{
  lzd_pen_set(d->cr, d->look, LZD_TEXT2, 1.4, LZD_DASH_PLAN);
  stroke_trace(d->cr, v, n, MID);
}

static void
draw_other(const lzd_drawing *d, const lzd_vertex *v, size_t n)
{
  lzd_pen_set(d->cr, d->look, LZD_TEXT2, 1.2, LZD_DASH_NONE);
  stroke_trace(d->cr, v, n, MID);
}

static lzd_status
with_spans(const lzd_drawing *d, size_t panel, const lzd_span *spans, size_t n_spans,
           void (*draw)(const lzd_drawing *, const lzd_vertex *, size_t))
{
  lzd_vertex *v;
  size_t n;
  lzd_status status = lzd_trace_spans(&v, &n, d->layout, panel, spans, n_spans);
  if (status == LZD_OK && n)
    draw(d, v, n);
  free(v);
  return status;
}

static lzd_status
all_lines(const lzd_drawing *d, size_t panel)
{
  const lzd_panel *p = &d->chart->panels[panel];
  lzd_vertex *v;
  size_t n;
  lzd_status status = with_spans(d, panel, p->other, p->n_other, draw_other);
  if (status != LZD_OK)
    return status;
  status = lzd_trace_points(&v, &n, d->layout, panel, p->plan, p->n_plan);
  if (status == LZD_OK && n)
    draw_plan(d, v, n);
  free(v);
  if (status == LZD_OK)
    status = with_spans(d, panel, p->forecast, p->n_forecast, draw_forecast);
  if (status == LZD_OK)
    status = with_spans(d, panel, p->estimate, p->n_estimate, draw_estimate);
  return status;
}

lzd_status
lzd_draw_lines(const lzd_drawing *d, size_t panel)
{
  lzd_rect rect = d->layout->panel[panel].rect;
  cairo_save(d->cr);
  cairo_rectangle(d->cr, rect.x, rect.y - d->unit, rect.w, rect.h + 2 * d->unit);
  cairo_clip(d->cr);
  lzd_status status = all_lines(d, panel);
  cairo_restore(d->cr);
  return status;
}
