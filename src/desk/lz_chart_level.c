// SPDX-License-Identifier: GPL-3.0-or-later
// Readings, the estimate between them, and where the level goes from now on.
#include <math.h>

#include "lz_chart_private.h"
#include "lz_estimate_private.h"

#define FILL_MIN      (4 * 60) // points of the estimate between events, at most this far apart
#define FEW_POINTS    160      // ... unless the span is so long that this many do
#define NEAR_STEP_MIN 120      // of the forecast, as the engine's own
#define NEAR_MIN      (48 * 60)
#define FAR_STEP_MIN  (6 * 60)

static void
put(GArray *points, const LzChartData *data, lzq_minute at, double level, double low, double high)
{
  LzChartPoint point = {at, level, low, high};
  if (at >= data->from && at <= data->to)
    g_array_append_val(points, point);
}

static void
put_estimate(LzChartData *data, const lzq_water_bank *bank, lzq_minute at)
{
  if (!bank->known || at < data->from || at > data->to)
    return;
  lzq_water_estimate e = lzq_water_at(bank, at);
  put(data->estimate, data, at, e.mean, e.low, e.high);
}

// Points inside the stretch before `until`, on a rhythm of their own.
static void
fill(LzChartData *data, const lzq_water_bank *bank, lzq_minute from, lzq_minute until)
{
  lzq_minute step = MAX(FILL_MIN, (data->to - data->from) / FEW_POINTS);
  if (!bank->known || from == LZQ_LONG_AGO)
    return;
  for (lzq_minute at = MAX(from, data->from - 1) + step; at < until && at <= data->to; at += step)
    put_estimate(data, bank, at);
}

static double
error_of(const LzModel *m, const lzq_record *r)
{
  if (!isnan(r->error))
    return r->instrument == LZQ_NONE && r->error == 0 ? NAN : r->error;
  if (r->instrument >= m->instruments->len)
    return NAN;
  const lzq_instrument *i = &g_array_index(m->instruments, lzq_instrument, r->instrument);
  return i->error_abs + i->error_rel * fabs(r->value);
}

static void
put_reading(LzChartData *data, const LzModel *m, const LzTrust *trust, const LzCarryStep *step)
{
  const lzq_record *r = &g_array_index(m->records, lzq_record, step->record);
  gboolean suspect = r->suspect || !lz_trust_reading(trust, r->instrument, r->at);
  LzChartReading out = {.at = r->at,
                        .value = r->value,
                        .error = error_of(m, r),
                        .instrument = r->instrument,
                        .suspect = suspect,
                        .wrong_form = !step->good && !suspect,
                        .id = (int64_t)(r->id / LZ_RECORDS_PER_ENTRY)};
  if (r->at >= data->from && r->at <= data->to)
    g_array_append_val(data->readings, out);
}

// The past: a point just before and just after everything that touched the water. FALSE = at its
// end nobody knows the level.
static gboolean
walk(LzChartData *data, LzModel *m, const GArray *steps, lzq_minute begin, lzq_water_bank *bank)
{
  g_autoptr(LzTrust) trust = lz_trust_new(m, LZQ_NEVER);
  lzq_minute last = LZQ_LONG_AGO;
  gboolean lost = FALSE, waits = FALSE;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (!lz_banks_feeds(bank, m, step, begin, &waits))
      continue;
    if (!lost) {
      fill(data, bank, last, step->at);
      put_estimate(data, bank, step->at);
    }
    lz_banks_feed(bank, m, trust, step);
    gboolean was_lost = lost;
    lost = lz_banks_lost(data->analyte, step, lost);
    if (!lost)
      put_estimate(data, bank, step->at);
    else if (!was_lost)
      put(data->estimate, data, step->at, NAN, NAN, NAN);
    last = step->at;
  }
  if (lost)
    return FALSE;
  fill(data, bank, last, data->now);
  if (last < data->now)
    put_estimate(data, bank, data->now);
  return TRUE;
}

static void
put_record(LzChartData *data, LzModel *m, const GArray *steps)
{
  g_autoptr(LzTrust) trust = lz_trust_new(m, LZQ_NEVER);
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_READING)
      put_reading(data, m, trust, step);
    if (step->kind == LZQ_REC_VOLUME)
      continue;
    if (isfinite(step->before))
      put(data->carried, data, step->at, step->before, step->before, step->before);
    put(data->carried, data, step->at, step->after, step->after, step->after);
  }
}

static void
look_ahead(LzChartData *data, const lzq_water_bank *bank)
{
  lzq_minute end = MIN(data->to, data->now + (lzq_minute)(LZQ_HORIZON_H * 60));
  lzq_water_bank ahead = *bank;
  if (!bank->known)
    return;
  for (lzq_minute at = data->now; at <= end;
       at += at < data->now + NEAR_MIN ? NEAR_STEP_MIN : FAR_STEP_MIN) {
    ahead = lzq_water_ahead(&ahead, at);
    lzq_water_estimate e = lzq_water_at(&ahead, at);
    put(data->forecast, data, at, e.mean, e.low, e.high);
  }
}

static void
set_exit(LzChartData *data, LzDesk *desk, const lzq_water_bank *bank)
{
  LzEstimate estimate;
  lz_estimate_of_bank(desk, desk->plan, bank, data->now, &estimate);
  data->exit_low = estimate.exit_low;
  data->exit_likely = estimate.exit_likely;
  data->exit_high = estimate.exit_high;
  data->exit_edge = estimate.edge;
  data->exit_above = estimate.above;
  data->beyond_now = estimate.beyond_now;
}

void
lz_chart_level(LzChartData *data, LzDesk *desk)
{
  LzModel *m = desk->model;
  lzq_form form;
  // as the kept estimate; a chart of older days shows what was estimated then
  lzq_minute begin = lz_banks_begin(data->now);
  if (data->from < begin)
    begin = lz_banks_begin(data->from);
  double reference = lz_banks_reference(m, data->system, data->analyte, begin, &form);
  lzq_water_bank bank;
  gboolean modelled =
      lzq_water_begin(&bank, lz_model_view(m), data->system, data->analyte, reference) == LZQ_OK;
  bank.form = (uint8_t)form;
  g_autoptr(GArray) steps = lz_carry(m, data->system, data->analyte, data->now);
  put_record(data, m, steps);
  if (!modelled || !walk(data, m, steps, begin, &bank))
    return;
  look_ahead(data, &bank);
  set_exit(data, desk, &bank);
}
