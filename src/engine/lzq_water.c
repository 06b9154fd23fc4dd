// SPDX-License-Identifier: GPL-3.0-or-later
// Which record does what to which estimator.
#include "lzq_water.h"

#include <math.h>

#include "lzq_balance.h"

#define SUSPECT_SD  3.5
#define UNKNOWN_VAR 25.0 // salinity of new water that nobody measured: +-5
#define KNOWN_ZERO  1e-8 // (mg/L)^2: water that has never met the medicine
#define RECORD_SD   0.03 // of a measured change or top-up
#define SALT_SD     0.02 // of weighed salt

static bool
decays(uint8_t analyte)
{
  return analyte != LZQ_SALINITY && analyte != LZQ_TEMPERATURE;
}

lzq_status
lzq_water_begin(lzq_water_bank *water, const lzq_snapshot *snapshot, uint32_t system,
                lzq_analyte analyte, double c_ref)
{
  bool modelled = (unsigned)analyte < LZQ_N_ANALYTES &&
                  (analyte == LZQ_TEMPERATURE || lzq_analyte_carried(analyte));
  if (system >= snapshot->n_systems || !modelled || !(c_ref > 0.0) || !isfinite(c_ref))
    return LZQ_BAD_INPUT;
  *water = (lzq_water_bank){.system = system,
                            .analyte = (uint8_t)analyte,
                            .at = LZQ_LONG_AGO,
                            .c_ref = c_ref,
                            .volume_l = snapshot->systems[system].volume_l,
                            .instrument = LZQ_NONE};
  return LZQ_OK;
}

// A prior for the medicine: praziquantel by repeat, 1 % left after 8 and 2 days; else the default.
static lzq_bank_rules
rules_for(const lzq_water_bank *water)
{
  lzq_bank_rules rules = lzq_bank_rules_default(water->c_ref);
  if (water->analyte == LZQ_PRAZIQUANTEL) {
    rules.k_middle = log(100.0) / (water->doses > 1 ? 48.0 : 192.0);
    rules.k_max = 0.4;
    rules.k_spread = 0.5;
  }
  return rules;
}

static void
start_bank(lzq_water_bank *water, double c0, double p0, lzq_minute at)
{
  lzq_bank_rules rules = rules_for(water);
  water->known = lzq_bank_init(&water->bank, &rules, c0, p0, at) == LZQ_OK;
}

// A suspect salinity that waits for its repeat grows with the evaporation like the level itself.
static void
advance_salt(lzq_water_bank *water, double hours)
{
  lzq_salt_level held = water->salt;
  held.s = water->suspect.y;
  held.pss = water->suspect.added;
  lzq_salt_advance(&water->salt, hours);
  lzq_salt_advance(&held, hours);
  water->suspect.y = held.s;
  water->suspect.added = held.pss;
}

static void
advance(lzq_water_bank *water, lzq_minute to)
{
  if (water->known && to > water->at) {
    double hours = (double)(to - water->at) / 60.0;
    if (decays(water->analyte))
      lzq_bank_to(&water->bank, to);
    else if (water->analyte == LZQ_SALINITY)
      advance_salt(water, hours);
    else
      lzq_local_level_advance(&water->level, hours);
  }
  water->at = to > water->at ? to : water->at;
}

static lzq_bank_reading
error_of(const lzq_water_bank *water, const lzq_snapshot *snapshot, const lzq_record *record)
{
  lzq_bank_reading out = {.y = record->value};
  const bool named = record->instrument < snapshot->n_instruments;
  if (named) {
    const lzq_instrument *instrument = &snapshot->instruments[record->instrument];
    out.sa = instrument->error_abs;
    out.srel = instrument->error_rel;
    out.res = instrument->resolution;
  }
  if (!isnan(record->error)) {
    out.sa = record->error;
    out.srel = 0.0;
  }
  if (water->instrument != LZQ_NONE && record->instrument != water->instrument &&
      decays(water->analyte))
    out.srel = hypot(out.srel, water->bank.rules.gain_sd); // two instruments, two gains
  if (!(lzq_reading_variance(&out) > 0.0)) // an instrument without an error: 1 % of the level
    out.sa = 0.01 * fmax(water->c_ref, 1e-6);
  return out;
}

