// SPDX-License-Identifier: GPL-3.0-or-later
// What becomes of a lot's phase when the lot is split, or when two of one phase become one.
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
