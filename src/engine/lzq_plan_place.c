// SPDX-License-Identifier: GPL-3.0-or-later
// Where a lot goes next: which system can take it, and whether that water matches the water it is
// in.
#include <math.h>

#include "lzq_plan_work.h"

bool
lzq_place_holds(const lzq_work *work, const lzq_phase *phase, uint32_t system, uint32_t origin)
{
  if (system >= work->snap->n_systems)
    return false;
  switch (phase->place) {
  case LZQ_PLACE_STAY: return true;
  case LZQ_PLACE_ROLE: return work->snap->systems[system].role == phase->role;
  case LZQ_PLACE_NEXT_CLEAN: return system != origin;
  }
  return false;
}

double
lzq_place_asked(const lzq_phase *phase)
{
  return phase->place == LZQ_PLACE_NEXT_CLEAN ? LZQ_ASKS_CLEAN : (double)phase->role;
}

// --- taken out of its place

bool
lzq_lot_away(const lzq_work *work, uint32_t lot)
{
  return lzq_phase_away(work->snap, &work->credit->lots[lot]);
}

bool
lzq_lot_apart(const lzq_work *work, uint32_t lot)
{
  return lzq_phase_apart(work->snap, &work->credit->lots[lot]);
}

uint32_t
lzq_lot_home(const lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  const lzq_phase *phase = lzq_phase_at(work->snap, credit->protocol, credit->phase);
  for (uint32_t i = credit->n_stays; phase && i-- > 0;)
    if (lzq_place_holds(work, phase, credit->stays[i].system, LZQ_NONE))
      return credit->stays[i].system;
  return LZQ_NONE;
}

// --- matching

static bool
differs(lzq_analyte analyte, double here, double there, double tolerance, lzq_because *why)
{
  if (!(tolerance > 0) || !isfinite(here) || !isfinite(there) ||
      fabs(here - there) <= tolerance + LZQ_EDGE)
    return false;
  *why = (lzq_because){LZQ_BECAUSE_MOVE_NOT_MATCHED, {analyte, here, there, tolerance}};
  return true;
}

bool
lzq_place_matches(const lzq_work *work, const lzq_phase *phase, const lzq_water_state *here,
                  const lzq_water_state *there, lzq_because *why)
{
  (void)work;
  *why = (lzq_because){LZQ_BECAUSE_NONE, {0}};
  double copper = there->guess[LZQ_COPPER];
  if (phase->copper_free) {
    double most = lzq_copper_free(phase);
    if (copper > most + LZQ_EDGE) {
      *why = (lzq_because){LZQ_BECAUSE_MOVE_NOT_MATCHED,
                           {LZQ_COPPER, here->guess[LZQ_COPPER], copper, most}};
      return false;
    }
  } else if (differs(LZQ_COPPER, here->guess[LZQ_COPPER], copper, phase->tol_copper, why)) {
    return false;
  }
  if (differs(LZQ_SALINITY, here->guess[LZQ_SALINITY], there->guess[LZQ_SALINITY],
              phase->tol_salinity, why))
    return false;
  // temperature and pH speak only where both waters have been read
  return !differs(LZQ_TEMPERATURE, here->level[LZQ_TEMPERATURE], there->level[LZQ_TEMPERATURE],
                  phase->tol_temperature, why) &&
         !differs(LZQ_PH, here->level[LZQ_PH], there->level[LZQ_PH], phase->tol_ph, why);
}

static lzq_band
around(lzq_analyte analyte, double level, double tolerance, lzq_form form)
{
  return (lzq_band){.analyte = analyte,
                    .form = form,
                    .side = LZQ_BETWEEN,
                    .works = level - tolerance,
                    .works_high = level + tolerance,
                    .target = level,
                    .plan = NAN,
                    .harm = NAN,
                    .gap_min = LZQ_DAY};
}

// What the destination must be brought to before the move: no fish in it, so no rate holds it back.
lzq_goal
lzq_place_goal(const lzq_phase *phase, const lzq_water_state *here)
{
  lzq_goal goal = lzq_goal_none();
  if (phase->copper_free) {
    goal.has[LZQ_MED] = true;
    goal.band[LZQ_MED] = (lzq_band){.analyte = LZQ_COPPER,
                                    .side = LZQ_AT_OR_BELOW,
                                    .works = lzq_copper_free(phase),
                                    .plan = NAN,
                                    .harm = NAN,
                                    .gap_min = LZQ_DAY};
  } else if (phase->tol_copper > 0 && isfinite(here->guess[LZQ_COPPER])) {
    goal.has[LZQ_MED] = true;
    goal.band[LZQ_MED] = around(LZQ_COPPER, here->guess[LZQ_COPPER], phase->tol_copper, here->form);
  }
  if (phase->tol_salinity > 0 && isfinite(here->guess[LZQ_SALINITY])) {
    goal.has[LZQ_SAL] = true;
    goal.band[LZQ_SAL] =
        around(LZQ_SALINITY, here->guess[LZQ_SALINITY], phase->tol_salinity, LZQ_FORM_NONE);
  }
  goal.gear_on = phase->gear_on;
  goal.gear_off = phase->gear_off;
  return goal;
}

static uint32_t
tank_of(const lzq_work *work, uint32_t system)
{
  uint32_t any = LZQ_NONE;
  for (uint32_t i = 0; i < work->snap->n_tanks; i++) {
    if (work->snap->tanks[i].system != system)
      continue;
    bool taken = false;
    for (uint32_t lot = work->first_lot[system]; lot != LZQ_NONE && !taken;
         lot = work->next_lot[lot])
      taken = work->credit->lots[lot].tank == i;
    if (!taken)
      return i;
    if (any == LZQ_NONE)
      any = i;
  }
  return any;
}

