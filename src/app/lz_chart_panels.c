// SPDX-License-Identifier: GPL-3.0-or-later
// Bands, readings, estimate, forecast, plan and exit of one analyte.
#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>

#include "lz_chart_model_private.h"
#include "lz_task_form.h"

#define FEW 4096 // readings that need no index

static bool
same_edges(const lzq_band *a, const lzq_band *b)
{
  return a->side == b->side && a->works == b->works && a->form == b->form &&
         (a->plan == b->plan || (isnan(a->plan) && isnan(b->plan)));
}

static void
describe_above(LzChartModel *model, lzq_analyte analyte, const lzq_band *band, lzd_band *out,
               bool words)
{
  out->low = band->works;
  out->high = isnan(band->plan) ? INFINITY : band->plan;
  out->low_edge = LZD_EDGE_WORKS;
  out->high_edge = LZD_EDGE_PLAN;
  if (!words)
    return;
  g_autofree char *works = lz_format_level(analyte, band->works);
  g_autofree char *plan = lz_format_level(analyte, band->plan);
  g_autofree char *harm = lz_format_level(analyte, band->harm);
  out->low_text = lz_chart_keep(model, g_strdup_printf(_("%s works from here up"), works));
  if (!isnan(band->plan) && !isnan(band->harm))
    out->high_text =
        lz_chart_keep(model, g_strdup_printf(_("%s not beyond by plan; %s harms"), plan, harm));
  else if (!isnan(band->plan))
    out->high_text = lz_chart_keep(model, g_strdup_printf(_("%s not beyond by plan"), plan));
}

static void
describe_below(LzChartModel *model, lzq_analyte analyte, const lzq_band *band, lzd_band *out,
               bool words)
{
  out->high = band->works;
  out->low = isnan(band->plan) ? -INFINITY : band->plan;
  out->high_edge = LZD_EDGE_WORKS;
  out->low_edge = LZD_EDGE_PLAN;
  if (!words)
    return;
  g_autofree char *works = lz_format_level(analyte, band->works);
  g_autofree char *plan = lz_format_level(analyte, band->plan);
  out->high_text = lz_chart_keep(model, g_strdup_printf(_("%s works from here down"), works));
  if (!isnan(band->plan))
    out->low_text = lz_chart_keep(model, g_strdup_printf(_("%s not below by plan"), plan));
}

static void
describe_between(LzChartModel *model, lzq_analyte analyte, const lzq_band *band, lzd_band *out,
                 bool words)
{
  out->low = band->works;
  out->high = band->works_high;
  out->low_edge = out->high_edge = LZD_EDGE_WORKS;
  if (!words)
    return;
  g_autofree char *low = lz_format_level(analyte, band->works);
  g_autofree char *high = lz_format_level(analyte, band->works_high);
  out->low_text = lz_chart_keep(model, g_strdup_printf(_("%s works from here up"), low));
  out->high_text = lz_chart_keep(model, g_strdup_printf(_("%s works from here down"), high));
}

// Stretches with the same edges that touch or overlap become one, so that the words stand once.
static void
fill_bands(LzChartModel *model, guint panel)
{
  const LzChartData *data = model->data[panel];
  GArray *bands = model->bands[panel];
  const lzq_band *before = NULL;
  for (guint i = 0; i < data->bands->len; i++) {
    const LzChartBand *band = &g_array_index(data->bands, LzChartBand, i);
    lzd_band *last = bands->len ? &g_array_index(bands, lzd_band, bands->len - 1) : NULL;
    if (last && before && same_edges(before, &band->band) && band->from <= last->to) {
      last->to = MAX(last->to, band->to);
      continue;
    }
    lzd_band out = {.from = band->from, .to = band->to};
    bool words = !before || !same_edges(before, &band->band);
    if (last && out.from < last->to)
      out.from = last->to;
    if (out.from >= out.to)
      continue;
    switch (band->band.side) {
    case LZQ_AT_OR_ABOVE: describe_above(model, data->analyte, &band->band, &out, words); break;
    case LZQ_AT_OR_BELOW: describe_below(model, data->analyte, &band->band, &out, words); break;
    case LZQ_BETWEEN: describe_between(model, data->analyte, &band->band, &out, words); break;
    }
    if (out.low < out.high)
      g_array_append_val(bands, out);
    before = &band->band;
  }
}

static void
fill_readings(LzChartModel *model, guint panel)
{
  const LzChartData *data = model->data[panel];
  for (guint i = 0; i < data->readings->len; i++) {
    const LzChartReading *reading = &g_array_index(data->readings, LzChartReading, i);
    lzd_reading out = {.minute = reading->at, .value = reading->value, .id = i};
    out.mark = reading->wrong_form
                   ? LZD_READ_CROSS
                   : lz_chart_instrument_mark(model->desk, reading->instrument, NULL);
    out.state = reading->suspect ? LZD_SUSPECT : LZD_PLAIN;
    g_array_append_val(model->readings[panel], out);
  }
}

