// SPDX-License-Identifier: GPL-3.0-or-later
// The tests of each water by the rhythm of its lots' phases: the coming slots, one that was missed,
// the repeat of a reading in doubt.
#include <math.h>

#include "lzq_balance.h"
#include "lzq_plan_work.h"

lzq_task *
lzq_test_add(lzq_work *work, uint32_t system, uint8_t analyte, lzq_minute at, lzq_because because)
{
  lzq_task *task = lzq_task_add(work, LZQ_TASK_TEST, system, at);
  if (!task)
    return NULL;
  task->analyte = analyte;
  task->because = because;
  return task;
}

lzq_minute
lzq_test_slot_before(const lzq_work *work, lzq_minute t)
{
  const lzq_snapshot *snap = work->snap;
  lzq_minute last = LZQ_LONG_AGO;
  for (uint32_t i = 0; i < snap->n_slots && snap->slots[i].at < t; i++)
    if (snap->slots[i].test)
      last = snap->slots[i].at;
  return last;
}

// Since when the courses of the lots there ask for tests.
static lzq_minute
asked_since(const lzq_work *work, uint32_t system)
{
  lzq_minute since = LZQ_NEVER;
  for (uint32_t lot = work->first_lot[system]; lot != LZQ_NONE; lot = work->next_lot[lot]) {
    const lzq_lot_credit *credit = &work->credit->lots[lot];
    if (credit->has_course && credit->n_visits > 0 && credit->visits[0].start < since)
      since = credit->visits[0].start;
  }
  return since;
}

static lzq_because
because_rhythm(const lzq_work *work, uint32_t system, uint8_t a, lzq_minute deadline)
{
  if (work->waters[system].read[a].at == LZQ_LONG_AGO && deadline == LZQ_NEVER)
    return (lzq_because){LZQ_BECAUSE_TEST_FIRST, {a, 0, 0, 0}};
  return (lzq_because){LZQ_BECAUSE_TEST_RHYTHM, {(double)deadline, a, 0, 0}};
}

// A test that the programme asks for by now: its reading serves for the late one too.
static lzq_task *
asked_by_now(const lzq_work *work, uint32_t system, uint8_t a)
{
  for (uint32_t i = work->n_tasks; i-- > 0 && work->tasks[i].system == system;)
    if (work->tasks[i].kind == LZQ_TASK_TEST && work->tasks[i].analyte == a &&
        work->tasks[i].at <= work->now)
      return &work->tasks[i];
  return NULL;
}

// The test of a slot that has passed and left no reading behind; NULL = none.
static lzq_task *
test_late(lzq_work *work, uint32_t system, uint8_t a, lzq_minute missed, lzq_minute deadline)
{
  lzq_minute read_at = work->waters[system].read[a].at;
  if (work->waters[system].doubt[a].at > read_at) // made, if not believed: a repeat is asked for
    read_at = work->waters[system].doubt[a].at;
  bool stale = deadline != LZQ_NEVER && deadline < work->now;
  bool slot_missed = missed != LZQ_LONG_AGO && missed > work->now - LZQ_DAY &&
                     missed >= asked_since(work, system) &&
                     (read_at == LZQ_LONG_AGO || read_at < missed - LZQ_AT_WORK_MIN);
  if (!stale && !slot_missed)
    return NULL;
  lzq_task *task = asked_by_now(work, system, a);
  if (!task)
    task = lzq_test_add(work, system, a, work->now, because_rhythm(work, system, a, deadline));
  if (task) {
    task->at = slot_missed ? missed : deadline;
    task->state = LZQ_TASK_LATE;
    task->deadline = deadline;
  }
  return task;
}

// What a reading in doubt asks for: a repeat. Where it would mean harm, at once, with the change
// that follows if it is confirmed; the plan and every page that shows the water say this one thing.
static lzq_because
because_repeat(const lzq_work *work, uint32_t system, uint8_t a)
{
  const lzq_water_state *water = &work->waters[system];
  const lzq_goal *goal = &work->goals[system];
  const lzq_band *band = &goal->band[LZQ_MED];
  lzq_because why = {LZQ_BECAUSE_TEST_REPEAT, {a, water->doubt[a].value}};
  lzq_steps steps = {.n = 0};
  if (!goal->has[LZQ_MED] || band->analyte != a || band->side == LZQ_AT_OR_BELOW ||
      !(band->harm > 0) || !(water->doubted[a] >= band->harm - LZQ_EDGE))
    return why;
  lzq_bring_down(water->doubted[a], band->target, 0, water->volume_l,
                 work->snap->systems[system].max_change_day, &steps);
  why.n[2] = band->harm;
  why.n[3] = steps.n > 0 ? steps.steps[0].litres : NAN;
  return why;
}

void
lzq_test_repeat(lzq_work *work, uint32_t system, uint8_t a)
{
  const lzq_water_state *water = &work->waters[system];
  if (water->doubt[a].at > water->read[a].at)
    lzq_test_add(work, system, a, work->now, because_repeat(work, system, a));
}

// The round of a slot begins while people are on their way: a reading up to two hours before it is
// that slot's, unless the one after it would then come too late to follow it.
static bool
is_made(const lzq_work *work, lzq_minute read_at, lzq_minute slot, lzq_minute deadline)
{
  if (read_at == LZQ_LONG_AGO || work->snap->n_slots == 0)
    return false;
  return read_at == slot || (read_at >= slot - LZQ_AT_WORK_MIN &&
                             lzq_slot_next(work, lzq_later(slot, 1), true) <= deadline);
}

void
lzq_tests_by_rhythm(lzq_work *work, uint32_t system, uint8_t a, lzq_minute missed)
{
  const lzq_water_state *water = &work->waters[system];
  int32_t gap = work->goals[system].test_gap_min[a];
  lzq_minute deadline =
      water->read[a].at == LZQ_LONG_AGO ? LZQ_NEVER : lzq_later(water->read[a].at, gap);
  lzq_task *late = test_late(work, system, a, missed, deadline);
  if (water->doubt[a].at > water->read[a].at) { // one that is late anyhow is the repeat
    const lzq_because why = because_repeat(work, system, a);
    lzq_task *repeat = late ? late : lzq_test_add(work, system, a, work->now, why);
    if (repeat) {
      repeat->because = why;
      repeat->deadline = deadline;
    }
  }
  lzq_minute at = lzq_slot_next(work, work->now, true);
  if (is_made(work, water->read[a].at, at, deadline))
    at = lzq_slot_next(work, lzq_later(at, 1), true);
  for (int i = 0; i < 64 && at <= work->now + LZQ_HORIZON_MIN; i++) {
    lzq_task *task = lzq_test_add(work, system, a, at, because_rhythm(work, system, a, deadline));
    if (!task)
      return;
    task->deadline = deadline;
    deadline = lzq_later(at, gap);
    if (work->snap->n_slots == 0)
      return;
    at = lzq_slot_next(work, lzq_later(at, 1), true);
  }
}
