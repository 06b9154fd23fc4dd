// SPDX-License-Identifier: GPL-3.0-or-later
// From readings of the record to the drawing layer's description of a chart. Everything a chart
// points to is kept with the sheet's strings.
#include "lzr_chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_chart_data.h>
#include <lz_format.h>
#include <lz_words.h>

#define TICKS_MOST 8
#define PAPER_TEXT 0.62 // a chart's words are sized for a screen
#define PAPER_UNIT 0.42 // and so are its lines and marks

struct LzrChart {
  lzd_chart chart;
  lzd_legend legend; // drawn across a sheet only
  lzd_panel panel;
  lzd_band band;
  guint n_readings;
};

static uint8_t
mark_of(LzrBuild *build, LzEntry *reading)
{
  static const struct {
    const char *method;
    uint8_t mark;
  } marks[] = {{"photometer", LZD_READ_DISC},
               {"drop_test", LZD_READ_SQUARE},
               {"refractometer", LZD_READ_DIAMOND},
               {"conductivity", LZD_READ_TRIANGLE}};
  LzEntry *instrument =
      lz_entry_has(reading, "instrument")
          ? lz_desk_entity(build->desk, "instrument", lz_entry_int(reading, "instrument"))
          : NULL;
  const char *method = instrument ? lz_entry_text(instrument, "method") : NULL;
  for (guint i = 0; method && i < G_N_ELEMENTS(marks); i++)
    if (strcmp(marks[i].method, method) == 0)
      return marks[i].mark;
  return LZD_READ_BAR;
}

static gboolean
in_stays(const LzrStay *stays, guint n, uint32_t system, lzq_minute at)
{
  for (guint i = 0; i < n; i++)
    if (stays[i].system == system && at >= stays[i].from && at < stays[i].to)
      return TRUE;
  return FALSE;
}

// Words for what is in the chart, and for nothing else.
static void
fill_legend(LzrChart *chart)
{
  const struct {
    uint8_t mark;
    const char **word;
    const char *text;
  } words[] = {{LZD_READ_DISC, &chart->legend.disc, _("photometer")},
               {LZD_READ_SQUARE, &chart->legend.square, _("drop test")},
               {LZD_READ_DIAMOND, &chart->legend.diamond, _("refractometer")},
               {LZD_READ_TRIANGLE, &chart->legend.triangle, _("conductivity meter")},
               {LZD_READ_BAR, &chart->legend.bar, _("another instrument")}};
  for (guint i = 0; i < chart->n_readings; i++)
    for (guint k = 0; k < G_N_ELEMENTS(words); k++)
      if (chart->panel.readings[i].mark == words[k].mark)
        *words[k].word = words[k].text;
  if (chart->panel.n_estimate)
    // xgettext:no-c-format
    chart->legend.estimate = _("estimate with its 80 % interval");
  if (chart->panel.n_bands)
    chart->legend.band = _("band");
}

static GArray *
readings_of(LzrBuild *build, const LzrStay *stays, guint n, lzq_analyte analyte, lzq_minute from,
            lzq_minute to)
{
  GArray *out = g_array_new(FALSE, TRUE, sizeof(lzd_reading));
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, "reading", from, to + 1);
  for (guint i = 0; i < facts->len; i++) {
    LzEntry *fact = facts->pdata[i];
    if (lzr_reading_analyte(fact) != analyte ||
        !in_stays(stays, n, lzr_index(build, fact, "system", "system"), lz_entry_at(fact)))
      continue;
    lzd_reading reading = {.minute = lz_entry_at(fact),
                           .value = lz_entry_number(fact, "value"),
                           .mark = mark_of(build, fact),
                           .state = lz_entry_int(fact, "suspect") ? LZD_SUSPECT : LZD_PLAIN};
    g_array_append_val(out, reading);
  }
  return out;
}

// What the estimator says of one stay: the middle, and the 80 % interval around it. Between two
// stays the line is broken.
static void
add_estimate(LzrBuild *build, GArray *out, const LzrStay *stay, lzq_analyte analyte,
             lzq_minute from, lzq_minute to)
{
  from = MAX(from, stay->from);
  to = MIN(to, stay->to);
  if (from >= to)
    return;
  g_autoptr(LzChartData) data = lz_chart_data_new(build->desk, stay->system, analyte, from, to);
  for (guint i = 0; i < data->estimate->len; i++) {
    const LzChartPoint *p = &g_array_index(data->estimate, LzChartPoint, i);
    lzd_span span = {.minute = p->at, .low = p->low, .mid = p->level, .high = p->high};
    if (p->at >= from && p->at <= to)
      g_array_append_val(out, span);
  }
  lzd_span end = {.minute = to, .low = NAN, .mid = NAN, .high = NAN};
  g_array_append_val(out, end);
}

static void
fill_estimate(LzrBuild *build, LzrChart *chart, const LzrStay *stays, guint n, lzq_analyte analyte)
{
  GArray *spans = g_array_new(FALSE, TRUE, sizeof(lzd_span));
  for (guint i = 0; i < n; i++)
    add_estimate(build, spans, &stays[i], analyte, chart->chart.window.from,
                 chart->chart.window.to);
  chart->panel.n_estimate = spans->len;
  chart->panel.estimate = (const lzd_span *)(gpointer)g_array_free(spans, FALSE);
  lzr_keep(build, (char *)(gpointer)chart->panel.estimate);
}

