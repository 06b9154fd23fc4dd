// SPDX-License-Identifier: GPL-3.0-or-later
// What waters share besides water: see lz_nets.h.
#include "lz_nets.h"

// The system named by one item of a list; NULL = none, or no name at all.
static LzEntity *
named(const LzModel *m, char *item, gboolean *empty)
{
  g_strstrip(item);
  *empty = *item == '\0';
  return *empty ? NULL : lz_model_find(m, LZS_SYSTEM, item);
}

static gboolean
names(const LzModel *m, const LzEntity *system, uint32_t other)
{
  const char *text = lz_entry_text(system->now, "near");
  g_auto(GStrv) items = g_strsplit_set(text ? text : "", ",;", -1);
  for (guint i = 0; items[i]; i++) {
    gboolean empty;
    const LzEntity *found = named(m, items[i], &empty);
    if (found && found->index == other)
      return TRUE;
  }
  return FALSE;
}

GArray *
lz_nets_near(const LzModel *m, uint32_t system)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  const LzEntity *own = lz_model_entity_at(m, LZS_SYSTEM, system);
  for (uint32_t i = 0; own && i < m->systems->len; i++) {
    const LzEntity *other = lz_model_entity_at(m, LZS_SYSTEM, i);
    if (i != system && other && (names(m, own, i) || names(m, other, system)))
      g_array_append_val(out, i);
  }
  return out;
}

char *
lz_nets_unknown_near(const LzModel *m, const char *near)
{
  g_auto(GStrv) items = g_strsplit_set(near ? near : "", ",;", -1);
  for (guint i = 0; items[i]; i++) {
    gboolean empty;
    if (!named(m, items[i], &empty) && !empty)
      return g_strdup(items[i]);
  }
  return NULL;
}

static gboolean
same_nets(const char *a, const char *b)
{
  g_autofree char *fa = g_utf8_casefold(a ? a : "", -1), *fb = g_utf8_casefold(b ? b : "", -1);
  return *fa && g_str_equal(fa, fb);
}

static lzq_minute
first_copper(const LzModel *m, uint32_t system)
{
  lzq_minute first = LZQ_NEVER;
  const GArray *own = system < m->of_water->len ? m->of_water->pdata[system] : NULL;
  for (guint i = 0; own && i < own->len; i++) {
    uint32_t index = g_array_index(own, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    gboolean dose = r->kind == LZQ_REC_DOSE && r->amount > 0;
    gboolean read = r->kind == LZQ_REC_READING && r->value > LZQ_NONE_LEFT;
    if ((dose || read) && r->analyte == LZQ_COPPER && r->at < first &&
        lz_model_record_holds(m, index))
      first = r->at;
  }
  return first;
}

lzq_minute
lz_nets_set_in_copper(const LzModel *m, const char *nets)
{
  lzq_minute first = LZQ_NEVER;
  // every description counts, also one that no longer holds: a set that once served a copper water
  const GPtrArray *all = m->of_kind[LZS_SYSTEM];
  for (guint i = 0; i < all->len; i++) {
    LzEntry *e = all->pdata[i];
    if (e->voided || !same_nets(nets, lz_entry_text(e, "nets")))
      continue;
    int64_t id = e->entity ? e->entity : e->corrects ? e->corrects : e->id;
    lzq_minute at = first_copper(m, lz_model_index(m, LZS_SYSTEM, id));
    first = MIN(first, at);
  }
  return first;
}

lzq_minute
lz_nets_in_copper(const LzModel *m, uint32_t system)
{
  const LzEntity *own = lz_model_entity_at(m, LZS_SYSTEM, system);
  if (!own)
    return LZQ_NEVER;
  lzq_minute set = lz_nets_set_in_copper(m, lz_entry_text(own->now, "nets"));
  return MIN(first_copper(m, system), set);
}
