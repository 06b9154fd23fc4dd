// SPDX-License-Identifier: GPL-3.0-or-later
// Plain entries that were left in the file. Four of five entries of a large station are readings,
// changes, top-ups and feeds that nobody will look at again; what they say is in the engine's
// record. In the place of one that was left stands its id.
#include "lz_model.h"

// An entry's address is even; an id has a place of its own beside them as an odd number.
static gboolean
is_left(gconstpointer place)
{
  return ((guintptr)place & 1) != 0;
}

gpointer
lz_model_left_as(int64_t id)
{
  return (gpointer)((guintptr)id << 1 | 1); // NOLINT(performance-no-int-to-ptr)
}
G_STATIC_ASSERT(sizeof(gpointer) == sizeof(int64_t));

void
lz_model_place_free(gpointer place)
{
  if (!is_left(place))
    lz_entry_unref(place);
}

LzEntry *
lz_model_kept(const LzModel *m, guint place)
{
  const gpointer p = m->entries->pdata[place];
  return is_left(p) ? NULL : p;
}

int64_t
lz_model_id_at(const LzModel *m, guint place)
{
  const LzEntry *e = lz_model_kept(m, place);
  return e ? e->id : (int64_t)((guintptr)m->entries->pdata[place] >> 1);
}

guint
lz_model_place(const LzModel *m, int64_t id)
{
  guint low = 0, high = m->entries->len;
  while (low < high) {
    const guint middle = low + (high - low) / 2;
    if (lz_model_id_at(m, middle) < id)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

gboolean
lz_model_is_plain(const LzEntry *e)
{
  if (e->corrects || e->entity)
    return FALSE;
  return e->kind == LZS_READING || e->kind == LZS_CHANGE || e->kind == LZS_TOPUP ||
         (e->kind == LZS_FEED && !lz_entry_has(e, "bottle"));
}

const lzs_kind_spec *
lz_model_kind_of(const LzModel *m, int64_t id)
{
  const guint place = lz_model_place(m, id);
  if (place >= m->entries->len || lz_model_id_at(m, place) != id)
    return NULL;
  const LzEntry *e = lz_model_kept(m, place);
  if (e)
    return e->spec;
  const lzq_record *r = lz_model_record_of(m, id);
  switch (r ? (lzq_record_kind)r->kind : LZQ_N_RECORD_KINDS) {
  case LZQ_REC_READING: return lzs_kind_get(LZS_READING);
  case LZQ_REC_CHANGE: return lzs_kind_get(LZS_CHANGE);
  case LZQ_REC_TOPUP: return lzs_kind_get(LZS_TOPUP);
  case LZQ_REC_FEED: return lzs_kind_get(LZS_FEED);
  default: return NULL;
  }
}

const GPtrArray *
lz_model_naming_bottles(const LzModel *m, lzs_kind kind)
{
  return kind == LZS_FEED ? m->medicated : m->of_kind[kind];
}

void
lz_model_leave(LzModel *m, guint newest)
{
  if (!m->fetch)
    return;
  for (guint i = m->leave_from; i + newest < m->entries->len; i++) {
    LzEntry *e = lz_model_kept(m, i);
    if (e && !e->corrected && lz_model_is_plain(e)) {
      m->entries->pdata[i] = lz_model_left_as(e->id);
      lz_entry_unref(e);
      m->left++;
    }
    m->leave_from = i + 1;
  }
}

// --- and got again

// Puts in what was read; how many of them had been left.
static guint
put_back(LzModel *m, GPtrArray *read)
{
  guint n = 0;
  for (guint k = 0; k < read->len; k++) {
    LzEntry *e = read->pdata[k];
    const guint place = lz_model_place(m, e->id);
    if (place >= m->entries->len || lz_model_kept(m, place) || lz_model_id_at(m, place) != e->id)
      continue;
    e->corrected = g_hash_table_contains(m->corrected, &e->id);
    m->entries->pdata[place] = lz_entry_ref(e);
    m->left--;
    n++;
  }
  return n;
}

LzEntry *
lz_model_at(const LzModel *m, guint place)
{
  LzEntry *e = lz_model_kept(m, place);
  if (e)
    return e;
  const guint first = place - place % m->fetch_block;
  g_autoptr(GPtrArray) read = m->fetch(m->fetch_data, lz_model_id_at(m, first) - 1, m->fetch_block);
  if (read)
    put_back((LzModel *)m, read); // what is in it does not change by where it lies
  return lz_model_kept(m, place);
}

LzEntry *
lz_model_walk(LzModelWalk *walk, const LzModel *m, guint place)
{
  LzEntry *e = lz_model_kept(m, place);
  if (e)
    return e;
  const guint first = place - place % m->fetch_block;
  if (!walk->block || walk->first != first) {
    lz_model_walk_clear(walk);
    walk->block = m->fetch(m->fetch_data, lz_model_id_at(m, first) - 1, m->fetch_block);
    walk->first = first;
  }
  if (!walk->block || place - first >= walk->block->len)
    return NULL;
  e = walk->block->pdata[place - first];
  if (e->id != lz_model_id_at(m, place))
    return NULL;
  e->corrected = g_hash_table_contains(m->corrected, &e->id);
  return e;
}

void
lz_model_walk_clear(LzModelWalk *walk)
{
  g_clear_pointer(&walk->block, g_ptr_array_unref);
}

gboolean
lz_model_fetch_all(LzModel *m)
{
  for (guint i = 0; m->left && i < m->entries->len; i++)
    if (!lz_model_at(m, i))
      return FALSE;
  return TRUE;
}

// --- when all is applied anew

// Whether with and without that entry every water, instrument and lot has the same place, and every
// minute the same station day.
static gboolean
leaves_places(const LzModel *m, const LzEntry *e)
{
  if (!e->corrects || e->kind == LZS_PERSON || e->kind == LZS_SPECIES || e->kind == LZS_BOTTLE)
    return TRUE;
  if (e->kind == LZS_STATION)
    return FALSE; // its zone says which day it is
  if (!e->spec->setup && e->kind != LZS_SPLIT)
    return TRUE;
  if (e->voided)
    return FALSE;
  // what was taken away and is there again moves those behind it
  for (guint i = lz_model_place(m, e->corrects); i < m->entries->len; i++) {
    const LzEntry *other = lz_model_kept(m, i);
    if (other && other->corrects == e->corrects && other->voided)
      return FALSE;
  }
  return TRUE;
}

gboolean
lz_model_left_stays(const LzModel *m, guint n)
{
  for (guint i = m->entries->len - n; m->left && i < m->entries->len; i++) {
    const LzEntry *e = lz_model_kept(m, i);
    if (e && !leaves_places(m, e))
      return FALSE;
  }
  return TRUE;
}
