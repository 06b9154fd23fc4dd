// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle's walk through the minutes: records, ends, credit and lapse of each minute, then who
// may go.
#include "oracle.h"

#include <stdlib.h>
#include <string.h>

#include "oracle_lot.h"

lzt_stay *
lzt_stay_now(lzt_lot *lot)
{
  return lot->has_course && !lot->served && !lot->gone ? &lot->stays[lot->n_stays - 1] : NULL;
}

static void
lapse(lzt_stay *stay, const lzq_phase *phase, lzq_minute t)
{
  if (phase->lapse_min < 0 || stay->lapsed || stay->run <= phase->lapse_min ||
      stay->v.credit_min == 0)
    return;
  stay->lapsed = true;
  stay->v.lapses++;
  stay->v.last_lapse = t;
  if (stay->v.first_lapse == LZQ_NEVER)
    stay->v.first_lapse = t;
  if (phase->lapse == LZQ_LAPSE_PAUSE)
    return;
  stay->v.credit_min = stay->v.open_min = stay->v.accepted_min = 0;
  stay->v.credit_from = LZQ_NEVER;
  stay->need = LZQ_LONG_AGO;
}

// Minute t is over: it earned or it did not.
static void
earn(lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  lzt_cell *cell = &lot->cells[t - replay->from];
  lzt_stay *stay = lzt_stay_now(lot);
  *cell = (lzt_cell){-1, 0, 0, lot->system, LZQ_NEVER};
  if (!stay)
    return;
  lzt_note_dose(replay, lot, t);
  lzt_verdict verdict = lzt_lot_judge(replay, lot, t);
  *cell = (lzt_cell){(int32_t)lot->n_stays - 1, (uint8_t)verdict.why, verdict.band, lot->system,
                     verdict.confirmed};
  if (verdict.why != LZQ_WHY_NONE) {
    stay->run++;
    lapse(stay, lzt_phase_of(replay, lot), t);
    return;
  }
  stay->run = 0;
  stay->lapsed = false;
  stay->v.credit_min++;
  stay->v.open_min += verdict.confirmed == LZQ_NEVER;
  if (verdict.confirmed > stay->need)
    stay->need = verdict.confirmed;
  if (stay->v.credit_from == LZQ_NEVER)
    stay->v.credit_from = t;
}

static bool
in_one_water(const lzt_lot *a, const lzt_lot *b)
{
  return a->here && !a->gone && b->here && !b->gone && a->system != LZQ_NONE &&
         a->system == b->system;
}

// Whether `other` keeps this served lot under the last-in rule.
static bool
holds(const lzt_lot *lot, const lzt_lot *other)
{
  if (!other->here || other->gone || other == lot)
    return false;
  bool met = lot->shared[other->index] >= lot->last_phase_from;
  return !other->served && (in_one_water(lot, other) || met);
}

// At the end of minute t: who shared water, and who may go.
static void
close_minute(lzt_replay *replay, lzq_minute t)
{
  uint32_t n = replay->snap->n_lots;
  for (uint32_t a = 0; a < n; a++)
    for (uint32_t b = 0; b < n; b++)
      if (in_one_water(&replay->lots[a], &replay->lots[b]))
        replay->lots[a].shared[b] = t;
  for (uint32_t a = 0; a < n; a++) {
    lzt_lot *lot = &replay->lots[a];
    lot->held_by = LZQ_NONE;
    for (uint32_t b = 0; b < n && lot->served && replay->snap->station.last_in; b++)
      lot->held_at_release |=
          lot->released && lot->released_at == t && holds(lot, &replay->lots[b]);
    if (lot->gone)
      continue; // as it was when it went
    bool may = lot->served && lot->stays[lot->n_stays - 1].v.firm_at <= t;
    for (uint32_t b = 0; b < n && lot->served && replay->snap->station.last_in; b++)
      if (lot->held_by == LZQ_NONE && holds(lot, &replay->lots[b]))
        lot->held_by = b;
    if (!may || lot->held_by != LZQ_NONE)
      lot->free_from = LZQ_NEVER;
    else if (lot->free_from == LZQ_NEVER)
      lot->free_from = t;
  }
}

static void
play_minute(lzt_replay *replay, size_t *next, lzq_minute t)
{
  uint32_t n = replay->snap->n_lots;
  const lzt_known *known = &replay->known;
  for (; *next < known->n && known->events[*next].r->at == t &&
         known->events[*next].r->kind < LZQ_REC_SPLIT;
       ++*next)
    lzt_replay_act(replay, &known->events[*next], *next);
  for (uint32_t i = 0; i < n; i++)
    lzt_lot_end_phases(replay, &replay->lots[i], t, false);
  for (; *next < known->n && known->events[*next].r->at == t; ++*next)
    lzt_replay_act(replay, &known->events[*next], *next);
  for (uint32_t i = 0; i < n; i++)
    lzt_lot_end_phases(replay, &replay->lots[i], t, true);
  close_minute(replay, t);
  for (uint32_t i = 0; i < n && t < replay->until; i++)
    earn(replay, &replay->lots[i], t);
}

