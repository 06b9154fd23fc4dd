// SPDX-License-Identifier: GPL-3.0-or-later
// Many waters from one history, and what they hold at a minute.
#include "lzq_water.h"

#include <math.h>

#include "lzq_calibrate.h"

#define FAILED INT64_MAX

lzq_record
lzq_water_aged(const lzq_record *reading, const lzq_snapshot *snapshot, lzq_minute checked_at)
{
  lzq_record out = *reading;
  if (reading->kind != LZQ_REC_READING || checked_at == LZQ_LONG_AGO)
    return out;
  if (reading->instrument >= snapshot->n_instruments)
    return out;
  const lzq_instrument *instrument = &snapshot->instruments[reading->instrument];
  double growth =
      lzq_error_growth((double)(reading->at - checked_at) / LZQ_DAY, instrument->check_days);
  if (!(growth > 1.0))
    return out;
  double stated = isnan(reading->error)
                      ? hypot(instrument->error_abs, instrument->error_rel * reading->value)
                      : reading->error;
  out.error = growth * stated;
  return out;
}

// The last good check before each reading; FAILED between it and a failed one.
static lzq_minute *
checks_of_readings(const lzq_snapshot *snapshot, const lzq_history *history, lzq_arena *arena)
{
  lzq_minute *checked = LZQ_NEW(arena, lzq_minute, history->n);
  lzq_minute *good = LZQ_NEW(arena, lzq_minute, snapshot->n_instruments);
  bool *failed = LZQ_NEW(arena, bool, history->n);
  bool *bad = LZQ_NEW(arena, bool, snapshot->n_instruments);
  if (!checked || !good || !failed || !bad)
    return NULL;
  for (size_t i = history->n; i-- > 0;) { // the first check after the reading
    const lzq_record *record = history->items[i];
    if (record->instrument >= snapshot->n_instruments)
      continue;
    if (record->kind == LZQ_REC_CHECK)
      bad[record->instrument] = !record->ok;
    else if (record->kind == LZQ_REC_READING)
      failed[i] = bad[record->instrument];
  }
  for (uint32_t i = 0; i < snapshot->n_instruments; i++) {
    bad[i] = !snapshot->station.trust_unchecked;
    good[i] = LZQ_LONG_AGO;
  }
  for (size_t i = 0; i < history->n; i++) { // the last check before it
    const lzq_record *record = history->items[i];
    if (record->instrument >= snapshot->n_instruments)
      continue;
    if (record->kind == LZQ_REC_CHECK) {
      bad[record->instrument] = !record->ok;
      good[record->instrument] = record->ok ? record->at : LZQ_LONG_AGO;
    } else if (record->kind == LZQ_REC_READING) {
      failed[i] = failed[i] || bad[record->instrument];
      checked[i] = failed[i] ? FAILED : good[record->instrument];
    }
  }
  return checked;
}

lzq_status
lzq_waters_feed(lzq_water_bank *waters, uint32_t n, const lzq_snapshot *snapshot,
                const lzq_history *history, lzq_arena *arena)
{
  size_t pairs = (size_t)snapshot->n_systems * LZQ_N_ANALYTES;
  lzq_minute *checked = checks_of_readings(snapshot, history, arena);
  uint32_t *bank_of = LZQ_NEW(arena, uint32_t, pairs); // counted from 1
  lzq_minute *from = LZQ_NEW(arena, lzq_minute, n);
  if (!checked || !bank_of || !from)
    return LZQ_NO_MEMORY;
  for (uint32_t i = 0; i < n; i++) {
    if (waters[i].system >= snapshot->n_systems || waters[i].analyte >= LZQ_N_ANALYTES)
      return LZQ_BAD_INPUT;
    bank_of[(size_t)waters[i].system * LZQ_N_ANALYTES + waters[i].analyte] = i + 1;
    from[i] = waters[i].at;
  }
  for (size_t i = 0; i < history->n; i++) {
    const lzq_record *record = history->items[i];
    if (record->kind > LZQ_REC_GEAR || record->system >= snapshot->n_systems ||
        (record->kind == LZQ_REC_READING && checked[i] == FAILED))
      continue;
    lzq_record aged = lzq_water_aged(record, snapshot, checked[i]);
    const uint32_t *of_system = &bank_of[(size_t)record->system * LZQ_N_ANALYTES];
    for (uint32_t a = 0; a < LZQ_N_ANALYTES; a++)
      if (of_system[a] && record->at > from[of_system[a] - 1])
        lzq_water_feed(&waters[of_system[a] - 1], snapshot, &aged);
  }
  return LZQ_OK;
}

static bool
is_trend(const lzq_water_bank *water)
{
  return water->analyte == LZQ_SALINITY || water->analyte == LZQ_TEMPERATURE;
}

lzq_water_bank
lzq_water_ahead(const lzq_water_bank *water, lzq_minute at)
{
  lzq_water_bank ahead = *water;
  double hours = at > water->at ? (double)(at - water->at) / 60.0 : 0.0;
  if (water->analyte == LZQ_SALINITY)
    lzq_salt_advance(&ahead.salt, hours);
  else if (water->analyte == LZQ_TEMPERATURE)
    lzq_local_level_advance(&ahead.level, hours);
  else
    lzq_bank_to(&ahead.bank, at);
  ahead.at = at > water->at ? at : water->at;
  return ahead;
}

