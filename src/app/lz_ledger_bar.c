// SPDX-License-Identifier: GPL-3.0-or-later
// The chain is checked by a connection of its own in a thread of its own: whoever works on is not
// kept waiting by a file of many years.
#include "lz_ledger_bar.h"

#include <glib/gi18n.h>
#include <lz_error.h>
#include <lz_fields.h>
#include <lz_format.h>
#include <lz_retention.h>
#include <lz_rows.h>
#include <lz_words.h>
#include <string.h>

#include "lz_access.h"
#include "lz_files.h"
#include "lz_ledger_look.h"
#include "lz_station_jobs.h"
#include "lz_text_table.h"
#include "lz_type_ahead.h"
#include "lz_window.h"

struct _LzLedgerBar {
  GtkWidget parent;
  LzDesk *desk;
  char **kinds;   // of the list of kinds; [0] is all
  GArray *people; // ids (int64_t); [0] is all
  gboolean filling;
  LzLedgerLook *look;
  GCancellable *wish;     // of the check that runs, NULL = none
  char *proof;            // what the last check said
  const char *why_others; // why the program shows others than were asked for; NULL = it does not
  GtkWidget *box;
  GtkSearchEntry *words;
  GtkDropDown *kind, *person;
  GtkEntry *about, *first, *last;
  GtkProgressBar *progress;
  GtkButton *stop;
  GtkToggleButton *past;
  GtkWidget *filters;
  GtkLabel *says;
};

G_DEFINE_FINAL_TYPE(LzLedgerBar, lz_ledger_bar, GTK_TYPE_WIDGET)

static guint changed_signal;

static void
on_changed(LzLedgerBar *self)
{
  if (self->filling)
    return;
  self->why_others = NULL;
  g_signal_emit(self, changed_signal, 0);
}

static void
say(LzLedgerBar *self, const char *sentence)
{
  gtk_label_set_label(self->says, sentence);
}

static gboolean
read_day(LzLedgerBar *self, GtkEntry *entry, gboolean end, lzq_minute *out, GError **error)
{
  const char *text = gtk_editable_get_text(GTK_EDITABLE(entry));
  return !*text || lz_zone_parse_day(lz_desk_zone(self->desk), text, lz_desk_now(self->desk), end,
                                     out, error);
}

// How many there are, how long they stay, and what the last check found.
static void
say_count(LzLedgerBar *self)
{
  g_autoptr(GString) words = g_string_new(self->why_others);
  g_autofree char *count = lz_ledger_look_words(self->look);
  int years = lz_retention_years(self->desk);
  if (self->why_others)
    g_string_append_c(words, ' ');
  g_string_append_printf(words, "%s ", count);
  g_string_append_printf(words,
                         ngettext("Kept for %d year; nothing is deleted by itself.",
                                  "Kept for %d years; nothing is deleted by itself.",
                                  (gulong)years),
                         years);
  if (self->proof)
    g_string_append_printf(words, " %s", self->proof);
  say(self, words->str);
}

static void
on_looked(gpointer self)
{
  g_signal_emit(self, changed_signal, 0);
}

// What is asked for; FALSE with error: a day that is none.
static gboolean
read_filter(LzLedgerBar *self, LzLedgerFilter *out, GError **error)
{
  guint kind = gtk_drop_down_get_selected(self->kind);
  guint person = gtk_drop_down_get_selected(self->person);
  *out = (LzLedgerFilter){
      .words = gtk_editable_get_text(GTK_EDITABLE(self->words)),
      .kind = kind == GTK_INVALID_LIST_POSITION ? NULL : self->kinds[kind],
      .person = person < self->people->len ? g_array_index(self->people, int64_t, person) : 0,
      .about = gtk_editable_get_text(GTK_EDITABLE(self->about))};
  return read_day(self, self->first, FALSE, &out->from, error) &&
         read_day(self, self->last, TRUE, &out->until, error);
}

GListModel *
lz_ledger_bar_rows(LzLedgerBar *self)
{
  LzLedgerFilter filter;
  g_autoptr(GError) error = NULL;
  gboolean past = gtk_toggle_button_get_active(self->past);
  if (past || read_filter(self, &filter, &error))
    lz_ledger_look_for(self->look, past ? NULL : &filter, &error);
  if (error) {
    say(self, error->message);
    return G_LIST_MODEL(g_list_store_new(LZ_TYPE_TEXT_ROW));
  }
  if (past) {
    g_autofree char *count = lz_ledger_look_words(self->look);
    say(self, count);
  } else {
    say_count(self);
  }
  return g_object_ref(lz_ledger_look_rows(self->look));
}

