// SPDX-License-Identifier: GPL-3.0-or-later
// Looking things up in the ledger in memory: entries by id, entities by id, index and name.
#include <stdlib.h>
#include <string.h>

#include "lz_model.h"

int64_t
lz_model_last_id(const LzModel *m)
{
  if (m->entries->len == 0)
    return 0;
  return lz_model_id_at(m, m->entries->len - 1);
}

LzEntry *
lz_model_entry(const LzModel *m, int64_t id)
{
  const guint place = lz_model_place(m, id);
  return place < m->entries->len && lz_model_id_at(m, place) == id ? lz_model_at(m, place) : NULL;
}

LzEntry *
lz_model_in_force(const LzModel *m, LzEntry *first)
{
  if (!first->corrected) // nearly all: they need not be looked up
    return first;
  LzEntry *last = g_hash_table_lookup(m->corrected, &first->id);
  return last->voided ? NULL : last;
}

LzEntity *
lz_model_entity(const LzModel *m, int64_t id)
{
  return g_hash_table_lookup(m->entities, &id);
}

LzEntity *
lz_model_entity_at(const LzModel *m, lzs_kind kind, uint32_t index)
{
  const GPtrArray *list = m->by_kind[kind];
  if (index < list->len && kind != LZS_PHASE)
    return list->pdata[index];
  for (guint i = 0; kind == LZS_PHASE && i < list->len; i++) {
    LzEntity *phase = list->pdata[i];
    if (phase->index == index)
      return phase;
  }
  return NULL;
}

uint32_t
lz_model_index(const LzModel *m, lzs_kind kind, int64_t id)
{
  const LzEntity *entity = id > 0 ? lz_model_entity(m, id) : NULL;
  return entity && entity->kind == kind ? entity->index : LZQ_NONE;
}

LzEntity *
lz_model_newest_protocol(const LzModel *m, const char *name)
{
  g_autofree char *wanted = g_utf8_casefold(name, -1);
  LzEntity *newest = NULL;
  for (guint i = 0; i < m->by_kind[LZS_PROTOCOL]->len; i++) {
    LzEntity *entity = m->by_kind[LZS_PROTOCOL]->pdata[i];
    g_autofree char *folded = g_utf8_casefold(lz_entry_text(entity->now, "name"), -1);
    if (g_str_equal(folded, wanted) &&
        (!newest || lz_entry_int(entity->now, "version") >= lz_entry_int(newest->now, "version")))
      newest = entity;
  }
  return newest;
}

LzEntity *
lz_model_find(const LzModel *m, lzs_kind kind, const char *name)
{
  if (name[0] == '#') {
    char *end = NULL;
    int64_t id = g_ascii_strtoll(name + 1, &end, 10);
    LzEntity *entity = end != name + 1 && *end == '\0' ? lz_model_entity(m, id) : NULL;
    return entity && entity->kind == kind ? entity : NULL;
  }
  if (kind == LZS_PERSON)
    return lz_model_person_by_initials(m, name);
  g_autofree char *folded = g_utf8_casefold(name, -1);
  g_autofree char *key = g_strdup_printf("%d:%s", kind, folded);
  LzEntity *entity = g_hash_table_lookup(m->names, key);
  return !entity && kind == LZS_PROTOCOL ? lz_model_newest_protocol(m, name) : entity;
}

LzPerson *
lz_model_person(const LzModel *m, int64_t id)
{
  return g_hash_table_lookup(m->people, &id);
}

static gboolean
same_letters(const char *a, const char *b)
{
  if (g_ascii_strcasecmp(a, b) == 0)
    return TRUE;
  if (g_str_is_ascii(a) && g_str_is_ascii(b))
    return FALSE;
  g_autofree char *one = g_utf8_casefold(a, -1), *other = g_utf8_casefold(b, -1);
  return g_str_equal(one, other);
}

