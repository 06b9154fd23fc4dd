// SPDX-License-Identifier: GPL-3.0-or-later
// The plan from one end to the other: credit up to `now`, the waters as they are, what the lots ask
// of them, each lot's way, releases, tasks. Everything lives in the caller's arena.
#include "lzq_model_check.h"
#include "lzq_plan_work.h"

static lzq_status
arrays_make(lzq_work *work)
{
  const lzq_snapshot *snap = work->snap;
  uint64_t moves = 0;
  uint32_t longest = 0;
  for (uint32_t i = 0; i < snap->n_protocols; i++)
    longest = snap->protocols[i].n_phases > longest ? snap->protocols[i].n_phases : longest;
  work->legs = LZQ_NEW(work->arena, lzq_leg, longest);
  for (uint32_t lot = 0; lot < snap->n_lots; lot++)
    if (work->credit->lots[lot].has_course)
      moves += snap->protocols[work->credit->lots[lot].protocol].n_phases;
  if (moves > UINT32_MAX)
    return LZQ_NO_MEMORY;
  work->cap_moves = (uint32_t)moves;
  work->moves = LZQ_NEW(work->arena, lzq_move, work->cap_moves);
  work->goals = LZQ_NEW(work->arena, lzq_goal, snap->n_systems);
  work->programmes = LZQ_NEW(work->arena, lzq_programme, snap->n_systems);
  work->first_lot = LZQ_NEW(work->arena, uint32_t, snap->n_systems);
  work->next_lot = LZQ_NEW(work->arena, uint32_t, snap->n_lots);
  work->reserved_for = LZQ_NEW(work->arena, uint32_t, snap->n_systems);
  work->coming = LZQ_NEW(work->arena, lzq_coming, snap->n_systems);
  work->lots = LZQ_NEW(work->arena, lzq_lot_plan, snap->n_lots);
  work->water_plans = LZQ_NEW(work->arena, lzq_water_plan, snap->n_systems);
  if (!work->legs || !work->moves || !work->goals || !work->programmes || !work->first_lot ||
      !work->next_lot || !work->reserved_for || !work->coming || !work->lots || !work->water_plans)
    return LZQ_NO_MEMORY;
  return LZQ_OK;
}

static lzq_status
shorts_make(lzq_work *work)
{
  lzq_status status =
      lzq_shorts_of_book(work->book, work->snap, work->credit, work->arena, &work->shorts);
  work->short_of = LZQ_NEW(work->arena, const lzq_short *, work->snap->n_lots);
  if (!work->short_of)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < work->shorts.n; i++)
    work->short_of[work->shorts.items[i].lot] = &work->shorts.items[i];
  return status;
}

// Lots in each water, in the order of their index.
static void
lots_by_water(lzq_work *work)
{
  for (uint32_t i = 0; i < work->snap->n_systems; i++) {
    work->first_lot[i] = work->reserved_for[i] = LZQ_NONE;
    work->coming[i] = (lzq_coming){.goal = lzq_goal_none(), .first = LZQ_NONE};
  }
  for (uint32_t lot = work->snap->n_lots; lot-- > 0;) {
    const lzq_lot_credit *credit = &work->credit->lots[lot];
    work->next_lot[lot] = LZQ_NONE;
    if (credit->released || credit->merged || credit->dead ||
        credit->system >= work->snap->n_systems)
      continue;
    work->next_lot[lot] = work->first_lot[credit->system];
    work->first_lot[credit->system] = lot;
  }
}

