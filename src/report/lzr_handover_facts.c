// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks 3 to 5 of the handover: moves done and moves that must wait, deaths and signs, arrivals.
#include "lzr_handover.h"

#include <glib/gi18n-lib.h>

#include <lz_format.h>
#include <lz_words.h>
#include <string.h>

#define LOTS_MOST 10

const char *
lzr_entry_line(LzrBuild *build, LzEntry *entry)
{
  g_autofree char *clock = lz_format_clock(lz_desk_zone(build->desk), lz_entry_at(entry));
  g_autofree char *words = lz_words_entry(build->desk, entry);
  g_autofree char *where = lz_words_entry_where(build->desk, entry);
  return lzr_printf(build, "%s, %s%s%s (%s).", clock, where, *where ? ": " : "", words,
                    lz_desk_person_initials(build->desk, lz_entry_who(entry)));
}

// Lines of one kind since the shift began; at most `most`, then a count.
static void
facts_of(LzrBuild *build, const char *kind, const char *bold, guint most)
{
  lzq_minute now = lz_desk_now(build->desk);
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, kind, lzr_shift_start(build), now + 1);
  for (guint i = 0; i < facts->len && i < most; i++)
    lzr_line(build, LZD_MARK_NONE, bold, lzr_entry_line(build, facts->pdata[i]));
  if (facts->len > most)
    lzr_line(build, LZD_MARK_NONE, NULL, lzr_printf(build, _("and %u more."), facts->len - most));
}

static gboolean
is_forbidden(const lzq_task *task)
{
  return task->kind == LZQ_TASK_MOVE && task->state == LZQ_TASK_BLOCKED;
}

// Lots that stay for one and the same reason are one line; told by the first of them.
static void
forbidden_line(LzrBuild *build, const lzq_plan *plan, uint32_t first, guint most)
{
  g_autofree char *why = lz_words_because(build->desk, &plan->tasks[first].because);
  g_autoptr(GString) lots = g_string_new(NULL);
  guint n = 0;
  for (uint32_t i = 0; i < plan->n_tasks; i++) {
    g_autofree char *other = is_forbidden(&plan->tasks[i])
                                 ? lz_words_because(build->desk, &plan->tasks[i].because)
                                 : NULL;
    if (!other || strcmp(other, why) != 0)
      continue;
    if (i < first)
      return;
    if (n++ < most)
      g_string_append_printf(lots, "%s%s", lots->len ? ", " : "",
                             lz_desk_name(build->desk, "lot", plan->tasks[i].lot));
  }
  if (n > most)
    g_string_append_printf(lots, _(" and %u more"), n - most);
  lzr_line(build, LZD_TASK_BLOCKED,
           lzr_printf(build, ngettext("Lot %s stays:", "Lots %s stay:", n), lots->str),
           lzr_printf(build, "%s.", why));
}

void
lzr_lots_stay(LzrBuild *build, const lzq_plan *plan, guint most)
{
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    if (is_forbidden(&plan->tasks[i]))
      forbidden_line(build, plan, i, most);
}

// Waters in the middle of a course: nothing goes in or out, whatever the plan has asked for.
static void
closed_waters(LzrBuild *build)
{
  GListModel *systems = lz_desk_systems(build->desk);
  g_autoptr(GString) names = g_string_new(NULL);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    const LzLotInfo *lot = lzr_slowest_lot(build->desk, info->index);
    if (lot && lot->needed_min > lot->credit_min)
      g_string_append_printf(names, "%s%s", names->len ? ", " : "", info->name);
  }
  if (names->len)
    lzr_line(build, LZD_TASK_BLOCKED, lzr_printf(build, _("Nothing in or out: %s."), names->str),
             _("The time that their fish must serve is not over."));
}

static void
moves(LzrBuild *build)
{
  const lzq_plan *plan = lz_desk_plan(build->desk);
  lzr_heading(build, "3", _("Moves"), NULL);
  facts_of(build, "move", _("Done:"), 4);
  facts_of(build, "release", _("Released:"), 4);
  if (plan)
    lzr_lots_stay(build, plan, LOTS_MOST);
  closed_waters(build);
  lzr_none(build, _("None done, none forbidden."));
}

// The lots that may have carried the parasite of one sighting: "0313, 0314 and 2 more".
static char *
lots_of(GListModel *rows, int64_t sighting)
{
  g_autoptr(GPtrArray) codes = g_ptr_array_new();
  GString *lots = g_string_new(NULL);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzContactRow) row = g_list_model_get_item(rows, i);
    const LzContactInfo *info = lz_contact_row_info(row);
    if (info->sighting != sighting ||
        g_ptr_array_find_with_equal_func(codes, info->code, g_str_equal, NULL))
      continue;
    g_ptr_array_add(codes, (gpointer)info->code);
    if (codes->len <= LOTS_MOST)
      g_string_append_printf(lots, "%s%s", lots->len ? ", " : "", info->code);
  }
  if (codes->len > LOTS_MOST)
    g_string_append_printf(lots, _(" and %u more"), codes->len - LOTS_MOST);
  return g_string_free(lots, FALSE);
}

