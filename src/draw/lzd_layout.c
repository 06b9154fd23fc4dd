// SPDX-License-Identifier: GPL-3.0-or-later
// Where everything on a chart is: gutters, panels, rails, strips, scales and ticks.
#include <math.h>
#include <string.h>

#include "lzd_parts.h"

#define ROW         20.0 // a rail or strip
#define TITLE       21.0 // the line above a panel
#define LEGEND      24.0
#define AXIS        24.0
#define GAP         10.0
#define LEAST_PANEL 24.0

// Sizes that do not depend on data.
typedef struct {
  double unit, text, row, title, legend, axis, gap;
} sizes;

static sizes
sizes_of(const lzd_chart *chart, const lzd_look *look, double width)
{
  double unit = lzd_look_unit(look), text = lzd_look_text(look), big = fmax(unit, text);
  double legend = 0;
  if (chart->legend)
    legend = (LEGEND + 20 * (lzd_legend_rows(chart->legend, look, width) - 1)) * text;
  return (sizes){unit, text, ROW * big, TITLE * text, legend, AXIS * text, GAP * unit};
}

static double
fixed_height(const lzd_chart *chart, const sizes *s)
{
  double rows = (double)(chart->n_rails + chart->n_strips);
  return s->legend + s->axis + rows * s->row + (rows > 0 ? s->gap : 0) +
         (double)chart->n_panels * s->title + (double)(chart->n_panels - 1) * s->gap;
}

double
lzd_chart_natural_height(const lzd_chart *chart, const lzd_look *look)
{
  sizes s = sizes_of(chart, look, 880 * lzd_look_unit(look));
  return fixed_height(chart, &s) + 130 * s.unit * (double)chart->n_panels;
}

// The value axis: range, room at the ends for the words of a band's edges, and ticks.
static void
set_values(lzd_layout *out, size_t i, const lzd_chart *chart, const lzd_look *look, const sizes *s)
{
  const lzd_panel *panel = &chart->panels[i];
  lzd_rect rect = out->panel[i].rect;
  double low = panel->low, high = panel->high, top = 0, bottom = 0;
  if (isnan(low) || isnan(high)) {
    lzd_panel_range(panel, chart->window, &low, &high);
    top = bottom = fmin(7 * s->unit, rect.h / 10);
    for (size_t b = 0; b < panel->n_bands; b++) {
      top = fmax(top, panel->bands[b].high_text ? fmin(24 * s->text, rect.h / 4) : 0);
      bottom = fmax(bottom, panel->bands[b].low_text ? fmin(22 * s->text, rect.h / 4) : 0);
    }
    bool from_zero = low >= 0 && low < 0.2 * high; // an amount that starts near nothing stands on 0
    lzd_scale inner = lzd_scale_make(from_zero ? 0 : low, high, rect.h - bottom, top);
    low = from_zero ? 0 : lzd_scale_invert(&inner, rect.h);
    high = lzd_scale_invert(&inner, 0);
  }
  lzd_scale scale = lzd_scale_make(low, high, rect.y + rect.h, rect.y);
  out->panel[i].value = scale;
  int room = (int)(rect.h / (26 * s->text));
  lzd_value_ticks ticks = lzd_ticks_values(scale.v0, scale.v1);
  if (ticks.count > room)
    ticks = lzd_ticks_values_most(scale.v0, scale.v1, room > 1 ? room : 2);
  out->panel[i].ticks = ticks;
}

// Heights first: they need no text. Answers where the panels' stack ends.
static void
stack(lzd_layout *out, const lzd_chart *chart, const sizes *s, double height)
{
  double shares = 0, y = s->legend;
  for (size_t i = 0; i < chart->n_panels; i++)
    shares += chart->panels[i].share > 0 ? chart->panels[i].share : 1;
  double free = fmax(height - fixed_height(chart, s), LEAST_PANEL * (double)chart->n_panels);
  for (size_t i = 0; i < chart->n_panels; i++) {
    double share = chart->panels[i].share > 0 ? chart->panels[i].share : 1;
    y += s->title + (i ? s->gap : 0);
    out->panel[i].rect = (lzd_rect){0, round(y), 0, round(free * share / shares)};
    y += free * share / shares;
  }
  y += chart->n_rails + chart->n_strips ? s->gap : 0;
  for (size_t i = 0; i < chart->n_rails; i++, y += s->row)
    out->rail[i] = (lzd_rect){0, round(y), 0, s->row};
  for (size_t i = 0; i < chart->n_strips; i++, y += s->row)
    out->strip[i] = (lzd_rect){0, round(y), 0, s->row};
  out->axis = (lzd_rect){0, round(y), 0, s->axis};
}