static void
fill_spans(GArray *out, const GArray *points)
{
  for (guint i = 0; i < points->len; i++) {
    const LzChartPoint *point = &g_array_index(points, LzChartPoint, i);
    lzd_span span = {point->at, point->low, point->level, point->high};
    if (!(span.low <= span.mid && span.mid <= span.high))
      span.low = span.high = span.mid;
    g_array_append_val(out, span);
  }
}

static void
fill_plan(GArray *out, const GArray *points)
{
  for (guint i = 0; i < points->len; i++) {
    const LzChartPoint *point = &g_array_index(points, LzChartPoint, i);
    lzd_point at = {point->at, point->level};
    g_array_append_val(out, at);
  }
}

static const lzq_band *
band_at(const LzChartData *data, lzq_minute at)
{
  const lzq_band *found = NULL;
  for (guint i = 0; i < data->bands->len; i++) {
    const LzChartBand *band = &g_array_index(data->bands, LzChartBand, i);
    if (band->from <= at && at < band->to)
      found = &band->band;
  }
  return found;
}

// When the level leaves its band, as the desk's estimator says it.
static void
fill_exit(LzChartModel *model, guint panel)
{
  const LzChartData *data = model->data[panel];
  lzq_minute likely = data->exit_likely;
  if (likely == LZQ_NEVER || likely <= data->now || isnan(data->exit_edge))
    return; // stays inside, or is outside already and the mark beside says so
  lzq_minute early = MIN(data->exit_low, likely), late = MAX(data->exit_high, likely);
  LzZone *zone = lz_desk_zone(model->desk);
  g_autofree char *when = lz_format_when(zone, likely, data->now);
  g_autofree char *from = lz_format_when(zone, early, data->now);
  g_autofree char *to =
      late == LZQ_NEVER ? g_strdup(_("later")) : lz_format_when(zone, late, data->now);
  lzd_exit out = {.early = early, .likely = likely, .late = late, .value = data->exit_edge};
  out.title = lz_chart_keep(model, g_strdup_printf(_("leaves the band %s"), when));
  if (early < likely || late > likely)
    out.range = lz_chart_keep(model, g_strdup_printf(_("%s to %s"), from, to));
  out.note = _("if nothing is done");
  g_array_append_val(model->exits[panel], out);
}

const char *
lz_chart_unit(lzq_analyte analyte)
{
  return analyte == LZQ_SALINITY ? _("ppt") : lz_words_analyte_unit(analyte);
}

static const char *
title_of(LzChartModel *model, guint panel)
{
  const LzChartData *data = model->data[panel];
  const lzq_band *band = band_at(data, data->now);
  g_autofree char *name = lz_capital(lz_words_analyte(data->analyte));
  const char *unit = lz_chart_unit(data->analyte);
  if (band && data->analyte == LZQ_COPPER && band->form != LZQ_FORM_NONE)
    return lz_chart_keep(model,
                         g_strdup_printf("%s, %s, %s", name, lz_words_form(band->form), unit));
  return lz_chart_keep(model, *unit ? g_strdup_printf("%s, %s", name, unit) : g_strdup(name));
}

void
lz_chart_fill_panel(LzChartModel *model, guint panel)
{
  const LzChartData *data = model->data[panel];
  fill_bands(model, panel);
  fill_readings(model, panel);
  fill_spans(model->estimate[panel], data->estimate);
  fill_spans(model->forecast[panel], data->forecast);
  fill_plan(model->plan[panel], data->target);
  fill_exit(model, panel);
  if (model->readings[panel]->len > FEW)
    lzd_index_new(&model->index[panel], (const lzd_reading *)model->readings[panel]->data,
                  model->readings[panel]->len, NULL);
  model->panels[panel] = (lzd_panel){
      .title = title_of(model, panel),
      .low = NAN,
      .high = NAN,
      .share = data->analyte == LZQ_COPPER ? 1.6 : 1,
      .bands = (const lzd_band *)model->bands[panel]->data,
      .n_bands = model->bands[panel]->len,
      .plan = (const lzd_point *)model->plan[panel]->data,
      .n_plan = model->plan[panel]->len,
      .estimate = (const lzd_span *)model->estimate[panel]->data,
      .n_estimate = model->estimate[panel]->len,
      .forecast = (const lzd_span *)model->forecast[panel]->data,
      .n_forecast = model->forecast[panel]->len,
      .exits = (const lzd_exit *)model->exits[panel]->data,
      .n_exits = model->exits[panel]->len,
      .readings = (const lzd_reading *)model->readings[panel]->data,
      .n_readings = model->readings[panel]->len,
      .index = model->index[panel],
      .other = (const lzd_span *)model->other[panel]->data,
      .n_other = model->other[panel]->len,
      .empty_text = _("never read"),
  };
}
