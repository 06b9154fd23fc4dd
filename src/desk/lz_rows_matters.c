// SPDX-License-Identifier: GPL-3.0-or-later
// What the record shows that somebody must look at: releases and moves found short, lots that a
// sighting met under no protocol, acts on record that changed nothing.
#include <glib/gi18n-lib.h>

#include "lz_contacts.h"
#include "lz_format.h"
#include "lz_rows_private.h"
#include "lz_words.h"

static void
item_free(gpointer data)
{
  LzMatterItem *item = data;
  g_ptr_array_unref(item->texts);
  g_free(item);
}

static LzMatterItem *
item_new(LzDesk *desk, LzMatter matter, uint32_t lot, lzq_minute at, uint64_t record)
{
  LzMatterItem *item = g_new0(LzMatterItem, 1);
  item->texts = lz_rows_texts();
  item->info = (LzMatterInfo){.matter = matter,
                              .lot = lot,
                              .system = LZQ_NONE,
                              .entry = (int64_t)record / LZ_RECORDS_PER_ENTRY,
                              .at = at,
                              .code = "",
                              .customer = "",
                              .held_by = "",
                              .phase = ""};
  if (lot != LZQ_NONE)
    item->info.code = lz_rows_text(item->texts, lz_desk_name(desk, "lot", lot));
  item->info.when = lz_keep(item->texts, lz_format_full(desk->model->zone, at));
  return item;
}

static char *
say_short(const LzMatterInfo *c)
{
  g_autofree char *length = lz_format_duration(c->short_min);
  switch (c->matter) {
  case LZ_MATTER_UNPROVEN:
    return g_strdup_printf(_("released on %1$s before a reading had confirmed “%2$s”"), c->when,
                           c->phase);
  case LZ_MATTER_RELEASED_HELD:
    // Translators: time, lot
    return g_strdup_printf(_("released on %1$s while lot %2$s, with which it had shared water, had "
                             "not served"),
                           c->when, c->held_by);
  case LZ_MATTER_RELEASED_SHORT:
    return c->short_min
               ? g_strdup_printf(_("released on %1$s, %2$s short of “%3$s”"), c->when, length,
                                 c->phase)
               : g_strdup_printf(_("released on %1$s before “%2$s” had ended"), c->when, c->phase);
  default: return g_strdup_printf(_("left “%3$s” %2$s short on %1$s"), c->when, length, c->phase);
  }
}

static LzMatterItem *
short_item(LzDesk *desk, const lzq_short *s)
{
  static const LzMatter matters[] = {[LZQ_SHORT_RELEASED] = LZ_MATTER_RELEASED_SHORT,
                                     [LZQ_SHORT_UNPROVEN] = LZ_MATTER_UNPROVEN,
                                     [LZQ_SHORT_HELD] = LZ_MATTER_RELEASED_HELD,
                                     [LZQ_SHORT_LEFT] = LZ_MATTER_LEFT_SHORT};
  LzModel *m = desk->model;
  LzMatterItem *item = item_new(desk, matters[s->how], s->lot, s->at, s->entry);
  LzMatterInfo *info = &item->info;
  uint32_t first = g_array_index(m->protocols, lzq_protocol, s->protocol).first_phase;
  info->short_min = s->short_min;
  info->acceptable_min = s->acceptable_min;
  if (s->held_by != LZQ_NONE)
    info->held_by = lz_rows_text(item->texts, lz_desk_name(desk, "lot", s->held_by));
  info->phase_number = (int)s->phase + 1;
  info->phase = lz_rows_text(item->texts, lz_desk_name(desk, "phase", first + s->phase));
  LzEntry *act = lz_model_entry(m, info->entry);
  act = act ? lz_model_in_force(m, act) : NULL;
  if (act && act->kind == LZS_RELEASE && lz_entry_has(act, "customer"))
    info->customer =
        lz_rows_text(item->texts, lz_desk_name_of(desk, "customer", lz_entry_int(act, "customer")));
  info->what = lz_keep(item->texts, say_short(info));
  return item;
}

static LzMatterItem *
uncoursed_item(LzDesk *desk, const lzq_uncoursed *u)
{
  LzMatterItem *item = item_new(desk, LZ_MATTER_UNCOURSED, u->lot, u->at, 0);
  item->info.system = u->system;
  // Translators: system, time
  item->info.what = lz_keep(
      item->texts, g_strdup_printf(_("was in %1$s at the sighting of %2$s, under no protocol"),
                                   lz_desk_name(desk, "system", u->system), item->info.when));
  return item;
}

static LzMatterItem *
ignored_item(LzDesk *desk, const lzq_ignored *i)
{
  LzMatterItem *item = item_new(desk, LZ_MATTER_IGNORED, i->lot, i->at, i->entry);
  const lzs_kind_spec *spec = lz_model_kind_of(desk->model, item->info.entry);
  const char *kind = spec ? lz_words_kind(spec->name) : "";
  // Translators: kind of entry, its number, time, why
  item->info.what =
      lz_keep(item->texts, g_strdup_printf(_("%1$s #%2$d of %3$s changed nothing: %4$s"), kind,
                                           (int)item->info.entry, item->info.when,
                                           lz_words_ignored((lzq_ignored_why)i->why)));
  return item;
}

GPtrArray *
lz_matters_list(LzDesk *desk, const lzq_plan *plan)
{
  GPtrArray *out = g_ptr_array_new_with_free_func(item_free);
  for (size_t i = 0; i < plan->n_shorts; i++)
    g_ptr_array_add(out, short_item(desk, &plan->shorts[i]));
  for (size_t i = 0; i < plan->credit->n_uncoursed; i++) {
    const lzq_uncoursed *u = &plan->credit->uncoursed[i];
    const lzq_lot_credit *lot = &plan->credit->lots[u->lot];
    // who has gone since, or is under a protocol by now, waits for nobody
    if (!lot->released && !lot->dead && !lot->merged && !lot->has_course &&
        u->at >= lzq_contact_since(&desk->model->rules, plan->now))
      g_ptr_array_add(out, uncoursed_item(desk, u));
  }
  for (size_t i = 0; i < plan->credit->n_ignored; i++)
    g_ptr_array_add(out, ignored_item(desk, &plan->credit->ignored[i]));
  return out;
}

void
lz_rows_matters(LzDesk *desk)
{
  LzRowList *list = desk->lists[LZ_LIST_MATTERS];
  lz_row_list_begin(list);
  g_autoptr(GPtrArray) all = desk->plan ? lz_matters_list(desk, desk->plan) : g_ptr_array_new();
  for (guint i = 0; i < all->len; i++) {
    LzMatterItem *item = all->pdata[i];
    g_autofree char *key =
        g_strdup_printf("%d:%u:%" G_GINT64_FORMAT ":%" G_GINT64_FORMAT, (int)item->info.matter,
                        item->info.lot, item->info.entry, item->info.at);
    char *detail = *item->info.code
                       // Translators: lot, what is the matter with it
                       ? g_strdup_printf(_("Lot %1$s %2$s"), item->info.code, item->info.what)
                       : lz_rows_sentence(g_strdup(item->info.what));
    lz_row_set(lz_row_list_row(list, key), g_strdup(item->info.code), detail, &item->info,
               sizeof item->info, g_ptr_array_ref(item->texts));
  }
  lz_row_list_end(list);
}
