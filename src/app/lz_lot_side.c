// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_lot_side.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_roles.h>
#include <lz_words.h>
#include <string.h>

#include "lz_access.h"
#include "lz_entry_words.h"
#include "lz_key_bar.h"
#include "lz_record.h"
#include "lz_sign.h"
#include "lz_working_grid.h"

#define SEEN_SHOWN 6

static lzd_mark
mark_of(lzq_because_code code)
{
  switch (code) {
  case LZQ_BECAUSE_MOVE_NOT_MATCHED:
  case LZQ_BECAUSE_MOVE_NO_ROOM:
  case LZQ_BECAUSE_NO_BOTTLE:
  case LZQ_BECAUSE_CANNOT_HOLD:
  case LZQ_BECAUSE_SPECIES:
  case LZQ_BECAUSE_HELD_BY:
  case LZQ_BECAUSE_HELD_NO_COURSE: return LZD_TASK_BLOCKED;
  case LZQ_BECAUSE_NO_COMMON_BAND: return LZD_TASK_CONFLICT;
  case LZQ_BECAUSE_SERVED:
  case LZQ_BECAUSE_RELEASED: return LZD_TASK_DONE;
  default: return LZD_TASK_NOT_STARTED;
  }
}

const char *
lz_lot_side_act(int digit)
{
  static const char *const acts[] = {"move",   "sighting", "death", "count",  "feed",
                                     "scrape", "course",   "split", "release"};
  return digit >= 1 && digit <= (int)G_N_ELEMENTS(acts) ? acts[digit - 1] : NULL;
}

void
lz_lot_side_number(GtkFlowBox *acts)
{
  for (int i = 0; i < 9; i++) {
    GtkFlowBoxChild *child = gtk_flow_box_get_child_at_index(acts, i);
    GtkWidget *button = child ? gtk_flow_box_child_get_child(child) : NULL;
    if (!button)
      return;
    g_autofree char *digit = g_strdup_printf("%d", i + 1);
    g_autofree char *words = g_strdup(gtk_button_get_label(GTK_BUTTON(button)));
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *label = gtk_label_new(words);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE); // two buttons stand in a row in every language
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_box_append(GTK_BOX(box), lz_keycap_new(digit));
    gtk_box_append(GTK_BOX(box), label);
    gtk_button_set_child(GTK_BUTTON(button), box);
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                   GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, digit, -1);
  }
}

void
lz_lot_side_shut(GtkFlowBox *acts, LzDesk *desk, const LzLotInfo *lot)
{
  const char *kind;
  for (int i = 0; (kind = lz_lot_side_act(i + 1)); i++) {
    GtkFlowBoxChild *child = gtk_flow_box_get_child_at_index(acts, i);
    g_autofree char *why_not = lz_desk_why_not(desk, kind, lot->id, NULL);
    if (child)
      lz_access_shut(gtk_flow_box_child_get_child(child), why_not, NULL);
  }
}

static void
add_why(GtkBox *box, lzd_mark mark, const char *sentence, gboolean first)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 14);
  GtkWidget *sign = lz_sign_new(), *label = gtk_label_new(sentence);
  lz_sign_set_mark(LZ_SIGN(sign), mark, LZD_PLAIN, 16, NULL);
  gtk_widget_set_valign(sign, GTK_ALIGN_START);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_set_hexpand(label, TRUE);
  if (first)
    gtk_widget_add_css_class(label, "strong");
  gtk_box_append(GTK_BOX(row), sign);
  gtk_box_append(GTK_BOX(row), label);
  gtk_box_append(box, row);
}

static void
on_accept(GtkButton *button, gpointer lot)
{
  GtkWidget *widget = GTK_WIDGET(button);
  lz_record_open(widget, "accept", "lot", g_object_get_data(G_OBJECT(button), "lot"), "phase",
                 g_object_get_data(G_OBJECT(button), "phase"), "minutes",
                 g_object_get_data(G_OBJECT(button), "minutes"), NULL);
}