static void
look_for(LzLedgerBar *self, const char *words, const char *why)
{
  GtkEntry *const entries[] = {self->about, self->first, self->last};
  self->filling = TRUE;
  gtk_toggle_button_set_active(self->past, FALSE);
  for (guint i = 0; i < G_N_ELEMENTS(entries); i++)
    gtk_editable_set_text(GTK_EDITABLE(entries[i]), "");
  gtk_drop_down_set_selected(self->kind, 0);
  gtk_drop_down_set_selected(self->person, 0);
  gtk_editable_set_text(GTK_EDITABLE(self->words), words);
  self->filling = FALSE;
  self->why_others = why;
  g_signal_emit(self, changed_signal, 0);
}

static gboolean
marks(LzTextTable *table, gint64 id)
{
  lz_text_table_select(table, id);
  return lz_text_table_selected(table) == id;
}

gboolean
lz_ledger_bar_lists_entries(LzLedgerBar *self)
{
  g_return_val_if_fail(LZ_IS_LEDGER_BAR(self), FALSE);
  return !gtk_toggle_button_get_active(self->past);
}

// What is past keeping lists lots and people: their ids are of other things. An old entry may lie
// beyond what is listed: then it alone is looked for.
void
lz_ledger_bar_show_entry(LzLedgerBar *self, LzTextTable *table, gint64 id)
{
  g_return_if_fail(LZ_IS_LEDGER_BAR(self));
  g_autofree char *alone = g_strdup_printf("#%" G_GINT64_FORMAT, id);
  if (lz_ledger_bar_lists_entries(self) && marks(table, id))
    return;
  look_for(self, "", _("The filters hid this entry: they were taken away."));
  if (!marks(table, id)) {
    look_for(self, alone, _("This entry is older than all that are listed: it is shown alone."));
    marks(table, id);
  }
}

void
lz_ledger_bar_listen(LzLedgerBar *self, GtkWidget *widget)
{
  gtk_search_entry_set_key_capture_widget(self->words, widget);
}

// --- the check

static void
set_checking(LzLedgerBar *self, gboolean checking)
{
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "ledger.check", !checking);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "ledger.stop", checking);
  gtk_widget_set_visible(GTK_WIDGET(self->stop), checking);
}

static char *
what_was_proven(const LzVerify *found, const GError *error)
{
  if (found)
    return g_strdup_printf(
        _("Checked: every hash of %1$d entries fits; the chain ends in %2$.16s."),
        (int)found->entries, found->head);
  if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_STOPPED))
    return g_strdup(_("The check was stopped: it says nothing."));
  return g_strdup_printf(_("NOT AS IT WAS WRITTEN: %s."), error->message);
}

static void
on_checked(GObject *object, GAsyncResult *result, gpointer data)
{
  LzLedgerBar *self = LZ_LEDGER_BAR(object);
  g_autoptr(GError) error = NULL;
  g_autofree LzVerify *found = lz_long_work_finish(result, &error);
  g_clear_object(&self->wish);
  if (!self->box) // closed meanwhile
    return;
  set_checking(self, FALSE);
  g_free(self->proof);
  self->proof = what_was_proven(found, error);
  on_changed(self);
}

static void
act_check(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzLedgerBar *self = LZ_LEDGER_BAR(widget);
  self->wish = g_cancellable_new();
  set_checking(self, TRUE);
  say(self, _("Taking every hash again …"));
  lz_long_work_start(G_OBJECT(self), lz_job_verify, lz_station_wish_new(self->desk, NULL),
                     lz_station_wish_free, self->progress, self->wish, on_checked);
}

static void
act_stop(GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_cancellable_cancel(LZ_LEDGER_BAR(widget)->wish);
}

// --- the export

static void
on_exported(LzWindow *window, gpointer manifest, const GError *error, gpointer data)
{
  const LzStationWish *wish = data;
  g_autofree char *done =
      manifest ? g_strdup_printf(_("Saved: %1$s and %2$s"), wish->other, (char *)manifest) : NULL;
  lz_window_notice(window, error ? error->message : done);
}

static void
export_to(LzLedgerBar *self, const char *path)
{
  GtkRoot *window = gtk_widget_get_root(GTK_WIDGET(self));
  g_autofree char *doing = g_strdup_printf(_("The ledger is written and checked: %s"), path);
  lz_window_work(LZ_WINDOW(window), lz_job_export, lz_station_wish_new(self->desk, path),
                 lz_station_wish_free, doing, on_exported);
}

