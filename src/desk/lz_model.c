// SPDX-License-Identifier: GPL-3.0-or-later
// The ledger in memory: applying entries, rebuilding. See lz_model.h.
#include "lz_model.h"

#include "lz_trust.h"

#include <math.h>
#include <string.h>

static void
entity_free(gpointer data)
{
  LzEntity *entity = data;
  g_free(entity->label);
  g_free(entity);
}

static void
person_free(gpointer data)
{
  LzPerson *person = data;
  g_free(person->name);
  g_free(person->initials);
  g_free(person->contact);
  g_free(person);
}

void
lz_model_clear(LzModel *m)
{
  g_hash_table_remove_all(m->corrected);
  g_hash_table_remove_all(m->names);
  for (int k = 0; k < LZS_N_KINDS; k++)
    g_ptr_array_set_size(m->by_kind[k], 0);
  g_hash_table_remove_all(m->entities);
  g_hash_table_remove_all(m->held);
  g_ptr_array_set_size(m->of_water, 0);
  g_ptr_array_set_size(m->of_lot, 0);
  GArray *arrays[] = {m->systems, m->tanks,     m->instruments, m->bottles,
                      m->phases,  m->protocols, m->lots};
  for (gsize i = 0; i < G_N_ELEMENTS(arrays); i++)
    g_array_set_size(arrays[i], 0);
  lz_record_array_cut(m->records, 0);
  g_array_set_size(m->checks, 0);
  g_array_set_size(m->sightings, 0);
  g_array_set_size(m->volumes, 0);
  g_array_set_size(m->states, 0);
  g_array_set_size(m->stands, 0);
  g_byte_array_set_size(m->replaced, 0);
  g_array_set_size(m->latest, 0);
  g_hash_table_remove_all(m->nets);
  m->station = NULL;
  m->practice = FALSE;
  m->courses = 0;
  m->generation++;
  m->rebuilds++;
  lz_model_put_station(m);
}

LzModel *
lz_model_new(void)
{
  LzModel *m = g_new0(LzModel, 1);
  m->entries = g_ptr_array_new_with_free_func(lz_model_place_free);
  m->medicated = g_ptr_array_new();
  m->corrected = g_hash_table_new(g_int64_hash, g_int64_equal);
  m->entities = g_hash_table_new_full(g_int64_hash, g_int64_equal, NULL, entity_free);
  m->names = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  m->people = g_hash_table_new_full(g_int64_hash, g_int64_equal, NULL, person_free);
  m->held = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
  m->of_water = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
  m->of_lot = g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref);
  for (int k = 0; k < LZS_N_KINDS; k++) {
    m->by_kind[k] = g_ptr_array_new();
    const gboolean most_plain =
        k == LZS_READING || k == LZS_CHANGE || k == LZS_TOPUP || k == LZS_FEED;
    m->of_kind[k] = most_plain ? NULL : g_ptr_array_new();
  }
  m->systems = g_array_new(FALSE, TRUE, sizeof(lzq_system));
  m->tanks = g_array_new(FALSE, TRUE, sizeof(lzq_tank));
  m->instruments = g_array_new(FALSE, TRUE, sizeof(lzq_instrument));
  m->bottles = g_array_new(FALSE, TRUE, sizeof(lzq_bottle));
  m->phases = g_array_new(FALSE, TRUE, sizeof(lzq_phase));
  m->protocols = g_array_new(FALSE, TRUE, sizeof(lzq_protocol));
  m->lots = g_array_new(FALSE, TRUE, sizeof(lzq_lot));
  m->records = lz_record_array_new(0);
  m->checks = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  m->sightings = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  m->volumes = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  m->states = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  m->stands = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  m->replaced = g_byte_array_new();
  m->latest = g_array_new(FALSE, FALSE, sizeof(lzq_minute));
  m->nets = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  m->slots = g_array_new(FALSE, TRUE, sizeof(lzq_slot));
  lz_model_clear(m);
  return m;
}

