// SPDX-License-Identifier: GPL-3.0-or-later
// The waters as the record leaves them at `now`: carried levels, last good readings, the dose that
// no reading has closed, gear, and the levels of the last 1,440 minutes that rate limits look at.
// One pass over the history. A suspect reading never moves the plan: it asks for a repeat.
#include <math.h>

#include "lzq_balance.h"
#include "lzq_gate.h"
#include "lzq_plan_work.h"

double
lzq_error_of(const lzq_work *work, const lzq_record *reading)
{
  if (isfinite(reading->error))
    return fabs(reading->error);
  if (reading->instrument >= work->snap->n_instruments)
    return 0;
  const lzq_instrument *instrument = &work->snap->instruments[reading->instrument];
  return instrument->error_abs + instrument->error_rel * fabs(reading->value);
}

void
lzq_trace_push(lzq_trace *trace, lzq_minute at, double med, double sal, double share, bool dip)
{
  if (trace->n == LZQ_TRACE) { // the oldest point gives way: two become the base
    for (uint32_t i = 1; i < LZQ_TRACE; i++) {
      trace->at[i - 1] = trace->at[i];
      trace->level[i - 1][0] = trace->level[i][0];
      trace->level[i - 1][1] = trace->level[i][1];
      trace->share[i - 1] = trace->share[i];
      trace->dip[i - 1] = trace->dip[i];
    }
    trace->n--;
  }
  uint32_t i = trace->n++;
  trace->at[i] = at;
  trace->level[i][LZQ_MED] = med;
  trace->level[i][LZQ_SAL] = sal;
  trace->share[i] = share;
  trace->dip[i] = dip;
}

static void
note(lzq_work *work, lzq_water_state *water, lzq_minute at, double share)
{
  if (at <= work->now - LZQ_DAY)
    water->trace.n = 0; // older than any window: only the newest of them is the base
  lzq_trace_push(&water->trace, at, water->guess[LZQ_COPPER], water->guess[LZQ_SALINITY], share,
                 share > 0);
}

// Readings of an instrument between its last good check and a failed one, or never checked where
// the station does not trust that. doubtful[i] belongs to history item i.
static void
doubt_instruments(lzq_work *work, uint8_t *doubtful, uint8_t *check)
{
  const lzq_history *history = &work->history;
  enum { CHECK_NONE = 0, CHECK_OK, CHECK_BAD };
  for (uint32_t i = 0; i < work->snap->n_instruments; i++)
    check[i] = CHECK_NONE;
  for (size_t i = 0; i < history->n; i++) {
    const lzq_record *record = history->items[i];
    if (record->instrument >= work->snap->n_instruments)
      continue;
    if (record->kind == LZQ_REC_CHECK)
      check[record->instrument] = record->ok ? CHECK_OK : CHECK_BAD;
    else if (record->kind == LZQ_REC_READING)
      doubtful[i] =
          check[record->instrument] == CHECK_BAD ||
          (check[record->instrument] == CHECK_NONE && !work->snap->station.trust_unchecked);
  }
  for (uint32_t i = 0; i < work->snap->n_instruments; i++)
    check[i] = CHECK_NONE;
  for (size_t i = history->n; i-- > 0;) {
    const lzq_record *record = history->items[i];
    if (record->instrument >= work->snap->n_instruments)
      continue;
    if (record->kind == LZQ_REC_CHECK)
      check[record->instrument] = record->ok ? CHECK_OK : CHECK_BAD;
    else if (record->kind == LZQ_REC_READING && check[record->instrument] == CHECK_BAD)
      doubtful[i] = 1;
  }
}

static bool
method_sees(const lzq_work *work, const lzq_water_state *water, const lzq_record *reading)
{
  if (reading->analyte != LZQ_COPPER || water->form == LZQ_FORM_NONE ||
      reading->instrument >= work->snap->n_instruments)
    return true;
  return (work->snap->instruments[reading->instrument].sees_forms >> water->form) & 1;
}

