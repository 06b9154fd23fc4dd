// SPDX-License-Identifier: GPL-3.0-or-later
// Entries that were only tried, or could not be written, taken off the model again.
#include "lz_model.h"

static gboolean
is_gone(gpointer id, gpointer person, gpointer model)
{
  return !lz_model_entity(model, *(int64_t *)id);
}

// Entries that left nothing behind but records at the end, and a count of courses.
static gboolean
only_records(const LzModel *m, guint n)
{
  for (guint i = m->entries->len - n; i < m->entries->len; i++) {
    const LzEntry *e = m->entries->pdata[i];
    if (e->spec->setup || e->corrects || e->kind == LZS_SPLIT || e->kind == LZS_PRACTICE)
      return FALSE;
  }
  return TRUE;
}

static void
pop_index(GArray *indices, guint index)
{
  if (indices->len && g_array_index(indices, uint32_t, indices->len - 1) == index)
    g_array_set_size(indices, indices->len - 1);
}

static void
drop_entries(LzModel *m, guint n)
{
  for (guint i = 0; i < n; i++) {
    const LzEntry *last = m->entries->pdata[m->entries->len - 1];
    GPtrArray *own = last->kind == LZS_FEED ? m->medicated : m->of_kind[last->kind];
    if (own && own->len && own->pdata[own->len - 1] == last)
      g_ptr_array_set_size(own, (int)own->len - 1);
    g_ptr_array_set_size(m->entries, (int)m->entries->len - 1);
  }
}

static void
drop_records(LzModel *m, guint n)
{
  const LzEntry *first = m->entries->pdata[m->entries->len - n];
  const uint64_t id = (uint64_t)first->id * LZ_RECORDS_PER_ENTRY;
  for (guint len = m->records->len; len; len = m->records->len) {
    const lzq_record *last = &g_array_index(m->records, lzq_record, len - 1);
    if (last->id < id)
      break;
    if (last->system < m->of_water->len)
      pop_index(m->of_water->pdata[last->system], len - 1);
    if (last->lot < m->of_lot->len)
      pop_index(m->of_lot->pdata[last->lot], len - 1);
    if (last->other < m->of_lot->len)
      pop_index(m->of_lot->pdata[last->other], len - 1);
    pop_index(m->checks, len - 1);
    pop_index(m->sightings, len - 1);
    pop_index(m->volumes, len - 1);
    pop_index(m->states, len - 1);
    pop_index(m->stands, len - 1);
    g_byte_array_set_size(m->replaced, len - 1);
    lz_record_array_cut(m->records, len - 1);
  }
  for (guint i = m->entries->len - n; i < m->entries->len; i++)
    m->courses -= ((const LzEntry *)m->entries->pdata[i])->kind == LZS_COURSE;
  drop_entries(m, n);
  m->generation++;
}

void
lz_model_drop(LzModel *m, guint n)
{
  n = MIN(n, m->entries->len);
  if (n == 0)
    return;
  if (only_records(m, n)) {
    drop_records(m, n);
    return;
  }
  if (!lz_model_left_stays(m, n))
    lz_model_fetch_all(m);
  drop_entries(m, n);
  lz_model_apply_anew(m);
  g_hash_table_foreach_remove(m->people, is_gone, m);
}
