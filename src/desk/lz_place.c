// SPDX-License-Identifier: GPL-3.0-or-later
// Where a lot stands, from its own acts: see lz_place.h. What counts of an act, and which changes
// nothing, is the engine's (lzq_acts.c); a property test holds the two against each other.
#include "lz_place.h"

static void
stand(const LzModel *m, LzPlace *place, uint32_t tank)
{
  place->tank = tank;
  place->system = tank < m->tanks->len ? g_array_index(m->tanks, lzq_tank, tank).system : LZQ_NONE;
}

static gboolean
is_dead(const LzPlace *place)
{
  return place->counted && place->heads == 0;
}

// Fish that were given up as dead and are counted again come back without a course.
static void
count(LzPlace *place, int64_t heads)
{
  if (is_dead(place) && heads > 0)
    place->protocol = LZQ_NONE;
  place->heads = (int32_t)CLAMP(heads, 0, G_MAXINT32);
  place->counted = TRUE;
}

static gboolean
is_gone(const LzPlace *place)
{
  return place->released || place->merged || is_dead(place);
}

// An act on a lot that is not here changes nothing; a count may bring dead fish back.
static gboolean
may_act(const LzPlace *place, uint8_t kind)
{
  if (place->released || place->merged)
    return FALSE;
  if (kind == LZQ_REC_RECEIVE)
    return TRUE;
  return place->received && (kind == LZQ_REC_COUNT || !is_dead(place));
}

static gboolean
is_free(const LzPlace *part)
{
  return !part->received && part->system == LZQ_NONE && !is_gone(part);
}

// The part begins where its parent stands.
static void
split(const lzq_record *r, LzPlace *lot, LzPlace *part)
{
  if (!is_free(part))
    return; // that number is another lot already
  *part = *lot;
  part->counted = FALSE;
  count(part, r->heads);
  count(lot, (int64_t)lot->heads - r->heads);
}

static void
merge(LzPlace *lot, LzPlace *into)
{
  if (!into->received || is_gone(into) || into->protocol != lot->protocol)
    return;
  count(into, (int64_t)into->heads + lot->heads);
  lot->merged = TRUE;
  lot->heads = 0;
}

static void
act(const LzModel *m, const lzq_record *r, LzPlace *lot, LzPlace *other)
{
  if (!may_act(lot, r->kind))
    return;
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_RECEIVE:
    if (!lot->received)
      lot->received_at = r->at;
    lot->received = TRUE;
    stand(m, lot, r->tank);
    count(lot, r->heads);
    break;
  case LZQ_REC_COUNT: count(lot, r->heads); break;
  case LZQ_REC_DEATH: count(lot, (int64_t)lot->heads - r->heads); break;
  case LZQ_REC_SPLIT: split(r, lot, other); break;
  case LZQ_REC_MOVE: stand(m, lot, r->tank); break;
  case LZQ_REC_MERGE: merge(lot, other); break;
  case LZQ_REC_STOP: lot->protocol = LZQ_NONE; break;
  case LZQ_REC_COURSE: lot->protocol = r->protocol; break;
  case LZQ_REC_RELEASE: lot->released = TRUE; break;
  default: break;
  }
}

// --- the lots that splits and merges tie together, each with its place

typedef struct {
  LzModel *model;
  GHashTable *place;  // lot -> LzPlace
  GArray *lots, *own; // uint32_t: lots in the order found; records that act on one of them
} Family;

static LzPlace *
member(Family *f, uint32_t lot)
{
  LzPlace *place = g_hash_table_lookup(f->place, GUINT_TO_POINTER(lot));
  if (place)
    return place;
  place = g_new(LzPlace, 1);
  *place = (LzPlace){
      .tank = LZQ_NONE, .system = LZQ_NONE, .protocol = LZQ_NONE, .received_at = LZQ_NEVER};
  g_hash_table_insert(f->place, GUINT_TO_POINTER(lot), place);
  g_array_append_val(f->lots, lot);
  return place;
}

static void
gather(Family *f, uint32_t lot, lzq_minute at)
{
  const GArray *all = lot < f->model->of_lot->len ? f->model->of_lot->pdata[lot] : NULL;
  for (guint i = 0; all && i < all->len; i++) {
    const uint32_t index = g_array_index(all, uint32_t, i);
    const lzq_record *r = &g_array_index(f->model->records, lzq_record, index);
    if (r->at > at || !lz_model_record_holds(f->model, index))
      continue;
    if (r->kind == LZQ_REC_SPLIT || r->kind == LZQ_REC_MERGE) {
      member(f, r->lot);
      member(f, r->other);
    }
    if (r->lot == lot)
      g_array_append_val(f->own, index);
  }
}

LzPlace
lz_place_of(LzModel *m, uint32_t lot, lzq_minute at)
{
  Family f = {m, g_hash_table_new_full(NULL, NULL, NULL, g_free),
              g_array_new(FALSE, FALSE, sizeof(uint32_t)),
              g_array_new(FALSE, FALSE, sizeof(uint32_t))};
  member(&f, lot);
  for (guint i = 0; i < f.lots->len; i++) // which grows
    gather(&f, g_array_index(f.lots, uint32_t, i), at);
  g_array_sort_with_data(f.own, lz_model_by_acting, m);
  for (guint i = 0; i < f.own->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, g_array_index(f.own, uint32_t, i));
    act(m, r, member(&f, r->lot), member(&f, r->other));
  }
  const LzPlace place = *member(&f, lot);
  g_hash_table_unref(f.place);
  g_array_unref(f.lots);
  g_array_unref(f.own);
  return place;
}

gboolean
lz_place_lives(const LzPlace *place)
{
  return place->heads > 0 && !place->released && !place->merged;
}

gboolean
lz_place_any_lives(LzModel *model, uint32_t system, lzq_minute at)
{
  for (uint32_t lot = 0; lot < model->lots->len; lot++) {
    LzPlace place = lz_place_of(model, lot, at);
    if (place.system == system && lz_place_lives(&place))
      return TRUE;
  }
  return FALSE;
}
