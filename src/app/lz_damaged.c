// SPDX-License-Identifier: GPL-3.0-or-later
// The offer over a damaged file: see lz_damaged.h.
#include "lz_damaged.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <lz_rescue.h>

enum { SALVAGE = 1, RESTORE };

typedef struct {
  char *path, *to; // the damaged file, and the new one
  LzDamagedDone done;
  gpointer data;
} Offer;

static void
offer_free(gpointer data)
{
  Offer *offer = data;
  g_free(offer->path);
  g_free(offer->to);
  g_free(offer);
}

static char *
free_name(const char *path)
{
  char *name = g_strdup_printf("%s.salvaged.lazaret", path);
  for (int i = 2; g_file_test(name, G_FILE_TEST_EXISTS); i++) {
    g_free(name);
    name = g_strdup_printf("%s.salvaged-%d.lazaret", path, i);
  }
  return name;
}

static void
list_fate(gpointer data, int64_t id, const char *fate, const char *what)
{
  g_string_append_printf(data, "#%" PRId64 "\t%s\t%s\n", id, fate, what);
}

// What could not be kept is listed in a text file beside the new one.
static gpointer
salvage(gpointer data, LzProgress hear, gpointer hearer, GError **error)
{
  const Offer *offer = data;
  g_autoptr(GString) list = g_string_new(NULL);
  g_autofree char *listed = g_strconcat(offer->to, ".txt", NULL);
  g_autofree char *pc = g_build_filename(g_get_user_data_dir(), "lazaret", NULL);
  g_autofree LzSalvage *made = g_new0(LzSalvage, 1);
  const LzSalvageOptions options = {
      .pc_folder = pc, .each = list_fate, .each_data = list, .progress = hear, .hearer = hearer};
  return lz_rescue_salvage(offer->path, offer->to, &options, made, error) &&
                 g_file_set_contents(listed, list->str, (gssize)list->len, error)
             ? g_steal_pointer(&made)
             : NULL;
}

static void
on_salvaged(LzWindow *window, gpointer made, const GError *failed, gpointer data)
{
  const Offer *offer = data;
  const LzSalvage *result = made;
  g_autoptr(GError) error = NULL;
  if (failed) {
    offer->done(NULL, failed, offer->data);
    return;
  }
  error =
      g_error_new(G_IO_ERROR, G_IO_ERROR_FAILED,
                  _("%" PRId64 " entries are in %s; %" PRId64
                    " are left out and listed in %s.txt. Compare with a back-up if there is one."),
                  result->kept, offer->to, result->lost, offer->to);
  offer->done(offer->to, error, offer->data);
}

static void
on_response(GtkDialog *dialog, int response, Offer *offer)
{
  GtkWindow *window = gtk_window_get_transient_for(GTK_WINDOW(dialog));
  g_autofree char *doing = g_strdup_printf(_("A new file is made of what is sound: %s"), offer->to);
  gtk_window_destroy(GTK_WINDOW(dialog));
  if (response == SALVAGE) {
    lz_window_work(LZ_WINDOW(window), salvage, offer, offer_free, doing, on_salvaged);
    return;
  }
  if (response == RESTORE)
    gtk_widget_activate_action(GTK_WIDGET(window), "app.restore", NULL);
  offer_free(offer);
}

void
lz_damaged_offer(LzWindow *window, const char *path, LzDamagedDone done, gpointer data)
{
  Offer *offer = g_new0(Offer, 1);
  *offer = (Offer){g_strdup(path), free_name(path), done, data};
  GtkWidget *dialog =
      gtk_message_dialog_new(GTK_WINDOW(window), GTK_DIALOG_MODAL, GTK_MESSAGE_WARNING,
                             GTK_BUTTONS_NONE, "%s", _("This station's file is damaged"));
  gtk_message_dialog_format_secondary_text(
      GTK_MESSAGE_DIALOG(dialog), "%s",
      _("It stays as it is. A back-up brings everything back up to the day it was made. A salvage "
        "makes a new file of all that is sound, and lists what is not."));
  gtk_dialog_add_buttons(GTK_DIALOG(dialog), _("_Close"), GTK_RESPONSE_CANCEL,
                         _("_Restore a back-up…"), RESTORE, _("_Salvage into a new file"), SALVAGE,
                         NULL);
  gtk_dialog_set_default_response(GTK_DIALOG(dialog), RESTORE);
  g_signal_connect(dialog, "response", G_CALLBACK(on_response), offer);
  gtk_window_present(GTK_WINDOW(dialog));
}
