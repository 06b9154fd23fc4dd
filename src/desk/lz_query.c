// SPDX-License-Identifier: GPL-3.0-or-later
// What the layers above ask the desk: names, ids, descriptions, facts.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_desk_private.h"
#include "lz_error.h"

const char *
lz_desk_path(LzDesk *desk)
{
  return desk->path;
}

const char *
lz_desk_pc_folder(LzDesk *desk)
{
  return desk->pc_folder;
}

gboolean
lz_desk_is_practice(LzDesk *desk)
{
  return desk->model->practice;
}

gboolean
lz_desk_is_read_only(LzDesk *desk)
{
  return desk->read_only || (desk->store && lzs_is_read_only(desk->store));
}

gboolean
lz_desk_is_set_up(LzDesk *desk)
{
  return desk->model->station != NULL;
}

LzZone *
lz_desk_zone(LzDesk *desk)
{
  return desk->model->zone;
}

LzClock *
lz_desk_clock(LzDesk *desk)
{
  return desk->clock;
}

lzq_minute
lz_desk_now(LzDesk *desk)
{
  return desk->now;
}

const char *
lz_desk_station_name(LzDesk *desk)
{
  return desk->model->station ? desk->model->station->label : "";
}

int64_t
lz_desk_actor(LzDesk *desk)
{
  return desk->actor;
}

static gboolean
kind_of(const char *name, lzs_kind *out)
{
  const lzs_kind_spec *spec = lzs_kind_find(name);
  if (spec)
    *out = spec->kind;
  return spec != NULL;
}

uint32_t
lz_desk_index(LzDesk *desk, const char *kind, int64_t id)
{
  lzs_kind k;
  return kind_of(kind, &k) ? lz_model_index(desk->model, k, id) : LZQ_NONE;
}

int64_t
lz_desk_id(LzDesk *desk, const char *kind, uint32_t index)
{
  lzs_kind k;
  const LzEntity *entity = kind_of(kind, &k) ? lz_model_entity_at(desk->model, k, index) : NULL;
  return entity ? entity->id : 0;
}

int64_t
lz_desk_find(LzDesk *desk, const char *kind, const char *name)
{
  lzs_kind k;
  const LzEntity *entity = kind_of(kind, &k) ? lz_model_find(desk->model, k, name) : NULL;
  return entity ? entity->id : 0;
}

static const char *
name_of(LzDesk *desk, const LzEntity *entity)
{
  if (!entity)
    return "?";
  if (entity->kind == LZS_PERSON)
    return lz_desk_person_initials(desk, entity->id);
  if (entity->kind == LZS_PHASE)
    return lz_entry_text(entity->now, "name");
  return entity->label;
}

const char *
lz_desk_name(LzDesk *desk, const char *kind, uint32_t index)
{
  lzs_kind k;
  return name_of(desk, kind_of(kind, &k) ? lz_model_entity_at(desk->model, k, index) : NULL);
}

const char *
lz_desk_name_of(LzDesk *desk, const char *kind, int64_t id)
{
  lzs_kind k;
  const LzEntity *entity = lz_model_entity(desk->model, id);
  return name_of(desk, kind_of(kind, &k) && entity && entity->kind == k ? entity : NULL);
}

const char *
lz_desk_person_name(LzDesk *desk, int64_t person)
{
  const LzPerson *p = lz_model_person(desk->model, person);
  return p ? p->name : "";
}

const char *
lz_desk_person_initials(LzDesk *desk, int64_t person)
{
  const LzPerson *p = lz_model_person(desk->model, person);
  return p ? p->initials : "";
}

const char *
lz_desk_person_contact(LzDesk *desk, int64_t person)
{
  const LzPerson *p = lz_model_person(desk->model, person);
  return p ? p->contact : "";
}

LzEntry *
lz_desk_entity(LzDesk *desk, const char *kind, int64_t id)
{
  lzs_kind k;
  LzEntity *entity = lz_model_entity(desk->model, id);
  return kind_of(kind, &k) && entity && entity->kind == k ? entity->now : NULL;
}

GArray *
lz_desk_entities(LzDesk *desk, const char *kind)
{
  GArray *ids = g_array_new(FALSE, FALSE, sizeof(int64_t));
  lzs_kind k;
  if (kind_of(kind, &k))
    for (guint i = 0; i < desk->model->by_kind[k]->len; i++) {
      const LzEntity *entity = desk->model->by_kind[k]->pdata[i];
      g_array_append_val(ids, entity->id);
    }
  return ids;
}

static int
by_time(gconstpointer a, gconstpointer b)
{
  const LzEntry *ea = *(LzEntry *const *)a, *eb = *(LzEntry *const *)b;
  if (ea->at != eb->at)
    return ea->at < eb->at ? -1 : 1;
  return ea->id < eb->id ? -1 : ea->id > eb->id;
}

static void
add_fact(gpointer out, LzEntry *entry)
{
  g_ptr_array_add(out, lz_entry_ref(entry));
}

GPtrArray *
lz_desk_facts(LzDesk *desk, const char *kind, lzq_minute from, lzq_minute until)
{
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  lzs_kind k = LZS_N_KINDS;
  if (kind && !kind_of(kind, &k))
    return out;
  lz_model_facts(desk->model, k, from, until, add_fact, out);
  g_ptr_array_sort(out, by_time);
  return out;
}

GPtrArray *
lz_desk_entries(LzDesk *desk, const char *kind, int64_t after, guint limit, GError **error)
{
  lzs_kind k = LZS_N_KINDS;
  if (kind && !kind_of(kind, &k)) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, _("there is no kind of entry “%s”"),
                kind);
    return NULL;
  }
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  const LzModel *m = desk->model;
  for (guint i = lz_model_place(m, after + 1);
       i < m->entries->len && (limit == 0 || out->len < limit); i++) {
    LzEntry *entry = kind && m->of_kind[k] ? lz_model_kept(m, i) : lz_model_at(m, i);
    if (entry && (!kind || entry->kind == k))
      g_ptr_array_add(out, lz_entry_ref(entry));
  }
  if (!lz_desk_readable(desk, error))
    g_clear_pointer(&out, g_ptr_array_unref);
  return out;
}

int64_t
lz_desk_last_id(LzDesk *desk)
{
  return lz_model_last_id(desk->model);
}

LzEntry *
lz_desk_last_entry(LzDesk *desk, int64_t person)
{
  const LzModel *m = desk->model;
  for (guint i = m->entries->len; i-- > m->leave_from;) { // nobody takes back what is years old
    LzEntry *entry = lz_model_at(m, i);
    if (entry && entry->who == person && !entry->voided)
      return lz_entry_ref(entry);
  }
  return NULL;
}

LzEntry *
lz_desk_entry(LzDesk *desk, int64_t id, GError **error)
{
  LzEntry *entry = lz_model_entry(desk->model, id);
  if (!entry && lz_desk_readable(desk, error))
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NOT_FOUND, _("there is no entry %d"), (int)id);
  return entry ? lz_entry_ref(entry) : NULL;
}

gboolean
lz_desk_may_look_ahead(LzDesk *desk)
{
  const lzq_snapshot *snapshot = lz_desk_snapshot(desk);
  lzq_minute now = lz_clock_now(lz_desk_clock(desk));
  for (gsize i = 0; i < snapshot->n_records; i++)
    if (snapshot->records[i].at <= now && snapshot->records[i].kind != LZQ_REC_VOLUME)
      return FALSE;
  return TRUE;
}
