// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_station_view.h"

#include <glib/gi18n.h>
#include <lz_backups.h>
#include <lz_roles.h>
#include <string.h>

#include "lz_access.h"
#include "lz_fresh.h"
#include "lz_ledger_bar.h"
#include "lz_photo_show.h"
#include "lz_place.h"
#include "lz_record.h"
#include "lz_station_rows.h"
#include "lz_text_table.h"

#define PHOTO_HEIGHT 160

struct _LzStationView {
  GtkWidget parent;
  LzDesk *desk;
  const LzStationSection *section;
  GtkWidget *box, *change, *correct, *add;
  GtkListBox *sections;
  GtkLabel *title, *for_whom, *remark;
  LzLedgerBar *ledger_bar;
  LzTextTable *table;
  GtkBox *photo; // of the entry that is selected in the ledger
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzStationView, lz_station_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

// Under Station's own title: whether the back-ups that nobody has to think of are made.
static void
show_remark(LzStationView *self, const LzStationSection *section)
{
  const char *remark = section->remark ? _(section->remark) : "";
  if (strcmp(section->name, "station") != 0) {
    gtk_label_set_label(self->remark, remark);
    gtk_widget_set_visible(GTK_WIDGET(self->remark), *remark != '\0');
    return;
  }
  gboolean wrong;
  g_autofree char *state = lz_desk_backup_state(self->desk, &wrong);
  g_autofree char *both = g_strdup_printf(_("%s Back-ups: %s."), remark, state);
  gtk_label_set_label(self->remark, both);
  gtk_widget_set_visible(GTK_WIDGET(self->remark), TRUE);
}

static gboolean
is_ledger(const LzStationSection *section)
{
  return section && !section->kind;
}

// Adding is shut to those whom it is not for; what is there can be read by everybody.
static void
show_right(LzStationView *self)
{
  const char *kind = self->section ? self->section->kind : NULL;
  g_autofree char *why_not = kind ? lz_desk_why_not(self->desk, kind, 0, NULL) : NULL;
  gtk_widget_set_visible(GTK_WIDGET(self->for_whom), why_not != NULL);
  gtk_label_set_label(self->for_whom, why_not ? why_not : "");
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "station.add", kind && !why_not);
  // names stand outside the ledger: they are changed or erased
  gboolean correctable = kind && !why_not && strcmp(kind, "person") != 0;
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "station.correct",
                                correctable || is_ledger(self->section));
  gtk_widget_set_visible(self->correct, kind != NULL);
  lz_access_shut(self->add, why_not, NULL);
  gtk_button_set_label(GTK_BUTTON(self->change), why_not ? _("_Look at it") : _("_Change"));
  lz_access_plain(self->change);
  lz_access_plain(self->correct);
  lz_place_hints_changed(LZ_PLACE(self));
}

static GListModel *
rows_of(LzStationView *self)
{
  return is_ledger(self->section) ? lz_ledger_bar_rows(self->ledger_bar)
                                  : lz_station_rows(self->desk, self->section);
}

static void
show_photo(LzStationView *self)
{
  gint64 id = lz_text_table_selected(self->table);
  g_autoptr(LzEntry) entry =
      is_ledger(self->section) && id ? lz_desk_entry(self->desk, id, NULL) : NULL;
  lz_photo_show(self->photo, self->desk, entry, PHOTO_HEIGHT);
}

static void
make(gpointer data)
{
  LzStationView *self = data;
  if (self->section) {
    show_remark(self, self->section);
    lz_text_table_set_rows(self->table, rows_of(self));
    show_photo(self);
  }
}

static void
show_section(LzStationView *self, const LzStationSection *section)
{
  const char *titles[G_N_ELEMENTS(section->titles) + 1] = {NULL};
  self->section = section;
  for (guint i = 0; section->titles[i]; i++)
    titles[i] = _(section->titles[i]);
  gtk_label_set_label(self->title, lz_station_label(section));
  show_remark(self, section);
  gtk_widget_set_visible(self->add, section->kind && strcmp(section->kind, "station") != 0);
  lz_text_table_set_columns(self->table, lz_station_label(section), titles, section->numbers);
  gtk_widget_set_visible(GTK_WIDGET(self->ledger_bar), is_ledger(section));
  lz_ledger_bar_listen(self->ledger_bar, is_ledger(section) ? GTK_WIDGET(self->table) : NULL);
  // empty first: an id that was selected in one section means something else in another
  lz_text_table_set_rows(self->table, G_LIST_MODEL(g_list_store_new(LZ_TYPE_TEXT_ROW)));
  lz_text_table_set_rows(self->table, rows_of(self));
  show_right(self);
  show_photo(self);
}

