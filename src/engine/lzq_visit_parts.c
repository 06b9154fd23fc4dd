// SPDX-License-Identifier: GPL-3.0-or-later
// What becomes of a lot's phase when the lot is split, or when two become one.
#include "lzq_walk.h"

// Of `bathed` fish, how many are left where `others` of the lot, whichever, have gone.
static int32_t
at_least(int32_t bathed, int64_t others)
{
  return (int32_t)(bathed > others ? bathed - others : 0);
}

void
lzq_visit_share_bath(lzq_lot_walk *lot, lzq_lot_walk *part, int32_t heads)
{
  part->stage.bathed = at_least(lot->stage.bathed, (int64_t)lot->heads - heads);
  lot->stage.bathed = at_least(lot->stage.bathed, heads);
}

void
lzq_visit_worsen(lzq_walk *walk, lzq_lot_walk *lot, lzq_lot_walk *other)
{
  lzq_visit_fold(lot);
  lzq_visit_fold(other);
  lzq_visit_common_signs(walk, lot, other);
  const lzq_stage *a = &lot->stage;
  lzq_stage *b = &other->stage;
  // also the days that this phase does not ask for: another, to which it is kept over, may
  if (lzq_feeds_eaten(walk, lot) < lzq_feeds_eaten(walk, other)) {
    other->meals = lot->meals;
    b->eaten_days = a->eaten_days;
  }
  if (a->run_min > b->run_min)
    b->run_lapsed = a->run_lapsed;
  b->start = lzq_latest(a->start, b->start);
  lzq_feeds_recount(walk, other);
  b->placed_at = lzq_latest(a->placed_at, b->placed_at);
  b->given_at = lzq_latest(a->given_at, b->given_at);
  b->bathed += a->bathed;
  b->credit_from = lzq_latest(a->credit_from, b->credit_from);
  b->firm = a->open_min || b->open_min ? LZQ_NEVER : lzq_latest(a->firm, b->firm);
  b->open_min = a->open_min > b->open_min ? a->open_min : b->open_min;
  b->credit_min = a->credit_min < b->credit_min ? a->credit_min : b->credit_min;
  b->open_min = b->open_min < b->credit_min ? b->open_min : b->credit_min;
  b->accepted_min = a->accepted_min < b->accepted_min ? a->accepted_min : b->accepted_min;
  b->run_min = a->run_min > b->run_min ? a->run_min : b->run_min;
  b->signed_person = a->signed_person && b->signed_person;
  b->signed_vet = a->signed_vet && b->signed_vet;
}

bool
lzq_has_got(const lzq_phase *phase, lzq_minute placed_at, lzq_minute given_at, lzq_minute by)
{
  return (phase->place == LZQ_PLACE_STAY || placed_at <= by) &&
         (!lzq_phase_doses(phase) || given_at <= by);
}

int32_t
lzq_early_min(const lzq_phase *phase)
{
  return phase->min_elapsed_min / 10;
}

lzq_minute
lzq_owed_by(const lzq_phase *phase, uint32_t index, lzq_minute start, lzq_minute due)
{
  if (start == LZQ_NEVER || phase->late_tolerance_min <= 0 || phase->sighting_to >= index ||
      (phase->place == LZQ_PLACE_STAY && !lzq_phase_doses(phase)))
    return LZQ_NEVER;
  const lzq_minute own = start + phase->late_tolerance_min;
  return lzq_latest(start, due < own ? due : own);
}

void
lzq_hand_on_due(const lzq_phase *phase, uint32_t index, lzq_minute start, lzq_minute *due,
                lzq_minute *next_due)
{
  const bool owes = lzq_owed_by(phase, index, start, LZQ_NEVER) != LZQ_NEVER;
  *due = owes ? *next_due : LZQ_NEVER;
  *next_due = owes ? LZQ_NEVER : *next_due;
}

