// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_seen_view.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_seen.h>

#include "lz_cost.h"
#include "lz_lookup.h"
#include "lz_photo_show.h"
#include "lz_record.h"
#include "lz_task_form.h"
#include "lz_way_list.h"
#include "lz_working_grid.h"

#define PHOTO_HEIGHT 220 // pixels

struct _LzSeenView {
  GtkWidget parent;
  LzDesk *desk;
  LzSeen *seen;
  char *words;
  GtkWidget *box, *scrape_row;
  GtkBox *photo;
  GtkLabel *title, *stopped;
  GtkGrid *set_back, *contacts;
  LzWayList *ways;
};

G_DEFINE_FINAL_TYPE(LzSeenView, lz_seen_view, GTK_TYPE_WIDGET)

static guint closed;

static void
cell(GtkGrid *grid, int column, int row, const char *text, const char *style, gboolean expand)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), expand);
  gtk_widget_set_hexpand(label, expand);
  gtk_widget_set_valign(label, GTK_ALIGN_START);
  if (style)
    gtk_widget_add_css_class(label, style);
  gtk_grid_attach(grid, label, column, row, 1, 1);
}

static void
head(GtkGrid *grid, const char *const *titles)
{
  for (int i = 0; titles[i]; i++)
    cell(grid, i, 0, titles[i], "axis", FALSE);
}

// The plan as if it had not been entered, against the present one.
static LzForesight *
without_it(LzSeenView *self, const char *kind)
{
  g_autoptr(LzCommand) command = lz_command_new(kind);
  g_autoptr(GArray) people = lz_desk_entities(self->desk, "person");
  lz_command_set_corrects(command, self->seen->entry, TRUE);
  lz_command_set_reason(command, _("what if"));
  if (!lz_desk_actor(self->desk) && people->len) {
    g_autofree char *anybody =
        g_strdup_printf("#%" G_GINT64_FORMAT, g_array_index(people, int64_t, 0));
    lz_command_set_actor(command, anybody);
  }
  return lz_desk_foresee(self->desk, &command, 1, NULL);
}

static lzq_minute
before_it(const LzForesight *without, uint32_t lot)
{
  for (guint i = 0; without && i < without->lots->len; i++) {
    const LzShift *shift = g_ptr_array_index(without->lots, i);
    if (shift->index == lot)
      return shift->after;
  }
  return LZQ_NEVER;
}

static void
show_set_back(LzSeenView *self, const char *kind)
{
  const char *titles[] = {_("lot"),          _("fish"),    _("stands in"),
                          _("released was"), _("becomes"), NULL};
  g_autoptr(LzForesight) without = without_it(self, kind);
  LzZone *zone = lz_desk_zone(self->desk); // after it: what was foreseen made all anew
  lz_grid_clear(self->set_back);
  head(self->set_back, titles);
  for (guint i = 0; i < self->seen->lots->len; i++) {
    const LzLotInfo *lot =
        lz_desk_lot_info(self->desk, g_array_index(self->seen->lots, uint32_t, i));
    if (!lot)
      continue;
    lzq_minute was = before_it(without, lot->index);
    g_autofree char *heads = g_strdup_printf("%d", lot->heads);
    g_autofree char *before =
        lz_format_date(zone, was == LZQ_NEVER ? lot->earliest : was); // not moved
    g_autofree char *after = lz_format_date(zone, lot->earliest);
    cell(self->set_back, 0, (int)i + 1, lot->code, "strong", FALSE);
    cell(self->set_back, 1, (int)i + 1, heads, NULL, FALSE);
    cell(self->set_back, 2, (int)i + 1, lz_desk_name(self->desk, "system", lot->system), NULL,
         FALSE);
    cell(self->set_back, 3, (int)i + 1, before, NULL, FALSE);
    cell(self->set_back, 4, (int)i + 1, after, "strong", TRUE);
  }
}

static int
show_contact(LzSeenView *self, const LzContactInfo *c, int row)
{
  g_autofree char *from = lz_format_date(lz_desk_zone(self->desk), c->from);
  g_autofree char *to = lz_format_date(lz_desk_zone(self->desk), c->to);
  g_autofree char *days =
      g_strcmp0(from, to) == 0 ? g_strdup(from) : g_strdup_printf(_("%1$s to %2$s"), from, to);
  cell(self->contacts, 0, row, c->code, "strong", FALSE);
  cell(self->contacts, 1, row, c->gone ? _("gone") : c->now_in, NULL, FALSE);
  cell(self->contacts, 2, row, days, NULL, FALSE);
  cell(self->contacts, 3, row, c->what, "second", TRUE);
  return row + 1;
}

