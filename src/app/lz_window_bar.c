// SPDX-License-Identifier: GPL-3.0-or-later
// The right half of the header bar: who is at this PC, the date and the clock of the station.
#include "lz_window_private.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <string.h>

#include "lz_access.h"
#include "lz_settings.h"

static void
show_time(LzWindow *self)
{
  g_autofree char *date = NULL, *clock = NULL;
  if (self->desk) {
    lzq_minute now = lz_clock_now(lz_desk_clock(self->desk));
    date = lz_format_date(lz_desk_zone(self->desk), now);
    clock = lz_format_clock(lz_desk_zone(self->desk), now);
  } else {
    g_autoptr(GDateTime) now = g_date_time_new_now_local();
    // Translators: weekday, day, month of the header bar, as for strftime.
    date = g_date_time_format(now, _("%a %-d %b"));
    clock = g_date_time_format(now, "%H:%M");
  }
  gtk_label_set_label(self->date, date);
  gtk_label_set_label(self->clock, clock);
}

static void
show_person(LzWindow *self)
{
  int64_t actor = self->desk ? lz_desk_actor(self->desk) : 0;
  gtk_widget_set_visible(GTK_WIDGET(self->person), self->desk != NULL);
  if (!actor) {
    gtk_label_set_label(self->person_name, _("Who are you?"));
    lz_access_inner(GTK_WIDGET(self->person), _("Who are you?"));
    return;
  }
  g_autofree char *name = g_strdup_printf("%s %s", lz_desk_person_initials(self->desk, actor),
                                          lz_desk_person_name(self->desk, actor));
  // Translators: initials of who was at this PC last.
  g_autofree char *still =
      g_strdup_printf(_("Still %s?"), lz_desk_person_initials(self->desk, actor));
  gtk_label_set_label(self->person_name, self->asks_still ? still : name);
  lz_access_inner(GTK_WIDGET(self->person), self->asks_still ? still : name);
}

// Why it is practice, as its entry says; the demo's and the desk's words are known to translators.
// A full stop of its own is not followed by ours.
static const char *const desk_words[] G_GNUC_UNUSED = {
    N_("an entry was made ahead of the clock"), N_("written under a clock that was handed in")};

static char *
practice_words(LzDesk *desk)
{
  g_autoptr(GPtrArray) entries = lz_desk_entries(desk, "practice", 0, 1, NULL);
  const char *why = entries && entries->len ? lz_entry_text(entries->pdata[0], "words") : NULL;
  if (!why || !*why)
    return g_strdup(
        _("Practice: nothing in this file is about real fish, and it stays marked so."));
  g_autofree char *said = g_strdup(_(why));
  if (g_str_has_suffix(said, "."))
    said[strlen(said) - 1] = 0;
  // Translators: why the file is practice, in the words of its own entry
  return g_strdup_printf(
      _("Practice: %s. Nothing in this file is about real fish, and it stays marked so."), said);
}

// Asked once for each file.
static void
show_practice(LzWindow *self)
{
  gboolean practice = self->desk && lz_desk_is_practice(self->desk);
  const char *file = practice ? lz_desk_path(self->desk) : NULL;
  if (practice && g_strcmp0(g_object_get_data(G_OBJECT(self->practice), "file"), file) != 0) {
    g_autofree char *words = practice_words(self->desk);
    gtk_label_set_label(self->practice, words);
    g_object_set_data_full(G_OBJECT(self->practice), "file", g_strdup(file), g_free);
  }
  gtk_widget_set_visible(GTK_WIDGET(self->practice), practice);
}

void
lz_window_refresh_bar(LzWindow *self)
{
  show_time(self);
  show_person(self);
  gtk_widget_set_visible(GTK_WIDGET(self->places), self->desk != NULL);
  show_practice(self);
  const char *station = self->desk ? lz_desk_station_name(self->desk) : NULL;
  g_autofree char *title =
      station && *station ? g_strdup_printf(_("%s, Lazaret"), station) : g_strdup(_("Lazaret"));
  gtk_window_set_title(GTK_WINDOW(self), title);
}
