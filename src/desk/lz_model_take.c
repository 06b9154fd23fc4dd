// SPDX-License-Identifier: GPL-3.0-or-later
// A model from records that were made before, where they lie: the entries that are kept make theirs
// anew over them, and must make the same. Records of what is left in the file are not looked at:
// each has one, and the lists in which they stand were kept.
#include <string.h>

#include "lz_model.h"

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

// The places of all entries. FALSE = the kept ones are not among them.
static gboolean
take_places(LzModel *m, GPtrArray *kept, const LzLying *beside)
{
  guint k = 0;
  for (gsize i = 0; i < beside->n_runs; i++) {
    const LzIdRun *run = &beside->runs[i];
    for (int64_t id = run->first; id < run->first + run->n; id++) {
      LzEntry *e = k < kept->len ? kept->pdata[k] : NULL;
      if (!e || e->id != id) {
        g_ptr_array_add(m->entries, lz_model_left_as(id));
        m->left++;
        continue;
      }
      g_ptr_array_add(m->entries, lz_entry_ref(e));
      if (m->of_kind[e->kind])
        g_ptr_array_add(m->of_kind[e->kind], e);
      k++;
    }
  }
  return k == kept->len;
}

// Applies a kept entry where its records lie already. FALSE = it makes others today.
static gboolean
makes_these(LzModel *m, LzEntry *e)
{
  lzq_record lay[LZ_RECORDS_PER_ENTRY];
  const guint from = m->records->len;
  guint n = 0;
  const lzq_record *there = &g_array_index(m->records, lzq_record, from);
  for (; n < LZ_RECORDS_PER_ENTRY && from + n < m->records->lying &&
         (int64_t)(there[n].id / LZ_RECORDS_PER_ENTRY) == e->id;
       n++)
    lay[n] = there[n];
  lz_model_apply_one(m, e);
  there = &g_array_index(m->records, lzq_record, from);
  // NOLINTNEXTLINE(bugprone-suspicious-memory-comparison): a NaN equals itself
  return m->records->len == from + n && memcmp(lay, there, n * sizeof *lay) == 0;
}

// Whether the last of what was left, before that place, has its record where it should.
static gboolean
lies_right(const LzModel *m, guint place, guint len)
{
  const lzq_record *r = &g_array_index(m->records, lzq_record, len - 1);
  return len <= m->records->lying && !r->corrects &&
         r->id == (uint64_t)lz_model_id_at(m, place - 1) * LZ_RECORDS_PER_ENTRY;
}

static gboolean
take_records(LzModel *m)
{
  LzRecordArray *records = m->records;
  for (guint i = 0; i < m->entries->len;) {
    const guint before = i;
    while (i < m->entries->len && !lz_model_kept(m, i))
      i++;
    if (i > before && (records->lying - records->len < i - before ||
                       !lies_right(m, i, records->len + i - before)))
      return FALSE;
    records->len += i - before;
    if (i < m->entries->len && !makes_these(m, m->entries->pdata[i++]))
      return FALSE;
  }
  return records->len == records->lying;
}

// The kept list of a water stands in the place of the one that the kept entries made, which must be
// part of it.
static gboolean
take_list(GArray *own, const uint32_t *all, gsize n, guint records)
{
  guint k = 0;
  for (gsize i = 0; i < n; i++) {
    if (all[i] >= records || (i && all[i] <= all[i - 1]))
      return FALSE;
    k += k < own->len && g_array_index(own, uint32_t, k) == all[i];
  }
  if (k != own->len)
    return FALSE;
  g_array_set_size(own, 0);
  g_array_append_vals(own, all, (guint)n);
  return TRUE;
}

static gboolean
take_lists(LzModel *m, const LzLying *beside)
{
  if (beside->n_waters != m->of_water->len)
    return FALSE;
  for (guint w = 0; w < m->of_water->len; w++)
    if (!take_list(m->of_water->pdata[w], beside->of_water[w], beside->n_of_water[w],
                   m->records->len))
      return FALSE;
  return TRUE;
}

gboolean
lz_model_take(LzModel *m, GPtrArray *kept, LzRecordArray *records, const LzLying *beside)
{
  const gboolean fit = take_places(m, kept, beside) &&
                       beside->n_latest == (records->lying + LZ_LATEST_OF - 1) / LZ_LATEST_OF;
  lz_model_clear(m);
  lz_record_array_free(m->records);
  m->records = records; // its length is how far they are applied
  if (!fit)
    return FALSE;
  g_array_append_vals(m->latest, beside->latest, (guint)beside->n_latest);
  g_byte_array_set_size(m->replaced, records->lying);
  memset(m->replaced->data, 0, records->lying);
  for (guint k = 0; k < kept->len; k++)
    lz_model_note_correction(m, kept->pdata[k]);
  if (!take_records(m) || !take_lists(m, beside))
    return FALSE;
  for (guint k = 0; k < kept->len; k++)
    lz_model_note_feed(m, kept->pdata[k]);
  return TRUE;
}