// What a named person may accept, with a reason: the form that records it.
static void
add_accept(GtkBox *box, LzDesk *desk, const LzMatterInfo *matter)
{
  g_autofree char *why_not = lz_desk_why_not(desk, "accept", 0, NULL);
  g_autofree char *minutes = g_strdup_printf("%d", (int)matter->acceptable_min);
  g_autofree char *phase = g_strdup_printf("%d", matter->phase_number);
  g_autofree char *words = g_strdup_printf(_("Accept %s min with a reason"), minutes);
  GtkWidget *button = gtk_button_new_with_label(words);
  gtk_widget_set_halign(button, GTK_ALIGN_START);
  gtk_widget_set_margin_start(button, 30);
  g_object_set_data_full(G_OBJECT(button), "lot", g_strdup(matter->code), g_free);
  g_object_set_data_full(G_OBJECT(button), "phase", g_steal_pointer(&phase), g_free);
  g_object_set_data_full(G_OBJECT(button), "minutes", g_steal_pointer(&minutes), g_free);
  g_signal_connect(button, "clicked", G_CALLBACK(on_accept), NULL);
  gtk_box_append(box, button);
  lz_access_shut(button, why_not, NULL);
  if (why_not)
    add_why(box, LZD_TASK_NOT_STARTED, why_not, FALSE);
}

// A release found short, a phase left short, fish that a sighting reached under no protocol.
static void
add_matters(GtkBox *box, LzDesk *desk, const LzLotInfo *lot)
{
  GListModel *rows = lz_desk_matters(desk);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzMatterRow) row = g_list_model_get_item(rows, i);
    const LzMatterInfo *matter = lz_matter_row_info(row);
    if (matter->lot != lot->index)
      continue;
    add_why(box, LZD_TASK_LATE, matter->what, TRUE);
    if (matter->acceptable_min > 0)
      add_accept(box, desk, matter);
  }
}

void
lz_lot_side_whys(GtkLabel *title, GtkBox *box, LzDesk *desk, const LzLotInfo *lot)
{
  GtkWidget *child;
  const lzq_plan *plan = lz_desk_plan(desk);
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(box))))
    gtk_box_remove(box, child);
  gtk_label_set_label(title, lot->released ? _("Released")
                             : lot->served ? _("Served")
                                           : _("Not released yet, because"));
  add_matters(box, desk, lot);
  uint32_t n = plan ? plan->lots[lot->index].n_waits : 0;
  for (uint32_t i = 0; i < n; i++) {
    const lzq_because *because = &plan->lots[lot->index].waits[i];
    g_autofree char *sentence = lz_words_because(desk, because);
    if (*sentence)
      add_why(box, mark_of(because->code), sentence, i == 0);
  }
  if (!gtk_widget_get_first_child(GTK_WIDGET(box)) && lot->because && *lot->because)
    add_why(box, lot->released || lot->served ? LZD_TASK_DONE : LZD_TASK_NOT_STARTED, lot->because,
            TRUE);
}

static const struct {
  const char *kind;
  lzd_mark mark;
} seen_kinds[] = {
    {"sighting", LZD_RAIL_SEEN}, {"scrape", LZD_RAIL_SEEN}, {"death", LZD_RAIL_DEAD},
    {"feed", LZD_RAIL_FED},      {"move", LZD_RAIL_MOVE},   {"lot", LZD_RAIL_MOVE},
    {"count", LZD_RAIL_NOTE},    {"split", LZD_RAIL_MOVE},  {"course", LZD_RAIL_NOTE}};

static lzd_mark
seen_mark(const char *kind)
{
  for (size_t i = 0; i < G_N_ELEMENTS(seen_kinds); i++)
    if (strcmp(seen_kinds[i].kind, kind) == 0)
      return seen_kinds[i].mark;
  return LZD_RAIL_NOTE;
}

// A sighting names its water where it names no lot: it concerns all that stand there.
static gboolean
concerns(LzDesk *desk, const LzEntry *entry, const LzLotInfo *lot)
{
  if (lz_entry_has(entry, "lot"))
    return lz_entry_int(entry, "lot") == lot->id;
  if (strcmp(lz_entry_kind(entry), "sighting") == 0 && lz_entry_at(entry) >= lot->received_at)
    return lz_entry_int(entry, "system") == lz_desk_id(desk, "system", lot->system);
  return lz_entry_id(entry) == lot->id;
}

