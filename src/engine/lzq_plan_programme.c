// SPDX-License-Identifier: GPL-3.0-or-later
// The programme of visits that brings one water to what its lots ask: each waits for a slot at
// which every limit holds, and for the reading that confirms the one before.
#include <math.h>

#include "lzq_plan_act.h"

uint32_t
lzq_bottle_for(const lzq_work *work, lzq_analyte analyte, lzq_form form)
{
  return lzq_bottle_pick(work->snap->bottles, work->snap->n_bottles, analyte, form, work->now);
}

// The medicine stands at the harm edge or beyond it.
static bool
harms(const lzq_maker *m, int need)
{
  const lzq_band *band = &m->goal->band[LZQ_MED];
  return need & NEED_MED_DOWN && band->side != LZQ_AT_OR_BELOW && isfinite(band->harm) &&
         m->level[LZQ_MED] >= band->harm - LZQ_EDGE;
}

// The first slot from which the step keeps every limit; false = none within ten days.
static bool
place_step(lzq_maker *m, lzq_act *step, int need, bool first)
{
  lzq_minute t = m->ready;
  const bool harm = harms(m, need);
  if (!harm && m->last_dose != LZQ_LONG_AGO && need & (NEED_MED_UP | NEED_SAL_DOWN | NEED_SAL_UP)) {
    lzq_minute gap = lzq_later(m->last_dose, m->goal->step_gap_min);
    t = gap > t ? gap : t;
  }
  step->at = harm || (first && m->at_once) ? t : lzq_visit_next(m->work, t, false);
  for (int tries = 0; tries < 200 && step->at <= lzq_later(t, 10 * LZQ_DAY); tries++) {
    lzq_act fresh = {.at = step->at};
    *step = fresh;
    if (lzq_act_fill(m, step, need, first))
      return true;
    step->at = lzq_slot_next(m->work, lzq_later(step->at, m->work->snap->n_slots ? 1 : 60), false);
  }
  return false;
}

static lzq_maker
maker_begin(const lzq_work *work, uint32_t system, const lzq_water_state *water,
            const lzq_goal *goal, lzq_minute from)
{
  lzq_maker m = {.work = work,
                 .system = &work->snap->systems[system],
                 .water = water,
                 .goal = goal,
                 .trace = water->trace,
                 .now = from,
                 .ready = from};
  uint8_t a = goal->has[LZQ_MED] ? (uint8_t)goal->band[LZQ_MED].analyte : LZQ_COPPER;
  m.level[LZQ_MED] = isfinite(water->guess[a]) ? water->guess[a] : 0;
  m.level[LZQ_SAL] = water->guess[LZQ_SALINITY];
  m.error[LZQ_MED] = water->carried_error[a];
  m.error[LZQ_SAL] = water->carried_error[LZQ_SALINITY];
  m.last_dose =
      lzq_needs(&m, m.level) & NEED_MED_UP ? water->dose_at[a] : water->stirred_at[LZQ_SALINITY];
  return m;
}

// Only a change has moved the medicine since a reading closed the last dose: what it took out is
// known by mass balance, and is put back while people are still at the tanks. A test before that
// would only prove the level low. Salinity that has further to go waits for its own next step, and
// the dose that belongs to this change does not wait with it.
static bool
replaces_a_change(const lzq_maker *m)
{
  const int need = lzq_needs(m, m->level);
  if (!m->goal->has[LZQ_MED] || !(need & NEED_MED_UP))
    return false;
  const uint8_t a = (uint8_t)m->goal->band[LZQ_MED].analyte;
  const lzq_minute changed = m->water->stirred_at[a];
  if (need != NEED_MED_UP && m->now > lzq_later(changed, LZQ_AT_WORK_MIN))
    return false;
  return changed != LZQ_LONG_AGO && m->water->open_at[a] == LZQ_LONG_AGO &&
         isfinite(m->water->level[a]) && m->water->read[a].at != LZQ_LONG_AGO &&
         m->water->dose_at[a] < m->water->read[a].at &&
         lzq_later(m->water->read[a].at, m->goal->band[LZQ_MED].gap_min) >= m->now;
}

// What was moved on record waits for a reading at least the mixing time later: right then if
// nothing more is to be done, else at the next test slot.
static void
wait_for_reading(lzq_maker *m, lzq_programme *out)
{
  lzq_minute stirred = LZQ_LONG_AGO;
  if (replaces_a_change(m)) {
    lzq_minute changed = m->water->stirred_at[m->goal->band[LZQ_MED].analyte];
    m->at_once = m->now <= lzq_later(changed, LZQ_AT_WORK_MIN);
    out->ready_at = m->ready;
    return;
  }
  for (int i = 0; i < 2; i++) {
    uint8_t a = m->goal->has[i] ? (uint8_t)m->goal->band[i].analyte : 0;
    lzq_minute at = m->water->stirred_at[a];
    out->unread[i] = m->goal->has[i] && at != LZQ_LONG_AGO &&
                     m->water->read[a].at < lzq_later(at, m->system->mixing_min);
    if (out->unread[i] && at > stirred)
      stirred = at;
  }
  if (m->goal->has[LZQ_MED] && m->water->open_at[m->goal->band[LZQ_MED].analyte] > stirred)
    stirred = m->water->open_at[m->goal->band[LZQ_MED].analyte];
  // Fish that are being harmed wait for no reading.
  if (stirred != LZQ_LONG_AGO && !harms(m, lzq_needs(m, m->level))) {
    lzq_minute mixed = lzq_later(stirred, m->system->mixing_min);
    bool more = lzq_needs(m, m->level) != 0;
    if (mixed < m->now)
      m->ready = lzq_visit_next(m->work, m->now, true);
    else
      m->ready = more ? lzq_slot_next(m->work, mixed, true) : mixed;
  }
  out->ready_at = m->ready;
}

