// SPDX-License-Identifier: GPL-3.0-or-later
// One lot's whole way: the plan's segments, and the stays of the record wherever no course said
// where it was (before a course, after it was served, or without one).
#include "lz_chart_private.h"
#include "lz_stays.h"

static int
by_start(gconstpointer a, gconstpointer b)
{
  const lzq_segment *x = a, *y = b;
  return (x->start > y->start) - (x->start < y->start);
}

// Adds the parts of a stay that no segment covers; `covered` is by start.
static void
add_uncovered(GArray *out, const GArray *covered, const LzStay *stay, lzq_minute now)
{
  lzq_minute from = stay->from, end = MIN(stay->to, now);
  for (guint i = 0; i <= covered->len && from < end; i++) {
    const lzq_segment *s = i < covered->len ? &g_array_index(covered, lzq_segment, i) : NULL;
    if (s && (s->end <= from || !s->past))
      continue;
    lzq_minute to = s ? MIN(s->start, end) : end;
    if (to > from) {
      lzq_segment gap = {.lot = stay->lot,
                         .protocol = LZQ_NONE,
                         .phase = LZQ_NONE,
                         .system = stay->system,
                         .tank = stay->tank,
                         .start = from,
                         .end = to,
                         .past = true,
                         .firm = true};
      g_array_append_val(out, gap);
    }
    if (s)
      from = MAX(from, s->end);
  }
}

GArray *
lz_lots_stays(LzDesk *desk)
{
  return lz_stays(desk->model, desk->now);
}

GArray *
lz_lot_stays(LzDesk *desk, uint32_t lot)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(LzLotStay));
  g_autoptr(GArray) stays = lz_lots_stays(desk);
  for (guint i = lz_stays_of(stays, lot); i < stays->len; i++) {
    const LzStay *stay = &g_array_index(stays, LzStay, i);
    if (stay->lot != lot)
      break;
    const LzLotStay one = {stay->system, stay->tank, stay->from, stay->to};
    g_array_append_val(out, one);
  }
  return out;
}

GArray *
lz_lot_segments(LzDesk *desk, uint32_t lot)
{
  g_autoptr(GArray) stays = lz_lots_stays(desk);
  return lz_lot_segments_in(desk, lot, stays);
}

GArray *
lz_lot_segments_in(LzDesk *desk, uint32_t lot, const GArray *stays)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(lzq_segment));
  const lzq_plan *plan = desk->plan;
  if (lot >= desk->model->lots->len)
    return out;
  if (plan && lot < plan->credit->n_lots)
    g_array_append_vals(out, plan->lots[lot].segments, plan->lots[lot].n_segments);
  g_array_sort(out, by_start);
  g_autoptr(GArray) covered = g_array_copy(out);
  for (guint i = lz_stays_of(stays, lot); i < stays->len; i++) {
    const LzStay *stay = &g_array_index(stays, LzStay, i);
    if (stay->lot != lot)
      break;
    add_uncovered(out, covered, stay, desk->now);
  }
  g_array_sort(out, by_start);
  return out;
}