static GtkWidget *
text(const char *words, const char *style, gboolean expand)
{
  GtkWidget *label = gtk_label_new(words);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), expand);
  gtk_widget_set_hexpand(label, expand);
  gtk_widget_set_valign(label, GTK_ALIGN_START);
  if (style)
    gtk_widget_add_css_class(label, style);
  return label;
}

// How many of that kind concern it since then; they are added.
static guint
add_seen(GPtrArray *seen, LzDesk *desk, const LzLotInfo *lot, const char *kind, lzq_minute from)
{
  g_autoptr(GPtrArray) facts = lz_desk_facts(desk, kind, from, lz_desk_now(desk) + 1);
  guint n = 0;
  for (guint i = 0; i < facts->len; i++)
    if (concerns(desk, facts->pdata[i], lot)) {
      g_ptr_array_add(seen, lz_entry_ref(facts->pdata[i]));
      n++;
    }
  return n;
}

// Feeds have no list of their own in a station of many years, where years of them would be read
// from the file: only the last ones are asked for. Those of a lot that has gone are on its record
// sheet.
static void
add_feeds(GPtrArray *seen, LzDesk *desk, const LzLotInfo *lot)
{
  static const int days[] = {3, 8, 60};
  for (size_t i = 0; i < (lot->living ? G_N_ELEMENTS(days) : 1); i++) {
    const guint before = seen->len;
    const lzq_minute from = lz_desk_now(desk) - days[i] * LZQ_DAY;
    if (add_seen(seen, desk, lot, "feed", MAX(from, lot->received_at)) >= SEEN_SHOWN ||
        from <= lot->received_at)
      return;
    if (i + 1 < G_N_ELEMENTS(days) && lot->living)
      g_ptr_array_set_size(seen, (int)before);
  }
}

static int
newest_first(gconstpointer a, gconstpointer b)
{
  const LzEntry *ea = *(LzEntry *const *)a, *eb = *(LzEntry *const *)b;
  if (lz_entry_at(ea) != lz_entry_at(eb))
    return lz_entry_at(ea) > lz_entry_at(eb) ? -1 : 1;
  return (lz_entry_id(ea) < lz_entry_id(eb)) - (lz_entry_id(ea) > lz_entry_id(eb));
}

// What its plan rests on is listed however long ago it was: its arrival, its last course, its last
// move or split.
static gboolean
rests_on(const LzEntry *entry, guint *found)
{
  static const char *const kinds[] = {"lot", "course", "move", "split"};
  for (guint k = 0; k < G_N_ELEMENTS(kinds); k++)
    if (strcmp(lz_entry_kind(entry), kinds[k]) == 0) {
      const guint bit = 1u << MIN(k, 2);
      const gboolean first = !(*found & bit);
      *found |= bit;
      return first;
    }
  return FALSE;
}

// The newest of them, so many, and what its plan rests on.
static void
keep_shown(GPtrArray *seen)
{
  guint found = 0, of_plan = 0, others = 0;
  for (guint i = 0; i < seen->len; i++)
    of_plan += rests_on(seen->pdata[i], &found);
  found = 0;
  for (guint i = 0; i < seen->len;) {
    if (rests_on(seen->pdata[i], &found) || others++ < SEEN_SHOWN - of_plan)
      i++;
    else
      g_ptr_array_remove_index(seen, i);
  }
}

// All that a box said on its arrival fills the pane: the form that corrects it shows it.
static char *
words_of(LzDesk *desk, LzEntry *entry)
{
  if (strcmp(lz_entry_kind(entry), "lot") != 0)
    return lz_words_entry(desk, entry);
  const int heads = (int)lz_entry_int(entry, "heads");
  return g_strdup_printf(ngettext("%d fish received", "%d fish received", (gulong)heads), heads);
}

