// SPDX-License-Identifier: GPL-3.0-or-later
// What the plan of the record does not see coming: copper that is lost between the tests. The
// estimate says how much a coming test will ask for; here it becomes a task of that round.
#include <math.h>
#include <string.h>

#include "lzq_plan_work.h"

// The plan doses that water, now or later: the steps of a rise, or what a change takes out. Its
// programme owns the level then, and what is expected would come on top of it.
static bool
is_dosed(const lzq_plan *plan, const lzq_expected *e)
{
  for (uint32_t i = 0; i < plan->n_tasks; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (task->kind == LZQ_TASK_DOSE && task->system == e->system && task->analyte == e->analyte)
      return true;
  }
  return false;
}

static lzq_task
task_of(const lzq_snapshot *snapshot, const lzq_plan *plan, const lzq_expected *e)
{
  lzq_task task = lzq_task_of(LZQ_TASK_DOSE, e->system, e->at, plan->walk[e->system]);
  task.state = LZQ_TASK_WAITS;
  task.analyte = e->analyte;
  task.bottle = e->bottle;
  task.deadline = e->deadline;
  task.dose_mg = e->mg;
  task.level_before = e->expected;
  task.level_after = e->target;
  task.because =
      (lzq_because){LZQ_BECAUSE_EXPECTED, {e->expected, e->target, e->loss_per_h, e->loss_learnt}};
  task.unit = e->bottle == LZQ_NONE ? LZQ_UNIT_G : LZQ_UNIT_ML;
  task.amount =
      e->bottle == LZQ_NONE ? e->mg / 1000 : e->mg / snapshot->bottles[e->bottle].strength_mg_ml;
  return task;
}

lzq_status
lzq_plan_expect(const lzq_snapshot *snapshot, const lzq_plan *plan, const lzq_expected *expected,
                uint32_t n, lzq_arena *arena, const lzq_plan **out)
{
  *out = plan;
  if (n == 0)
    return LZQ_OK;
  lzq_plan *made = LZQ_NEW(arena, lzq_plan, 1);
  lzq_task *tasks = LZQ_NEW(arena, lzq_task, plan->n_tasks + n);
  if (!made || !tasks)
    return LZQ_NO_MEMORY;
  *made = *plan;
  if (plan->n_tasks > 0)
    memcpy(tasks, plan->tasks, plan->n_tasks * sizeof *tasks);
  for (uint32_t i = 0; i < n; i++)
    if (!is_dosed(plan, &expected[i]))
      tasks[made->n_tasks++] = task_of(snapshot, plan, &expected[i]);
  if (made->n_tasks == plan->n_tasks)
    return LZQ_OK;
  lzq_tasks_sort(tasks, made->n_tasks);
  made->tasks = tasks;
  *out = made;
  return LZQ_OK;
}
