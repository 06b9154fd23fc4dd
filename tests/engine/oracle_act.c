// SPDX-License-Identifier: GPL-3.0-or-later
// What each kind of record does to the lots of the oracle.
#include <string.h>

#include "oracle_lot.h"

static lzt_lot *
living(lzt_replay *replay, uint32_t index)
{
  lzt_lot *lot = index < replay->snap->n_lots ? &replay->lots[index] : NULL;
  return lot && lot->here && !lot->gone ? lot : NULL;
}

static void
stand_in(lzt_replay *replay, lzt_lot *lot, uint32_t tank, lzq_minute t)
{
  const uint32_t before = lot->system;
  lot->tank = tank;
  lot->system = tank == LZQ_NONE ? LZQ_NONE : replay->snap->tanks[tank].system;
  if (lot->system != before)
    lot->entered_at = t;
}

static void
set_heads(lzt_lot *lot, int64_t heads, lzq_minute t)
{
  lot->heads = heads > 0 ? (int32_t)heads : 0;
  if (heads > 0)
    return;
  lzt_lot_leave(lot, LZQ_LEFT_DEAD, t);
  lot->dead = lot->gone = true;
}

static void
set_back(lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  if (!lot->has_course || lot->last_sighting == t)
    return; // several sightings of one minute set it back once
  const lzq_protocol *protocol = &replay->snap->protocols[lot->protocol];
  uint32_t phase = lot->served ? protocol->n_phases - 1 : lot->phase;
  lzt_lot_leave(lot, LZQ_LEFT_SIGHTING, t);
  lot->last_sighting = t;
  lot->look_from = LZQ_NEVER;
  lot->n_clocks = 0;
  lzt_lot_begin(lot, replay->snap->phases[protocol->first_phase + phase].sighting_to, t);
}

// Whether the lot will enter that water later in this minute.
static bool
will_enter(const lzt_replay *replay, const lzt_lot *lot, uint32_t system, size_t index)
{
  const lzt_known *known = &replay->known;
  for (size_t i = index; i < known->n && known->events[i].r->at == known->events[index].r->at; i++)
    if (known->events[i].r->kind == LZQ_REC_MOVE && known->events[i].r->lot == lot->index &&
        replay->snap->tanks[known->events[i].r->tank].system == system)
      return true;
  return false;
}

static void
act_sighting(lzt_replay *replay, const lzq_record *r, size_t index)
{
  for (uint32_t i = 0; i < replay->snap->n_lots; i++) {
    lzt_lot *lot = living(replay, i);
    if (lot && (lot->system == r->system || will_enter(replay, lot, r->system, index)))
      set_back(replay, lot, r->at);
  }
}

// A lot split off in this minute that moves into a water with a sighting in this minute.
static void
meet_sightings(lzt_replay *replay, lzt_lot *lot, size_t index)
{
  const lzt_known *known = &replay->known;
  lzq_minute t = known->events[index].r->at;
  bool new_now = false;
  for (size_t i = 0; i < index; i++)
    if (known->events[i].r->at == t && known->events[i].r->kind == LZQ_REC_SPLIT &&
        known->events[i].r->other == lot->index)
      new_now = true;
  for (size_t i = 0; i < index && new_now; i++)
    if (known->events[i].r->at == t && known->events[i].r->kind == LZQ_REC_SIGHTING &&
        known->events[i].r->system == lot->system)
      set_back(replay, lot, t);
}

static void
act_split(lzt_replay *replay, lzt_lot *lot, const lzq_record *r)
{
  lzt_lot *child = &replay->lots[r->other];
  if (child->here)
    return;
  lzt_lot fresh = *child;
  *child = *lot;
  child->index = fresh.index;
  child->stays = fresh.stays;
  child->room_stays = fresh.room_stays;
  child->n_stays = 0;
  child->meals = fresh.meals;
  child->signs = fresh.signs;
  child->shared = fresh.shared;
  child->cells = fresh.cells;
  child->free_from = LZQ_NEVER;
  memcpy(child->meals, lot->meals, lot->n_meals * sizeof *lot->meals);
  memcpy(child->signs, lot->signs, lot->n_signs * sizeof *lot->signs);
  memcpy(child->shared, lot->shared, replay->snap->n_lots * sizeof *lot->shared);
  for (uint32_t i = 0; i < replay->snap->n_lots; i++)
    replay->lots[i].shared[child->index] = replay->lots[i].shared[lot->index];
  child->entered_at = r->at;
  child->merged_given = lzt_last_given(lot);
  lzq_minute served_at = child->served_at;
  if (lot->has_course && lot->n_stays) { // the visit that runs, or the one that ended last
    lzt_lot_begin(child, lot->stays[lot->n_stays - 1].v.phase, r->at);
    child->stays[0] = lot->stays[lot->n_stays - 1];
    child->phase = lot->phase;
    child->served = lot->served;
  }
  child->served_at = served_at;
  lzt_stay *part = lzt_stay_now(child), *rest = lzt_stay_now(lot);
  if (part && rest) { // nobody knows which fish were bathed: each has what it has at the least
    int64_t bathed = rest->v.bathed, without_part = bathed - r->heads;
    int64_t without_rest = bathed - ((int64_t)lot->heads - r->heads);
    rest->v.bathed = without_part > 0 ? (int32_t)without_part : 0;
    part->v.bathed = without_rest > 0 ? (int32_t)without_rest : 0;
  }
  set_heads(child, r->heads, r->at);
  set_heads(lot, (int64_t)lot->heads - r->heads, r->at);
}

