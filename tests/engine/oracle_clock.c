// SPDX-License-Identifier: GPL-3.0-or-later
// Lots that merged: the oracle lets the course of every part run on by itself, minute by minute, to
// see when the next transfer or dose would be too late for those fish.
#include <stdlib.h>

#include "oracle_lot.h"

static bool
waits_for_dose(const lzq_phase *phase)
{
  return phase->kind == LZQ_PHASE_MEDICATE && lzt_waits_for_medicine(phase);
}

bool
lzt_owes(const lzq_phase *phase, uint32_t index)
{
  return phase->late_tolerance_min > 0 && phase->sighting_to != index &&
         (phase->place != LZQ_PLACE_STAY || waits_for_dose(phase));
}

static bool
has_it(const lzq_phase *phase, lzq_minute placed_at, lzq_minute given_at)
{
  return (phase->place == LZQ_PLACE_STAY || placed_at != LZQ_NEVER) &&
         (!waits_for_dose(phase) || given_at != LZQ_NEVER);
}

// The lot's own course at t, what came in this minute included.
static lzt_clock
clock_of(const lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  const lzq_phase *phase = lzt_phase_of(replay, lot);
  const lzq_visit *now = &lzt_stay_now(lot)->v;
  lzt_clock clock = {lot->protocol, lot->phase, now->start, now->placed_at, now->given_at};
  if (clock.placed_at == LZQ_NEVER && lzt_in_place(replay, lot))
    clock.placed_at = phase->place == LZQ_PLACE_STAY ? now->start : t;
  if (clock.given_at == LZQ_NEVER && lzt_waits_for_medicine(phase) && lzt_dosed_at(replay, lot, t))
    clock.given_at = t;
  return clock;
}

bool
lzt_has_owed(const lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  const lzt_clock clock = clock_of(replay, lot, t);
  return has_it(lzt_phase_of(replay, lot), clock.placed_at, clock.given_at);
}

static void
add(lzt_lot *lot, lzt_clock clock)
{
  if (lot->n_clocks == LZT_MAX_CLOCKS)
    abort();
  lot->clocks[lot->n_clocks++] = clock;
}

void
lzt_clocks_settle(const lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  if (!lzt_stay_now(lot) || !lot->clocks_wait || !lzt_has_owed(replay, lot, t))
    return;
  lot->n_clocks = 0; // all fish got it
  lot->clocks_wait = false;
}

void
lzt_clocks_join(const lzt_replay *replay, lzt_lot *other, lzt_lot *lot, lzq_minute t)
{
  if (!lzt_stay_now(lot))
    return;
  lzt_clocks_settle(replay, lot, t);
  for (size_t i = 0; i < lot->n_clocks && lot != other; i++)
    add(other, lot->clocks[i]);
  add(other, clock_of(replay, lot, t));
}

void
lzt_clocks_wait(const lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  lot->clocks_wait = lzt_stay_now(lot) && lzt_owes(lzt_phase_of(replay, lot), lot->phase) &&
                     !lzt_has_owed(replay, lot, t);
}

static const lzq_phase *
phase_of(const lzt_replay *replay, const lzt_clock *clock)
{
  return &replay->snap->phases[replay->snap->protocols[clock->protocol].first_phase + clock->phase];
}

static bool
only_time(const lzq_phase *phase)
{
  return phase->min_credit_min <= 0 && phase->quiet_min <= 0 && phase->eating_days <= 0 &&
         phase->sign == LZQ_SIGN_NOBODY && !phase->reach;
}

// Moves the clock on to t; false = nobody knows how it would have gone on.
static bool
run(const lzt_replay *replay, lzt_clock *clock, lzq_minute t)
{
  for (;;) {
    const lzq_phase *phase = phase_of(replay, clock);
    if (lzt_owes(phase, clock->phase) && !has_it(phase, clock->placed_at, clock->given_at))
      return true; // waits
    if (!only_time(phase) || clock->placed_at == LZQ_NEVER ||
        (lzt_waits_for_medicine(phase) && clock->given_at == LZQ_NEVER))
      return false;
    if (t - clock->placed_at < phase->min_elapsed_min)
      return true;
    if (waits_for_dose(phase) && t - clock->given_at < phase->min_elapsed_min)
      return true;
    if (clock->phase + 1 == replay->snap->protocols[clock->protocol].n_phases)
      return false;
    lzq_minute since = clock->placed_at + phase->min_elapsed_min;
    if (lzt_waits_for_medicine(phase)) {
      lzq_minute dosed = clock->given_at + (waits_for_dose(phase) ? phase->min_elapsed_min : 0);
      since = dosed > since ? dosed : since;
    }
    *clock = (lzt_clock){clock->protocol, clock->phase + 1, since, LZQ_NEVER, LZQ_NEVER};
    if (phase_of(replay, clock)->place == LZQ_PLACE_STAY)
      clock->placed_at = since;
  }
}

// It waits for what its phase owes.
static bool
waits(const lzq_phase *phase, const lzt_clock *clock)
{
  return lzt_owes(phase, clock->phase) && !has_it(phase, clock->placed_at, clock->given_at);
}

bool
lzt_clocks_late(const lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  bool late = false;
  size_t kept = 0;
  for (size_t i = 0; i < lot->n_clocks; i++) {
    lzt_clock clock = lot->clocks[i];
    if (!run(replay, &clock, t))
      continue;
    lot->clocks[kept++] = clock;
    const lzq_phase *phase = phase_of(replay, &clock);
    late = late || (waits(phase, &clock) && t - clock.start > phase->late_tolerance_min);
  }
  lot->n_clocks = kept;
  return late && lot->clocks_wait && t > lzt_stay_now(lot)->v.start &&
         lzt_owes(lzt_phase_of(replay, lot), lot->phase);
}

bool
lzt_clocks_hopeless(const lzt_replay *replay, lzt_lot *lot, lzq_minute t, uint32_t *back)
{
  lzt_clock own;
  if (!lzt_stay_now(lot) || lot->clocks_wait)
    return false;
  for (own = clock_of(replay, lot, t); run(replay, &own, t); t++) {
    const lzq_phase *phase = phase_of(replay, &own);
    if (!waits(phase, &own))
      continue;
    *back = phase->sighting_to < lot->phase ? phase->sighting_to : lot->phase;
    for (size_t i = 0; i < lot->n_clocks; i++) {
      lzt_clock clock = lot->clocks[i];
      if (!run(replay, &clock, t))
        continue;
      phase = phase_of(replay, &clock);
      if (waits(phase, &clock) && t - clock.start > phase->late_tolerance_min)
        return true;
    }
    return false;
  }
  return false;
}