static void
start_lots(lzt_replay *replay, size_t minutes)
{
  const lzq_snapshot *snap = replay->snap;
  replay->lots = lzt_zeroed(snap->n_lots, sizeof *replay->lots);
  for (uint32_t i = 0; i < snap->n_lots; i++) {
    lzt_lot *lot = &replay->lots[i];
    *lot = (lzt_lot){.index = i,
                     .system = LZQ_NONE,
                     .tank = LZQ_NONE,
                     .received_at = LZQ_NEVER,
                     .released_at = LZQ_NEVER,
                     .served_at = LZQ_NEVER,
                     .last_sighting = LZQ_LONG_AGO,
                     .look_from = LZQ_NEVER,
                     .entered_at = LZQ_LONG_AGO,
                     .merged_given = LZQ_LONG_AGO,
                     .free_from = LZQ_NEVER,
                     .held_by = LZQ_NONE};
    for (int p = 0; p < LZT_MAX_PHASES; p++)
      lot->end_firm[p] = LZQ_LONG_AGO;
    lot->meals = lzt_zeroed(replay->known.n * 2, sizeof(lzt_meal));
    lot->signs = lzt_zeroed(replay->known.n * 2, sizeof(lzt_signature));
    lot->cells = lzt_zeroed(minutes, sizeof(lzt_cell));
    lot->shared = lzt_zeroed(snap->n_lots, sizeof(lzq_minute));
    for (uint32_t j = 0; j < snap->n_lots; j++)
      lot->shared[j] = LZQ_LONG_AGO;
  }
}

// A lot that was set back, or given a course anew, may go since it served again, if that was in the
// same minute.
static lzq_minute
since_served(const lzt_lot *lot)
{
  return lot->served && lot->free_from < lot->served_at ? lot->served_at : lot->free_from;
}

static lzq_lot_credit
sum_up(lzt_lot *lot)
{
  lzt_stay *stay = lzt_stay_now(lot);
  lzq_visit *visits = lzt_zeroed(lot->n_stays, sizeof(lzq_visit));
  for (size_t i = 0; i < lot->n_stays; i++)
    visits[i] = lot->stays[i].v;
  return (lzq_lot_credit){
      .has_course = lot->has_course,
      .served = lot->served,
      .released = lot->released,
      .merged = lot->merged,
      .merged_into = lot->merged ? lot->merged_into : LZQ_NONE,
      .dead = lot->dead,
      .protocol = lot->protocol,
      .phase = lot->phase,
      .system = lot->system,
      .tank = lot->tank,
      .heads = lot->heads,
      .received_at = lot->received_at,
      .credit_min = stay ? stay->v.credit_min : 0,
      .open_min = stay ? stay->v.open_min : 0,
      .accepted_min = stay ? stay->v.accepted_min : 0,
      .run_min = stay ? stay->run : 0,
      .served_at = lot->served_at,
      .firm_at = lot->served ? lot->stays[lot->n_stays - 1].v.firm_at : LZQ_NEVER,
      .releasable_at = lot->merged || lot->dead || lot->released ? LZQ_NEVER : since_served(lot),
      .released_at = lot->released_at,
      .held_by = lot->held_by,
      .went_held_by = lot->held_at_release ? 0 : LZQ_NONE, // whether, not by whom
      .last_sighting = lot->last_sighting,
      .visits = visits,
      .n_visits = (uint32_t)lot->n_stays,
  };
}

static void
free_replay(lzt_replay *replay)
{
  const lzq_snapshot *snap = replay->snap;
  size_t n_waters = (size_t)snap->n_systems * snap->n_phases * LZQ_MAX_BANDS;
  for (size_t i = 0; i < n_waters; i++) {
    free(replay->waters[i].servings);
    free(replay->waters[i].events);
  }
  for (uint32_t i = 0; i < snap->n_lots; i++) {
    free(replay->lots[i].stays);
    free(replay->lots[i].meals);
    free(replay->lots[i].signs);
    free(replay->lots[i].shared);
  }
  free(replay->waters);
  free(replay->made);
  free(replay->lots);
  free(replay->known.events);
}

lzt_oracle *
lzt_oracle_run(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until)
{
  lzt_replay replay = {.snap = snapshot, .known = lzt_known_make(snapshot, known_id, until)};
  size_t n_waters = (size_t)snapshot->n_systems * snapshot->n_phases * LZQ_MAX_BANDS, next = 0;
  replay.waters = lzt_zeroed(n_waters, sizeof(lzt_water));
  replay.made = lzt_zeroed(n_waters, sizeof(bool));
  replay.from = replay.known.n ? replay.known.events[0].r->at : until;
  replay.until = until;
  start_lots(&replay, (size_t)(until - replay.from));
  for (lzq_minute t = replay.from; t <= until; t++)
    play_minute(&replay, &next, t);
  lzt_oracle *oracle = lzt_zeroed(1, sizeof *oracle);
  *oracle = (lzt_oracle){replay.from, until, (size_t)(until - replay.from), snapshot->n_lots,
                         lzt_zeroed(snapshot->n_lots, sizeof(lzt_oracle_lot))};
  for (uint32_t i = 0; i < snapshot->n_lots; i++) {
    oracle->lots[i].sum = sum_up(&replay.lots[i]);
    oracle->lots[i].cells = replay.lots[i].cells;
  }
  free_replay(&replay);
  return oracle;
}

void
lzt_oracle_free(lzt_oracle *oracle)
{
  if (!oracle)
    return;
  for (uint32_t i = 0; i < oracle->n_lots; i++) {
    free((void *)oracle->lots[i].sum.visits);
    free(oracle->lots[i].cells);
  }
  free(oracle->lots);
  free(oracle);
}
