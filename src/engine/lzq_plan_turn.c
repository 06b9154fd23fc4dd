// SPDX-License-Identifier: GPL-3.0-or-later
// The turn-round of systems between fish: when the last ones left, whether it was disinfected
// since, and from when the next clean tank is one. Default: 24 h in the disinfectant and 24 h dry
// (Hirazawa, Goto and Shirasu 2003: over 60 mg/L of chlorine for 24 h, or 24 h dry; authors from
// memory).
#include "lzq_plan_work.h"

static uint32_t
system_of(const lzq_work *work, uint32_t tank)
{
  return tank < work->snap->n_tanks ? work->snap->tanks[tank].system : LZQ_NONE;
}

void
lzq_turn_fed(lzq_work *work, uint32_t lot, const lzq_mark *mark)
{
  const lzq_list *feeds = &work->book->feeds[lot];
  const size_t end = lzq_list_before(feeds, work->fed[lot], mark);
  const uint32_t where = work->where[lot];
  if (end > work->fed[lot] && where < work->snap->n_systems) {
    lzq_minute *used_to = &work->waters[where].used_to;
    *used_to = lzq_latest(*used_to, lzq_list_at(feeds, end - 1)->at);
  }
  work->fed[lot] = end;
}

void
lzq_turn_note(lzq_work *work, const lzq_record *record, const lzq_mark *mark)
{
  if (record->lot >= work->snap->n_lots)
    return;
  lzq_turn_fed(work, record->lot, mark);
  if (record->kind == LZQ_REC_SPLIT && record->other < work->snap->n_lots)
    lzq_turn_fed(work, record->other, mark);
  uint32_t *where = &work->where[record->lot];
  if (*where < work->snap->n_systems)
    work->waters[*where].used_to = record->at;
  if (record->kind == LZQ_REC_SPLIT && record->other < work->snap->n_lots)
    work->where[record->other] = *where;
  if (record->kind != LZQ_REC_RECEIVE && record->kind != LZQ_REC_MOVE)
    return;
  *where = system_of(work, record->tank);
  if (*where < work->snap->n_systems)
    work->waters[*where].used_to = record->at;
}

// Fish stand in it that will not have gone on together with this lot.
static bool
taken_by_others(const lzq_work *work, uint32_t lot, uint32_t system)
{
  const lzq_lot_credit *own = &work->credit->lots[lot];
  if (work->reserved_for[system] != LZQ_NONE && work->reserved_for[system] != own->system)
    return true;
  for (uint32_t i = work->first_lot[system]; i != LZQ_NONE; i = work->next_lot[i]) {
    const lzq_lot_credit *other = &work->credit->lots[i];
    if (system != own->system || !other->has_course || other->protocol != own->protocol ||
        other->phase != own->phase)
      return true;
  }
  return false;
}

lzq_minute
lzq_turn_ready(const lzq_work *work, const lzq_walker *walker, uint32_t system)
{
  if (taken_by_others(work, walker->lot, system))
    return LZQ_NEVER;
  const lzq_water_state *water = &work->waters[system];
  lzq_minute left = water->used_to;
  bool clean = left == LZQ_LONG_AGO || water->disinfected_at >= left;
  for (uint32_t i = walker->first_move; i < work->n_moves; i++)
    if (work->moves[i].from == system) {
      left = work->moves[i].at;
      clean = false;
    }
  if (!clean)
    return lzq_later(lzq_latest(left, work->now), LZQ_TURN_MIN);
  return water->state == LZQ_STATE_DISINFECTING ? lzq_later(water->disinfected_at, LZQ_TURN_MIN)
                                                : LZQ_LONG_AGO;
}

static lzq_task *
task_once(lzq_work *work, lzq_task_kind kind, uint32_t system, lzq_minute at)
{
  for (uint32_t i = 0; i < work->n_tasks; i++)
    if (work->tasks[i].kind == kind && work->tasks[i].system == system)
      return NULL;
  return lzq_task_add(work, kind, system, at);
}

// What the destination of a move still needs before it is a clean tank.
static void
before_move(lzq_work *work, const lzq_move *move)
{
  if (move->to >= work->snap->n_systems || move->clean_at == LZQ_LONG_AGO ||
      move->at > work->now + LZQ_PREPARE_MIN)
    return;
  const lzq_water_state *water = &work->waters[move->to];
  if (water->state == LZQ_STATE_DISINFECTING)
    return;
  lzq_minute begin = lzq_latest(work->now, lzq_later(move->clean_at, -LZQ_TURN_MIN));
  lzq_task *task =
      task_once(work, LZQ_TASK_DISINFECT, move->to, lzq_visit_next(work, begin, false));
  if (!task)
    return;
  task->deadline = lzq_later(move->at, -LZQ_TURN_MIN);
  task->state = begin > work->now ? LZQ_TASK_WAITS : LZQ_TASK_DUE;
  task->because = (lzq_because){LZQ_BECAUSE_TURN_ROUND,
                                {(double)begin, (double)move->at, LZQ_TURN_MIN, move->lot}};
}

// At the next visit, and before the fish come in: a move that is due does not wait for the round.
static lzq_minute
fill_at(const lzq_work *work, uint32_t system, lzq_minute dry)
{
  const lzq_minute ready = lzq_latest(dry, work->now);
  lzq_minute at = lzq_visit_next(work, ready, false);
  for (uint32_t i = 0; i < work->n_moves; i++)
    if (work->moves[i].to == system && work->moves[i].at < at)
      at = lzq_latest(ready, work->moves[i].at);
  return at;
}

void
lzq_turn_tasks(lzq_work *work)
{
  for (uint32_t i = 0; i < work->n_moves && !work->failed; i++)
    before_move(work, &work->moves[i]);
  for (uint32_t i = 0; i < work->snap->n_systems && !work->failed; i++) {
    const lzq_water_state *water = &work->waters[i];
    if (water->state != LZQ_STATE_DISINFECTING)
      continue;
    lzq_minute dry = lzq_later(water->disinfected_at, LZQ_TURN_MIN);
    lzq_task *task = task_once(work, LZQ_TASK_FILL, i, fill_at(work, i, dry));
    if (!task)
      return;
    task->state = dry > work->now ? LZQ_TASK_WAITS : LZQ_TASK_DUE;
    task->amount = water->volume_l;
    task->unit = LZQ_UNIT_L;
    task->because =
        (lzq_because){LZQ_BECAUSE_TURN_DONE, {(double)water->disinfected_at, (double)dry, 0, 0}};
  }
}
