// SPDX-License-Identifier: GPL-3.0-or-later
// Which phase of its protocol a lot asks the water around it to serve: see lzq_goal.h.
#include "lzq_plan_work.h"

const lzq_visit *
lzq_visit_now(const lzq_lot_credit *credit)
{
  const lzq_visit *visit = credit->n_visits ? &credit->visits[credit->n_visits - 1] : NULL;
  return visit && visit->left == LZQ_LEFT_NOT ? visit : NULL;
}

bool
lzq_end_before_is_firm(const lzq_lot_credit *credit)
{
  for (uint32_t i = credit->n_visits; i-- > 0;)
    if (credit->visits[i].left == LZQ_LEFT_ENDED)
      return credit->visits[i].firm_at != LZQ_NEVER;
    else if (credit->visits[i].left != LZQ_LEFT_NOT)
      return true;
  return true;
}

bool
lzq_phase_away(const lzq_snapshot *snap, const lzq_lot_credit *lot)
{
  const lzq_phase *phase = lzq_phase_at(snap, lot->protocol, lot->phase);
  return phase && lot->n_visits > 0 && lot->system < snap->n_systems &&
         lot->visits[lot->n_visits - 1].placed_at != LZQ_NEVER && phase->place == LZQ_PLACE_ROLE &&
         snap->systems[lot->system].role != phase->role;
}

bool
lzq_phase_apart(const lzq_snapshot *snap, const lzq_lot_credit *lot)
{
  return lzq_phase_away(snap, lot) && snap->systems[lot->system].role == LZQ_ROLE_ISOLATION;
}

uint32_t
lzq_phase_asked(const lzq_snapshot *snap, const lzq_lot_credit *lot)
{
  if (!lot->has_course || lot->released || lot->merged || lot->dead)
    return LZQ_NONE;
  const uint32_t n = snap->protocols[lot->protocol].n_phases;
  if (lot->served)
    return n > 0 && lot->firm_at == LZQ_NEVER ? n - 1 : LZQ_NONE;
  const lzq_phase *phase = lzq_phase_at(snap, lot->protocol, lot->phase);
  const lzq_visit *visit = lzq_visit_now(lot);
  if (!phase || !visit)
    return LZQ_NONE;
  if (lzq_phase_away(snap, lot))
    return lzq_phase_apart(snap, lot) ? lot->phase : LZQ_NONE; // else it has to go back first
  bool before = visit->placed_at == LZQ_NEVER && phase->place != LZQ_PLACE_STAY;
  if (lzq_waits_for_firm(phase) && !lzq_end_before_is_firm(lot))
    before = true;
  if (!before)
    return lot->phase;
  return lot->phase > 0 ? lot->phase - 1 : LZQ_NONE;
}