static void
take_reading(lzq_work *work, lzq_water_state *water, const lzq_record *r, bool doubtful)
{
  uint8_t a = r->analyte;
  if (a >= LZQ_N_ANALYTES || !method_sees(work, water, r))
    return;
  lzq_last_reading reading = {r->at, r->value, lzq_error_of(work, r)};
  if (r->suspect || doubtful) {
    water->doubt[a] = reading;
    if (water->read[a].at == LZQ_LONG_AGO) // nothing better is known, and none is not none
      water->guess[a] = r->value;
    return;
  }
  water->read[a] = reading;
  water->doubt[a].at = LZQ_LONG_AGO;
  water->level[a] = water->guess[a] = r->value;
  water->carried_error[a] = reading.error;
  uint32_t system = r->system;
  if (water->open_at != LZQ_LONG_AGO && water->open_analyte == a &&
      lzq_reading_closes_dose(water->open_at, r->at, work->snap->systems[system].mixing_min)) {
    water->open_at = LZQ_LONG_AGO;
    water->open_mg = 0;
  }
  if (a == LZQ_COPPER || a == LZQ_SALINITY)
    note(work, water, r->at, 0);
}

static void
take_change(lzq_work *work, lzq_water_state *water, const lzq_record *r)
{
  double f = lzq_changed_share(r->amount, water->volume_l, r->drip);
  double copper = isfinite(r->new_copper) ? r->new_copper : 0;
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    if (!lzq_analyte_carried((lzq_analyte)a))
      continue;
    double fresh = a == LZQ_COPPER ? copper : a == LZQ_SALINITY ? r->new_salinity : 0;
    water->level[a] = lzq_after_change(water->level[a], f, fresh);
    if (isfinite(fresh))
      water->guess[a] = lzq_after_change(water->guess[a], f, fresh);
    water->carried_error[a] *= 1 - f;
  }
  water->stirred_at[LZQ_MED] = water->stirred_at[LZQ_SAL] = r->at;
  note(work, water, r->at, f);
}

static void
take_dose(lzq_work *work, lzq_water_state *water, const lzq_record *r)
{
  uint8_t a = r->analyte;
  if (a >= LZQ_N_ANALYTES)
    return;
  water->level[a] = lzq_after_dose(water->level[a], r->amount, water->volume_l);
  water->guess[a] = lzq_after_dose(water->guess[a], r->amount, water->volume_l);
  water->dose_at[a] = r->at;
  water->stirred_at[a == LZQ_SALINITY ? LZQ_SAL : LZQ_MED] = r->at;
  if (a == LZQ_COPPER)
    water->form = (lzq_form)r->form;
  if (a != LZQ_SALINITY) {
    water->open_mg = water->open_at != LZQ_LONG_AGO && water->open_analyte == a
                         ? water->open_mg + r->amount
                         : r->amount;
    water->open_at = r->at;
    water->open_analyte = a;
  }
  note(work, water, r->at, 0);
}

static void
take(lzq_work *work, lzq_water_state *water, const lzq_record *r, bool doubtful)
{
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_VOLUME: water->volume_l = r->amount; break;
  case LZQ_REC_STATE:
    water->state = (lzq_state)r->state;
    if (water->state == LZQ_STATE_DISINFECTING)
      water->disinfected_at = r->at;
    break;
  case LZQ_REC_READING: take_reading(work, water, r, doubtful); break;
  case LZQ_REC_CHANGE: take_change(work, water, r); break;
  case LZQ_REC_TOPUP:
    water->level[LZQ_SALINITY] =
        lzq_after_topup(water->level[LZQ_SALINITY], water->volume_l, r->amount, r->new_salinity);
    if (isfinite(r->new_salinity))
      water->guess[LZQ_SALINITY] =
          lzq_after_topup(water->guess[LZQ_SALINITY], water->volume_l, r->amount, r->new_salinity);
    break;
  case LZQ_REC_DOSE: take_dose(work, water, r); break;
  case LZQ_REC_GEAR:
    if (r->gear >= LZQ_N_GEAR)
      break;
    water->gear_known |= 1u << r->gear;
    water->gear_on = r->ok ? water->gear_on | 1u << r->gear : water->gear_on & ~(1u << r->gear);
    if (r->ok && (r->gear == LZQ_GEAR_CARBON || r->gear == LZQ_GEAR_RESIN))
      water->level[LZQ_COPPER] = NAN;
    break;
  case LZQ_REC_SIGHTING: water->sighting_at = r->at; break;
  default: break;
  }
}