// Salinity and temperature: the same rule for suspects as the bank's, on one Gaussian.
static lzq_read_verdict
take_trend(lzq_water_bank *water, const lzq_bank_reading *reading)
{
  const bool salt = water->analyte == LZQ_SALINITY;
  double r = lzq_reading_variance(reading), y = reading->y, added = water->suspect.added;
  bool repeat = water->suspect.waiting;
  double off = salt ? lzq_salt_off(&water->salt, y, r) : lzq_local_level_off(&water->level, y, r);
  double mean = salt ? water->salt.s : water->level.x;
  lzq_read_verdict verdict = repeat ? LZQ_READ_CLEARED : LZQ_READ_TAKEN;
  if (repeat && fabs(y - water->suspect.y) < 3.0 * sqrt(2.0 * r + added)) {
    double jump = 0.5 * (y + water->suspect.y) - mean;
    *(salt ? &water->salt.pss : &water->level.p) += jump * jump;
    verdict = LZQ_READ_JUMPED;
  } else if (fabs(off) > SUSPECT_SD) {
    water->suspect =
        (lzq_suspect){y, reading->sa, reading->srel, reading->res, 0.0, .waiting = true};
    return repeat ? LZQ_READ_ASK_THIRD : LZQ_READ_SUSPECT;
  }
  water->suspect.waiting = false;
  if (salt)
    lzq_salt_update(&water->salt, y, r);
  else
    lzq_local_level_update(&water->level, y, r);
  return verdict;
}

static bool
sees(const lzq_water_bank *water, const lzq_snapshot *snapshot, const lzq_record *record)
{
  return water->analyte != LZQ_COPPER || water->form == LZQ_FORM_NONE ||
         record->instrument >= snapshot->n_instruments ||
         (snapshot->instruments[record->instrument].sees_forms >> water->form & 1u);
}

static lzq_read_verdict
feed_reading(lzq_water_bank *water, const lzq_snapshot *snapshot, const lzq_record *record)
{
  if (record->analyte != water->analyte || !isfinite(record->value) ||
      !sees(water, snapshot, record))
    return LZQ_READ_TAKEN;
  lzq_bank_reading reading = error_of(water, snapshot, record);
  advance(water, record->at);
  if (water->instrument == LZQ_NONE)
    water->instrument = record->instrument;
  if (water->known)
    return decays(water->analyte) ? lzq_bank_read(&water->bank, &reading)
                                  : take_trend(water, &reading);
  double r = lzq_reading_variance(&reading) + 1e-12;
  if (decays(water->analyte)) {
    start_bank(water, reading.y, r, record->at);
  } else if (water->analyte == LZQ_SALINITY) {
    water->salt = lzq_salt_start(reading.y, r);
    water->known = true;
  } else {
    water->level = lzq_temperature_level(water->c_ref);
    lzq_local_level_update(&water->level, reading.y, r);
    water->known = true;
  }
  return LZQ_READ_TAKEN;
}

// What is done to the salinity is done to a suspect reading of it that waits for its repeat.
static void
salt_step(lzq_water_bank *water, double share, double new_salinity, double grams)
{
  lzq_salt_level held = {.s = water->suspect.y, .pss = water->suspect.added};
  lzq_salt_level *both[2] = {&water->salt, &held};
  for (int i = 0; i < 2; i++) {
    double from = isnan(new_salinity) ? both[i]->s : new_salinity;
    if (grams > 0.0)
      lzq_salt_add(both[i], grams, water->volume_l, SALT_SD);
    else
      lzq_salt_change(both[i], share, from, RECORD_SD);
    if (grams <= 0.0 && isnan(new_salinity))
      both[i]->pss += share * share * UNKNOWN_VAR;
  }
  water->suspect.y = held.s;
  water->suspect.added = held.pss;
}

