// SPDX-License-Identifier: GPL-3.0-or-later
// Where a lot stands, from its own acts: see lz_place.h.
#include "lz_place.h"

static void
stand(const LzModel *m, LzPlace *place, uint32_t tank)
{
  place->tank = tank;
  place->system = tank < m->tanks->len ? g_array_index(m->tanks, lzq_tank, tank).system : LZQ_NONE;
}

static void
split(LzModel *m, const lzq_record *r, uint32_t lot, LzPlace *place)
{
  if (r->lot == lot) {
    place->heads -= r->heads;
    return;
  }
  // the child begins where its parent stands; a child's id is above its parent's, so this ends
  LzPlace parent = r->lot < lot ? lz_place_of(m, r->lot, r->at)
                                : (LzPlace){.tank = LZQ_NONE, .system = LZQ_NONE};
  *place = parent;
  place->heads = r->heads;
}

static void
act(LzModel *m, const lzq_record *r, uint32_t lot, LzPlace *place)
{
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_RECEIVE:
    place->received = TRUE;
    place->received_at = r->at;
    place->heads = r->heads;
    stand(m, place, r->tank);
    break;
  case LZQ_REC_COUNT: place->heads = r->heads; break;
  case LZQ_REC_DEATH: place->heads -= r->heads; break;
  case LZQ_REC_SPLIT: split(m, r, lot, place); break;
  case LZQ_REC_MOVE: stand(m, place, r->tank); break;
  case LZQ_REC_MERGE:
    if (r->lot == lot) {
      place->merged = TRUE;
      place->heads = 0;
    } else if (r->lot < m->lots->len && r->lot != lot) {
      place->heads += lz_place_of(m, r->lot, r->at - 1).heads;
    }
    break;
  case LZQ_REC_STOP: place->protocol = LZQ_NONE; break;
  case LZQ_REC_COURSE: place->protocol = r->protocol; break;
  case LZQ_REC_RELEASE: place->released = TRUE; break;
  default: break;
  }
}

LzPlace
lz_place_of(LzModel *m, uint32_t lot, lzq_minute at)
{
  LzPlace place = {
      .tank = LZQ_NONE, .system = LZQ_NONE, .protocol = LZQ_NONE, .received_at = LZQ_NEVER};
  if (lot >= m->of_lot->len)
    return place;
  const GArray *all = m->of_lot->pdata[lot];
  g_autoptr(GArray) own = g_array_sized_new(FALSE, FALSE, sizeof(uint32_t), all->len);
  for (guint i = 0; i < all->len; i++) {
    const uint32_t index = g_array_index(all, uint32_t, i);
    if (g_array_index(m->records, lzq_record, index).at <= at && lz_model_record_holds(m, index))
      g_array_append_val(own, index);
  }
  g_array_sort_with_data(own, lz_model_by_acting, m);
  for (guint i = 0; i < own->len; i++)
    act(m, &g_array_index(m->records, lzq_record, g_array_index(own, uint32_t, i)), lot, &place);
  return place;
}

gboolean
lz_place_lives(const LzPlace *place)
{
  return place->heads > 0 && !place->released && !place->merged;
}

gboolean
lz_place_any_lives(LzModel *m, uint32_t system, lzq_minute at)
{
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    LzPlace place = lz_place_of(m, lot, at);
    if (place.system == system && lz_place_lives(&place))
      return TRUE;
  }
  return FALSE;
}