static void
state_begin(lzq_work *work, uint32_t system)
{
  lzq_water_state *water = &work->waters[system];
  const lzq_system *given = &work->snap->systems[system];
  water->volume_l = given->volume_l;
  water->state = LZQ_STATE_STOCKED;
  water->open_at = water->sighting_at = LZQ_LONG_AGO;
  water->used_to = water->disinfected_at = LZQ_LONG_AGO;
  water->stirred_at[LZQ_MED] = water->stirred_at[LZQ_SAL] = LZQ_LONG_AGO;
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    water->level[a] = NAN;
    water->guess[a] = a == LZQ_SALINITY ? given->source_salinity : 0;
    water->read[a].at = water->doubt[a].at = water->dose_at[a] = LZQ_LONG_AGO;
  }
}

// Acts of the lots that the plan needs and the credit does not say: eaten days, signatures and
// doses since the current phase began.
static void
take_lot_act(lzq_work *work, const lzq_record *r, int32_t *last_day)
{
  if (r->lot >= work->snap->n_lots)
    return;
  const lzq_lot_credit *credit = &work->credit->lots[r->lot];
  if (!credit->has_course || credit->served || credit->n_visits == 0)
    return;
  const lzq_visit *visit = &credit->visits[credit->n_visits - 1];
  const lzq_protocol *protocol = &work->snap->protocols[credit->protocol];
  const lzq_phase *phase = &work->snap->phases[protocol->first_phase + credit->phase];
  if (r->at < visit->start)
    return;
  if (r->kind == LZQ_REC_FEED && r->amount >= phase->eaten_share - LZQ_EDGE &&
      (work->eaten[r->lot] == 0 || last_day[r->lot] != r->day)) {
    work->eaten[r->lot]++;
    last_day[r->lot] = r->day;
  }
  if (r->kind == LZQ_REC_SIGN && (r->ok || phase->sign == LZQ_SIGN_PERSON))
    work->signed_off[r->lot] = true;
}

static void
waters_begin(lzq_work *work)
{
  for (uint32_t i = 0; i < work->snap->n_systems; i++) {
    work->waters[i] = (lzq_water_state){0};
    state_begin(work, i);
  }
  for (uint32_t lot = 0; lot < work->snap->n_lots; lot++)
    work->where[lot] = LZQ_NONE;
}

// One pass; false = it met a failed check of an instrument, which says something about readings
// before it: then everything is taken again with the doubtful ones known.
static bool
take_all(lzq_work *work, const uint8_t *doubtful, int32_t *last_day)
{
  const bool trust = work->snap->station.trust_unchecked;
  waters_begin(work);
  for (size_t i = 0; i < work->history.n; i++) {
    const lzq_record *record = work->history.items[i];
    if (!doubtful && record->kind == LZQ_REC_CHECK && (!record->ok || !trust))
      return false;
    if (record->kind == LZQ_REC_RECEIVE || record->kind >= LZQ_REC_DEATH)
      lzq_turn_note(work, record);
    if (record->kind == LZQ_REC_FEED || record->kind == LZQ_REC_SIGN)
      take_lot_act(work, record, last_day);
    else if (record->system < work->snap->n_systems)
      take(work, &work->waters[record->system], record, doubtful ? doubtful[i] : false);
  }
  return true;
}

lzq_status
lzq_state_make(lzq_work *work)
{
  const lzq_snapshot *snap = work->snap;
  int32_t *last_day = LZQ_NEW(work->arena, int32_t, snap->n_lots);
  work->waters = LZQ_NEW(work->arena, lzq_water_state, snap->n_systems);
  work->where = LZQ_NEW(work->arena, uint32_t, snap->n_lots);
  work->eaten = LZQ_NEW(work->arena, int32_t, snap->n_lots);
  work->signed_off = LZQ_NEW(work->arena, bool, snap->n_lots);
  if (!last_day || !work->where || !work->waters || !work->eaten || !work->signed_off)
    return LZQ_NO_MEMORY;
  if (snap->station.trust_unchecked && take_all(work, NULL, last_day))
    return LZQ_OK;
  uint8_t *doubtful = LZQ_NEW(work->arena, uint8_t, work->history.n);
  uint8_t *check = LZQ_NEW(work->arena, uint8_t, snap->n_instruments);
  if (!doubtful || !check)
    return LZQ_NO_MEMORY;
  for (uint32_t lot = 0; lot < snap->n_lots; lot++)
    work->eaten[lot] = last_day[lot] = 0;
  doubt_instruments(work, doubtful, check);
  take_all(work, doubtful, last_day);
  return LZQ_OK;
}