#define SMALLER(a, b) ((a) < (b) ? (a) : (b))
#define LARGER(a, b)  ((a) > (b) ? (a) : (b))

static void
take_meals_and_signs(lzt_lot *other, const lzt_lot *lot)
{
  other->n_meals = lot->n_meals;
  memcpy(other->meals, lot->meals, lot->n_meals * sizeof *lot->meals);
  other->n_signs = lot->n_signs;
  memcpy(other->signs, lot->signs, lot->n_signs * sizeof *lot->signs);
}

static bool
has_sign(const lzt_lot *lot, uint32_t phase, bool vet, lzq_minute start)
{
  for (size_t i = 0; i < lot->n_signs; i++)
    if (lot->signs[i].phase == phase && lot->signs[i].at >= start && (lot->signs[i].vet || !vet))
      return true;
  return false;
}

// Both in one phase: field by field the worse.
static void
worse_of_one_phase(lzt_replay *replay, lzt_lot *other, lzt_lot *lot)
{
  lzt_stay *mine = lzt_stay_now(other), *theirs = lzt_stay_now(lot);
  const lzq_phase *phase =
      &replay->snap->phases[replay->snap->protocols[lot->protocol].first_phase + lot->phase];
  double share = phase->eaten_share;
  if (lzt_days_eaten(lot, theirs->v.start, share) < lzt_days_eaten(other, mine->v.start, share)) {
    other->n_meals = lot->n_meals;
    memcpy(other->meals, lot->meals, lot->n_meals * sizeof *lot->meals);
  }
  size_t kept = 0; // a sign counts if the other part has as good a one
  for (size_t i = 0; i < other->n_signs; i++)
    if (has_sign(lot, other->signs[i].phase, other->signs[i].vet, theirs->v.start))
      other->signs[kept++] = other->signs[i];
  other->n_signs = kept;
  mine->v.start = LARGER(mine->v.start, theirs->v.start);
  mine->v.placed_at = LARGER(mine->v.placed_at, theirs->v.placed_at);
  mine->v.given_at = LARGER(mine->v.given_at, theirs->v.given_at);
  mine->v.bathed += theirs->v.bathed;
  mine->v.credit_min = SMALLER(mine->v.credit_min, theirs->v.credit_min);
  mine->v.accepted_min = SMALLER(mine->v.accepted_min, theirs->v.accepted_min);
  mine->v.open_min = LARGER(mine->v.open_min, theirs->v.open_min);
  mine->v.open_min = SMALLER(mine->v.open_min, mine->v.credit_min);
  mine->v.credit_from = LARGER(mine->v.credit_from, theirs->v.credit_from);
  mine->need = LARGER(mine->need, theirs->need);
  if (theirs->run > mine->run) {
    mine->run = theirs->run;
    mine->lapsed = theirs->lapsed;
  }
}

// Since when sharing its water counts for a lot, as its course stands; LZQ_NEVER = not yet.
static lzq_minute
looks_from(const lzt_replay *replay, lzt_lot *lot)
{
  if (lot->served)
    return lot->last_phase_from;
  const bool last = lot->phase + 1 == replay->snap->protocols[lot->protocol].n_phases;
  const lzt_stay *stay = lzt_stay_now(lot);
  return last && stay ? SMALLER(lot->look_from, stay->v.start) : lot->look_from;
}

