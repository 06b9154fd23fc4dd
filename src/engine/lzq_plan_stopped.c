// SPDX-License-Identifier: GPL-3.0-or-later
// A lot under no course that stands in copper, most often because its course was stopped there.
// Nothing else in the plan asks for that water any more, and copper that nobody reads or takes out
// harms: somebody has to choose, and until then it is tested at the usual slots.
#include <math.h>

#include "lzq_balance.h"
#include "lzq_plan_work.h"

#define TEST_SLACK 90 // min beyond the longest gap between test slots, as the default G

// Copper may be in the water: more than what counts as free, or dosed and not known since.
static bool
holds_copper(const lzq_water_state *water)
{
  const double level = water->level[LZQ_COPPER];
  if (isfinite(level))
    return level > LZQ_NONE_LEFT + LZQ_EDGE;
  return water->guess[LZQ_COPPER] > LZQ_NONE_LEFT + LZQ_EDGE;
}

// Litres of copper-free water after which it holds no more than counts as free: c' = c(1-f).
static double
litres_out(double level, double volume_l)
{
  return isfinite(level) ? lzq_litres_for_share(1 - LZQ_NONE_LEFT / level, volume_l, false) : NAN;
}

static lzq_because
why_of(const lzq_work *work, uint32_t system, bool was)
{
  const lzq_water_state *water = &work->waters[system];
  const double level = water->level[LZQ_COPPER];
  return (lzq_because){LZQ_BECAUSE_NO_COURSE_IN_COPPER,
                       {level, litres_out(level, water->volume_l), LZQ_NONE_LEFT, was}};
}

static void
choose(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_task *task =
      lzq_task_add(work, LZQ_TASK_DECIDE, credit->system, lzq_visit_next(work, work->now, false));
  if (!task)
    return;
  task->lot = lot;
  task->tank = credit->tank;
  task->analyte = LZQ_COPPER;
  task->level_before = work->waters[credit->system].level[LZQ_COPPER];
  task->because = why_of(work, credit->system, credit->n_visits > 0);
}

// Where nobody else there has a band on copper, nothing else asks for its tests. No count stops
// without them.
static void
keep_testing(lzq_work *work, uint32_t system, bool was)
{
  const uint32_t first = work->n_tasks;
  int32_t *gap = &work->goals[system].test_gap_min[LZQ_COPPER];
  if (*gap > 0)
    return;
  *gap = work->test_gap_min < LZQ_DAY ? work->test_gap_min + TEST_SLACK : (int32_t)LZQ_DAY;
  lzq_tests_by_rhythm(work, system, LZQ_COPPER, lzq_test_slot_before(work, work->now));
  for (uint32_t i = first; i < work->n_tasks; i++) {
    work->tasks[i].deadline = LZQ_NEVER;
    if (work->tasks[i].because.code != LZQ_BECAUSE_TEST_REPEAT)
      work->tasks[i].because = why_of(work, system, was);
  }
}

void
lzq_stopped_tasks(lzq_work *work)
{
  for (uint32_t system = 0; system < work->snap->n_systems && !work->failed; system++) {
    if (work->first_lot[system] == LZQ_NONE || !holds_copper(&work->waters[system]))
      continue;
    bool any = false, was = false;
    for (uint32_t lot = work->first_lot[system]; lot != LZQ_NONE; lot = work->next_lot[lot])
      if (!work->credit->lots[lot].has_course) {
        choose(work, lot);
        any = true;
        was = was || work->credit->lots[lot].n_visits > 0;
      }
    if (any)
      keep_testing(work, system, was);
  }
}