lzq_water_estimate
lzq_water_at(const lzq_water_bank *water, lzq_minute at)
{
  lzq_water_estimate out = {.known = water->known,
                            .mean = NAN,
                            .low = NAN,
                            .high = NAN,
                            .loss_per_h = NAN,
                            .evaporation_l_day = NAN,
                            .volume = {.volume_l = NAN, .sd_l = NAN}};
  if (!water->known)
    return out;
  lzq_water_bank ahead = lzq_water_ahead(water, at);
  if (is_trend(water)) {
    bool salt = water->analyte == LZQ_SALINITY;
    double variance = salt ? ahead.salt.pss : ahead.level.p;
    out.mean = salt ? ahead.salt.s : ahead.level.x;
    out.low = lzq_trend_quantile(out.mean, variance, 0.10);
    out.high = lzq_trend_quantile(out.mean, variance, 0.90);
    if (salt)
      out.evaporation_l_day = lzq_salt_evaporation_l_day(&ahead.salt, water->volume_l);
    return out;
  }
  lzq_bank_moments m = lzq_bank_summary(&ahead.bank);
  out.mean = fmax(m.mean, 0.0);
  out.low = fmax(lzq_bank_quantile(&ahead.bank, 0.10, LZQ_SCALE_TRUE), 0.0);
  out.high = fmax(lzq_bank_quantile(&ahead.bank, 0.90, LZQ_SCALE_TRUE), 0.0);
  out.loss_per_h = m.k_mean;
  out.loss_learnt = lzq_bank_knows_loss(&ahead.bank);
  if (water->doses > 0)
    out.volume = lzq_bank_volume(&ahead.bank, water->volume_l);
  return out;
}

// Chance that a trend lies on the far side of the edge.
static double
beyond(const lzq_water_bank *water, double edge, bool above)
{
  bool salt = water->analyte == LZQ_SALINITY;
  double mean = salt ? water->salt.s : water->level.x;
  double sd = sqrt(salt ? water->salt.pss : water->level.p);
  return lzq_normal_below((above ? mean - edge : edge - mean) / sd);
}

// Hours until the rising chances p, of what lzq_forecast.h does not walk: trends, and medicines
// upwards. Returns the chance now.
static double
reach_times(const lzq_water_bank *now, double edge, bool above, const double *p, int n,
            double *times_h)
{
  lzq_water_bank ahead = *now;
  double chance = is_trend(now) ? beyond(now, edge, above)
                                : 1.0 - lzq_bank_below(&now->bank, edge, LZQ_SCALE_TRUE);
  const double first = chance;
  int next = 0;
  for (; next < n && chance >= p[next]; next++)
    times_h[next] = 0.0;
  // what decays does not rise by itself: now or never
  for (int step = 0; is_trend(now) && next < n && step * 2.0 < LZQ_HORIZON_H; step++) {
    double before = chance;
    ahead = lzq_water_ahead(&ahead, ahead.at + 120);
    chance = fmax(chance, beyond(&ahead, edge, above));
    for (; next < n && chance >= p[next]; next++)
      times_h[next] = step * 2.0 + 2.0 * (p[next] - before) / (chance - before);
  }
  for (; next < n; next++)
    times_h[next] = INFINITY;
  return first;
}

lzq_exit
lzq_water_exit(const lzq_water_bank *water, lzq_minute at, double edge, bool above)
{
  const double p[3] = {0.10, 0.50, 0.90};
  double t[3] = {INFINITY, INFINITY, INFINITY}, now = NAN;
  if (water->known) {
    lzq_water_bank ahead = lzq_water_ahead(water, at);
    if (!is_trend(water) && !above)
      return lzq_forecast_exit(&ahead.bank, edge);
    now = reach_times(&ahead, edge, above, p, 3, t);
  }
  return (lzq_exit){
      .edge = edge, .below_now = now, .low_h = t[0], .likely_h = t[1], .high_h = t[2]};
}

double
lzq_water_reaches(const lzq_water_bank *water, lzq_minute at, double edge, bool above, double p)
{
  double hours = INFINITY;
  if (!water->known)
    return hours;
  lzq_water_bank ahead = lzq_water_ahead(water, at);
  if (!is_trend(water) && !above)
    return lzq_forecast_reaches(&ahead.bank, edge, p);
  reach_times(&ahead, edge, above, &p, 1, &hours);
  return hours;
}

double
lzq_water_chance(const lzq_water_bank *water, lzq_minute at, double edge, bool above,
                 lzq_minute until)
{
  if (!water->known)
    return NAN;
  lzq_water_bank ahead = lzq_water_ahead(water, at);
  if (!is_trend(water))
    return above ? 1.0 - lzq_bank_below(&ahead.bank, edge, LZQ_SCALE_TRUE)
                 : lzq_forecast_chance(&ahead.bank, edge, (double)(until - at) / 60.0);
  double chance = beyond(&ahead, edge, above);
  while (ahead.at < until) {
    ahead = lzq_water_ahead(&ahead, ahead.at + 120 < until ? ahead.at + 120 : until);
    chance = fmax(chance, beyond(&ahead, edge, above));
  }
  return chance;
}