// The widest text left of the plot.
static double
gutter(const lzd_layout *out, const lzd_chart *chart, const lzd_look *look, const sizes *s)
{
  double widest = 0;
  char label[48];
  for (size_t i = 0; i < chart->n_panels; i++) {
    const lzd_value_ticks *ticks = &out->panel[i].ticks;
    for (int end = 0; end < 2 && ticks->count; end++) {
      double value = lzd_tick_value(ticks, end ? ticks->count - 1 : 0);
      lzd_number(label, sizeof label, value, ticks->decimals, look);
      widest = fmax(widest, lzd_text_width(look, LZD_SIZE_AXIS, false, label));
    }
  }
  for (size_t i = 0; i < chart->n_rails; i++)
    widest = fmax(widest, lzd_text_width(look, LZD_SIZE_AXIS, false, chart->rails[i].name));
  for (size_t i = 0; i < chart->n_strips; i++)
    widest = fmax(widest, lzd_text_width(look, LZD_SIZE_AXIS, false, chart->strips[i].name));
  return ceil(widest) + 10 * s->unit;
}

static void
set_width(lzd_layout *out, const lzd_look *look, double left, double width)
{
  out->frame.x = left;
  out->frame.w = width;
  for (size_t i = 0; i < out->n_panels; i++)
    out->panel[i].rect.x = left, out->panel[i].rect.w = width;
  for (size_t i = 0; i < out->n_rails; i++)
    out->rail[i].x = left, out->rail[i].w = width;
  for (size_t i = 0; i < out->n_strips; i++)
    out->strip[i].x = left, out->strip[i].w = width;
  out->axis.x = left, out->axis.w = width;
}

static void
set_dense(lzd_layout *out, const lzd_chart *chart, double unit)
{
  for (size_t i = 0; i < chart->n_panels; i++) {
    const lzd_panel *panel = &chart->panels[i];
    size_t from = lzd_readings_from(panel->readings, panel->n_readings, chart->window.from);
    size_t to = lzd_readings_from(panel->readings, panel->n_readings, chart->window.to + 1);
    out->panel[i].dense = (double)(to - from) > out->frame.w / (2.5 * unit);
  }
}

lzd_status
lzd_chart_layout(lzd_layout *out, const lzd_chart *chart, const lzd_look *look, double width,
                 double height, lzd_fault *fault)
{
  memset(out, 0, sizeof *out);
  lzd_status status = lzd_chart_check(chart, fault);
  if (status != LZD_OK)
    return status;
  if (!(width > 0) || !(height > 0))
    return lzd_fail(fault, LZD_BAD_INPUT, "chart", 0, "size", "width or height is not above 0");
  sizes s = sizes_of(chart, look, width);
  out->n_panels = chart->n_panels;
  out->n_rails = chart->n_rails;
  out->n_strips = chart->n_strips;
  stack(out, chart, &s, height);
  for (size_t i = 0; i < chart->n_panels; i++)
    set_values(out, i, chart, look, &s);
  out->legend = (lzd_rect){0, 0, width, s.legend};
  out->frame = (lzd_rect){0, s.legend, 0, out->axis.y - s.legend};
  double side = gutter(out, chart, look, &s), edge = 10 * s.unit;
  double plot = fmax(floor(width - side - edge), 10);
  set_width(out, look, look->mirrored ? edge : ceil(side), plot);
  double x0 = out->frame.x, x1 = x0 + plot;
  out->time = (lzd_scale){(double)chart->window.from, (double)chart->window.to,
                          look->mirrored ? x1 : x0, look->mirrored ? x0 : x1};
  set_dense(out, chart, s.unit);
  return LZD_OK;
}