void
lz_model_free(LzModel *m)
{
  if (!m)
    return;
  g_hash_table_unref(m->names);
  g_hash_table_unref(m->corrected);
  g_hash_table_unref(m->entities);
  g_hash_table_unref(m->people);
  g_hash_table_unref(m->held);
  g_ptr_array_unref(m->of_water);
  g_ptr_array_unref(m->of_lot);
  g_clear_pointer(&m->stays, g_array_unref);
  g_array_unref(m->checks);
  g_array_unref(m->sightings);
  g_array_unref(m->volumes);
  g_array_unref(m->states);
  g_array_unref(m->stands);
  g_byte_array_unref(m->replaced);
  g_array_unref(m->latest);
  g_hash_table_unref(m->nets);
  for (int k = 0; k < LZS_N_KINDS; k++) {
    g_ptr_array_unref(m->by_kind[k]);
    g_clear_pointer(&m->of_kind[k], g_ptr_array_unref);
  }
  g_ptr_array_unref(m->medicated);
  g_ptr_array_unref(m->entries);
  GArray *arrays[] = {m->systems, m->tanks,     m->instruments, m->bottles,
                      m->phases,  m->protocols, m->lots,        m->slots};
  for (gsize i = 0; i < G_N_ELEMENTS(arrays); i++)
    g_array_unref(arrays[i]);
  lz_record_array_free(m->records);
  lz_zone_unref(m->zone);
  lz_trust_free(m->trust);
  g_free(m);
}

static void
add_name(LzModel *m, LzEntity *entity)
{
  if (!*entity->label)
    return;
  g_autofree char *folded = g_utf8_casefold(entity->label, -1);
  g_hash_table_replace(m->names, g_strdup_printf("%d:%s", entity->kind, folded), entity);
}

static void
add_entity(LzModel *m, lzs_kind kind, LzEntry *entry, LzEntry *described)
{
  LzEntity *entity = g_new0(LzEntity, 1);
  entity->id = entry->id;
  entity->kind = kind;
  entity->index = m->by_kind[kind]->len;
  entity->first = entity->now = described;
  entity->label = lz_model_label(m, described);
  g_hash_table_insert(m->entities, &entity->id, entity);
  g_ptr_array_add(m->by_kind[kind], entity);
  add_name(m, entity);
  lz_model_put_entity(m, entity);
}

// A description that replaces the one before it. Its predecessor gave the past its volume: only the
// last description's other fields hold.
static void
describe_anew(LzModel *m, LzEntity *entity, LzEntry *described)
{
  entity->now = described;
  g_free(entity->label);
  entity->label = lz_model_label(m, described);
  add_name(m, entity);
  lz_model_put_entity(m, entity);
}

void
lz_model_apply_set_up(LzModel *m, LzEntry *entry)
{
  const lzs_kind_spec *spec = entry->spec;
  if (entry->kind == LZS_PRACTICE)
    m->practice = TRUE;
  if (entry->kind == LZS_COURSE)
    m->courses++;
  if (entry->corrects == 0) {
    LzEntry *described = lz_model_in_force(m, entry);
    LzEntity *entity = entry->entity ? lz_model_entity(m, entry->entity) : NULL;
    if (spec->setup && described && entity)
      describe_anew(m, entity, described);
    else if (spec->setup && described && entry->entity == 0)
      add_entity(m, entry->kind, entry, described);
    else if (entry->kind == LZS_SPLIT && described)
      add_entity(m, LZS_LOT, entry, described);
    if (entry->kind == LZS_PROTOCOL || entry->kind == LZS_PHASE || entry->kind == LZS_BAND)
      lz_model_put_protocols(m);
  }
}

void
lz_model_apply_one(LzModel *m, LzEntry *entry)
{
  lz_model_apply_set_up(m, entry);
  lz_model_put_records(m, entry);
}

// What changes the past of set-up, or names made before, is rebuilt; the rest is appended.
gboolean
lz_model_changes_past(const LzEntry *entry)
{
  return (entry->spec->setup && (entry->corrects || entry->entity)) ||
         (entry->kind == LZS_SPLIT && entry->corrects);
}

void
lz_model_note_correction(LzModel *m, LzEntry *entry)
{
  LzEntry *first = NULL;
  if (entry->corrects) {
    const guint place = lz_model_place(m, entry->corrects);
    g_hash_table_replace(m->corrected, &entry->corrects, entry);
    if (place < m->entries->len && lz_model_id_at(m, place) == entry->corrects)
      first = lz_model_kept(m, place); // one that was left hears of it when it is read again
  }
  if (first)
    first->corrected = TRUE;
  // a file that no program of ours wrote may correct what comes behind
  entry->corrected = g_hash_table_contains(m->corrected, &entry->id);
}

