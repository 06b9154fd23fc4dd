// SPDX-License-Identifier: GPL-3.0-or-later
// Releases under the last-in rule: a lot may go once it, every lot in its water, and every lot that
// shared its water since it entered its last phase have served. Fish without a course hold
// everybody.
#include <math.h>

#include "lzq_plan_work.h"
#include "lzq_sort.h"

typedef struct {
  uint32_t lot, next;
  lzq_minute from, to;
} lzq_stay;

typedef struct {
  lzq_work *work;
  lzq_stay *stays;
  uint32_t n;
  uint32_t *first; // of each system; those that have served last come first
} lzq_stays;

static bool
counts(const lzq_lot_credit *credit)
{
  return !credit->merged && !credit->dead && !credit->released;
}

static void
stay_add(lzq_stays *all, uint32_t lot, uint32_t system, lzq_minute from, lzq_minute to)
{
  if (system >= all->work->snap->n_systems)
    return;
  all->stays[all->n] = (lzq_stay){lot, all->first[system], from, to};
  all->first[system] = all->n++;
}

// The n-th time of the lot in one water: those of the record, with those of lots that merged into
// it; those planned; and then where it stays until it is let go. false = there are no more.
static bool
stay_nth(const lzq_work *work, uint32_t lot, uint32_t n, lzq_water_stay *out)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  const lzq_lot_plan *plan = &work->lots[lot];
  if (n < credit->n_stays) {
    *out = credit->stays[n];
    out->to = out->to < work->now ? out->to : work->now;
    return true;
  }
  n -= credit->n_stays;
  if (n > plan->n_segments)
    return false;
  if (n < plan->n_segments) {
    const lzq_segment *s = &plan->segments[n];
    *out = (lzq_water_stay){s->start, s->past ? s->start : s->end, s->system};
    return true;
  }
  *out = (lzq_water_stay){work->now, LZQ_NEVER, credit->system};
  for (uint32_t i = 0; i < plan->n_segments; i++)
    if (!plan->segments[i].past && plan->segments[i].system != LZQ_NONE)
      *out = (lzq_water_stay){plan->segments[i].end, LZQ_NEVER, plan->segments[i].system};
  return true;
}

static void
stays_of(lzq_stays *all, uint32_t lot)
{
  lzq_water_stay stay;
  if (!counts(&all->work->credit->lots[lot]))
    return;
  for (uint32_t i = 0; stay_nth(all->work, lot, i, &stay); i++)
    if (stay.from < stay.to)
      stay_add(all, lot, stay.system, stay.from, stay.to);
}

static bool
stays_make(lzq_stays *all)
{
  lzq_work *work = all->work;
  const uint32_t n_lots = work->snap->n_lots;
  size_t n = n_lots;
  for (uint32_t lot = 0; lot < n_lots; lot++)
    n += work->lots[lot].n_segments + work->credit->lots[lot].n_stays;
  all->stays = LZQ_NEW(work->arena, lzq_stay, n);
  all->first = LZQ_NEW(work->arena, uint32_t, work->snap->n_systems);
  lzq_key *lots = LZQ_NEW(work->arena, lzq_key, n_lots);
  if (!all->stays || !all->first || !lots)
    return false;
  for (uint32_t i = 0; i < work->snap->n_systems; i++)
    all->first[i] = LZQ_NONE;
  for (uint32_t lot = 0; lot < n_lots; lot++)
    lots[lot] = (lzq_key){work->lots[lot].served, lot};
  if (lzq_sort_keys(&lots, n_lots, work->arena) != LZQ_OK)
    return false;
  for (uint32_t i = 0; i < n_lots; i++)
    stays_of(all, (uint32_t)lots[i].index);
  return true;
}

// The latest `served` of the lots that shared water with `lot` from its last phase until `until`.
static lzq_minute
held_until(const lzq_stays *all, uint32_t lot, lzq_minute since, lzq_minute until, uint32_t *by)
{
  lzq_minute latest = until;
  lzq_water_stay own;
  for (uint32_t i = 0; stay_nth(all->work, lot, i, &own); i++) {
    const uint32_t system = own.system;
    if (system >= all->work->snap->n_systems || own.to <= since || own.to <= own.from)
      continue;
    const lzq_minute to = own.to, from = own.from > since ? own.from : since;
    for (uint32_t s = all->first[system]; s != LZQ_NONE; s = all->stays[s].next) {
      const lzq_stay *stay = &all->stays[s];
      lzq_minute served = all->work->lots[stay->lot].served;
      if (served <= latest)
        break; // and so have all behind it
      bool meets = stay->from < to && stay->to > from && stay->from <= latest;
      if (stay->lot != lot && meets) {
        latest = served;
        *by = stay->lot;
      }
    }
  }
  return latest;
}

static lzq_minute
last_phase_start(const lzq_work *work, uint32_t lot)
{
  const lzq_lot_plan *plan = &work->lots[lot];
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  uint32_t n = work->snap->protocols[credit->protocol].n_phases;
  for (uint32_t i = 0; i < plan->n_segments; i++)
    if (plan->segments[i].phase + 1 == n)
      for (uint32_t j = plan->n_segments; j-- > 0;) {
        if (plan->segments[j].phase + 1 != n)
          return plan->segments[j].end;
        if (j == 0)
          return plan->segments[0].start;
      }
  return plan->served;
}

static void
hold(const lzq_stays *all, uint32_t lot)
{
  lzq_work *work = all->work;
  lzq_lot_plan *plan = &work->lots[lot];
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (!counts(credit) || !credit->has_course || plan->release_earliest == LZQ_NEVER)
    return;
  uint32_t by = LZQ_NONE;
  lzq_minute since = last_phase_start(work, lot), t = plan->release_earliest;
  since = since < credit->look_from ? since : credit->look_from;
  for (int i = 0; i < 64;
       i++) { // a later release may meet more lots: at most one more each time round
    lzq_minute next = held_until(all, lot, since, t, &by);
    if (next == t)
      break;
    t = next;
  }
  if (by == LZQ_NONE)
    return;
  plan->release_earliest = t;
  bool course = work->credit->lots[by].has_course;
  lzq_because held = {course ? LZQ_BECAUSE_HELD_BY : LZQ_BECAUSE_HELD_NO_COURSE, {by, 0, 0, 0}};
  if (plan->n_waits < 10)
    ((lzq_because *)plan->waits)[plan->n_waits++] = held;
}

void
lzq_hold_last_in(lzq_work *work)
{
  lzq_stays all = {.work = work};
  if (!work->snap->station.last_in)
    return;
  if (!stays_make(&all)) {
    work->failed = true;
    return;
  }
  for (uint32_t lot = 0; lot < work->snap->n_lots; lot++)
    hold(&all, lot);
}