void
lz_lot_side_seen(GtkGrid *grid, LzDesk *desk, const LzLotInfo *lot)
{
  g_autoptr(GPtrArray) seen = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  int row = 0;
  lz_grid_clear(grid);
  for (size_t k = 0; k < G_N_ELEMENTS(seen_kinds); k++)
    if (strcmp(seen_kinds[k].kind, "feed") != 0)
      add_seen(seen, desk, lot, seen_kinds[k].kind, lot->received_at);
  add_feeds(seen, desk, lot);
  g_ptr_array_sort(seen, newest_first);
  keep_shown(seen);
  for (guint i = 0; i < seen->len; i++) {
    LzEntry *entry = g_ptr_array_index(seen, i);
    g_autofree char *when = lz_format_time(lz_desk_zone(desk), lz_entry_at(entry));
    g_autofree char *words = words_of(desk, entry);
    GtkWidget *sign = lz_sign_new();
    lz_sign_set_mark(LZ_SIGN(sign), seen_mark(lz_entry_kind(entry)), LZD_PLAIN, 14, NULL);
    gtk_widget_set_valign(sign, GTK_ALIGN_START);
    gtk_grid_attach(grid, text(when, "second", FALSE), 0, row, 1, 1);
    gtk_grid_attach(grid, sign, 1, row, 1, 1);
    gtk_grid_attach(grid, lz_entry_words_new(entry, words, NULL), 2, row, 1, 1);
    gtk_grid_attach(grid, text(lz_desk_person_initials(desk, lz_entry_who(entry)), "strong", FALSE),
                    3, row++, 1, 1);
  }
  if (row == 0)
    gtk_grid_attach(grid, text(_("Nothing yet."), "second", TRUE), 0, 0, 1, 1);
}

typedef struct {
  int64_t bottle;
  guint doses;
  LzEntry *last; // not owned
} Given;

gboolean
lz_lot_side_given(GtkGrid *grid, LzDesk *desk, const LzLotInfo *lot)
{
  int64_t system = lz_desk_id(desk, "system", lot->system);
  g_autoptr(GPtrArray) doses = lz_desk_facts(desk, "dose", lot->received_at, lz_desk_now(desk) + 1);
  g_autoptr(GArray) given = g_array_new(FALSE, FALSE, sizeof(Given));
  for (guint i = 0; i < doses->len; i++) {
    LzEntry *entry = g_ptr_array_index(doses, i);
    if (lz_entry_int(entry, "system") != system)
      continue;
    Given *found = NULL;
    for (guint g = 0; g < given->len && !found; g++)
      if (g_array_index(given, Given, g).bottle == lz_entry_int(entry, "bottle"))
        found = &g_array_index(given, Given, g);
    if (!found) {
      Given fresh = {.bottle = lz_entry_int(entry, "bottle")};
      g_array_append_val(given, fresh);
      found = &g_array_index(given, Given, given->len - 1);
    }
    found->doses++;
    found->last = entry;
  }
  lz_grid_clear(grid);
  for (guint g = 0; g < given->len; g++) {
    const Given *one = &g_array_index(given, Given, g);
    g_autofree char *n = g_strdup_printf(ngettext("%u dose", "%u doses", one->doses), one->doses);
    g_autofree char *when = lz_format_time(lz_desk_zone(desk), lz_entry_at(one->last));
    g_autofree char *last = g_strdup_printf(_("last %s"), when);
    const char *bottle = one->bottle ? lz_desk_name_of(desk, "bottle", one->bottle) : _("salt");
    gtk_grid_attach(grid, text(bottle, NULL, FALSE), 0, (int)g, 1, 1);
    gtk_grid_attach(grid, text(n, "strong", FALSE), 1, (int)g, 1, 1);
    gtk_grid_attach(grid, lz_entry_words_new(one->last, last, "second"), 2, (int)g, 1, 1);
    gtk_grid_attach(grid, text(lz_desk_person_initials(desk, lz_entry_who(one->last)), NULL, FALSE),
                    3, (int)g, 1, 1);
  }
  return given->len > 0;
}