static void
act_merge(lzt_replay *replay, lzt_lot *lot, lzt_lot *other, lzq_minute t)
{
  if (lot == other || lot->has_course != other->has_course ||
      (lot->has_course && lot->protocol != other->protocol))
    return;
  if (lot->has_course) {
    for (uint32_t p = 0; p < LZT_MAX_PHASES; p++)
      other->end_firm[p] = LARGER(other->end_firm[p], lot->end_firm[p]);
    other->look_from = SMALLER(looks_from(replay, other), looks_from(replay, lot));
    lzq_minute given = LARGER(lzt_last_given(other), lzt_last_given(lot));
    lzq_minute day_one = LARGER(other->stays[other->n_stays - 1].v.course_from,
                                lot->stays[lot->n_stays - 1].v.course_from);
    lzt_clocks_join(replay, other, other, t);
    lzt_clocks_join(replay, other, lot, t);
    if (lot->phase < other->phase) {
      lzt_lot_leave(other, LZQ_LEFT_STOPPED, t);
      lzt_lot_begin(other, lot->phase, t);
      other->stays[other->n_stays - 1] = lot->stays[lot->n_stays - 1];
      take_meals_and_signs(other, lot);
    } else if (lot->phase == other->phase && !lot->served) {
      worse_of_one_phase(replay, other, lot);
    } else if (lot->phase == other->phase) {
      lzq_visit *mine = &other->stays[other->n_stays - 1].v;
      mine->firm_at = LARGER(mine->firm_at, lot->stays[lot->n_stays - 1].v.firm_at);
      other->served_at = LARGER(other->served_at, lot->served_at);
      other->last_phase_from = SMALLER(other->last_phase_from, lot->last_phase_from);
    }
    other->merged_given = given;
    if (lzt_stay_now(other))
      lzt_stay_now(other)->v.course_from = day_one;
    lzt_clocks_wait(replay, other, t);
  }
  uint32_t back;
  if (lot->has_course && lzt_clocks_hopeless(replay, other, t, &back)) {
    lzt_lot_leave(other, LZQ_LEFT_APART, t);
    other->look_from = LZQ_NEVER;
    other->n_clocks = 0;
    lzt_lot_begin(other, back, t);
  }
  other->last_sighting = LARGER(other->last_sighting, lot->last_sighting);
  for (uint32_t i = 0; i < replay->snap->n_lots; i++) {
    other->shared[i] = LARGER(other->shared[i], lot->shared[i]);
    lzt_lot *third = &replay->lots[i];
    third->shared[other->index] = LARGER(third->shared[other->index], third->shared[lot->index]);
  }
  other->heads += lot->heads;
  lzt_lot_leave(lot, LZQ_LEFT_STOPPED, t);
  lot->heads = 0;
  lot->merged = lot->gone = true;
  lot->merged_into = other->index;
}

static void
act_course(lzt_replay *replay, lzt_lot *lot, const lzq_record *r)
{
  const lzq_snapshot *snap = replay->snap;
  bool keep = r->keep && lzt_stay_now(lot) &&
              lzt_may_keep(lzt_phase_of(replay, lot),
                           &snap->phases[snap->protocols[r->protocol].first_phase + r->phase]);
  if (keep)
    lzt_clocks_settle(replay, lot, r->at);
  lzt_stay before = keep ? *lzt_stay_now(lot) : (lzt_stay){0};
  // Credit that is kept waits for the ends that it was earned after.
  for (uint32_t p = 0; keep && p < lot->phase; p++)
    before.need = LARGER(before.need, lot->end_firm[p]);
  for (int p = 0; p < LZT_MAX_PHASES; p++)
    lot->end_firm[p] = LZQ_LONG_AGO;
  lzt_lot_leave(lot, LZQ_LEFT_STOPPED, r->at);
  lot->has_course = true;
  lot->protocol = r->protocol;
  if (!keep) {
    lot->look_from = LZQ_NEVER;
    lot->n_clocks = 0;
  }
  lzt_lot_begin(lot, r->phase, r->at);
  if (keep) {
    lzt_stay *now = lzt_stay_now(lot);
    before.began_at = r->at;
    *now = before;
    now->v.protocol = r->protocol;
    now->v.phase = r->phase;
    lzt_clocks_wait(replay, lot, r->at);
  }
}

static void
act_accept(lzt_replay *replay, lzt_lot *lot, const lzq_record *r)
{
  lzt_stay *stay = lzt_stay_now(lot);
  int64_t most = replay->snap->station.accept_max_min;
  if (!stay || lot->phase != r->phase)
    return;
  stay->v.accepted_min = SMALLER(stay->v.accepted_min + (int64_t)r->amount, most);
}

