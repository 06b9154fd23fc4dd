// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_restore.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <lz_format.h>
#include <lz_rescue.h>
#include <lz_setup.h>

typedef struct {
  char *backup, *station;
  LzRestoreYes yes;
} Wish;

static Wish *
wish_new(const char *backup, const char *station, LzRestoreYes yes)
{
  Wish *wish = g_new0(Wish, 1);
  *wish = (Wish){g_strdup(backup), g_strdup(station), yes};
  return wish;
}

static void
wish_free(gpointer data)
{
  Wish *wish = data;
  g_free(wish->backup);
  g_free(wish->station);
  g_free(wish);
}

static gpointer
look(gpointer data, LzProgress hear, gpointer hearer, GError **error)
{
  const Wish *wish = data;
  g_autofree LzRestore *found = g_new0(LzRestore, 1);
  return lz_rescue_preview(wish->backup, wish->station, hear, hearer, found, error)
             ? g_steal_pointer(&found)
             : NULL;
}

// In the zone of the station that is open, else of the PC.
static char *
time_of(GtkWindow *window, int64_t minute)
{
  LzDesk *desk = LZ_IS_WINDOW(window) ? lz_window_desk(LZ_WINDOW(window)) : NULL;
  g_autofree char *name = lz_setup_local_zone();
  g_autoptr(LzZone) here = desk ? NULL : lz_zone_new(name, NULL);
  LzZone *zone = desk ? lz_desk_zone(desk) : here;
  return zone ? lz_format_full(zone, minute) : lz_format_iso(minute);
}

static void
add_what_is_missing(GString *words, GtkWindow *window, const LzRestore *found, const char *station)
{
  g_autofree char *first = time_of(window, found->first_lost_min);
  if (found->other_station)
    g_string_append_printf(words, _("It is of another station: nothing of %s is in it."), station);
  else if (found->would_lose < 0)
    g_string_append_printf(words, _("%s cannot be read: what would be missing cannot be said."),
                           station);
  else if (found->would_lose == 0)
    g_string_append_printf(words, _("Nothing of %s would be missing."), station);
  else
    g_string_append_printf(words,
                           ngettext("%" PRId64 " entry of %s is not in it; it happened %s.",
                                    "%" PRId64
                                    " entries of %s are not in it; the earliest happened %s.",
                                    (unsigned long)found->would_lose),
                           found->would_lose, station, first);
}

static char *
words_of(GtkWindow *window, const LzRestore *found, const char *station)
{
  GString *words = g_string_new(NULL);
  g_autofree char *last = time_of(window, found->last_minute);
  g_string_append_printf(words,
                         ngettext("The back-up holds %" PRId64 " entry, made %s, and verifies.",
                                  "The back-up holds %" PRId64
                                  " entries, the last made %s, and verifies.",
                                  (unsigned long)found->entries),
                         found->entries, last);
  if (g_file_test(station, G_FILE_TEST_EXISTS)) {
    g_string_append(words, "\n\n");
    add_what_is_missing(words, window, found, station);
  }
  g_string_append(words, "\n\n");
  g_string_append(words, _("It becomes a file of its own; no file is written over."));
  return g_string_free(words, FALSE);
}

static void
on_response(GtkDialog *dialog, int response, const Wish *wish)
{
  GtkWindow *window = gtk_window_get_transient_for(GTK_WINDOW(dialog));
  GtkApplication *application = gtk_window_get_application(window);
  if (response == GTK_RESPONSE_ACCEPT)
    wish->yes(application, wish->backup);
  gtk_window_destroy(GTK_WINDOW(dialog));
}

static void
ask(GtkWindow *window, const Wish *about, const LzRestore *found)
{
  g_autofree char *words = words_of(window, found, about->station);
  Wish *wish = wish_new(about->backup, about->station, about->yes);
  GtkWidget *dialog = gtk_message_dialog_new(window, GTK_DIALOG_MODAL, GTK_MESSAGE_QUESTION,
                                             GTK_BUTTONS_NONE, "%s", _("Bring this back-up back?"));
  gtk_message_dialog_format_secondary_text(GTK_MESSAGE_DIALOG(dialog), "%s", words);
  gtk_dialog_add_buttons(GTK_DIALOG(dialog), _("_Cancel"), GTK_RESPONSE_CANCEL, _("_Restore"),
                         GTK_RESPONSE_ACCEPT, NULL);
  gtk_dialog_set_default_response(GTK_DIALOG(dialog), GTK_RESPONSE_ACCEPT);
  g_object_set_data_full(G_OBJECT(dialog), "wish", wish, wish_free);
  g_signal_connect(dialog, "response", G_CALLBACK(on_response), wish);
  gtk_window_present(GTK_WINDOW(dialog));
}

static void
on_looked(LzWindow *window, gpointer found, const GError *error, gpointer wish)
{
  lz_window_notice(window, error ? error->message : NULL);
  if (found)
    ask(GTK_WINDOW(window), wish, found);
}

void
lz_restore_ask(LzWindow *window, const char *backup, const char *station, LzRestoreYes yes)
{
  lz_window_work(window, look, wish_new(backup, station, yes), wish_free,
                 _("The back-up is being checked."), on_looked);
}
