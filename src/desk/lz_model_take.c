// SPDX-License-Identifier: GPL-3.0-or-later
// A model as this very build kept it: the entries that are kept say again what is set up; the
// records, and the lists in which they are looked up, stay as they lie. No record is looked at.
#include <string.h>

#include "lz_model.h"

// --- what is kept

GArray *
lz_model_runs(const LzModel *m)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(LzIdRun));
  LzIdRun run = {0};
  for (guint i = 0; i < m->entries->len; i++) {
    const int64_t id = lz_model_id_at(m, i);
    if (run.n && id == run.first + run.n) {
      run.n++;
      continue;
    }
    if (run.n)
      g_array_append_val(out, run);
    run = (LzIdRun){id, 1};
  }
  if (run.n)
    g_array_append_val(out, run);
  return out;
}

GArray *
lz_model_replaced(const LzModel *m)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (uint32_t i = 0; i < m->replaced->len; i++)
    if (m->replaced->data[i])
      g_array_append_val(out, i);
  return out;
}

GArray *
lz_model_held(const LzModel *m)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(LzHeld));
  GHashTableIter iter;
  gpointer first, place;
  g_hash_table_iter_init(&iter, m->held);
  while (g_hash_table_iter_next(&iter, &first, &place)) {
    const LzHeld held = {*(const int64_t *)first, GPOINTER_TO_UINT(place)};
    g_array_append_val(out, held);
  }
  return out;
}

void
lz_model_lists(const LzModel *m, GArray *lists[LZ_MODEL_LISTS])
{
  GArray *all[LZ_MODEL_LISTS] = {m->checks, m->sightings, m->volumes, m->states, m->stands};
  memcpy(lists, all, sizeof all);
}

// --- and taken

// The places of all entries. FALSE = the kept ones are not among them.
static gboolean
take_places(LzModel *m, GPtrArray *kept, const LzLyingList *runs)
{
  const LzIdRun *run = runs->items;
  guint k = 0, n = 0;
  for (gsize i = 0; i < runs->n; i++)
    n += (guint)run[i].n;
  g_ptr_array_set_size(m->entries, (int)n);
  gpointer *place = m->entries->pdata;
  for (gsize i = 0; i < runs->n; i++)
    for (int64_t id = run[i].first; id < run[i].first + run[i].n; id++) {
      LzEntry *e = k < kept->len ? kept->pdata[k] : NULL;
      const gboolean here = e && e->id == id;
      *place++ = here ? lz_entry_ref(e) : lz_model_left_as(id);
      k += here;
    }
  m->left = n - k;
  return k == kept->len;
}

// What the kept entries say, but their records.
static void
take_entries(LzModel *m, GPtrArray *kept)
{
  for (guint k = 0; k < kept->len; k++) {
    LzEntry *e = kept->pdata[k];
    if (m->of_kind[e->kind])
      g_ptr_array_add(m->of_kind[e->kind], e);
    lz_model_note_correction(m, e);
  }
  for (guint k = 0; k < kept->len; k++)
    lz_model_apply_set_up(m, kept->pdata[k]);
}

// FALSE = it speaks of records that there are not.
static gboolean
take_list(GArray *own, const LzLyingList *list, guint records)
{
  const uint32_t *index = list->items;
  uint32_t most = 0;
  for (gsize i = 0; i < list->n; i++)
    most = MAX(most, index[i]);
  g_array_set_size(own, 0);
  if (list->n)
    g_array_append_vals(own, index, (guint)list->n);
  return list->n == 0 || most < records;
}

static gboolean
take_each(GPtrArray *own, const LzLyingList *lists, gsize n, guint records)
{
  gboolean ok = n == own->len;
  for (guint i = 0; ok && i < n; i++)
    ok = take_list(own->pdata[i], &lists[i], records);
  return ok;
}

static gboolean
take_replaced(LzModel *m, const LzLying *l, guint records)
{
  const uint32_t *replaced = l->replaced.items;
  const LzHeld *held = l->held.items;
  g_byte_array_set_size(m->replaced, records);
  if (records)
    memset(m->replaced->data, 0, records);
  for (gsize i = 0; i < l->replaced.n; i++) {
    if (replaced[i] >= records)
      return FALSE;
    m->replaced->data[replaced[i]] = 1;
  }
  for (gsize i = 0; i < l->held.n; i++) {
    int64_t *first = g_new(int64_t, 1);
    *first = held[i].first;
    g_hash_table_replace(m->held, first, GUINT_TO_POINTER((guint)held[i].place));
    if (held[i].place == 0 || held[i].place > records)
      return FALSE;
  }
  return TRUE;
}

static gboolean
take_lists(LzModel *m, const LzLying *l, guint records)
{
  GArray *lists[LZ_MODEL_LISTS];
  gboolean ok = l->latest.n == (records + LZ_LATEST_OF - 1) / LZ_LATEST_OF;
  lz_model_lists(m, lists);
  for (int i = 0; i < LZ_MODEL_LISTS; i++)
    ok = ok && take_list(lists[i], &l->lists[i], records);
  if (ok && l->latest.n)
    g_array_append_vals(m->latest, l->latest.items, (guint)l->latest.n);
  return ok && take_replaced(m, l, records) &&
         take_each(m->of_water, l->of_water, l->n_waters, records) &&
         take_each(m->of_lot, l->of_lot, l->n_lots, records);
}

gboolean
lz_model_take(LzModel *m, GPtrArray *kept, LzRecordArray *records, const LzLying *lying)
{
  lz_model_clear(m);
  lz_record_array_free(m->records);
  m->records = records;
  if (!take_places(m, kept, &lying->runs))
    return FALSE;
  take_entries(m, kept);
  records->len = records->lying;
  if (!take_lists(m, lying, records->len))
    return FALSE;
  for (guint k = 0; k < kept->len; k++)
    lz_model_note_feed(m, kept->pdata[k]);
  return TRUE;
}
