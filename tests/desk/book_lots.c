// SPDX-License-Identifier: GPL-3.0-or-later
// See book_lots.h.
#include <lz_place.h>

#include "book_lots.h"
#include "week.h"

static gboolean
says_of_lot(const lzq_record *r, uint32_t lot)
{
  static const lzq_record_kind kinds[] = {LZQ_REC_RECEIVE, LZQ_REC_MOVE,   LZQ_REC_SPLIT,
                                          LZQ_REC_MERGE,   LZQ_REC_COUNT,  LZQ_REC_DEATH,
                                          LZQ_REC_STOP,    LZQ_REC_COURSE, LZQ_REC_RELEASE};
  gboolean is = FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
    is = is || r->kind == kinds[i];
  return is && (r->lot == lot || r->other == lot);
}

void
book_lots_by_their_own_records(void)
{
  const LzModel *m = lab.desk->model;
  ck_assert_uint_eq(m->of_lot->len, m->lots->len);
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    const GArray *own = m->of_lot->pdata[lot];
    guint n = 0;
    for (uint32_t i = 0; i < m->records->len; i++) {
      if (!says_of_lot(&g_array_index(m->records, lzq_record, i), lot))
        continue;
      ck_assert_uint_lt(n, own->len);
      ck_assert_uint_eq(g_array_index(own, uint32_t, n), i);
      n++;
    }
    ck_assert_uint_eq(n, own->len);
  }
}

void
book_places_as_the_engine_has_them(int step)
{
  const lzq_plan *plan = lz_desk_plan(lab.desk);
  for (uint32_t i = 0; i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    const LzPlace place = lz_place_of(lab.desk->model, i, plan->now);
    ck_assert_msg(place.released == lot->released && place.merged == lot->merged, "step %d, lot %u",
                  step, i);
    if (!place.received || place.released || place.merged)
      continue;
    ck_assert_msg(lz_place_lives(&place) == !lot->dead, "step %d, lot %u: %d fish", step, i,
                  place.heads);
    ck_assert_msg(place.heads == lot->heads, "step %d, lot %u: %d and %d fish", step, i,
                  place.heads, lot->heads);
    if (lot->dead)
      continue;
    ck_assert_uint_eq(place.system, lot->system);
    ck_assert_uint_eq(place.protocol, lot->has_course ? lot->protocol : LZQ_NONE);
  }
}
