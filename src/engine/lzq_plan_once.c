// SPDX-License-Identifier: GPL-3.0-or-later
// Medicines that are dosed once and have no band: what the lots of one water ask for, now and in
// the phases ahead, as one dose for all of them. Two asks that lie nearer together than the phase
// lasts are one dose, so that nothing is given on top of what was just given.
#include <math.h>
#include <stdlib.h>

#include "lzq_plan_work.h"
#include "lzq_protocol.h"

typedef struct {
  lzq_minute at;
  lzq_minute last; // after it the dose is late; LZQ_NEVER
  double level;    // mg/L asked for
  int64_t lasts;   // min, of the phase
  uint32_t system, lot;
  uint8_t analyte;
  bool now; // of the phase that the lot is in
} ask;

typedef struct {
  ask *items;
  size_t n, cap;
} asks;

static void
add(asks *all, const lzq_work *work, const lzq_phase *phase, ask one)
{
  if (one.at == LZQ_NEVER || one.at > work->now + LZQ_LOOK_MIN || all->n == all->cap)
    return;
  one.level = phase->dose_level;
  one.lasts = phase->min_elapsed_min;
  one.analyte = (uint8_t)phase->medicine;
  all->items[all->n++] = one;
}

// The lot's phase waits for a dose, in the water where the lot stands.
static bool
waits_now(const lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  const lzq_phase *phase = lzq_phase_at(work->snap, credit->protocol, credit->phase);
  return credit->has_course && !credit->served && credit->n_visits > 0 &&
         credit->system < work->snap->n_systems && phase && lzq_phase_doses(phase) &&
         credit->visits[credit->n_visits - 1].given_at == LZQ_NEVER &&
         lzq_lot_served_here(work, lot);
}

uint32_t
lzq_once_torn(const lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (!waits_now(work, lot))
    return LZQ_NONE;
  const lzq_phase *own = lzq_phase_at(work->snap, credit->protocol, credit->phase);
  uint32_t least = lot, most = lot;
  double low = own->dose_level, high = low;
  for (uint32_t i = work->first_lot[credit->system]; i != LZQ_NONE; i = work->next_lot[i]) {
    if (!waits_now(work, i))
      continue;
    const lzq_lot_credit *other = &work->credit->lots[i];
    const lzq_phase *phase = lzq_phase_at(work->snap, other->protocol, other->phase);
    if (phase->medicine != own->medicine)
      continue;
    least = phase->dose_level < low ? i : least;
    most = phase->dose_level > high ? i : most;
    low = phase->dose_level < low ? phase->dose_level : low;
    high = phase->dose_level > high ? phase->dose_level : high;
  }
  if (!lzq_levels_exclude(own->medicine, low, high))
    return LZQ_NONE;
  return least == lot ? most : least;
}

static void
asks_of_lot(const lzq_work *work, uint32_t lot, asks *all)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (!credit->has_course || credit->served || credit->n_visits == 0 ||
      credit->system >= work->snap->n_systems)
    return;
  const lzq_visit *visit = &credit->visits[credit->n_visits - 1];
  const lzq_phase *phase = lzq_phase_at(work->snap, credit->protocol, credit->phase);
  if (waits_now(work, lot))
    add(all, work, phase,
        (ask){.at = lzq_given_next(work, &work->waters[credit->system], phase, work->now),
              .last = lzq_owed_by(phase, credit->phase, visit->start, visit->due),
              .system = credit->system,
              .lot = lot,
              .now = true});
  const lzq_lot_plan *plan = &work->lots[lot];
  lzq_minute start = LZQ_NEVER; // of the segment's phase, its way there included
  lzq_minute due = LZQ_NEVER, next_due = visit->next_due;
  for (uint32_t i = 0; i < plan->n_segments; i++) {
    const lzq_segment *segment = &plan->segments[i];
    const lzq_phase *ahead = lzq_phase_at(work->snap, segment->protocol, segment->phase);
    if (!ahead)
      continue;
    if (i == 0 || segment[-1].phase != segment->phase) {
      start = segment->start;
      if (!segment->past && segment->phase > credit->phase)
        lzq_hand_on_due(ahead, segment->phase, start, &due, &next_due);
    }
    if (segment->past || segment->phase <= credit->phase || segment->start == LZQ_NEVER ||
        segment->because.code == LZQ_BECAUSE_PLACE || !lzq_phase_doses(ahead) ||
        segment->system >= work->snap->n_systems ||
        lzq_given_early(work, lot, segment->system, ahead, start) != LZQ_NEVER)
      continue; // a segment until it stands in its place is not yet the phase's
    add(all, work, ahead,
        (ask){.at = lzq_given_next(work, &work->waters[segment->system], ahead, segment->start),
              .last = lzq_owed_by(ahead, segment->phase, start, due),
              .system = segment->system,
              .lot = lot});
  }
}

static int
by_water(const void *x, const void *y)
{
  const ask *a = x, *b = y;
  if (a->system != b->system)
    return a->system < b->system ? -1 : 1;
  if (a->analyte != b->analyte)
    return a->analyte < b->analyte ? -1 : 1;
  if (a->at != b->at)
    return a->at < b->at ? -1 : 1;
  return a->lot < b->lot ? -1 : a->lot > b->lot;
}

