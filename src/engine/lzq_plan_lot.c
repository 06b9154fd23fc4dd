// SPDX-License-Identifier: GPL-3.0-or-later
// A lot's way ahead: each remaining phase starts where the one before ends, waits for its place and
// its water, and ends when the last of its conditions holds. Dates are walked, not simulated:
// credit runs from now while the water serves, else from the reading that the planned visits lead
// to.
#include <math.h>

#include "lzq_plan_work.h"

// Water in which the lot stood when its phase began.
static uint32_t
origin_of(const lzq_lot_credit *credit)
{
  for (uint32_t i = 0; i < credit->n_spans; i++)
    if (credit->spans[i].visit + 1 == credit->n_visits)
      return credit->spans[i].system;
  return credit->system;
}

uint32_t
lzq_lot_asks(const lzq_work *work, uint32_t lot)
{
  return lzq_phase_asked(work->snap, &work->credit->lots[lot]);
}

bool
lzq_lot_served_here(const lzq_work *work, uint32_t lot)
{
  return lzq_lot_asks(work, lot) == work->credit->lots[lot].phase && !lzq_lot_apart(work, lot);
}

void
lzq_wait_add(lzq_lot_plan *plan, lzq_because because)
{
  if (because.code != LZQ_BECAUSE_NONE && plan->n_waits < 8)
    ((lzq_because *)plan->waits)[plan->n_waits++] = because;
}

// Whether the phase's times hold at the warmth of this water: the intervals of parasites are those
// of a temperature. NONE = they do, or it has no rule.
static lzq_because
warmth(const lzq_phase *phase, const lzq_water_state *water)
{
  const lzq_last_reading *read = &water->read[LZQ_TEMPERATURE];
  const double t_c = read->at == LZQ_LONG_AGO ? NAN : read->value;
  const double from = phase->warm_from > 0 ? phase->warm_from : NAN;
  const double to = phase->warm_to > 0 ? phase->warm_to : NAN;
  const bool no_rule = isnan(from) && isnan(to);
  if (no_rule || (isfinite(t_c) && !(t_c < from - LZQ_EDGE) && !(t_c > to + LZQ_EDGE)))
    return (lzq_because){LZQ_BECAUSE_NONE, {0}};
  return (lzq_because){LZQ_BECAUSE_WARMTH, {t_c, from, to, 0}};
}

// --- moves

static void
move_add(lzq_work *work, lzq_move move)
{
  if (work->n_moves == work->cap_moves)
    return;
  work->moves[work->n_moves++] = move;
}

// At a slot; a transfer that would be late there, at the next one, or at the very minute from which
// it may be done.
static lzq_minute
move_time(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase, lzq_minute t)
{
  const lzq_minute last = lzq_transfer_last(walker, phase);
  lzq_minute at = lzq_move_next(work, phase, t);
  if (at > last)
    at = lzq_visit_next(work, t, false);
  return at > last ? t : at;
}

// What the move waits for, before anything about its destination.
static void
move_waits(const lzq_work *work, const lzq_walker *walker, lzq_move *move)
{
  move->state = LZQ_TASK_DUE;
  move->because = (lzq_because){LZQ_BECAUSE_MOVE_READY, {move->to, 0, 0, 0}};
  if (walker->current && lzq_lot_apart(work, walker->lot)) { // whoever cares for it says when
    move->state = LZQ_TASK_WAITS;
    move->because = (lzq_because){LZQ_BECAUSE_MOVE_APART, {move->to, 0, 0, 0}};
    return;
  }
  if (walker->firm_at <= work->now)
    return;
  move->state = LZQ_TASK_WAITS;
  move->because = walker->firm_at > walker->t
                      ? (lzq_because){LZQ_BECAUSE_MOVE_NOT_FIRM, {0}}
                      : (lzq_because){LZQ_BECAUSE_PHASE_ENDS, {(double)walker->t, move->to, 0, 0}};
}

// A clean tank is kept for the lots that stand together now, and is one from `clean_at` on.
static void
take_clean(lzq_work *work, const lzq_walker *walker, const lzq_phase *phase, lzq_move *move)
{
  move->clean_at = lzq_turn_ready(work, walker, move->to);
  work->reserved_for[move->to] = work->credit->lots[walker->lot].system;
  if (move->clean_at > move->at)
    move->at = lzq_move_next(work, phase, move->clean_at);
}

