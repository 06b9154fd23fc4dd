// SPDX-License-Identifier: GPL-3.0-or-later
// A lot's way behind it: stretches of one phase in one water as the record has them, and what was
// left short.
#include "lzq_plan_work.h"

void
lzq_segment_add(lzq_lot_plan *plan, lzq_segment segment)
{
  if (segment.end != LZQ_NEVER && segment.end <= segment.start)
    return;
  ((lzq_segment *)plan->segments)[plan->n_segments++] = segment;
}

lzq_because
lzq_because_short(const lzq_work *work, const lzq_short *left)
{
  if (left->how == LZQ_SHORT_HELD)
    return (lzq_because){LZQ_BECAUSE_HELD_BY, {left->held_by, 0, 0, 0}};
  const uint32_t phase = work->snap->protocols[left->protocol].first_phase + left->phase;
  return (lzq_because){LZQ_BECAUSE_SHORT, {(double)left->short_min, phase, 0, 0}};
}

lzq_because
lzq_because_left(const lzq_snapshot *snapshot, const lzq_visit *visit)
{
  const lzq_protocol *protocol = &snapshot->protocols[visit->protocol];
  const lzq_phase *phase = visit->phase < protocol->n_phases
                               ? &snapshot->phases[protocol->first_phase + visit->phase]
                               : NULL;
  const bool dose = phase && phase->kind == LZQ_PHASE_MEDICATE && visit->given_at == LZQ_NEVER;
  if (visit->left == LZQ_LEFT_APART)
    return (lzq_because){LZQ_BECAUSE_TRANSFER_LATE, {(double)visit->end, 2, 0, 0}};
  if (visit->left == LZQ_LEFT_LATE)
    return (lzq_because){LZQ_BECAUSE_TRANSFER_LATE, {(double)visit->end, dose, 0, 0}};
  if (visit->left == LZQ_LEFT_SIGHTING)
    return (lzq_because){LZQ_BECAUSE_SIGHTING, {(double)visit->end, 0, 0, 0}};
  if (visit->lapses > 0 && visit->last_lapse != LZQ_NEVER)
    return (lzq_because){LZQ_BECAUSE_LAPSED, {(double)visit->last_lapse, 0, 0, 0}};
  return (lzq_because){LZQ_BECAUSE_NONE, {0}};
}

void
lzq_segments_past(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_lot_plan *plan = &work->lots[lot];
  for (uint32_t i = 0; i < credit->n_spans;) {
    const lzq_span *first = &credit->spans[i];
    uint32_t j = i + 1;
    while (j < credit->n_spans && credit->spans[j].visit == first->visit &&
           credit->spans[j].system == first->system &&
           credit->spans[j].from == credit->spans[j - 1].to)
      j++;
    if (first->visit < credit->n_visits) {
      const lzq_visit *visit = &credit->visits[first->visit];
      bool current = visit->left == LZQ_LEFT_NOT && j == credit->n_spans;
      lzq_segment_add(
          plan, (lzq_segment){.lot = lot,
                              .protocol = visit->protocol,
                              .phase = visit->phase,
                              .system = first->system,
                              .tank = current ? credit->tank : LZQ_NONE,
                              .start = first->from,
                              .end = credit->spans[j - 1].to,
                              .past = true,
                              .firm = current ? credit->open_min == 0 : visit->firm_at != LZQ_NEVER,
                              .because = lzq_because_left(work->snap, visit)});
    }
    i = j;
  }
}
