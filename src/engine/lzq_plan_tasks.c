// SPDX-License-Identifier: GPL-3.0-or-later
// What each water needs at the coming slots: the visits of its programme with exact amounts, gear
// to switch first, and what blocks a dose. Its tests by rhythm: lzq_plan_tests.c.
#include <math.h>

#include "lzq_plan_work.h"

lzq_task
lzq_task_of(lzq_task_kind kind, uint32_t system, lzq_minute at, int32_t walk)
{
  return (lzq_task){.kind = kind,
                    .state = LZQ_TASK_DUE,
                    .system = system,
                    .tank = LZQ_NONE,
                    .lot = LZQ_NONE,
                    .bottle = LZQ_NONE,
                    .to_system = LZQ_NONE,
                    .gear = LZQ_NONE,
                    .instrument = LZQ_NONE,
                    .at = at,
                    .deadline = LZQ_NEVER,
                    .level_before = NAN,
                    .level_after = NAN,
                    .new_salinity = NAN,
                    .walk = walk};
}

lzq_task *
lzq_task_add(lzq_work *work, lzq_task_kind kind, uint32_t system, lzq_minute at)
{
  if (work->n_tasks == work->cap_tasks) {
    uint32_t cap = work->cap_tasks ? work->cap_tasks * 2 : 256;
    lzq_task *tasks = LZQ_NEW(work->arena, lzq_task, cap);
    if (!tasks) {
      work->failed = true;
      return NULL;
    }
    for (uint32_t i = 0; i < work->n_tasks; i++)
      tasks[i] = work->tasks[i];
    work->tasks = tasks;
    work->cap_tasks = cap;
  }
  lzq_task *task = &work->tasks[work->n_tasks++];
  *task = lzq_task_of(kind, system, at,
                      system < work->snap->n_systems ? work->walk[system] : INT32_MAX);
  return task;
}

static bool
gear_wrong(const lzq_water_state *water, uint32_t gear, bool on)
{
  uint32_t bit = 1u << gear;
  return !(water->gear_known & bit) || ((water->gear_on & bit) != 0) != on;
}

lzq_because
lzq_gear_tasks(lzq_work *work, uint32_t system, lzq_minute at, bool listed)
{
  const lzq_goal *goal = &work->goals[system];
  lzq_because blocks = {LZQ_BECAUSE_NONE, {0}};
  for (uint32_t gear = 0; gear < LZQ_N_GEAR; gear++) {
    bool on = (goal->gear_on >> gear) & 1, off = (goal->gear_off >> gear) & 1;
    if (on == off || !gear_wrong(&work->waters[system], gear, on))
      continue;
    const lzq_because because = {LZQ_BECAUSE_GEAR, {gear, on, 0, 0}};
    if (blocks.code == LZQ_BECAUSE_NONE)
      blocks = because;
    lzq_task *task = listed ? NULL : lzq_task_add(work, LZQ_TASK_GEAR, system, at);
    if (!task)
      continue;
    task->gear = gear;
    task->amount = on;
    task->because = because;
  }
  return blocks;
}

static void
change_add(lzq_work *work, uint32_t system, const lzq_act *act, lzq_task_state state,
           const lzq_because *blocks)
{
  // a change whose dose is blocked would only thin the medicine: the visit is one step
  bool blocked = act->dose_mg > 0 && blocks->code != LZQ_BECAUSE_NONE;
  bool lowers = act->because[LZQ_SAL].code == LZQ_BECAUSE_LOWER_STEP;
  int index = lowers ? LZQ_SAL : LZQ_MED;
  if (act->change_l > 0) {
    lzq_task *task = lzq_task_add(work, LZQ_TASK_CHANGE, system, act->at);
    if (!task)
      return;
    task->state = state;
    task->analyte = lowers ? LZQ_SALINITY : (uint8_t)work->goals[system].band[LZQ_MED].analyte;
    task->amount = act->change_l;
    task->unit = LZQ_UNIT_L;
    task->level_before = act->before[index];
    task->level_after = act->changed[index];
    task->new_salinity = act->new_salinity;
    task->because = act->because[index];
    if (task->because.code == LZQ_BECAUSE_HARM)
      task->deadline = act->at;
    if (blocked) {
      task->state = LZQ_TASK_BLOCKED;
      task->because = *blocks;
    }
  }
  if (act->salt_g > 0) {
    lzq_task *task = lzq_task_add(work, LZQ_TASK_SALT, system, act->at);
    if (!task)
      return;
    task->state = state;
    task->analyte = LZQ_SALINITY;
    task->amount = act->salt_g / 1000;
    task->unit = LZQ_UNIT_KG;
    task->level_before = act->before[LZQ_SAL];
    task->level_after = act->after[LZQ_SAL];
    task->because = act->because[LZQ_SAL];
  }
}