static void
on_path(GtkNativeDialog *dialog, int response, LzLedgerBar *self)
{
  g_autofree char *path = lz_files_saved_path(dialog, response);
  if (path)
    export_to(self, path);
}

static void
act_export(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzLedgerBar *self = LZ_LEDGER_BAR(widget);
  GtkNativeDialog *dialog = lz_files_ask_save(GTK_WINDOW(gtk_widget_get_root(widget)),
                                              _("Export the ledger"), _("ledger.csv"));
  g_signal_connect_object(dialog, "response", G_CALLBACK(on_path), self, 0);
  gtk_native_dialog_show(dialog);
}

// --- the lists

static void
fill_kinds(LzLedgerBar *self)
{
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  g_autoptr(GtkStringList) names = gtk_string_list_new(NULL);
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new();
  gtk_string_list_append(names, _("every kind"));
  g_strv_builder_add(builder, "");
  for (guint i = 0; i < n; i++) {
    gtk_string_list_append(names, lz_words_kind(kinds[i].name));
    g_strv_builder_add(builder, kinds[i].name);
  }
  self->kinds = g_strv_builder_end(builder);
  gtk_drop_down_set_model(self->kind, G_LIST_MODEL(names));
}

static void
fill_people(LzLedgerBar *self)
{
  GListModel *people = lz_desk_people(self->desk);
  g_autoptr(GtkStringList) names = gtk_string_list_new(NULL);
  int64_t all = 0;
  self->people = g_array_new(FALSE, FALSE, sizeof all);
  gtk_string_list_append(names, _("everybody"));
  g_array_append_val(self->people, all);
  for (guint i = 0; i < g_list_model_get_n_items(people); i++) {
    g_autoptr(LzPersonRow) row = g_list_model_get_item(people, i);
    const LzPersonInfo *info = lz_person_row_info(row);
    g_autofree char *erased = g_strdup_printf("#%d", (int)info->id);
    gtk_string_list_append(names, *info->initials ? info->initials : erased);
    g_array_append_val(self->people, info->id);
  }
  gtk_drop_down_set_model(self->person, G_LIST_MODEL(names));
}

void
lz_ledger_bar_set_desk(LzLedgerBar *self, LzDesk *desk)
{
  g_return_if_fail(LZ_IS_LEDGER_BAR(self));
  self->desk = g_object_ref(desk);
  self->look = lz_ledger_look_new(desk, on_looked, self);
  self->filling = TRUE;
  fill_kinds(self);
  fill_people(self);
  self->filling = FALSE;
  gpointer const filters[] = {self->about, self->first, self->last};
  for (guint i = 0; i < G_N_ELEMENTS(filters); i++)
    g_signal_connect_object(filters[i], "changed", G_CALLBACK(on_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->words, "search-changed", G_CALLBACK(on_changed), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->kind, "notify::selected", G_CALLBACK(on_changed), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->past, "toggled", G_CALLBACK(on_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(self->person, "notify::selected", G_CALLBACK(on_changed), self,
                          G_CONNECT_SWAPPED);
}

static void
lz_ledger_bar_dispose(GObject *object)
{
  LzLedgerBar *self = LZ_LEDGER_BAR(object);
  g_cancellable_cancel(self->wish); // nobody waits for it any more
  g_clear_pointer(&self->look, lz_ledger_look_free);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->kinds, g_strfreev);
  g_clear_pointer(&self->people, g_array_unref);
  g_clear_pointer(&self->proof, g_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_ledger_bar_parent_class)->dispose(object);
}

static void
lz_ledger_bar_class_init(LzLedgerBarClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_ledger_bar_dispose;
  changed_signal = g_signal_new("changed", LZ_TYPE_LEDGER_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_ledger_bar.ui");
  gtk_widget_class_install_action(widget, "ledger.check", NULL, act_check);
  gtk_widget_class_install_action(widget, "ledger.stop", NULL, act_stop);
  gtk_widget_class_install_action(widget, "ledger.export", NULL, act_export);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, box);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, words);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, kind);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, person);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, about);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, first);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, last);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, progress);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, stop);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, past);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, filters);
  gtk_widget_class_bind_template_child(widget, LzLedgerBar, says);
}

static void
lz_ledger_bar_init(LzLedgerBar *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  set_checking(self, FALSE);
  g_object_bind_property(self->past, "active", self->filters, "sensitive",
                         G_BINDING_INVERT_BOOLEAN);
  lz_type_ahead_add(self->kind);
  lz_type_ahead_add(self->person);
  lz_access_inner(GTK_WIDGET(self->kind), _("Kind of entry"));
  lz_access_inner(GTK_WIDGET(self->person), _("Who wrote or watched it"));
}