// One ask for all of those[0..n): the earliest deadline, and the highest level of those whose phase
// it is now, or of all where it is nobody's yet. *most, *least: who of these asks for how much.
static ask
join(const ask *those, size_t n, const ask **most, const ask **least)
{
  ask all = *those;
  for (size_t i = 1; i < n; i++) {
    all.now = all.now || those[i].now;
    all.last = those[i].last < all.last ? those[i].last : all.last;
    if (those[i].lot != all.lot)
      all.lot = LZQ_NONE;
  }
  *most = *least = NULL;
  for (size_t i = 0; i < n; i++) {
    if (all.now && !those[i].now)
      continue;
    if (!*most || those[i].level > all.level) {
      *most = &those[i];
      all.level = those[i].level;
    }
    *least = !*least || those[i].level < (*least)->level ? &those[i] : *least;
  }
  return all;
}

// The task without an amount where one lot's level is not for another's fish.
static void
torn_task(lzq_work *work, lzq_task *task, const ask *most, const ask *least)
{
  lzq_water_plan *plan = &work->water_plans[most->system];
  task->lot = most->lot;
  task->tank = work->credit->lots[most->lot].tank;
  task->analyte = most->analyte;
  task->state = LZQ_TASK_BLOCKED;
  task->because = (lzq_because){LZQ_BECAUSE_NO_COMMON_BAND, {least->lot, most->analyte, 0, 0}};
  if (!most->now || plan->conflict_b != LZQ_NONE)
    return;
  plan->conflict_a = least->lot;
  plan->conflict_b = most->lot;
  plan->conflict_analyte = (lzq_analyte)most->analyte;
}

// One dose for those[0..n), the first of which is the earliest. `repeats`: another one is planned
// before it.
static void
dose_task(lzq_work *work, const ask *those, size_t n, bool repeats)
{
  const lzq_water_state *water = &work->waters[those->system];
  const lzq_goal *goal = &work->goals[those->system];
  const uint8_t a = those->analyte;
  const ask *most, *least;
  const ask all = join(those, n, &most, &least);
  lzq_because blocks = {LZQ_BECAUSE_NONE, {0}};
  if (all.now) {
    const bool listed = lzq_goal_medicates(goal);
    blocks = lzq_gear_tasks(work, all.system, all.at, listed);
  }
  lzq_task *task = lzq_task_add(work, LZQ_TASK_DOSE, all.system, all.at);
  if (!task)
    return;
  task->deadline = all.last;
  if (lzq_levels_exclude((lzq_analyte)a, least->level, most->level)) {
    torn_task(work, task, most, least);
    return;
  }
  // what is left of an earlier dose is not known unless somebody has read it since
  const bool unknown = repeats || water->dose_at[a] > water->read[a].at;
  const double before = unknown ? NAN : water->guess[a];
  task->lot = all.lot;
  task->tank = all.lot == LZQ_NONE ? LZQ_NONE : work->credit->lots[all.lot].tank;
  task->analyte = a;
  task->dose_mg = all.level * water->volume_l;
  task->level_before = before;
  task->level_after = before + all.level;
  task->because = (lzq_because){LZQ_BECAUSE_MEDICATE, {a, before, before + all.level, all.level}};
  task->state = all.now ? LZQ_TASK_DUE : LZQ_TASK_WAITS;
  task->bottle = lzq_bottle_for(work, (lzq_analyte)a, LZQ_FORM_NONE);
  task->unit = task->bottle == LZQ_NONE ? LZQ_UNIT_G : LZQ_UNIT_ML; // weighed out
  task->amount = task->bottle == LZQ_NONE
                     ? task->dose_mg / 1000
                     : task->dose_mg / work->snap->bottles[task->bottle].strength_mg_ml;
  if (blocks.code != LZQ_BECAUSE_NONE) {
    task->state = LZQ_TASK_BLOCKED;
    task->because = blocks;
  }
}

void
lzq_once_tasks(lzq_work *work)
{
  asks all = {.cap = 0};
  bool any = false;
  for (uint32_t i = 0; i < work->snap->n_phases; i++)
    any = any || lzq_phase_doses(&work->snap->phases[i]);
  if (!any)
    return;
  for (uint32_t lot = 0; lot < work->snap->n_lots; lot++)
    all.cap += work->lots[lot].n_segments + 1;
  if (all.cap == 0)
    return;
  all.items = LZQ_NEW(work->arena, ask, all.cap);
  if (!all.items) {
    work->failed = true;
    return;
  }
  for (uint32_t lot = 0; lot < work->snap->n_lots; lot++)
    asks_of_lot(work, lot, &all);
  qsort(all.items, all.n, sizeof *all.items, by_water);
  bool repeats = false;
  for (size_t i = 0, end; i < all.n; i = end) {
    const ask *first = &all.items[i];
    repeats = i > 0 && first[-1].system == first->system && first[-1].analyte == first->analyte;
    for (end = i + 1; end < all.n; end++) {
      const ask *next = &all.items[end];
      if (next->system != first->system || next->analyte != first->analyte ||
          next->at - first->at >= (next->lasts > 0 ? next->lasts : 1))
        break;
    }
    dose_task(work, first, end - i, repeats);
  }
}
