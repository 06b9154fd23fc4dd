// SPDX-License-Identifier: GPL-3.0-or-later
// Facts by kind and time. Times of writing never run backwards, and a fact is written when it has
// happened, or as much earlier as an entry of this file ever was: so whoever asks for what happened
// of late need not look at the years before.
#include "lz_model.h"

#define MINUTE_MS 60000

void
lz_model_stamped(LzModel *m, guint n)
{
  for (guint i = m->entries->len - n; i < m->entries->len; i++) {
    const LzEntry *e = m->entries->pdata[i];
    if (e->recorded_ms == 0) // only tried so far
      continue;
    const LzEntry *before = i ? m->entries->pdata[i - 1] : e;
    m->disordered = m->disordered || e->recorded_ms < before->recorded_ms;
    m->ahead_min = MAX(m->ahead_min, e->at - e->recorded_ms / MINUTE_MS);
  }
}

static gboolean
holds(const LzModel *m, LzEntry *e, LzEntry **first)
{
  *first = e->corrects ? lz_model_entry(m, e->corrects) : e;
  return *first && lz_model_in_force(m, *first) == e;
}

static void
since(const LzModel *m, lzs_kind kind, lzq_minute from, lzq_minute until, LzFactFound found,
      gpointer data)
{
  for (guint i = m->entries->len; i-- > 0;) {
    LzEntry *e = lz_model_at(m, i), *first;
    if (!e)
      continue;
    if (e->recorded_ms != 0 && e->recorded_ms / MINUTE_MS < from - m->ahead_min)
      return;
    if (e->at >= from && e->at < until && holds(m, e, &first) &&
        (kind == LZS_N_KINDS || first->kind == kind))
      found(data, e);
  }
}

void
lz_model_facts(LzModel *m, lzs_kind kind, lzq_minute from, lzq_minute until, LzFactFound found,
               gpointer data)
{
  const GPtrArray *all = kind < LZS_N_KINDS ? m->of_kind[kind] : NULL;
  if (!all && from > 0 && !m->disordered) {
    since(m, kind, from, until, found, data);
    return;
  }
  all = all ? all : m->entries;
  for (guint i = 0; i < all->len; i++) {
    LzEntry *first = all == m->entries ? lz_model_at(m, i) : all->pdata[i];
    if (!first || first->corrects || (kind < LZS_N_KINDS && first->kind != kind))
      continue;
    LzEntry *e = lz_model_in_force(m, first);
    if (e && e->at >= from && e->at < until)
      found(data, e);
  }
}