lzq_minute
lzq_transfer_last(const lzq_walker *walker, const lzq_phase *phase)
{
  return phase->place == LZQ_PLACE_STAY
             ? LZQ_NEVER
             : lzq_owed_by(phase, walker->phase, walker->start, walker->due);
}

// Of the next clean tank: one that was used is disinfected first, one that cannot be ready in time
// is none.
static int
points_against_clean(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                     uint32_t system, lzq_minute at)
{
  lzq_minute ready = lzq_turn_ready(work, walker, system);
  if (ready == LZQ_LONG_AGO)
    return 0;
  if (ready == LZQ_NEVER || (ready > at && ready > lzq_transfer_last(walker, phase)))
    return -1;
  return ready <= at ? 6 : 12;
}

// Whether lots with this goal and the newcomer can share one water: their bands have something in
// common, and nobody meets a medicine that its own course does not give.
static bool
can_share(const lzq_walker *walker, const lzq_phase *phase, lzq_goal goal)
{
  const lzq_goal own = lzq_goal_of_phase(phase, walker->lot);
  if (goal.n_lots > 0 && lzq_goal_medicates(&goal) != lzq_goal_medicates(&own))
    return false;
  lzq_goal_join(&goal, phase, walker->lot);
  return goal.lot_a == LZQ_NONE;
}

void
lzq_place_take(lzq_work *work, const lzq_phase *phase)
{
  const uint32_t last = work->n_moves - 1;
  const lzq_move *move = &work->moves[last];
  if (move->to >= work->snap->n_systems || move->at > work->now + LZQ_PREPARE_MIN)
    return;
  lzq_coming *coming = &work->coming[move->to];
  lzq_goal_join(&coming->goal, phase, move->lot);
  if (coming->first == LZQ_NONE || move->at < work->moves[coming->first].at)
    coming->first = last;
}

// Whether it can come beside those that are on their way there: one water is prepared for one of
// them, and has to match the others too. Before it is prepared, who comes first comes first.
static bool
fits_the_coming(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                const lzq_water_state *here, uint32_t system, lzq_minute at)
{
  const lzq_coming *coming = &work->coming[system];
  if (coming->first == LZQ_NONE || at > work->now + LZQ_PREPARE_MIN)
    return true;
  const lzq_move *move = &work->moves[coming->first];
  if (move->lot == walker->lot || (at < move->at && move->state != LZQ_TASK_BLOCKED))
    return true;
  const lzq_phase *first =
      lzq_phase_at(work->snap, work->credit->lots[move->lot].protocol, move->phase);
  lzq_water_state with = work->waters[system];
  with.guess[LZQ_COPPER] = first && first->copper_free ? 0 : move->here[LZQ_MED];
  with.guess[LZQ_SALINITY] = move->here[LZQ_SAL];
  lzq_because why;
  return can_share(walker, phase, coming->goal) &&
         lzq_place_matches(work, phase, here, &with, &why);
}

// Points against a system, the fewest win: a water that does not match, fish already in it, water
// that is not in use yet. Lots with which it cannot share a water rule it out.
static int
points_against(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
               const lzq_water_state *here, uint32_t system, lzq_minute at)
{
  const lzq_water_state *there = &work->waters[system];
  lzq_because why;
  int points = 0;
  if (phase->place == LZQ_PLACE_NEXT_CLEAN)
    points = points_against_clean(work, walker, phase, system, at);
  else if (there->state == LZQ_STATE_DISINFECTING)
    points = -1;
  if (points < 0 || !fits_the_coming(work, walker, phase, here, system, at))
    return -1;
  if (!lzq_place_matches(work, phase, here, there, &why))
    points += 4;
  if (phase->place != LZQ_PLACE_NEXT_CLEAN && work->first_lot[system] != LZQ_NONE) {
    if (points > 0 || !can_share(walker, phase, work->goals[system]))
      return -1; // water with fish in it is not remade for a newcomer
    points += 2;
  }
  return there->state == LZQ_STATE_STOCKED ? points : points + 1;
}

uint32_t
lzq_place_find(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
               const lzq_water_state *here, lzq_minute at, uint32_t *tank)
{
  uint32_t best = LZQ_NONE;
  int best_points = 0;
  const lzq_role role = walker->system < work->snap->n_systems
                            ? work->snap->systems[walker->system].role
                            : LZQ_ROLE_TREATMENT;
  for (uint32_t i = 0; i < work->snap->n_systems; i++) {
    if (i == walker->system || !lzq_place_holds(work, phase, i, walker->origin) ||
        (phase->place == LZQ_PLACE_NEXT_CLEAN && work->snap->systems[i].role != role))
      continue;
    int points = points_against(work, walker, phase, here, i, at);
    if (points >= 0 && i == walker->home) { // back to its own, where that serves
      best = i;
      break;
    }
    if (points >= 0 && (best == LZQ_NONE || points < best_points)) {
      best = i;
      best_points = points;
    }
  }
  *tank = best == LZQ_NONE ? LZQ_NONE : tank_of(work, best);
  return best;
}

lzq_because
lzq_place_none(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
               const lzq_water_state *here)
{
  lzq_because why = {LZQ_BECAUSE_NONE, {0}};
  if (walker->home < work->snap->n_systems)
    lzq_place_matches(work, phase, here, &work->waters[walker->home], &why);
  return why.code != LZQ_BECAUSE_NONE
             ? why
             : (lzq_because){LZQ_BECAUSE_MOVE_NO_ROOM, {lzq_place_asked(phase), 0, 0, 0}};
}
