// SPDX-License-Identifier: GPL-3.0-or-later
// Checks a chart's description and draws its parts in their order: what is aimed at below, what is
// believed above it, what was read on top.
#include "lzd_chart.h"

#include <math.h>

#include "lzd_parts.h"

static lzd_status
bad(lzd_fault *fault, const char *where, size_t index, const char *field, const char *reason)
{
  return lzd_fail(fault, LZD_BAD_INPUT, where, index, field, reason);
}

static lzd_status
check_panel(const lzd_panel *panel, size_t p, lzd_fault *fault)
{
  if (isnan(panel->low) != isnan(panel->high) || panel->low >= panel->high)
    return bad(fault, "panel", p, "low", "low is not below high");
  if ((panel->n_bands && !panel->bands) || (panel->n_levels && !panel->levels) ||
      (panel->n_plan && !panel->plan) || (panel->n_estimate && !panel->estimate) ||
      (panel->n_forecast && !panel->forecast) || (panel->n_exits && !panel->exits) ||
      (panel->n_readings && !panel->readings) || (panel->n_other && !panel->other))
    return bad(fault, "panel", p, "array", "a count without an array");
  for (size_t i = 0; i < panel->n_bands; i++) {
    if (panel->bands[i].from >= panel->bands[i].to)
      return bad(fault, "band", i, "from", "from is not before to");
    if (!(panel->bands[i].low < panel->bands[i].high))
      return bad(fault, "band", i, "low", "low is not below high");
  }
  for (size_t i = 0; i < panel->n_levels; i++)
    if (panel->levels[i].from >= panel->levels[i].to || !isfinite(panel->levels[i].value))
      return bad(fault, "level", i, "from", "from is not before to, or no value");
  for (size_t i = 0; i < panel->n_exits; i++) {
    const lzd_exit *exit = &panel->exits[i];
    if (exit->early > exit->likely || exit->likely > exit->late || !isfinite(exit->value))
      return bad(fault, "exit", i, "likely", "not between early and late, or no value");
  }
  return LZD_OK;
}

static lzd_status
check_rows(const lzd_chart *chart, lzd_fault *fault)
{
  for (size_t i = 1; i < chart->n_ticks; i++)
    if (chart->ticks[i].minute <= chart->ticks[i - 1].minute)
      return bad(fault, "tick", i, "minute", "not in order of time");
  for (size_t r = 0; r < chart->n_rails; r++)
    for (size_t i = 1; i < chart->rails[r].n_events; i++)
      if (chart->rails[r].events[i].minute < chart->rails[r].events[i - 1].minute)
        return bad(fault, "event", i, "minute", "not in order of time");
  for (size_t s = 0; s < chart->n_strips; s++)
    for (size_t i = 0; i < chart->strips[s].n_spans; i++)
      if (chart->strips[s].spans[i].from > chart->strips[s].spans[i].to)
        return bad(fault, "credit span", i, "from", "from is after to");
  return LZD_OK;
}

lzd_status
lzd_chart_check(const lzd_chart *chart, lzd_fault *fault)
{
  if (chart->window.from >= chart->window.to)
    return bad(fault, "chart", 0, "window", "from is not before to");
  if (chart->n_panels < 1 || chart->n_panels > LZD_MAX_PANELS)
    return bad(fault, "chart", 0, "n_panels", "not 1 to 6");
  if (chart->n_rails > LZD_MAX_RAILS)
    return bad(fault, "chart", 0, "n_rails", "more than 10");
  if (chart->n_strips > LZD_MAX_STRIPS)
    return bad(fault, "chart", 0, "n_strips", "more than 6");
  for (size_t i = 0; i < chart->n_panels; i++) {
    lzd_status status = check_panel(&chart->panels[i], i, fault);
    if (status != LZD_OK)
      return status;
  }
  return check_rows(chart, fault);
}

double
lzd_x(const lzd_drawing *d, lzd_minute minute)
{
  return lzd_scale_at(&d->layout->time, (double)minute);
}

double
lzd_x_held(const lzd_drawing *d, lzd_minute minute)
{
  return lzd_scale_clamp(&d->layout->time, (double)minute);
}

double
lzd_y(const lzd_drawing *d, size_t panel, double value)
{
  return lzd_scale_at(&d->layout->panel[panel].value, value);
}

void
lzd_patched(const lzd_drawing *d, const lzd_type *type, double x, double y, const char *text)
{
  double width, height, pad = 3 * d->unit;
  if (!text || !*text)
    return;
  lzd_text_measure(d->look, type, text, &width, &height);
  bool rightward = (type->align == LZD_START) != d->look->mirrored;
  double left = type->align == LZD_MIDDLE ? x - width / 2 : rightward ? x : x - width;
  lzd_rect patch = {left - pad, y - height * 0.76, width + 2 * pad, height};
  lzd_fill_rect(d->cr, d->look, LZD_BACKGROUND, 0.86, patch);
  lzd_text_draw(d->cr, d->look, type, x, y, text);
}

static lzd_status
draw_all(const lzd_drawing *d)
{
  lzd_draw_legend(d);
  for (size_t i = 0; i < d->chart->n_panels; i++) {
    lzd_draw_frame(d, i);
    lzd_draw_bands(d, i);
    lzd_draw_levels(d, i);
    lzd_status status = lzd_draw_lines(d, i);
    if (status != LZD_OK)
      return status;
  }
  lzd_draw_rails(d);
  lzd_draw_strips(d);
  lzd_draw_axis(d);
  lzd_draw_now(d);
  for (size_t i = 0; i < d->chart->n_panels; i++) {
    lzd_draw_exits(d, i);
    lzd_status status = lzd_draw_readings(d, i);
    if (status != LZD_OK)
      return status;
  }
  lzd_draw_cursor(d);
  return LZD_OK;
}

static lzd_status
draw_with(lzd_status (*what)(const lzd_drawing *), cairo_t *cr, const lzd_chart *chart,
          const lzd_look *look, double width, double height, lzd_fault *fault)
{
  lzd_layout layout;
  lzd_status status = lzd_chart_layout(&layout, chart, look, width, height, fault);
  if (status != LZD_OK)
    return status;
  lzd_hatch_cache hatches = {0};
  lzd_drawing d = {cr, chart, look, &layout, &hatches, lzd_look_unit(look), lzd_look_text(look)};
  cairo_save(cr);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
  status = what(&d);
  cairo_restore(cr);
  lzd_hatch_clear(&hatches);
  if (status != LZD_OK)
    return lzd_fail(fault, status, "chart", 0, "", "no memory");
  if (cairo_status(cr) != CAIRO_STATUS_SUCCESS)
    return lzd_fail(fault, LZD_NO_OUTPUT, "chart", 0, "", cairo_status_to_string(cairo_status(cr)));
  return LZD_OK;
}

lzd_status
lzd_chart_draw(cairo_t *cr, const lzd_chart *chart, const lzd_look *look, double width,
               double height, lzd_fault *fault)
{
  return draw_with(draw_all, cr, chart, look, width, height, fault);
}

static lzd_status
cursor_only(const lzd_drawing *d)
{
  lzd_draw_cursor(d);
  return LZD_OK;
}

lzd_status
lzd_chart_draw_cursor(cairo_t *cr, const lzd_chart *chart, const lzd_look *look, double width,
                      double height, lzd_fault *fault)
{
  return draw_with(cursor_only, cr, chart, look, width, height, fault);
}