// Local midnights, at most TICKS_MOST of them.
static void
fill_ticks(LzrBuild *build, lzd_chart *chart)
{
  LzZone *zone = lz_desk_zone(build->desk);
  int32_t first = lz_zone_day(zone, chart->window.from) + 1;
  int32_t last = lz_zone_day(zone, chart->window.to);
  int32_t step = MAX(1, (last - first + TICKS_MOST) / TICKS_MOST);
  GArray *ticks = g_array_new(FALSE, TRUE, sizeof(lzd_time_tick));
  for (int32_t day = first; day <= last; day += step) {
    lzd_time_tick tick = {.minute = lz_zone_day_start(zone, day)};
    LzLocal local = lz_zone_local(zone, tick.minute);
    tick.label = lzr_printf(build, "%02d-%02d", local.month, local.day);
    g_array_append_val(ticks, tick);
  }
  chart->n_ticks = ticks->len;
  chart->ticks = (const lzd_time_tick *)(gpointer)g_array_free(ticks, FALSE);
  lzr_keep(build, (char *)(gpointer)chart->ticks);
}

static void
fill_band(LzrChart *chart, const lzq_band *band)
{
  gboolean above = band->side != LZQ_AT_OR_BELOW, below = band->side != LZQ_AT_OR_ABOVE;
  double high = band->side == LZQ_BETWEEN ? band->works_high : band->works;
  chart->band = (lzd_band){.from = chart->chart.window.from,
                           .to = chart->chart.window.to,
                           .low = above ? band->works : -INFINITY,
                           .high = below               ? high
                                   : isnan(band->plan) ? INFINITY
                                                       : band->plan,
                           .low_edge = LZD_EDGE_WORKS,
                           .high_edge = below ? LZD_EDGE_WORKS : LZD_EDGE_PLAN};
  chart->panel.bands = &chart->band;
  chart->panel.n_bands = 1;
}

// Copper is read from zero, so that the rise is seen whole.
static void
from_zero(LzrChart *chart)
{
  double most = chart->panel.n_bands && isfinite(chart->band.high) ? chart->band.high : 0.1;
  for (guint i = 0; i < chart->n_readings; i++)
    most = fmax(most, chart->panel.readings[i].value);
  for (guint i = 0; i < chart->panel.n_estimate; i++)
    if (!isnan(chart->panel.estimate[i].high))
      most = fmax(most, chart->panel.estimate[i].mid);
  chart->panel.low = 0;
  chart->panel.high = most * 1.1;
}

const LzrChart *
lzr_chart_new(LzrBuild *build, const LzrStay *stays, guint n_stays, lzq_analyte analyte,
              const lzq_band *band, lzq_minute from, lzq_minute to, const char *title)
{
  LzrChart *chart = g_new0(LzrChart, 1);
  lzr_keep(build, (char *)(gpointer)chart);
  GArray *readings = readings_of(build, stays, n_stays, analyte, from, to);
  chart->n_readings = readings->len;
  chart->panel = (lzd_panel){.title = title,
                             .low = NAN,
                             .high = NAN,
                             .share = 1,
                             .n_readings = readings->len,
                             .readings = (const lzd_reading *)(gpointer)readings->data,
                             .empty_text = "–"};
  lzr_keep(build, g_array_free(readings, FALSE));
  chart->chart = (lzd_chart){.window = {from, MAX(to, from + LZD_WINDOW_LEAST)},
                             .now = LZD_NEVER,
                             .panels = &chart->panel,
                             .n_panels = 1,
                             .cursor = {.minute = LZD_NEVER, .panel = SIZE_MAX}};
  fill_ticks(build, &chart->chart);
  fill_estimate(build, chart, stays, n_stays, analyte);
  if (band)
    fill_band(chart, band);
  if (analyte == LZQ_COPPER)
    from_zero(chart);
  fill_legend(chart);
  return chart;
}

guint
lzr_chart_readings(const LzrChart *chart)
{
  return chart->n_readings;
}

static void
draw(cairo_t *cr, const lzd_chart *chart, const lzd_look *look, double width, double height)
{
  lzd_look small = *look;
  small.text_scale = PAPER_TEXT;
  small.unit_scale = PAPER_UNIT;
  lzd_chart_draw(cr, chart, &small, width, height, NULL);
}

void
lzr_chart_draw(cairo_t *cr, const LzrChart *chart, const lzd_look *look, double width,
               double height)
{
  draw(cr, &chart->chart, look, width, height);
}

static void
draw_block(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  const LzrChart *chart = data;
  lzd_chart across = chart->chart;
  across.legend = &chart->legend;
  draw(cr, &across, look, width, height);
}

void
lzr_chart_block(LzrBuild *build, const LzrChart *chart, double height)
{
  lzd_sheet_block(build->page, height, draw_block, chart);
}