static void
dose_add(lzq_work *work, uint32_t system, const lzq_band *band, const lzq_act *act,
         lzq_task_state state, const lzq_because *blocks)
{
  if (!(act->dose_mg > 0))
    return;
  lzq_task *task = lzq_task_add(work, LZQ_TASK_DOSE, system, act->at);
  if (!task)
    return;
  task->state = state;
  task->analyte = (uint8_t)band->analyte;
  task->dose_mg = act->dose_mg;
  task->level_before = act->beforehand ? act->before[LZQ_MED] : act->changed[LZQ_MED];
  task->level_after = act->after[LZQ_MED];
  task->with_change_l = act->beforehand ? act->change_l : 0;
  task->because = act->because[LZQ_MED];
  task->bottle = lzq_bottle_for(work, band->analyte, band->form);
  task->unit = LZQ_UNIT_ML;
  if (blocks->code != LZQ_BECAUSE_NONE) {
    task->state = LZQ_TASK_BLOCKED;
    task->because = *blocks;
  }
  if (task->bottle == LZQ_NONE && band->analyte != LZQ_COPPER) { // weighed out
    task->unit = LZQ_UNIT_G;
    task->amount = act->dose_mg / 1000;
  } else if (task->bottle == LZQ_NONE) {
    task->state = LZQ_TASK_BLOCKED;
    task->amount = NAN;
    task->because = (lzq_because){LZQ_BECAUSE_NO_BOTTLE, {band->analyte, band->form, 0, 0}};
  } else {
    task->amount = act->dose_mg / work->snap->bottles[task->bottle].strength_mg_ml;
  }
}

static void
confirm_add(lzq_work *work, uint32_t system, const lzq_goal *goal, const lzq_act *act)
{
  if (act->test_at == LZQ_NEVER)
    return;
  for (int i = 0; i < 2; i++) {
    bool moved =
        i == LZQ_MED ? act->dose_mg > 0 || act->change_l > 0 : act->change_l > 0 || act->salt_g > 0;
    if (!goal->has[i] || !moved)
      continue;
    uint8_t a = (uint8_t)goal->band[i].analyte;
    lzq_task *task = lzq_test_add(work, system, a, act->test_at,
                                  (lzq_because){LZQ_BECAUSE_TEST_CONFIRMS, {a, 0, 0, 0}});
    if (task)
      task->state = LZQ_TASK_WAITS;
  }
}

// A change of half the water or more is preceded by a test: afterwards no reading speaks for
// before.
static void
test_before_change(lzq_work *work, uint32_t system, const lzq_goal *goal, const lzq_act *act)
{
  if (act->change_l < work->waters[system].volume_l / 2)
    return;
  for (int i = 0; i < 2; i++)
    if (goal->has[i] && work->waters[system].read[goal->band[i].analyte].at != act->at)
      lzq_test_add(work, system, (uint8_t)goal->band[i].analyte, act->at,
                   (lzq_because){LZQ_BECAUSE_TEST_BEFORE_CHANGE, {act->change_l, 0, 0, 0}});
}

// Why no dose may be measured out before a reading: the last one is in doubt, or carbon or resin
// was in the water since. Water that was never read and never dosed holds none.
static lzq_because
level_unknown(const lzq_water_state *water, const lzq_goal *goal)
{
  uint8_t a = (uint8_t)goal->band[LZQ_MED].analyte;
  if (goal->has[LZQ_MED] && water->doubt[a].at > water->read[a].at)
    return (lzq_because){LZQ_BECAUSE_TEST_REPEAT, {a, water->doubt[a].value}};
  if (goal->has[LZQ_MED] && water->read[a].at != LZQ_LONG_AGO && !isfinite(water->level[a]))
    return (lzq_because){LZQ_BECAUSE_LEVEL_UNKNOWN, {a}};
  return (lzq_because){LZQ_BECAUSE_NONE, {0}};
}