static void
effective_from(const lzq_maker *m, lzq_programme *out)
{
  bool waits = out->unread[LZQ_MED] || out->unread[LZQ_SAL] || out->ready_at != m->now;
  if (out->n > 0) {
    lzq_act *last = &out->steps[out->n - 1];
    last->test_at = lzq_later(last->at, m->system->mixing_min); // credit begins at the reading
    out->effective_at = last->test_at;
  } else {
    out->untested = true;
    out->effective_at = waits ? out->ready_at : lzq_visit_next(m->work, m->now, true);
  }
  if (out->because.code != LZQ_BECAUSE_NONE)
    out->effective_at = LZQ_NEVER;
}

// Day limits cut later steps otherwise than the first one foresaw: all of them name the number that
// the last one knows.
static void
number_steps(lzq_programme *out)
{
  double all = NAN;
  int code = LZQ_BECAUSE_NONE;
  for (uint32_t i = out->n; i-- > 0;) {
    lzq_because *because = &out->steps[i].because[LZQ_SAL];
    if (because->code != LZQ_BECAUSE_LOWER_STEP && because->code != LZQ_BECAUSE_RAISE_STEP)
      continue;
    if ((int)because->code != code)
      all = because->n[1];
    code = (int)because->code;
    because->n[1] = all;
  }
}

void
lzq_programme_make(const lzq_work *work, uint32_t system, const lzq_water_state *water,
                   const lzq_goal *goal, lzq_minute from, lzq_programme *out)
{
  lzq_maker m = maker_begin(work, system, water, goal, from);
  out->n = 0;
  out->unread[LZQ_MED] = out->unread[LZQ_SAL] = false;
  out->untested = false;
  out->because = (lzq_because){LZQ_BECAUSE_NONE, {0}};
  wait_for_reading(&m, out);
  int need = 0;
  while (out->n < LZQ_MAX_ACTS && (need = lzq_needs(&m, m.level)) != 0) {
    lzq_act *step = &out->steps[out->n];
    if (out->n == 0 && m.at_once)
      need &= NEED_MED_UP;
    if (goal->lot_a != LZQ_NONE || !place_step(&m, step, need, out->n == 0))
      break;
    lzq_trace_push(&m.trace, step->at, step->after[LZQ_MED], step->after[LZQ_SAL],
                   step->change_l / water->volume_l, false);
    m.level[LZQ_MED] = step->after[LZQ_MED];
    m.level[LZQ_SAL] = step->after[LZQ_SAL];
    m.last_dose = step->at;
    if (step->because[LZQ_SAL].code != LZQ_BECAUSE_NONE)
      m.sal_done++;
    step->test_at = lzq_slot_next(work, lzq_later(step->at, m.system->mixing_min), true);
    m.ready = step->test_at;
    out->n++;
  }
  out->level[LZQ_MED] = m.level[LZQ_MED];
  out->level[LZQ_SAL] = m.level[LZQ_SAL];
  if (lzq_needs(&m, m.level) != 0)
    out->because = (lzq_because){
        LZQ_BECAUSE_CANNOT_HOLD,
        {lzq_needs(&m, m.level) & 3 ? (double)goal->band[0].analyte : (double)LZQ_SALINITY}};
  number_steps(out);
  effective_from(&m, out);
}

void
lzq_programme_apply(lzq_water_state *water, const lzq_goal *goal, const lzq_programme *programme)
{
  for (uint32_t i = 0; i < programme->n; i++) {
    const lzq_act *step = &programme->steps[i];
    lzq_trace_push(&water->trace, step->at, step->after[LZQ_MED], step->after[LZQ_SAL],
                   step->change_l / water->volume_l, false);
    if (step->dose_mg > 0 && goal->has[LZQ_MED])
      water->dose_at[goal->band[LZQ_MED].analyte] = step->at;
  }
  uint8_t a = goal->has[LZQ_MED] ? (uint8_t)goal->band[LZQ_MED].analyte : LZQ_COPPER;
  water->guess[a] = water->level[a] = programme->level[LZQ_MED];
  water->guess[LZQ_SALINITY] = water->level[LZQ_SALINITY] = programme->level[LZQ_SAL];
  for (int i = 0; i < LZQ_N_ANALYTES; i++) {
    water->open_at[i] = water->stirred_at[i] = water->waits_at[i] = LZQ_LONG_AGO;
    water->read[i] =
        (lzq_last_reading){programme->effective_at, water->guess[i], water->read[i].error};
  }
}