LzEntity *
lz_model_person_by_initials(const LzModel *m, const char *initials)
{
  for (guint i = m->by_kind[LZS_PERSON]->len; i-- > 0;) {
    LzEntity *entity = m->by_kind[LZS_PERSON]->pdata[i];
    const LzPerson *person = lz_model_person(m, entity->id);
    if (person && *person->initials && same_letters(person->initials, initials))
      return entity;
  }
  return NULL;
}

void
lz_model_name_person(LzModel *m, int64_t id, const char *name, const char *initials,
                     const char *contact)
{
  LzPerson *person = g_new0(LzPerson, 1);
  person->id = id;
  person->name = g_strdup(name ? name : "");
  person->initials = g_strdup(initials ? initials : "");
  person->contact = g_strdup(contact ? contact : "");
  g_hash_table_replace(m->people, &person->id, person);
}

gboolean
lz_model_record_holds(const LzModel *m, uint32_t index)
{
  const lzq_record *record = &g_array_index(m->records, lzq_record, index);
  return !record->voided && !m->replaced->data[index];
}

guint
lz_model_record_since(const LzModel *m, guint index, lzq_minute from)
{
  while (index < m->records->len &&
         g_array_index(m->latest, lzq_minute, index / LZ_LATEST_OF) < from)
    index = (index / LZ_LATEST_OF + 1) * LZ_LATEST_OF;
  return MIN(index, m->records->len);
}

guint
lz_model_first_since(const LzModel *m, const GArray *indices, lzq_minute from)
{
  const uint32_t since = lz_model_record_since(m, 0, from);
  guint low = 0, high = indices->len;
  while (low < high) {
    const guint middle = low + (high - low) / 2;
    if (g_array_index(indices, uint32_t, middle) < since)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

int
lz_model_by_acting(gconstpointer a, gconstpointer b, gpointer model)
{
  const LzRecordArray *records = ((const LzModel *)model)->records;
  const lzq_record *ra = &g_array_index(records, lzq_record, *(const uint32_t *)a);
  const lzq_record *rb = &g_array_index(records, lzq_record, *(const uint32_t *)b);
  if (ra->at != rb->at)
    return ra->at < rb->at ? -1 : 1;
  if (ra->kind != rb->kind)
    return ra->kind < rb->kind ? -1 : 1;
  uint64_t oa = ra->corrects ? ra->corrects : ra->id, ob = rb->corrects ? rb->corrects : rb->id;
  return oa < ob ? -1 : oa > ob;
}

static const char *
label_of(const LzModel *m, int64_t id)
{
  const LzEntity *entity = lz_model_entity(m, id);
  return entity ? entity->label : "?";
}

char *
lz_model_label(const LzModel *m, const LzEntry *entry)
{
  const char *label = entry->spec->label;
  switch (entry->kind) {
  case LZS_TANK:
    return g_strdup_printf("%s/%d", label_of(m, lz_entry_int(entry, "system")),
                           (int)lz_entry_int(entry, "number"));
  case LZS_PROTOCOL:
    return g_strdup_printf("%s/%d", lz_entry_text(entry, "name"),
                           (int)lz_entry_int(entry, "version"));
  case LZS_PHASE:
    return g_strdup_printf("%s/%d", label_of(m, lz_entry_int(entry, "protocol")),
                           (int)lz_entry_int(entry, "position"));
  case LZS_SPLIT: return g_strdup(lz_entry_text(entry, "code"));
  default: break;
  }
  const char *text = label ? lz_entry_text(entry, label) : NULL;
  return g_strdup(text ? text : "");
}

// A part of a split lot has its parent's.
const LzEntry *
lz_model_species(const LzModel *m, const LzEntity *lot)
{
  while (lot && lot->now->kind == LZS_SPLIT) {
    const LzEntity *parent = lz_model_entity(m, lz_entry_int(lot->now, "lot"));
    lot = parent && parent->id < lot->id ? parent : NULL;
  }
  const LzEntity *species = lot ? lz_model_entity(m, lz_entry_int(lot->now, "species")) : NULL;
  return species && species->kind == LZS_SPECIES ? species->now : NULL;
}