// The rest of the plan's dates, once every lot has been walked.
static void
releases_make(lzq_work *work)
{
  lzq_hold_last_in(work);
  for (uint32_t lot = 0; lot < work->snap->n_lots && !work->failed; lot++) {
    lzq_lot_plan *plan = &work->lots[lot];
    plan->release_likely = plan->release_earliest;
    if (plan->release_late < plan->release_earliest)
      plan->release_late = plan->release_earliest;
    plan->because =
        plan->n_waits ? plan->waits[0] : (lzq_because){LZQ_BECAUSE_SERVED, {(double)plan->served}};
    // what the others of its water still need decides the date, if it decides it
    lzq_because last = plan->n_waits ? plan->waits[plan->n_waits - 1] : plan->because;
    if (last.code == LZQ_BECAUSE_HELD_BY || last.code == LZQ_BECAUSE_HELD_NO_COURSE)
      plan->because = last;
    lzq_minute other =
        last.code == LZQ_BECAUSE_HELD_BY ? work->lots[(uint32_t)last.n[0]].release_late : 0;
    if (last.code == LZQ_BECAUSE_HELD_BY && other > plan->release_late)
      plan->release_late = other;
  }
}

static lzq_status
work_through(lzq_work *work, lzq_fault *fault)
{
  lzq_status status = LZQ_OK;
  if (!work->credit)
    status =
        lzq_credit_of_book(work->book, work->snap, work->now, work->arena, &work->credit, fault);
  if (status == LZQ_OK)
    status = arrays_make(work);
  if (status == LZQ_OK)
    status = shorts_make(work);
  if (status == LZQ_OK)
    status = lzq_state_make(work);
  if (status != LZQ_OK)
    return status;
  lzq_slots_prepare(work);
  lots_by_water(work);
  lzq_walk_order(work);
  if (!work->failed)
    lzq_waters_plan(work);
  if (!work->failed)
    lzq_lots_walk(work);
  if (!work->failed)
    releases_make(work);
  if (!work->failed)
    lzq_waters_curves(work);
  if (!work->failed)
    lzq_tasks_of_waters(work);
  if (!work->failed)
    lzq_tasks_of_lots(work);
  if (!work->failed)
    lzq_stopped_tasks(work);
  if (!work->failed)
    lzq_turn_tasks(work);
  if (!work->failed)
    lzq_checks_due(work);
  if (!work->failed)
    lzq_tasks_order(work);
  return work->failed ? LZQ_NO_MEMORY : LZQ_OK;
}

lzq_status
lzq_plan_of_credit(lzq_book *book, const lzq_snapshot *snapshot, const lzq_credit *credit,
                   lzq_minute now, lzq_arena *arena, const lzq_plan **out, lzq_fault *fault)
{
  *out = NULL;
  if (!lzq_minute_ok(now))
    return lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, 0, 0, "now", (double)now);
  lzq_work *work = LZQ_NEW(arena, lzq_work, 1);
  lzq_plan *plan = LZQ_NEW(arena, lzq_plan, 1);
  if (!work || !plan)
    return LZQ_NO_MEMORY;
  work->snap = snapshot;
  work->credit = credit;
  work->now = now;
  work->arena = arena;
  lzq_status status = lzq_book_for(book, snapshot, now, arena, &work->book, fault);
  if (status == LZQ_OK)
    status = work_through(work, fault);
  if (work->book)
    lzq_book_rest(work->book);
  if (status != LZQ_OK)
    return status;
  *plan = (lzq_plan){.now = now,
                     .credit = work->credit,
                     .lots = work->lots,
                     .waters = work->water_plans,
                     .tasks = work->tasks,
                     .n_tasks = work->n_tasks,
                     .shorts = work->shorts.items,
                     .n_shorts = work->shorts.n,
                     .walk = work->walk};
  *out = plan;
  return LZQ_OK;
}

lzq_status
lzq_plan_of_book(lzq_book *book, const lzq_snapshot *snapshot, lzq_minute now, lzq_arena *arena,
                 const lzq_plan **out, lzq_fault *fault)
{
  return lzq_plan_of_credit(book, snapshot, NULL, now, arena, out, fault);
}

lzq_status
lzq_plan_make(const lzq_snapshot *snapshot, lzq_minute now, lzq_arena *arena, const lzq_plan **out,
              lzq_fault *fault)
{
  return lzq_plan_of_book(NULL, snapshot, now, arena, out, fault);
}
