// SPDX-License-Identifier: GPL-3.0-or-later
// A model from records that were made before, where they lie: the entries that are kept make theirs
// anew over them, and must make the same.
#include <string.h>

#include "lz_model.h"

// The places of all entries, by the records of what is left and the entries that are kept.
static void
take_places(LzModel *m, GPtrArray *kept, const lzq_record *records, gsize n)
{
  guint k = 0;
  for (gsize r = 0; r < n || k < kept->len;) {
    LzEntry *e = k < kept->len ? kept->pdata[k] : NULL;
    const int64_t id = r < n ? (int64_t)(records[r].id / LZ_RECORDS_PER_ENTRY) : INT64_MAX;
    if (!e || id < e->id) {
      g_ptr_array_add(m->entries, lz_model_left_as(id));
      m->left++;
      r++;
      continue;
    }
    g_ptr_array_add(m->entries, lz_entry_ref(e));
    if (m->of_kind[e->kind])
      g_ptr_array_add(m->of_kind[e->kind], e);
    for (; r < n && (int64_t)(records[r].id / LZ_RECORDS_PER_ENTRY) == e->id; r++)
      ;
    k++;
  }
}

// Applies a kept entry where its n records lie already. FALSE = it makes others today.
static gboolean
makes_these(LzModel *m, LzEntry *e, gsize n)
{
  lzq_record lay[LZ_RECORDS_PER_ENTRY];
  const guint from = m->records->len;
  if (n > LZ_RECORDS_PER_ENTRY)
    return FALSE;
  lzq_record *there = &g_array_index(m->records, lzq_record, from);
  memcpy(lay, there, n * sizeof *lay);
  lz_model_apply_one(m, e);
  there = &g_array_index(m->records, lzq_record, from);
  // NOLINTNEXTLINE(bugprone-suspicious-memory-comparison): a NaN equals itself
  return m->records->len == from + n && memcmp(lay, there, n * sizeof *lay) == 0;
}

gboolean
lz_model_take(LzModel *m, GPtrArray *kept, LzRecordArray *records)
{
  const guint n = records->lying;
  guint k = 0;
  take_places(m, kept, (const lzq_record *)(const void *)records->data, n);
  lz_model_clear(m);
  lz_record_array_free(m->records);
  m->records = records; // its length is how far they are applied
  for (k = 0; k < kept->len; k++)
    lz_model_note_correction(m, kept->pdata[k]);
  for (guint i = 0, r = 0; i < m->entries->len; i++, r = m->records->len) {
    const uint64_t id = (uint64_t)lz_model_id_at(m, i);
    LzEntry *e = lz_model_kept(m, i);
    guint end = r;
    while (end < n && g_array_index(records, lzq_record, end).id / LZ_RECORDS_PER_ENTRY == id)
      end++;
    if (e ? !makes_these(m, e, end - r) : end != r + 1)
      return FALSE;
    if (!e)
      lz_model_put_next(m);
  }
  for (k = 0; k < kept->len; k++)
    lz_model_note_feed(m, kept->pdata[k]);
  return m->records->len == n;
}
