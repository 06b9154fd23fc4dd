// SPDX-License-Identifier: GPL-3.0-or-later
// A file dropped on the window. A table: readings.csv becomes readings, all or nothing, and a bar
// says what came in or which line stands in the way. A picture: the photograph of what was seen.
// Dragging itself needs a pointer; the handler is tested in process.
#include <glib/gi18n.h>
#include <lz_fields.h>
#include <lz_tables.h>

#include "lz_photo_show.h"
#include "lz_record.h"
#include "lz_station_jobs.h"
#include "lz_window_private.h"

// "readings 2027.csv" is the table of readings.
static const LzKind *
kind_of(const char *path)
{
  g_autofree char *base = g_path_get_basename(path);
  gsize n = strspn(base, "abcdefghijklmnopqrstuvwxyz_");
  g_autofree char *stem = g_strndup(base, n);
  return lz_kind_find(stem);
}

// A bar has room for the first lines of what is wrong.
static void
show_wrong(LzWindow *self, const char *words)
{
  g_auto(GStrv) lines = g_strsplit(words, "\n", 4);
  if (g_strv_length(lines) == 4) {
    g_free(lines[3]);
    lines[3] = g_strdup("…");
  }
  g_autofree char *some = g_strjoinv("\n", lines);
  lz_window_notice(self, some);
}

// Into the form that is open for it, else a form for what was seen opens with it.
static gboolean
take_photo(LzWindow *self, const char *path)
{
  gboolean open = gtk_widget_get_visible(GTK_WIDGET(self->form));
  g_autofree char *has = open ? lz_form_text(self->form, "photo") : NULL;
  if (has)
    lz_form_set_text(self->form, "photo", path);
  else
    lz_record_open(GTK_WIDGET(self), "sighting", "photo", path, NULL);
  return TRUE;
}

static void
on_taken(LzWindow *self, gpointer made, const GError *error, gpointer data)
{
  const LzStationWish *wish = data;
  const LzImport *table = made;
  if (error) {
    show_wrong(self, error->message);
    return;
  }
  lz_desk_take_in(self->desk, NULL); // else it does so by itself soon
  g_autofree char *done = g_strdup_printf(
      ngettext("%1$u row of %2$s taken in.", "%1$u rows of %2$s taken in.", table->rows),
      table->rows, lz_kind_find(wish->table)->plural);
  lz_window_notice(self, done);
}

gboolean
lz_window_take_table(LzWindow *self, GFile *file)
{
  g_autofree char *path = g_file_get_path(file);
  const LzKind *kind = path ? kind_of(path) : NULL;
  if (!self->desk)
    return FALSE;
  if (path && lz_photo_is_named(path)) // also one called sightings.jpg
    return take_photo(self, path);
  if (!kind) {
    lz_window_notice(self, _("A table is taken by its name: readings.csv, doses.csv, lots.csv …"));
    return FALSE;
  }
  g_autofree char *doing = g_strdup_printf(_("A table is taken in: %s"), path);
  LzStationWish *wish = lz_station_wish_new(self->desk, path);
  wish->table = kind->name;
  return lz_window_work(self, lz_job_import, wish, lz_station_wish_free, doing, on_taken);
}

static gboolean
on_drop(GtkDropTarget *target, const GValue *value, double x, double y, LzWindow *self)
{
  return G_VALUE_HOLDS(value, G_TYPE_FILE) && lz_window_take_table(self, g_value_get_object(value));
}

void
lz_window_drop_init(LzWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new(G_TYPE_FILE, GDK_ACTION_COPY);
  g_signal_connect(target, "drop", G_CALLBACK(on_drop), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(target));
}