static void
feed_dose(lzq_water_bank *water, const lzq_record *record)
{
  if (record->analyte != water->analyte || !(record->amount > 0.0))
    return;
  advance(water, record->at);
  water->doses++;
  if (water->analyte == LZQ_COPPER)
    water->form = record->form;
  if (water->analyte == LZQ_SALINITY) {
    if (water->known)
      salt_step(water, 0.0, 0.0, record->amount);
    return;
  }
  if (!decays(water->analyte))
    return;
  if (!water->known) {
    start_bank(water, 0.0, KNOWN_ZERO, record->at);
  } else if (water->analyte == LZQ_PRAZIQUANTEL) {
    lzq_bank_moments m = lzq_bank_summary(&water->bank);
    start_bank(water, m.mean, fmax(m.sd * m.sd, KNOWN_ZERO), record->at);
  }
  lzq_bank_dose(&water->bank, record->amount / water->volume_l, NAN);
}

static void
feed_change(lzq_water_bank *water, const lzq_record *record)
{
  if (!(record->amount > 0.0))
    return;
  advance(water, record->at);
  if (!water->known)
    return;
  double share = lzq_changed_share(record->amount, water->volume_l, record->drip);
  if (water->analyte == LZQ_COPPER) {
    lzq_bank_change(&water->bank, share, isnan(record->new_copper) ? 0.0 : record->new_copper, NAN);
  } else if (water->analyte == LZQ_SALINITY) {
    salt_step(water, share, record->new_salinity, 0.0);
  } else if (decays(water->analyte)) {
    lzq_bank_change(&water->bank, share, 0.0, NAN);
  }
}

static void
feed_topup(lzq_water_bank *water, const lzq_record *record)
{
  if (water->analyte != LZQ_SALINITY || !(record->amount > 0.0))
    return;
  advance(water, record->at);
  if (!water->known)
    return;
  double salinity = isnan(record->new_salinity) ? 0.0 : record->new_salinity;
  salt_step(water, record->amount / water->volume_l, salinity, 0.0);
}

// What was learnt of the old volume says nothing of the new one.
static void
feed_volume(lzq_water_bank *water, const lzq_record *record)
{
  if (!(record->amount > 0.0))
    return;
  advance(water, record->at);
  water->volume_l = record->amount;
  if (water->known && decays(water->analyte))
    lzq_bank_new_volume(&water->bank);
}

static void
feed_gear(lzq_water_bank *water, const lzq_record *record)
{
  if (!record->ok || !water->known || !lzq_gear_takes_out(record->gear, water->analyte))
    return;
  advance(water, record->at);
  lzq_bank_forget(&water->bank);
}

lzq_read_verdict
lzq_water_feed(lzq_water_bank *water, const lzq_snapshot *snapshot, const lzq_record *record)
{
  if (record->system != water->system)
    return LZQ_READ_TAKEN;
  switch (record->kind) {
  case LZQ_REC_READING: return feed_reading(water, snapshot, record);
  case LZQ_REC_DOSE: feed_dose(water, record); break;
  case LZQ_REC_CHANGE: feed_change(water, record); break;
  case LZQ_REC_TOPUP: feed_topup(water, record); break;
  case LZQ_REC_VOLUME: feed_volume(water, record); break;
  case LZQ_REC_GEAR: feed_gear(water, record); break;
  default: break;
  }
  return LZQ_READ_TAKEN;
}

lzq_read_verdict
lzq_water_judge(const lzq_water_bank *water, const lzq_snapshot *snapshot,
                const lzq_record *reading)
{
  lzq_water_bank copy = *water;
  return lzq_water_feed(&copy, snapshot, reading);
}