static void
on_section(LzStationView *self, GtkListBoxRow *row)
{
  guint n;
  const LzStationSection *all = lz_station_sections(&n);
  if (row && self->desk)
    show_section(self, &all[gtk_list_box_row_get_index(row)]);
  lz_place_hints_changed(LZ_PLACE(self));
}

static void
open_row(LzStationView *self, gint64 id)
{
  if (!self->section->kind) {
    g_autoptr(LzEntry) entry = lz_desk_entry(self->desk, id, NULL);
    if (entry)
      lz_record_correct(GTK_WIDGET(self), lz_entry_kind(entry), id);
    return;
  }
  g_autofree char *entity = g_strdup_printf("#%" G_GINT64_FORMAT, id);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.describe", "(ss)", self->section->kind, entity);
}

static void
act_add(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzStationView *self = LZ_STATION_VIEW(widget);
  if (self->section->kind)
    lz_record_open(widget, self->section->kind, NULL);
}

static void
act_change(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzStationView *self = LZ_STATION_VIEW(widget);
  gint64 id = lz_text_table_selected(self->table);
  if (id)
    open_row(self, id);
}

// What the row says was wrong from the day it was entered: a change says that it is other from now.
static void
act_correct(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzStationView *self = LZ_STATION_VIEW(widget);
  gint64 id = lz_text_table_selected(self->table);
  if (!id)
    return;
  const LzEntry *now =
      is_ledger(self->section) ? NULL : lz_desk_entity(self->desk, self->section->kind, id);
  if (is_ledger(self->section))
    open_row(self, id);
  else if (now)
    lz_record_correct(widget, self->section->kind, lz_entry_id(now));
}

static bool
lz_station_view_key(LzPlace *place, LzPadKey key)
{
  if (key.kind == LZ_PAD_MINUS) {
    gtk_widget_activate_action(GTK_WIDGET(place), "station.correct", NULL);
    return true;
  }
  if (key.kind != LZ_PAD_PLUS)
    return false;
  gtk_widget_activate_action(GTK_WIDGET(place), "station.add", NULL);
  return true;
}

// A correction stands in the row of what it corrects.
static void
show_entry(LzStationView *self, const char *words)
{
  g_autoptr(GError) error = NULL;
  gint64 id = g_ascii_strtoll(words, NULL, 10);
  g_autoptr(LzEntry) entry = lz_desk_entry(self->desk, id, &error);
  if (entry)
    lz_ledger_bar_show_entry(self->ledger_bar, self->table,
                             lz_entry_corrects(entry) ? lz_entry_corrects(entry) : id);
  else
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", error->message);
}

// The marked row of the table, where the focus is in it: a section lists what it is about.
static gint64
lz_station_view_entry(LzPlace *place)
{
  LzStationView *self = LZ_STATION_VIEW(place);
  GtkWidget *focus = gtk_root_get_focus(gtk_widget_get_root(GTK_WIDGET(self)));
  gint64 id = lz_text_table_selected(self->table);
  if (!id || !focus || !gtk_widget_is_ancestor(focus, GTK_WIDGET(self->table)))
    return 0;
  if (is_ledger(self->section))
    return lz_ledger_bar_lists_entries(self->ledger_bar) ? id : 0;
  const LzEntry *now = lz_desk_entity(self->desk, self->section->kind, id);
  return now ? lz_entry_id(now) : 0;
}

// "systems", "ledger", or "ledger #17".
static void
lz_station_view_show(LzPlace *place, const char *name)
{
  LzStationView *self = LZ_STATION_VIEW(place);
  g_auto(GStrv) parts = g_strsplit(name, " #", 2);
  guint n;
  const LzStationSection *all = lz_station_sections(&n);
  for (guint i = 0; i < n; i++)
    if (strcmp(all[i].name, parts[0]) == 0)
      gtk_list_box_select_row(self->sections,
                              gtk_list_box_get_row_at_index(self->sections, (int)i));
  if (parts[1])
    show_entry(self, parts[1]);
  gtk_widget_grab_focus(GTK_WIDGET(self->table));
}

static void
lz_station_view_enter(LzPlace *place)
{
  LzStationView *self = LZ_STATION_VIEW(place);
  GtkListBoxRow *row = gtk_list_box_get_selected_row(self->sections);
  if (self->section)
    show_remark(self, self->section); // how old the back-ups are changes by itself
  gtk_widget_grab_focus(row ? GTK_WIDGET(row) : GTK_WIDGET(self->sections));
}

