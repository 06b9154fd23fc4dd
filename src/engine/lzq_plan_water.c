// SPDX-License-Identifier: GPL-3.0-or-later
// What each water must hold for the lots in it, the programme that brings it there, and the curve
// that the plan expects.
#include <math.h>

#include "lzq_plan_work.h"

static void
join_lots(lzq_work *work, uint32_t system)
{
  lzq_goal *goal = &work->goals[system];
  *goal = lzq_goal_none();
  for (uint32_t lot = work->first_lot[system]; lot != LZQ_NONE; lot = work->next_lot[lot]) {
    const lzq_phase *phase =
        lzq_phase_at(work->snap, work->credit->lots[lot].protocol, lzq_lot_asks(work, lot));
    if (phase)
      lzq_goal_join(goal, phase, lot);
  }
}

void
lzq_waters_plan(lzq_work *work)
{
  for (uint32_t i = 0; i < work->snap->n_systems; i++) {
    lzq_water_plan *plan = &work->water_plans[i];
    const lzq_water_state *water = &work->waters[i];
    lzq_goal *goal = &work->goals[i];
    join_lots(work, i);
    plan->conflict_a = goal->lot_a;
    plan->conflict_b = goal->lot_b;
    plan->conflict_analyte = (lzq_analyte)goal->conflict_analyte;
    for (int a = 0; a < 2; a++) {
      plan->level[a] = water->level[a];
      plan->read_at[a] = water->read[a].at;
      plan->has_band[a] = goal->has[a] && goal->band[a].analyte == (lzq_analyte)a;
      if (plan->has_band[a])
        plan->band[a] = goal->band[a];
    }
    plan->open_dose_at = water->open_at[LZQ_COPPER];
    plan->open_dose_mg = water->open_mg[LZQ_COPPER];
    if (goal->n_lots > 0)
      lzq_programme_make(work, i, water, goal, work->now, &work->programmes[i]);
  }
}

// The curve of one level: what is there now, then a step at each planned visit.
static void
curve(lzq_work *work, uint32_t system, int index)
{
  lzq_water_plan *plan = &work->water_plans[system];
  const lzq_programme *programme = &work->programmes[system];
  double level = work->waters[system].guess[index];
  if (!plan->has_band[index] || !isfinite(level))
    return;
  lzq_point *points = LZQ_NEW(work->arena, lzq_point, 2 * programme->n + 2);
  if (!points) {
    work->failed = true;
    return;
  }
  uint32_t n = 0;
  points[n++] = (lzq_point){work->now, level};
  for (uint32_t i = 0; i < programme->n; i++) {
    points[n++] = (lzq_point){programme->steps[i].at, level};
    level = programme->steps[i].after[index];
    points[n++] = (lzq_point){programme->steps[i].at, level};
  }
  lzq_minute last = points[n - 1].at;
  lzq_minute end = work->snap->n_slots ? work->slots_end : lzq_later(work->now, LZQ_LOOK_MIN);
  points[n++] = (lzq_point){end > last ? end : last, level};
  plan->target[index] = points;
  plan->n_target[index] = n;
}

void
lzq_waters_curves(lzq_work *work)
{
  for (uint32_t i = 0; i < work->snap->n_systems && !work->failed; i++) {
    if (work->goals[i].n_lots == 0)
      continue;
    curve(work, i, LZQ_COPPER);
    curve(work, i, LZQ_SALINITY);
  }
}

bool
lzq_plan_torn(const lzq_plan *plan, uint32_t system, lzq_analyte analyte)
{
  if (!plan)
    return false;
  const lzq_water_plan *water = &plan->waters[system];
  return water->conflict_b != LZQ_NONE && water->conflict_analyte == analyte;
}