// Sightings in one water with the same lots are one line, with what was seen at which time; told by
// the first.
typedef struct {
  uint32_t system;
  char *lots, *times;
  int64_t sighting;
} Seen;

static void
seen_clear(gpointer data)
{
  g_free(((Seen *)data)->lots);
  g_free(((Seen *)data)->times);
}

// "white spot": a sighting without a sign is one of the parasite.
static char *
what_was_seen(LzrBuild *build, int64_t sighting)
{
  g_autoptr(LzEntry) entry = lz_desk_entry(build->desk, sighting, NULL);
  const char *sign = entry ? lz_entry_text(entry, "sign") : NULL;
  const char *finding = entry && !sign ? lz_entry_text(entry, "finding") : NULL;
  return lz_words_code(sign ? sign : finding ? finding : "white_spot");
}

static void
add_seen(LzrBuild *build, GListModel *rows, const LzContactInfo *info, GArray *seen)
{
  Seen fresh = {.system = info->seen_in, .sighting = info->sighting};
  for (guint i = 0; i < seen->len; i++)
    if (g_array_index(seen, Seen, i).sighting == info->sighting)
      return;
  g_autofree char *what = what_was_seen(build, info->sighting);
  fresh.lots = lots_of(rows, info->sighting);
  fresh.times = g_strdup_printf("%s, %s", lzr_short_time(build, info->seen_at), what);
  for (guint i = 0; i < seen->len; i++) {
    Seen *old = &g_array_index(seen, Seen, i);
    if (old->system != fresh.system || !g_str_equal(old->lots, fresh.lots))
      continue;
    char *both = g_strdup_printf("%s; %s", old->times, fresh.times);
    g_free(old->times);
    old->times = both;
    old->sighting = info->sighting; // rows of one sighting stand together
    seen_clear(&fresh);
    return;
  }
  g_array_append_val(seen, fresh);
}

static void
contacts(LzrBuild *build)
{
  GListModel *rows = lz_desk_contacts(build->desk);
  g_autoptr(GArray) seen = g_array_new(FALSE, FALSE, sizeof(Seen));
  g_array_set_clear_func(seen, seen_clear);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzContactRow) row = g_list_model_get_item(rows, i);
    add_seen(build, rows, lz_contact_row_info(row), seen);
  }
  for (guint i = 0; i < seen->len; i++) {
    const Seen *one = &g_array_index(seen, Seen, i);
    lzr_line(build, LZD_MARK_NONE,
             lzr_printf(build, _("Seen in %1$s, %2$s:"),
                        lz_desk_name(build->desk, "system", one->system), one->times),
             lzr_printf(build, _("in contact were lots %s."), one->lots));
  }
}

static void
deaths_and_signs(LzrBuild *build)
{
  g_autofree char *since =
      lz_format_when(lz_desk_zone(build->desk), lzr_shift_start(build), lz_desk_now(build->desk));
  lzr_heading(build, "4", lzr_printf(build, _("Deaths and signs since %s"), since), NULL);
  facts_of(build, "death", NULL, 5);
  facts_of(build, "sighting", NULL, 4);
  facts_of(build, "scrape", NULL, 3);
  contacts(build);
  lzr_none(build, _("None dead, nothing seen."));
}

// A shipment is still to come while no lot that has arrived by then names it.
static gboolean
has_come(LzDesk *desk, int64_t shipment)
{
  g_autoptr(GArray) lots = lz_desk_entities(desk, "lot");
  for (guint i = 0; i < lots->len; i++) {
    LzEntry *lot = lz_desk_entity(desk, "lot", g_array_index(lots, int64_t, i));
    if (lot && lz_entry_int(lot, "shipment") == shipment && lz_entry_at(lot) <= lz_desk_now(desk))
      return TRUE;
  }
  return FALSE;
}

static void
shipments(LzrBuild *build)
{
  g_autoptr(GArray) all = lz_desk_entities(build->desk, "shipment");
  lzr_heading(build, "5", _("Shipments"), NULL);
  for (guint i = 0; i < all->len; i++) {
    int64_t id = g_array_index(all, int64_t, i);
    LzEntry *shipment = lz_desk_entity(build->desk, "shipment", id);
    if (!shipment || lz_entry_at(shipment) > lz_desk_now(build->desk) || has_come(build->desk, id))
      continue;
    const char *due = lz_entry_text(shipment, "due");
    int64_t heads = lz_entry_int(shipment, "expected_heads");
    g_autofree char *fish =
        g_strdup_printf(ngettext("about %d fish", "about %d fish", (gulong)heads), (int)heads);
    lzr_line(build, LZD_MARK_NONE, lzr_printf(build, "%s:", lz_entry_text(shipment, "code")),
             lzr_printf(build, "%s, %s.", due ? due : _("no date yet"),
                        heads ? fish : _("number not known")));
  }
  lzr_none(build, _("None announced."));
}

void
lzr_handover_facts(LzrBuild *build)
{
  moves(build);
  deaths_and_signs(build);
  shipments(build);
}
