// SPDX-License-Identifier: GPL-3.0-or-later
// Contacts of the sightings in the look-back, and what else the record shows that somebody must
// look at: see lz_contacts.h.
#include "lz_contacts.h"

#include <glib/gi18n-lib.h>

#include "lz_desk_private.h"
#include "lz_format.h"
#include "lz_nets.h"
#include "lz_rows_private.h"
#include "lz_words.h"

// --- contacts

static void
contact_free(gpointer data)
{
  LzContact *contact = data;
  g_ptr_array_unref(contact->texts);
  g_free(contact);
}

static const char *
nets_mark(LzDesk *desk, uint32_t system)
{
  return lz_nets_in_copper(desk->model, system) == LZQ_NEVER ? "" : _(" (nets that held copper)");
}

static char *
say_contact(LzDesk *desk, const LzContactInfo *c)
{
  const char *where = lz_desk_name(desk, "system", c->system);
  const char *seen = lz_desk_name(desk, "system", c->seen_in);
  switch (c->how) {
  case LZQ_CONTACT_WATER:
    return c->uncoursed ? g_strdup_printf(_("was in %s when it was seen, under no protocol"), seen)
                        : g_strdup_printf(_("was in %s when it was seen: back to day one"), seen);
  case LZQ_CONTACT_MOVED_OUT: return g_strdup_printf(_("was in %s and left before"), seen);
  case LZQ_CONTACT_FORMER:
    return g_strdup_printf(_("shared %1$s with fish that are in %2$s now"), where, seen);
  case LZQ_CONTACT_NET:
    return g_strdup_printf(_("was in %1$s, which shares nets with %2$s%3$s"), where, seen,
                           nets_mark(desk, c->system));
  default: return g_strdup_printf(_("was in %1$s, within reach of %2$s"), where, seen);
  }
}

static LzContact *
contact_new(LzDesk *desk, const lzq_contact *c, const LzContactInfo *seen)
{
  LzContact *out = g_new0(LzContact, 1);
  out->texts = lz_rows_texts();
  LzContactInfo *info = &out->info;
  *info = *seen;
  info->lot = c->lot;
  info->system = c->system;
  info->from = c->from;
  info->to = c->to;
  info->how = (lzq_contact_how)c->how;
  info->uncoursed = c->uncoursed;
  info->set_back = c->how == LZQ_CONTACT_WATER && !c->uncoursed;
  info->system_now = c->system_now;
  info->gone = c->released || c->dead || c->system_now == LZQ_NONE;
  info->code = lz_rows_text(out->texts, lz_desk_name(desk, "lot", c->lot));
  info->where = lz_rows_text(out->texts, lz_desk_name(desk, "system", c->system));
  info->now_in =
      info->gone ? "" : lz_rows_text(out->texts, lz_desk_name(desk, "system", c->system_now));
  info->what = lz_keep(out->texts, say_contact(desk, info));
  return out;
}

static void
add_contacts(LzDesk *desk, const lzq_credit *credit, const lzq_record *sighting, GPtrArray *out)
{
  g_autoptr(GArray) near = lz_nets_near(desk->model, sighting->system);
  const lzq_contact_query query = {.system = sighting->system,
                                   .at = sighting->at,
                                   .neighbours = (const uint32_t *)(const void *)near->data,
                                   .n_neighbours = near->len};
  const LzContactInfo seen = {.sighting = (int64_t)sighting->id / LZ_RECORDS_PER_ENTRY,
                              .seen_in = sighting->system,
                              .seen_at = sighting->at};
  const lzq_contacts *found = NULL;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  if (lzq_contacts_make(lz_desk_snapshot(desk), credit, &query, &arena, &found, NULL) == LZQ_OK)
    for (size_t i = 0; i < found->n; i++)
      g_ptr_array_add(out, contact_new(desk, &found->items[i], &seen));
  lzq_arena_free(&arena);
}

static int
newest_first(gconstpointer a, gconstpointer b)
{
  const lzq_record *ra = *(const lzq_record *const *)a, *rb = *(const lzq_record *const *)b;
  if (ra->at != rb->at)
    return ra->at > rb->at ? -1 : 1;
  if (ra->system != rb->system)
    return ra->system < rb->system ? -1 : 1;
  return ra->id < rb->id ? -1 : ra->id > rb->id;
}

GPtrArray *
lz_contacts_of(LzDesk *desk, const lzq_credit *credit, int64_t only)
{
  LzModel *m = desk->model;
  GPtrArray *out = g_ptr_array_new_with_free_func(contact_free);
  g_autoptr(GPtrArray) seen = g_ptr_array_new();
  const lzq_minute since = lzq_contact_since(&m->rules, credit->until);
  for (guint i = 0; i < m->sightings->len; i++) {
    uint32_t index = g_array_index(m->sightings, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if ((only || r->at >= since) && r->at <= credit->until && r->system < m->systems->len &&
        lz_model_record_holds(m, index))
      g_ptr_array_add(seen, (gpointer)r);
  }
  g_ptr_array_sort(seen, newest_first);
  for (guint i = 0; i < seen->len; i++) {
    const lzq_record *r = seen->pdata[i], *before = i ? seen->pdata[i - 1] : NULL;
    if (only && (int64_t)r->id / LZ_RECORDS_PER_ENTRY != only)
      continue;
    if (only || !before || before->at != r->at || before->system != r->system)
      add_contacts(desk, credit, r, out);
  }
  return out;
}

GPtrArray *
lz_contacts_list(LzDesk *desk, const lzq_credit *credit)
{
  return lz_contacts_of(desk, credit, 0);
}