void
lz_model_note_feed(LzModel *m, LzEntry *entry)
{
  LzEntry *first = entry->corrects ? lz_model_entry(m, entry->corrects) : NULL;
  guint i = m->medicated->len;
  if (entry->kind != LZS_FEED || lz_model_is_plain(entry))
    return;
  while (first && i > 0 && ((const LzEntry *)m->medicated->pdata[i - 1])->id > first->id)
    i--;
  if (first && (i == 0 || m->medicated->pdata[i - 1] != first))
    g_ptr_array_insert(m->medicated, (int)i, first);
  g_ptr_array_add(m->medicated, entry);
}

// One that was left in the file, whose record stays; `r` is where to look for it.
static void
apply_left(LzModel *m, int64_t entry, guint *r)
{
  guint n;
  const lzq_record *lay = lz_record_array_lay(m->records, &n);
  const uint64_t id = (uint64_t)entry * LZ_RECORDS_PER_ENTRY;
  while (*r < n && lay[*r].id < id)
    ++*r;
  if (*r < n && lay[*r].id == id)
    lz_model_put_record(m, &lay[*r]);
}

void
lz_model_apply_anew(LzModel *m)
{
  guint r = 0;
  lz_record_array_begin(m->records);
  lz_model_clear(m);
  for (guint i = 0; i < m->entries->len; i++)
    if (lz_model_kept(m, i))
      lz_model_note_correction(m, m->entries->pdata[i]);
  for (guint i = 0; i < m->entries->len; i++) {
    LzEntry *e = lz_model_kept(m, i);
    if (e)
      lz_model_apply_one(m, e);
    else
      apply_left(m, lz_model_id_at(m, i), &r);
  }
  m->others += lz_record_array_end(m->records);
}

static void
put_entry(LzModel *m, LzEntry *entry)
{
  g_ptr_array_add(m->entries, entry);
  if (m->of_kind[entry->kind])
    g_ptr_array_add(m->of_kind[entry->kind], entry);
  lz_model_stamped(m, 1);
}

// All anew, with the last n entries, whose places are known.
static void
apply_past(LzModel *m, guint n)
{
  if (!lz_model_left_stays(m, n))
    lz_model_fetch_all(m);
  lz_model_apply_anew(m);
}

void
lz_model_apply(LzModel *m, LzEntry *entry)
{
  put_entry(m, entry);
  if (lz_model_changes_past(entry)) {
    apply_past(m, 1);
    return;
  }
  lz_model_note_correction(m, entry);
  lz_model_note_feed(m, entry);
  lz_model_apply_one(m, entry);
}

void
lz_model_apply_some(LzModel *m, const GPtrArray *entries)
{
  gboolean past = FALSE;
  for (guint i = 0; i < entries->len && !past; i++)
    past = lz_model_changes_past(entries->pdata[i]);
  for (guint i = 0; i < entries->len; i++) {
    if (!past) {
      lz_model_apply(m, lz_entry_ref(entries->pdata[i]));
      continue;
    }
    put_entry(m, lz_entry_ref(entries->pdata[i]));
    lz_model_note_feed(m, entries->pdata[i]);
  }
  if (past)
    apply_past(m, entries->len);
}

#define VIEW(field, array, type)                                                                   \
  m->view.field = (const type *)(const void *)m->array->data;                                      \
  m->view.n_##field = m->array->len

const lzq_snapshot *
lz_model_view(LzModel *m)
{
  m->view.station = m->rules;
  VIEW(systems, systems, lzq_system);
  VIEW(tanks, tanks, lzq_tank);
  VIEW(instruments, instruments, lzq_instrument);
  VIEW(bottles, bottles, lzq_bottle);
  VIEW(phases, phases, lzq_phase);
  VIEW(protocols, protocols, lzq_protocol);
  VIEW(lots, lots, lzq_lot);
  VIEW(records, records, lzq_record);
  VIEW(slots, slots, lzq_slot);
  return &m->view;
}