static void
programme_tasks(lzq_work *work, uint32_t system, const lzq_goal *goal,
                const lzq_programme *programme)
{
  const lzq_water_state *water = &work->waters[system];
  const lzq_band *band = &goal->band[LZQ_MED];
  lzq_because blocks = {LZQ_BECAUSE_NONE, {0}}, open = level_unknown(water, goal);
  bool doses = false;
  for (uint32_t i = 0; i < programme->n; i++)
    doses = doses || programme->steps[i].dose_mg > 0;
  lzq_minute first = programme->n ? programme->steps[0].at : work->now;
  if (doses || lzq_goal_medicates(goal))
    blocks = lzq_gear_tasks(work, system, first < work->now ? work->now : first, false);
  if (goal->has[LZQ_MED] && water->open_at[band->analyte] != LZQ_LONG_AGO) {
    const lzq_minute given = water->open_at[band->analyte];
    lzq_minute unlocks = lzq_later(given, work->snap->systems[system].mixing_min);
    open = (lzq_because){LZQ_BECAUSE_OPEN_DOSE,
                         {(double)given, water->open_mg[band->analyte], (double)unlocks, 0}};
  }
  if (open.code == LZQ_BECAUSE_LEVEL_UNKNOWN)
    lzq_test_add(work, system, (uint8_t)band->analyte, work->now, open);
  for (int i = 0; i < 2; i++)
    if (programme->unread[i])
      lzq_test_add(work, system, (uint8_t)goal->band[i].analyte, programme->ready_at,
                   (lzq_because){LZQ_BECAUSE_TEST_CONFIRMS, {goal->band[i].analyte, 0, 0, 0}});
  for (uint32_t i = 0; i < programme->n; i++) {
    const lzq_act *act = &programme->steps[i];
    lzq_task_state state = i == 0 && open.code == LZQ_BECAUSE_NONE ? LZQ_TASK_DUE : LZQ_TASK_WAITS;
    if (act->at > work->now + LZQ_LOOK_MIN)
      break;
    test_before_change(work, system, goal, act);
    const lzq_because *stops = blocks.code ? &blocks : &open;
    change_add(work, system, act, state, stops);
    dose_add(work, system, band, act, state, stops);
    confirm_add(work, system, goal, act);
  }
}

static void
water_tasks(lzq_work *work, uint32_t system, lzq_minute missed)
{
  const lzq_goal *goal = &work->goals[system];
  if (goal->lot_a == LZQ_NONE)
    programme_tasks(work, system, goal, &work->programmes[system]);
  for (int a = 0; a < LZQ_N_ANALYTES; a++)
    if (goal->test_gap_min[a] > 0)
      lzq_tests_by_rhythm(work, system, (uint8_t)a, missed);
    else if (a != LZQ_COPPER && work->first_lot[system] != LZQ_NONE)
      lzq_test_repeat(work, system, (uint8_t)a); // copper: as who stopped asks for it
}

// The destination of a move is filled, salted and dosed before the fish come, to the levels that
// the water they come from will have: in the last days before the move, so that nothing drifts
// meanwhile. Of several lots that come, for the first: the others match it.
static void
prepare_tasks(lzq_work *work, uint32_t i)
{
  const lzq_move *move = &work->moves[i];
  if (move->to == LZQ_NONE || work->goals[move->to].n_lots > 0 || move->state != LZQ_TASK_BLOCKED ||
      move->at > work->now + LZQ_PREPARE_MIN || move->from >= work->snap->n_systems ||
      (work->coming[move->to].first != LZQ_NONE && work->coming[move->to].first != i))
    return;
  const lzq_lot_credit *credit = &work->credit->lots[move->lot];
  const lzq_phase *phase = lzq_phase_at(work->snap, credit->protocol, move->phase);
  lzq_programme programme;
  lzq_water_state here = work->waters[move->from];
  here.guess[LZQ_COPPER] = move->here[LZQ_MED];
  here.guess[LZQ_SALINITY] = move->here[LZQ_SAL];
  lzq_goal goal = lzq_place_goal(phase, &here);
  lzq_programme_make(work, move->to, &work->waters[move->to], &goal, work->now, &programme);
  work->goals[move->to] = goal; // what its tasks name
  programme_tasks(work, move->to, &goal, &programme);
}

void
lzq_tasks_of_waters(lzq_work *work)
{
  lzq_minute missed = lzq_test_slot_before(work, work->now);
  for (uint32_t i = 0; i < work->snap->n_systems && !work->failed; i++)
    if (work->goals[i].n_lots > 0)
      water_tasks(work, i, missed);
  for (uint32_t i = 0; i < work->n_moves && !work->failed; i++)
    prepare_tasks(work, i);
}
