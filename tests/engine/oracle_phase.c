// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle's phases: the word on a minute, the start of a visit, and its end when everything
// holds.
#include <stdlib.h>

#include "oracle_lot.h"

const lzq_phase *
lzt_phase_of(const lzt_replay *replay, const lzt_lot *lot)
{
  return &replay->snap->phases[replay->snap->protocols[lot->protocol].first_phase + lot->phase];
}

bool
lzt_in_place(const lzt_replay *replay, lzt_lot *lot)
{
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  if (lot->system == LZQ_NONE)
    return false;
  switch (phase->place) {
  case LZQ_PLACE_STAY: return true;
  case LZQ_PLACE_ROLE: return replay->snap->systems[lot->system].role == phase->role;
  case LZQ_PLACE_NEXT_CLEAN: return lot->system != lzt_stay_now(lot)->began_in;
  }
  return false;
}

static const lzt_water *
water_of(lzt_replay *replay, uint32_t system, uint32_t phase, uint32_t band)
{
  size_t at = ((size_t)system * replay->snap->n_phases + phase) * LZQ_MAX_BANDS + band;
  if (!replay->made[at]) {
    replay->waters[at] =
        lzt_water_make(&replay->known, system, &replay->snap->phases[phase].bands[band]);
    replay->made[at] = true;
  }
  return &replay->waters[at];
}

lzt_verdict
lzt_lot_judge(lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  lzt_verdict verdict = {LZQ_WHY_NONE, 0, LZQ_LONG_AGO};
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  if (!lzt_in_place(replay, lot))
    return (lzt_verdict){LZQ_WHY_PLACE, 0, LZQ_NEVER};
  for (uint32_t b = 0; b < phase->n_bands; b++) {
    uint32_t index = (uint32_t)(phase - replay->snap->phases);
    lzt_word word = lzt_water_judge(water_of(replay, lot->system, index, b), t);
    if (word.why != LZQ_WHY_NONE)
      return (lzt_verdict){word.why, (uint8_t)b, LZQ_NEVER};
    if (word.confirmed > verdict.confirmed)
      verdict.confirmed = word.confirmed;
  }
  return verdict;
}

void
lzt_lot_leave(lzt_lot *lot, lzq_left left, lzq_minute t)
{
  lzt_stay *stay = lzt_stay_now(lot);
  if (!stay)
    return;
  stay->v.left = (uint8_t)left;
  stay->v.end = t;
}

void
lzt_lot_begin(lzt_lot *lot, uint32_t phase, lzq_minute t)
{
  if (lot->n_stays == lot->room_stays) {
    lot->room_stays = lot->room_stays * 2 + 16;
    lot->stays = realloc(lot->stays, lot->room_stays * sizeof *lot->stays);
    if (!lot->stays)
      abort();
  }
  lot->phase = phase;
  lot->served = false;
  lot->served_at = LZQ_NEVER;
  lot->stays[lot->n_stays++] = (lzt_stay){
      .v = {.protocol = lot->protocol,
            .phase = phase,
            .start = t,
            .course_from = t,
            .placed_at = LZQ_NEVER,
            .end = LZQ_NEVER,
            .credit_from = LZQ_NEVER,
            .given_at = LZQ_NEVER,
            .firm_at = LZQ_NEVER,
            .first_lapse = LZQ_NEVER,
            .last_lapse = LZQ_NEVER},
      .need = LZQ_LONG_AGO,
      .began_in = lot->system,
      .began_at = t,
  };
}

int32_t
lzt_days_eaten(const lzt_lot *lot, lzq_minute start, double share)
{
  int32_t days = 0;
  for (size_t i = 0; i < lot->n_meals; i++) {
    bool counts = lot->meals[i].at >= start && lot->meals[i].share >= share;
    for (size_t j = 0; j < i && counts; j++)
      if (lot->meals[j].at >= start && lot->meals[j].share >= share &&
          lot->meals[j].day == lot->meals[i].day)
        counts = false;
    days += counts;
  }
  return days;
}