// Finds the place, prepares its water, and sets when the lot stands in it. False = it never will.
static bool
move_on(lzq_work *work, lzq_walker *walker, const lzq_phase *phase, lzq_water_state *water,
        lzq_because *why)
{
  lzq_minute t = walker->t > walker->firm_at ? walker->t : walker->firm_at;
  lzq_minute at = move_time(work, walker, phase, t);
  uint32_t tank, to = lzq_place_find(work, walker, phase, water, at, &tank);
  lzq_move move = {.lot = walker->lot,
                   .from = walker->system,
                   .to = to,
                   .tank = tank,
                   .phase = walker->phase,
                   .at = at,
                   .ready_at = work->now,
                   .clean_at = LZQ_LONG_AGO,
                   .deadline = lzq_transfer_last(walker, phase),
                   .here = {water->guess[LZQ_COPPER], water->guess[LZQ_SALINITY]}};
  *why = lzq_place_none(work, walker, phase, water);
  if (to == LZQ_NONE) {
    move.state = LZQ_TASK_BLOCKED;
    move.because = *why;
    move_add(work, move);
    return false;
  }
  lzq_water_state there = work->waters[to];
  if (phase->place == LZQ_PLACE_NEXT_CLEAN)
    take_clean(work, walker, phase, &move);
  move_waits(work, walker, &move);
  if (!lzq_place_matches(work, phase, water, &there, why)) {
    lzq_goal goal = lzq_place_goal(phase, water);
    lzq_programme programme;
    lzq_programme_make(work, to, &there, &goal, work->now, &programme);
    lzq_programme_apply(&there, &goal, &programme);
    move.state = LZQ_TASK_BLOCKED;
    move.because = *why;
    bool mends = lzq_place_matches(work, phase, water, &there, why);
    if (!mends || programme.effective_at == LZQ_NEVER) {
      move_add(work, move);
      *why = move.because;
      return false;
    }
    if (programme.effective_at > move.at)
      move.at = lzq_move_next(work, phase, programme.effective_at);
    move.ready_at = programme.effective_at;
  }
  move_add(work, move);
  lzq_place_take(work, phase);
  *why = move.because;
  *water = there;
  walker->system = to;
  walker->tank = tank;
  walker->placed_at = move.at;
  walker->stood_at = walker->stood_at < move.at ? walker->stood_at : move.at;
  return move.at != LZQ_NEVER;
}

static void
phase_begin(lzq_walker *walker, const lzq_work *work, const lzq_phase *phase, lzq_minute t)
{
  walker->current = false;
  walker->t = walker->start = t;
  walker->credit_min = walker->run_min = 0;
  walker->eaten = 0;
  walker->given_at = lzq_given_early(work, walker->lot, walker->system, phase, t);
  lzq_hand_on_due(phase, walker->phase, t, &walker->due, &walker->next_due);
  walker->origin = walker->system;
  walker->home = LZQ_NONE;
  walker->placed_at = lzq_place_holds(work, phase, walker->system, walker->origin) ? t : LZQ_NEVER;
  walker->stood_at = walker->placed_at;
}

static lzq_walker
walker_now(const lzq_work *work, uint32_t lot, const lzq_visit *visit)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_walker walker = {.lot = lot,
                       .system = credit->system,
                       .tank = credit->tank,
                       .protocol = credit->protocol,
                       .phase = credit->phase,
                       .t = work->now,
                       .start = visit->start,
                       .placed_at = visit->placed_at,
                       .stood_at = visit->placed_at,
                       .last_sighting = credit->last_sighting,
                       .given_at = visit->given_at,
                       .due = visit->due,
                       .next_due = visit->next_due,
                       .eaten = work->eaten[lot],
                       .credit_min = credit->credit_min + credit->accepted_min,
                       .run_min = credit->run_min,
                       .current = true,
                       .origin = origin_of(credit),
                       .first_move = work->n_moves};
  walker.home = LZQ_NONE;
  if (lzq_lot_away(work, lot)) {
    walker.placed_at = LZQ_NEVER;
    walker.home = lzq_lot_home(work, lot);
  }
  walker.firm_at =
      lzq_end_before_is_firm(credit) ? work->now : lzq_slot_next(work, work->now, true);
  walker.first_firm = lzq_end_before_is_firm(credit) ? LZQ_LONG_AGO : work->now;
  return walker;
}

static void
firm_after(lzq_work *work, lzq_walker *walker, const lzq_phase *phase, lzq_minute end)
{
  lzq_minute firm = end;
  if (phase->n_bands > 0 && (phase->min_credit_min > 0 || phase->reach))
    firm = lzq_slot_next(work, phase->reach ? lzq_later(end, 1) : end, true);
  walker->firm_at = firm > walker->firm_at ? firm : walker->firm_at;
}