static void
show_contacts(LzSeenView *self)
{
  const char *titles[] = {_("lot"), _("is now in"), _("days"), _("why"), NULL};
  GListModel *rows = lz_desk_contacts(self->desk);
  int row = 1;
  lz_grid_clear(self->contacts);
  head(self->contacts, titles);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzContactRow) item = g_list_model_get_item(rows, i);
    const LzContactInfo *c = lz_contact_row_info(item);
    if (c->seen_in == self->seen->system && c->seen_at == self->seen->at && !c->set_back)
      row = show_contact(self, c, row);
  }
  if (row == 1) {
    lz_grid_clear(self->contacts);
    cell(self->contacts, 0, 0, _("None: no other fish shared its water, nets or reach."), "second",
         TRUE);
  }
}

// "White spot on 1 fish"; newly allocated.
static char *
what_was_seen(LzEntry *entry)
{
  const char *code =
      lz_entry_text(entry, "sign") ? lz_entry_text(entry, "sign") : lz_entry_text(entry, "finding");
  g_autofree char *word = code ? lz_word_shown(code) : g_strdup(_("something"));
  g_autofree char *sign = lz_capital(word);
  int heads = lz_entry_has(entry, "heads") ? (int)lz_entry_int(entry, "heads") : 0;
  if (heads <= 0)
    return g_steal_pointer(&sign);
  // Translators: what was seen; on how many fish
  return g_strdup_printf(ngettext("%1$s on %2$d fish", "%1$s on %2$d fish", (gulong)heads), sign,
                         heads);
}

static void
show_head(LzSeenView *self, LzEntry *entry)
{
  const char *system = lz_desk_name(self->desk, "system", self->seen->system);
  g_autofree char *when =
      lz_format_when(lz_desk_zone(self->desk), self->seen->at, lz_desk_now(self->desk));
  g_autofree char *what = what_was_seen(entry);
  g_autofree char *stopped = g_strdup_printf(
      _("Moves in and out of %s are stopped until every lot there has gone on."), system);
  g_free(self->words);
  // Translators: what was seen; system; when; initials
  self->words = g_strdup_printf(_("%1$s in %2$s, %3$s, %4$s"), what, system, when,
                                lz_desk_person_initials(self->desk, lz_entry_who(entry)));
  gtk_label_set_label(self->title, self->words);
  gtk_label_set_label(self->stopped, stopped);
  gtk_widget_set_visible(self->scrape_row, !self->seen->scraped);
}

gboolean
lz_seen_view_set(LzSeenView *self, LzDesk *desk, uint32_t system)
{
  g_return_val_if_fail(LZ_IS_SEEN_VIEW(self), FALSE);
  g_set_object(&self->desk, desk);
  g_clear_pointer(&self->seen, lz_seen_free);
  g_clear_pointer(&self->words, g_free);
  self->seen = lz_seen_open(desk, system);
  g_autoptr(LzEntry) entry = self->seen ? lz_desk_entry(desk, self->seen->entry, NULL) : NULL;
  if (!entry) {
    g_clear_pointer(&self->seen, lz_seen_free);
    return FALSE;
  }
  show_head(self, entry);
  lz_photo_show(self->photo, desk, entry, PHOTO_HEIGHT);
  show_set_back(self, lz_entry_kind(entry));
  show_contacts(self);
  lz_way_list_set(self->ways, desk, lz_ways_on(desk, self->seen->undecided), 1);
  return TRUE;
}

const char *
lz_seen_view_words(LzSeenView *self)
{
  return self->words;
}

gint64
lz_seen_view_entry(LzSeenView *self)
{
  return self->seen ? self->seen->entry : 0;
}

bool
lz_seen_view_key(LzSeenView *self, LzPadKey key)
{
  return self->seen && lz_way_list_key(self->ways, key);
}

static void
on_scrape(LzSeenView *self)
{
  uint32_t lot = g_array_index(self->seen->undecided, uint32_t, 0);
  lz_record_open(GTK_WIDGET(self), "scrape", "lot", lz_desk_name(self->desk, "lot", lot), NULL);
}

static void
on_chart(LzSeenView *self)
{
  g_signal_emit(self, closed, 0);
}

static void
lz_seen_view_dispose(GObject *object)
{
  LzSeenView *self = LZ_SEEN_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->seen, lz_seen_free);
  g_clear_pointer(&self->words, g_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_seen_view_parent_class)->dispose(object);
}

static void
lz_seen_view_class_init(LzSeenViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_seen_view_dispose;
  g_type_ensure(LZ_TYPE_WAY_LIST);
  closed = g_signal_new("closed", LZ_TYPE_SEEN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                        G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_seen_view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzSeenView, name)
  CHILD(box);
  CHILD(title);
  CHILD(stopped);
  CHILD(scrape_row);
  CHILD(photo);
  CHILD(set_back);
  CHILD(contacts);
  CHILD(ways);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, on_scrape);
  gtk_widget_class_bind_template_callback(widget, on_chart);
}

static void
lz_seen_view_init(LzSeenView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
lz_seen_view_new(void)
{
  return g_object_new(LZ_TYPE_SEEN_VIEW, NULL);
}
