// SPDX-License-Identifier: GPL-3.0-or-later
// A stretch ahead in which nobody tests for longer than a reading counts: planned absence, or a day
// with fewer rounds. The dates allow for it already; here it is named, so that somebody can be
// found for that round. Where most of the stretches are too long, the test times themselves are
// wrong, which is said elsewhere.
#include "lzq_plan_work.h"

static int64_t
shortest_gap(const lzq_phase *phase)
{
  int64_t gap = INT64_MAX;
  for (uint32_t i = 0; i < phase->n_bands; i++)
    if (phase->bands[i].gap_min < gap)
      gap = phase->bands[i].gap_min;
  return gap;
}

void
lzq_slot_gap_note(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_lot_plan *plan = &work->lots[lot];
  const lzq_phase *phase = lzq_phase_at(work->snap, credit->protocol, credit->phase);
  const int64_t most = shortest_gap(phase);
  if (most == INT64_MAX || plan->n_waits == 0)
    return;
  lzq_minute last = LZQ_LONG_AGO;
  lzq_because first = {LZQ_BECAUSE_NONE, {0}};
  uint32_t long_ones = 0, pairs = 0;
  for (uint32_t i = 0; i < work->snap->n_slots; i++) {
    const lzq_slot *slot = &work->snap->slots[i];
    if (!slot->test || slot->at < work->now)
      continue;
    if (slot->at > work->now + LZQ_LOOK_MIN || slot->at >= plan->release_earliest)
      break;
    if (last != LZQ_LONG_AGO) {
      // a reading counts up to and including the minute `most` after it
      const int64_t lost = slot->at - last - most - 1;
      pairs++;
      long_ones += lost > 0;
      if (lost > 0 && first.code == LZQ_BECAUSE_NONE)
        first =
            (lzq_because){LZQ_BECAUSE_SLOT_GAP, {(double)last, (double)slot->at, (double)lost, 0}};
    }
    last = slot->at;
  }
  if (long_ones > 0 && 2 * long_ones <= pairs)
    lzq_wait_add(plan, first);
}