// One phase of the way: where, until when, why. False = the rest cannot be dated.
static bool
walk_phase(lzq_work *work, lzq_walker *walker, lzq_water_state *water, lzq_lot_plan *plan)
{
  const lzq_phase *phase = lzq_phase_at(work->snap, walker->protocol, walker->phase);
  bool first = walker->current;
  lzq_segment segment = {.lot = walker->lot,
                         .protocol = walker->protocol,
                         .phase = walker->phase,
                         .system = walker->system,
                         .tank = walker->tank,
                         .start = walker->t};
  lzq_outcome out = {.end = LZQ_NEVER};
  walker->leg = &work->legs[walker->phase];
  *walker->leg = (lzq_leg){.phase = phase, .current = walker->current, .move_from = LZQ_LONG_AGO};
  if (walker->placed_at == LZQ_NEVER) {
    lzq_because why;
    bool goes = move_on(work, walker, phase, water, &why);
    segment.end = goes ? walker->placed_at : LZQ_NEVER;
    segment.because =
        goes ? (lzq_because){LZQ_BECAUSE_PLACE, {lzq_place_asked(phase), 0, 0, 0}} : why;
    lzq_segment_add(plan, segment);
    if (first || !goes)
      lzq_wait_add(plan, why);
    if (!goes)
      return false;
    walker->leg->move_from = work->moves[work->n_moves - 1].ready_at;
    segment.start = walker->placed_at;
    segment.system = walker->system;
    segment.tank = walker->tank;
  }
  out = lzq_phase_end(work, walker, phase, water);
  lzq_phase_sign_off(work, walker, phase, &out);
  if (out.end != LZQ_NEVER && out.end > work->now + LZQ_FAR_MIN)
    out.end = LZQ_NEVER;
  segment.end = out.end;
  segment.because = out.because;
  lzq_segment_add(plan, segment);
  if (first || out.end == LZQ_NEVER)
    lzq_wait_add(plan, out.because);
  if (first)
    lzq_wait_add(plan, warmth(phase, water));
  walker->leg->end = out.end;
  firm_after(work, walker, phase, out.end);
  walker->t = out.end;
  return out.end != LZQ_NEVER;
}

static void
walk_course(lzq_work *work, uint32_t lot, const lzq_visit *visit)
{
  lzq_lot_plan *plan = &work->lots[lot];
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_walker walker = walker_now(work, lot, visit);
  uint32_t n = work->snap->protocols[walker.protocol].n_phases;
  if (walker.system >= work->snap->n_systems) {
    lzq_wait_add(plan, (lzq_because){LZQ_BECAUSE_PLACE, {-1, 0, 0, 0}});
    return;
  }
  lzq_water_state water = work->waters[walker.system];
  for (; walker.phase < n; walker.phase++) {
    if (!walker.current)
      phase_begin(&walker, work, lzq_phase_at(work->snap, walker.protocol, walker.phase), walker.t);
    if (!walk_phase(work, &walker, &water, plan))
      return;
    walker.current = false;
  }
  plan->served = walker.t;
  plan->release_earliest = walker.firm_at > walker.t ? walker.firm_at : walker.t;
  plan->release_late = plan->release_earliest;
  if (work->snap->station.missed_share > 0)
    plan->release_late =
        lzq_late_release(work, &work->legs[credit->phase], n - credit->phase, walker.first_firm);
}

static void
walk_lot(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_lot_plan *plan = &work->lots[lot];
  plan->release_earliest = plan->release_likely = plan->release_late = LZQ_NEVER;
  plan->served = LZQ_NEVER;
  lzq_segments_past(work, lot);
  if (work->short_of[lot])
    lzq_wait_add(plan, lzq_because_short(work, work->short_of[lot]));
  if (credit->released) {
    plan->served = credit->served_at;
    plan->served_firm = credit->firm_at != LZQ_NEVER;
    plan->release_earliest = credit->released_at;
    lzq_wait_add(plan, (lzq_because){LZQ_BECAUSE_RELEASED, {(double)credit->released_at, 0, 0, 0}});
  } else if (credit->merged) {
    lzq_wait_add(plan, (lzq_because){LZQ_BECAUSE_MERGED, {credit->merged_into, 0, 0, 0}});
  } else if (credit->dead) {
    lzq_wait_add(plan, (lzq_because){LZQ_BECAUSE_NO_FISH, {0}});
  } else if (!credit->has_course) {
    lzq_wait_add(plan, (lzq_because){LZQ_BECAUSE_NO_COURSE, {credit->n_visits > 0, 0, 0, 0}});
  } else if (credit->served) {
    plan->served = credit->served_at;
    plan->served_firm = credit->firm_at != LZQ_NEVER;
    plan->release_earliest =
        plan->served_firm
            ? (credit->firm_at > credit->served_at ? credit->firm_at : credit->served_at)
            : lzq_slot_next(work, work->now, true);
    if (plan->served_firm)
      plan->release_late = plan->release_earliest; // no test that could be missed: others hold it
    else
      lzq_wait_add(plan, (lzq_because){LZQ_BECAUSE_MOVE_NOT_FIRM, {0}});
  } else if (lzq_visit_now(credit)) {
    walk_course(work, lot, lzq_visit_now(credit));
    lzq_slot_gap_note(work, lot);
  }
}

void
lzq_lots_walk(lzq_work *work)
{
  for (uint32_t lot = 0; lot < work->snap->n_lots && !work->failed; lot++) {
    const lzq_lot_credit *credit = &work->credit->lots[lot];
    uint32_t n = credit->n_spans + 2;
    if (credit->has_course && credit->protocol < work->snap->n_protocols)
      n += 2 * work->snap->protocols[credit->protocol].n_phases;
    work->lots[lot].segments = LZQ_NEW(work->arena, lzq_segment, n);
    work->lots[lot].waits = LZQ_NEW(work->arena, lzq_because, 10);
    if (!work->lots[lot].segments || !work->lots[lot].waits)
      work->failed = true;
    else
      walk_lot(work, lot);
  }
}