static GPtrArray *
lz_station_view_hints(LzPlace *place)
{
  LzStationView *self = LZ_STATION_VIEW(place);
  const char *kind = self->section ? self->section->kind : NULL;
  g_autofree char *why_not = kind ? lz_desk_why_not(self->desk, kind, 0, NULL) : NULL;
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "↑↓", _("other section"), NULL);
  lz_hints_add(hints, "Tab", _("to the table"), NULL);
  if (is_ledger(self->section)) {
    lz_hints_add(hints, _("letters"), _("look for them"), NULL);
    lz_hints_add(hints, "Enter", _("correct, with a reason"), NULL);
  } else {
    lz_hints_add(hints, "Enter", why_not ? _("look at it") : C_("edit", "change"), NULL);
  }
  if (kind && !why_not && strcmp(kind, "person") != 0)
    lz_hints_add(hints, "−", _("correct, with a reason"), "win.pad::minus");
  if (kind && !why_not && strcmp(kind, "station") != 0)
    lz_hints_add(hints, "+", _("add"), "win.pad::plus");
  lz_hints_add(hints, "F7", _("ledger"), "win.ledger");
  lz_hints_add(hints, _("Ctrl M"), _("how much"), "win.how-much");
  lz_hints_add(hints, "/", _("go to"), "win.go-to");
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->key = lz_station_view_key;
  iface->show = lz_station_view_show;
  iface->enter = lz_station_view_enter;
  iface->hints = lz_station_view_hints;
  iface->entry = lz_station_view_entry;
}

static void
add_sections(LzStationView *self)
{
  guint n;
  const LzStationSection *all = lz_station_sections(&n);
  for (guint i = 0; i < n; i++) {
    GtkWidget *label = gtk_label_new(lz_station_label(&all[i]));
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_list_box_append(self->sections, label);
    lz_access_row(label, lz_station_label(&all[i]), NULL);
  }
  gtk_list_box_select_row(
      self->sections, gtk_list_box_get_row_at_index(self->sections, lz_desk_is_set_up(self->desk)));
}

GtkWidget *
lz_station_view_new(LzDesk *desk)
{
  LzStationView *self = g_object_new(LZ_TYPE_STATION_VIEW, NULL);
  self->desk = g_object_ref(desk);
  lz_fresh_keep(self, make);
  lz_ledger_bar_set_desk(self->ledger_bar, desk);
  add_sections(self);
  g_signal_connect_object(self->ledger_bar, "changed", G_CALLBACK(lz_fresh_old), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "changed", G_CALLBACK(lz_fresh_old), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "notify::actor", G_CALLBACK(show_right), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->table, "selected", G_CALLBACK(show_photo), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->table, "chosen", G_CALLBACK(open_row), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}

static void
lz_station_view_dispose(GObject *object)
{
  LzStationView *self = LZ_STATION_VIEW(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_station_view_parent_class)->dispose(object);
}

static void
lz_station_view_class_init(LzStationViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_station_view_dispose;
  g_type_ensure(LZ_TYPE_LEDGER_BAR);
  g_type_ensure(LZ_TYPE_TEXT_TABLE);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_station_view.ui");
  gtk_widget_class_install_action(widget, "station.add", NULL, act_add);
  gtk_widget_class_install_action(widget, "station.change", NULL, act_change);
  gtk_widget_class_install_action(widget, "station.correct", NULL, act_correct);
  gtk_widget_class_bind_template_child(widget, LzStationView, box);
  gtk_widget_class_bind_template_child(widget, LzStationView, change);
  gtk_widget_class_bind_template_child(widget, LzStationView, correct);
  gtk_widget_class_bind_template_child(widget, LzStationView, add);
  gtk_widget_class_bind_template_child(widget, LzStationView, sections);
  gtk_widget_class_bind_template_child(widget, LzStationView, title);
  gtk_widget_class_bind_template_child(widget, LzStationView, for_whom);
  gtk_widget_class_bind_template_child(widget, LzStationView, remark);
  gtk_widget_class_bind_template_child(widget, LzStationView, ledger_bar);
  gtk_widget_class_bind_template_child(widget, LzStationView, table);
  gtk_widget_class_bind_template_child(widget, LzStationView, photo);
  gtk_widget_class_bind_template_callback(widget, on_section);
}

static void
lz_station_view_init(LzStationView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}