static bool
is_signed(const lzt_lot *lot, const lzt_stay *stay, lzq_sign who)
{
  for (size_t i = 0; i < lot->n_signs; i++)
    if (lot->signs[i].phase == lot->phase && lot->signs[i].at >= stay->v.start &&
        (!lot->signs[i].early || lot->signs[i].at == stay->began_at) &&
        (who == LZQ_SIGN_PERSON || lot->signs[i].vet))
      return true;
  return who == LZQ_SIGN_NOBODY;
}

bool
lzt_waits_for_medicine(const lzq_phase *phase)
{
  if (phase->kind == LZQ_PHASE_BATH)
    return phase->bath_min > 0;
  if (phase->kind != LZQ_PHASE_MEDICATE || !(phase->dose_level > 0))
    return false;
  for (uint32_t b = 0; b < phase->n_bands; b++)
    if (phase->bands[b].analyte == phase->medicine)
      return false; // a band holds it
  return true;
}

bool
lzt_dosed_at(const lzt_replay *replay, const lzt_lot *lot, lzq_minute t)
{
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  for (size_t i = 0; i < replay->known.n; i++) {
    const lzq_record *r = replay->known.events[i].r;
    if (phase->kind == LZQ_PHASE_MEDICATE && r->at == t && r->kind == LZQ_REC_DOSE &&
        r->system == lot->system && r->analyte == phase->medicine)
      return true;
  }
  return false;
}

void
lzt_note_dose(lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  lzt_stay *stay = lzt_stay_now(lot);
  if (stay && stay->v.given_at == LZQ_NEVER && lzt_waits_for_medicine(lzt_phase_of(replay, lot)) &&
      lzt_dosed_at(replay, lot, t))
    stay->v.given_at = t;
}

// Whether everything that the phase asks for holds at t; *firm = when that becomes firm; all: every
// record of the minute has acted, so that the place where the lot stands is settled.
static bool
phase_done(lzt_replay *replay, lzt_lot *lot, lzq_minute t, bool all, lzq_minute *firm)
{
  lzt_stay *stay = lzt_stay_now(lot);
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  lzq_minute quiet_from = lot->last_sighting > stay->v.start ? lot->last_sighting : stay->v.start;
  lzq_minute placed_at = stay->v.placed_at;
  if (placed_at == LZQ_NEVER && lzt_in_place(replay, lot))
    placed_at = phase->place == LZQ_PLACE_STAY ? stay->v.start : t;
  if (all)
    stay->v.placed_at = placed_at;
  *firm = stay->need;
  lzq_minute before = stay->v.given_at;
  lzt_note_dose(replay, lot, t);
  lzq_minute given_at = stay->v.given_at;
  if (!all)
    stay->v.given_at = before; // a move of this minute may still take it elsewhere
  if (lzt_waits_for_medicine(phase) && given_at == LZQ_NEVER)
    return false;
  if (lzt_waits_for_medicine(phase) && phase->kind == LZQ_PHASE_MEDICATE &&
      t - given_at < phase->min_elapsed_min)
    return false;
  if (placed_at == LZQ_NEVER || t - placed_at < phase->min_elapsed_min)
    return false;
  if (stay->v.credit_min + stay->v.accepted_min < phase->min_credit_min)
    return false;
  if (t - quiet_from < phase->quiet_min || !is_signed(lot, stay, phase->sign))
    return false;
  if (lzt_days_eaten(lot, stay->v.start, phase->eaten_share) < phase->eating_days)
    return false;
  if (phase->reach) {
    lzt_verdict verdict = lzt_lot_judge(replay, lot, t);
    if (verdict.why != LZQ_WHY_NONE)
      return false;
    if (verdict.confirmed > *firm)
      *firm = verdict.confirmed;
  }
  stay->v.placed_at = placed_at;
  stay->v.given_at = given_at;
  return true;
}