// When its time alone ends the phase; LZQ_NEVER = something else has to be there.
static lzq_minute
end_by_time(const lzq_phase *phase, lzq_minute placed_at, lzq_minute given_at)
{
  if (phase->min_credit_min > 0 || phase->quiet_min > 0 || phase->eating_days > 0 ||
      phase->sign != LZQ_SIGN_NOBODY || phase->reach || placed_at == LZQ_NEVER)
    return LZQ_NEVER;
  lzq_minute end = placed_at + phase->min_elapsed_min;
  if (lzq_phase_gives(phase)) {
    if (given_at == LZQ_NEVER)
      return LZQ_NEVER;
    end = lzq_latest(end, given_at + (phase->kind == LZQ_PHASE_BATH ? 0 : phase->min_elapsed_min));
  }
  return end;
}

// Its phase owes a transfer or dose that may be late, and has not got it.
static bool
owes(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  return lzq_owed_by(phase, lot->stage.phase, lot->stage.start, LZQ_NEVER) != LZQ_NEVER &&
         !lzq_has_got(phase, lzq_walk_placed(walk, lot), lzq_walk_given(walk, lot), lot->cursor);
}

static const lzq_phase *
phase_at(const lzq_walk *walk, const lzq_lot_walk *lot, uint32_t index)
{
  return &walk->snapshot
              ->phases[walk->snapshot->protocols[lot->stage.protocol].first_phase + index];
}

// The next phase that owes one, as far as time alone leads there from what the present one has got:
// its index, and when it begins.
static bool
next_owing(const lzq_walk *walk, const lzq_lot_walk *lot, lzq_minute placed_at, lzq_minute given_at,
           uint32_t *index, lzq_minute *start)
{
  const lzq_protocol *protocol = &walk->snapshot->protocols[lot->stage.protocol];
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  *start = end_by_time(phase, placed_at, given_at);
  for (*index = lot->stage.phase + 1; *start != LZQ_NEVER && *index < protocol->n_phases;
       ++*index) {
    phase = phase_at(walk, lot, *index);
    if (lzq_owed_by(phase, *index, *start, LZQ_NEVER) != LZQ_NEVER)
      return true;
    *start = end_by_time(phase, phase->place == LZQ_PLACE_STAY ? *start : LZQ_NEVER, LZQ_NEVER);
  }
  return false;
}

lzq_minute
lzq_visit_next_due(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  const lzq_stage *stage = &lot->stage;
  uint32_t index;
  lzq_minute start, owed = LZQ_NEVER;
  if (owes(walk, lot))
    return lzq_owed_by(lzq_walk_phase(walk, lot), stage->phase, stage->start, stage->due);
  if (next_owing(walk, lot, lzq_walk_placed(walk, lot), lzq_walk_given(walk, lot), &index, &start))
    owed = lzq_owed_by(phase_at(walk, lot, index), index, start, LZQ_NEVER);
  return owed < stage->next_due ? owed : stage->next_due;
}

lzq_minute
lzq_visit_due(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  return owes(walk, lot) ? lot->stage.due : lot->stage.next_due;
}

void
lzq_visit_owe(const lzq_walk *walk, lzq_lot_walk *lot, lzq_minute due)
{
  const bool now = owes(walk, lot);
  lot->stage.due = now ? due : LZQ_NEVER;
  lot->stage.next_due = now ? LZQ_NEVER : due;
}

void
lzq_visit_give_up(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at)
{
  uint32_t index;
  lzq_minute start;
  if (lot->stage.next_due == LZQ_NEVER ||
      !next_owing(walk, lot, lzq_walk_placed(walk, lot), lzq_walk_given(walk, lot), &index,
                  &start) ||
      start <= lot->stage.next_due)
    return;
  const uint32_t back = phase_at(walk, lot, index)->sighting_to;
  lzq_walk_set_back(walk, lot, LZQ_LEFT_APART, back < lot->stage.phase ? back : lot->stage.phase,
                    at);
}

void
lzq_visit_clock_early(const lzq_walk *walk, lzq_lot_walk *lot)
{
  lzq_stage *stage = &lot->stage;
  uint32_t index;
  lzq_minute start;
  if (stage->given_at == LZQ_NEVER || lzq_walk_phase(walk, lot)->place != LZQ_PLACE_STAY ||
      !next_owing(walk, lot, stage->given_at, stage->given_at, &index, &start))
    return;
  const lzq_minute owed = lzq_owed_by(phase_at(walk, lot, index), index, start, LZQ_NEVER);
  stage->next_due = owed < stage->next_due ? owed : stage->next_due;
}