// Whatever is open before this minute is firm from it on.
static void
act_accept_open(const lzt_replay *replay, lzt_lot *lot, lzq_minute t)
{
  for (size_t i = 0; i < lot->n_stays; i++) {
    lzt_stay *stay = &lot->stays[i];
    stay->need = SMALLER(stay->need, t);
    stay->v.open_min = 0;
    if (stay->v.left == LZQ_LEFT_ENDED && stay->v.firm_at > t)
      stay->v.firm_at = t;
  }
  for (int p = 0; p < LZT_MAX_PHASES; p++)
    lot->end_firm[p] = SMALLER(lot->end_firm[p], t);
  for (lzq_minute m = replay->from; m < t; m++)
    if (lot->cells[m - replay->from].confirmed > t)
      lot->cells[m - replay->from].confirmed = t;
}

static void
act_bath(const lzt_replay *replay, lzt_lot *lot, const lzq_record *r)
{
  lzt_stay *stay = lzt_stay_now(lot);
  const lzq_phase *phase = stay ? lzt_phase_of(replay, lot) : NULL;
  if (!stay || phase->kind != LZQ_PHASE_BATH || !lzt_waits_for_medicine(phase) ||
      r->analyte != phase->medicine || stay->v.given_at != LZQ_NEVER || !r->ok)
    return;
  double level = phase->dose_level;
  if (phase->medicine == LZQ_FORMALIN) { // Francis-Floyd, UF/IFAS VM061: 250 mg/L, 150 above 21 °C
    level = level > 250 ? 250 : level;
    if (level > 150 && !(r->error <= 21))
      level = 150;
  }
  bool long_enough = 10 * r->value >= 9.0 * phase->bath_min;
  bool strong_enough = !(level > 0) || r->amount >= 0.9 * level;
  if (!long_enough || !strong_enough)
    return;
  stay->v.bathed += r->heads > 0 ? r->heads : lot->heads;
  if (stay->v.bathed < lot->heads)
    return;
  stay->v.bathed = lot->heads;
  stay->v.given_at = r->at;
}

static void
act_on_lot(lzt_replay *replay, lzt_lot *lot, const lzq_record *r, size_t index)
{
  const lzt_stay *stay = lzt_stay_now(lot);
  switch (r->kind) {
  case LZQ_REC_COUNT: set_heads(lot, r->heads, r->at); break;
  case LZQ_REC_DEATH: set_heads(lot, (int64_t)lot->heads - r->heads, r->at); break;
  case LZQ_REC_FEED: lot->meals[lot->n_meals++] = (lzt_meal){r->at, r->day, r->amount}; break;
  case LZQ_REC_SIGN:
    lot->signs[lot->n_signs++] =
        (lzt_signature){r->at, r->phase, r->ok, !stay || lot->phase != r->phase};
    break;
  case LZQ_REC_ACCEPT: act_accept(replay, lot, r); break;
  case LZQ_REC_ACCEPT_OPEN: act_accept_open(replay, lot, r->at); break;
  case LZQ_REC_SPLIT: act_split(replay, lot, r); break;
  case LZQ_REC_MOVE:
    stand_in(replay, lot, r->tank, r->at);
    meet_sightings(replay, lot, index);
    break;
  case LZQ_REC_MERGE:
    if (living(replay, r->other))
      act_merge(replay, lot, living(replay, r->other), r->at);
    break;
  case LZQ_REC_STOP:
    lzt_lot_leave(lot, LZQ_LEFT_STOPPED, r->at);
    lot->has_course = lot->served = false;
    lot->served_at = LZQ_NEVER;
    break;
  case LZQ_REC_COURSE: act_course(replay, lot, r); break;
  case LZQ_REC_BATH: act_bath(replay, lot, r); break;
  case LZQ_REC_RELEASE:
    lzt_lot_leave(lot, LZQ_LEFT_RELEASED, r->at);
    lot->released = lot->gone = true;
    lot->released_at = r->at;
    break;
  default: break;
  }
}

void
lzt_replay_act(lzt_replay *replay, const lzt_event *event, size_t index)
{
  const lzq_record *r = event->r;
  if (r->kind == LZQ_REC_SIGHTING) {
    act_sighting(replay, r, index);
  } else if (r->kind == LZQ_REC_RECEIVE) {
    lzt_lot *lot = &replay->lots[r->lot];
    if (lot->here)
      return;
    lot->here = true;
    lot->received_at = r->at;
    stand_in(replay, lot, r->tank, r->at);
    set_heads(lot, r->heads, r->at);
  } else if (r->kind == LZQ_REC_COUNT && replay->lots[r->lot].dead && r->heads > 0) {
    lzt_lot *lot = &replay->lots[r->lot]; // found again
    lot->dead = lot->gone = lot->has_course = lot->served = false;
    lot->served_at = LZQ_NEVER;
    lot->heads = r->heads;
  } else if (r->kind >= LZQ_REC_COUNT && living(replay, r->lot)) {
    act_on_lot(replay, living(replay, r->lot), r, index);
  }
}