static bool
too_late(const lzt_stay *stay, const lzq_phase *phase, uint32_t index, lzq_minute t)
{
  if (phase->late_tolerance_min <= 0 || phase->sighting_to == index ||
      t - stay->v.start <= phase->late_tolerance_min)
    return false;
  bool moved = stay->v.placed_at != LZQ_NEVER &&
               stay->v.placed_at - stay->v.start <= phase->late_tolerance_min;
  bool given = stay->v.given_at != LZQ_NEVER &&
               stay->v.given_at - stay->v.start <= phase->late_tolerance_min;
  if (phase->place == LZQ_PLACE_STAY)
    moved = true;
  if (phase->kind != LZQ_PHASE_MEDICATE || !lzt_waits_for_medicine(phase))
    given = true;
  return !moved || !given;
}

// A transfer that had not happened when its tolerance ran out sends the lot back.
static bool
sent_back_late(lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  lzt_stay *stay = lzt_stay_now(lot);
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  if (stay->v.placed_at == LZQ_NEVER && lzt_in_place(replay, lot))
    stay->v.placed_at = phase->place == LZQ_PLACE_STAY ? stay->v.start : t;
  if (!too_late(stay, phase, lot->phase, t) && !lzt_clocks_late(replay, lot, t))
    return false;
  lzt_lot_leave(lot, LZQ_LEFT_LATE, t);
  lot->look_from = LZQ_NEVER;
  lot->n_clocks = 0;
  lzt_lot_begin(lot, phase->sighting_to, t);
  return true;
}

lzq_minute
lzt_last_given(const lzt_lot *lot)
{
  lzq_minute last = lot->merged_given;
  for (size_t i = 0; i < lot->n_stays; i++)
    if (lot->stays[i].v.given_at != LZQ_NEVER && lot->stays[i].v.given_at > last)
      last = lot->stays[i].v.given_at;
  return last;
}

// Nine tenths of the time between two doses are enough.
static void
take_early_dose(const lzt_replay *replay, lzt_lot *lot, lzq_minute last, lzq_minute t)
{
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  if (phase->kind != LZQ_PHASE_MEDICATE || !lzt_waits_for_medicine(phase))
    return;
  for (lzq_minute m = t - 1; m >= lot->entered_at && 10 * (t - m) <= phase->min_elapsed_min; m--)
    if (m > last && lzt_dosed_at(replay, lot, m))
      lzt_stay_now(lot)->v.given_at = m;
  lzq_minute early = lzt_stay_now(lot)->v.given_at;
  if (early == LZQ_NEVER || phase->place != LZQ_PLACE_STAY)
    return;
  if (lot->clocks_wait)
    lot->n_clocks = 0;
  lot->clocks_wait = false;
  lot->clocks[lot->n_clocks++] = (lzt_clock){lot->protocol, lot->phase, early, early, early};
}

void
lzt_lot_end_phases(lzt_replay *replay, lzt_lot *lot, lzq_minute t, bool all)
{
  lzq_minute firm;
  while (lzt_stay_now(lot)) {
    if (all && sent_back_late(replay, lot, t))
      continue;
    if (all)
      lzt_clocks_settle(replay, lot, t);
    if (!phase_done(replay, lot, t, all, &firm))
      return;
    if (lot->clocks_wait)
      lot->n_clocks = 0; // it has what it owed
    lzt_stay *stay = lzt_stay_now(lot);
    uint32_t phase = lot->phase;
    stay->v.firm_at = firm > t ? firm : t;
    for (uint32_t p = 0; p < phase; p++)
      if (lot->end_firm[p] > stay->v.firm_at)
        stay->v.firm_at = lot->end_firm[p];
    lot->end_firm[phase] = stay->v.firm_at;
    lzt_lot_leave(lot, LZQ_LEFT_ENDED, t);
    if (phase + 1 < replay->snap->protocols[lot->protocol].n_phases) {
      lzq_minute given = lzt_last_given(lot), day_one = stay->v.course_from;
      lzt_lot_begin(lot, phase + 1, t);
      lzt_stay_now(lot)->v.course_from = day_one;
      lot->clocks_wait = lzt_owes(lzt_phase_of(replay, lot), lot->phase);
      take_early_dose(replay, lot, given, t);
    } else {
      lot->phase = phase + 1;
      lot->served = true;
      lot->served_at = t;
      lot->last_phase_from = stay->v.start < lot->look_from ? stay->v.start : lot->look_from;
    }
  }
}
