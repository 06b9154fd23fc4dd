// SPDX-License-Identifier: GPL-3.0-or-later
// One window per file: a file that is open already is raised, not opened twice.
#include "lz_files.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <lz_backups.h>
#include <lz_demo.h>
#include <lz_desk.h>
#include <lz_error.h>
#include <string.h>

#include "lz_application.h"
#include "lz_damaged.h"
#include "lz_opening_view.h"
#include "lz_restore.h"
#include "lz_settings.h"
#include "lz_setup_window.h"
#include "lz_window.h"

#define DEMO_SEED  1
#define AT_ONCE_MS 500 // what takes no longer shows no page of its own

// By what it is, not by its name: a link leads to the same window.
static gboolean
is_same_file(const char *one, const char *other)
{
  GStatBuf a, b;
  return g_stat(one, &a) == 0 && g_stat(other, &b) == 0 && a.st_dev == b.st_dev &&
         a.st_ino == b.st_ino;
}

static LzWindow *
window_of(GtkApplication *application, const char *path)
{
  for (GList *w = gtk_application_get_windows(application); w; w = w->next) {
    const char *open = LZ_IS_WINDOW(w->data) ? lz_window_path(w->data) : NULL;
    if (open && is_same_file(open, path))
      return w->data;
  }
  return NULL;
}

// The start page is reused; it has nothing that could be lost. NULL = none shows it.
static LzWindow *
start_page(GtkApplication *application)
{
  for (GList *w = gtk_application_get_windows(application); w; w = w->next)
    if (LZ_IS_WINDOW(w->data) && !lz_window_path(w->data))
      return w->data;
  return NULL;
}

static LzWindow *
free_window(GtkApplication *application)
{
  LzWindow *window = start_page(application);
  return window ? window : LZ_WINDOW(lz_window_new(application));
}

static void
start_back_ups(LzDesk *desk)
{
  g_autofree char *usual = lz_backups_usual_folder();
  g_autofree char *second = g_settings_get_string(lz_settings(), "backup-folder");
  const char *folders[] = {usual, second, NULL};
  if (!lz_desk_is_read_only(desk))
    lz_desk_start_backups(desk, folders);
}

static void
show_in(LzWindow *window, LzDesk *desk, const GError *error)
{
  if (desk) {
    if (!lz_desk_is_practice(desk)) {
      g_settings_set_string(lz_settings(), "last-file", lz_desk_path(desk));
      start_back_ups(desk);
    }
    lz_window_set_desk(window, desk);
  }
  g_autofree char *why = desk ? lz_desk_why_read_only(desk) : NULL;
  lz_window_notice(window, error ? error->message : why);
  gtk_window_present(GTK_WINDOW(window));
}

void
lz_files_show(GtkApplication *application, LzDesk *desk, const GError *error)
{
  show_in(free_window(application), desk, error);
}

// --- opening, which takes a while where a large file is read whole

static void open_saying(GtkApplication *application, const char *path, const GError *say);

static void
on_salvaged(const char *path, const GError *say, gpointer application)
{
  if (path)
    open_saying(application, path, say);
  else
    lz_files_show(application, NULL, say);
}

static void
opened(LzWindow *window, const char *path, LzDesk *desk, const GError *error, const GError *say)
{
  GtkApplication *application = gtk_window_get_application(GTK_WINDOW(window));
  show_in(window, desk, error ? error : say);
  if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_DAMAGED))
    lz_damaged_offer(window, path, on_salvaged, application);
}

// Called off, one is where one was: a window that was made for it goes.
static void
on_opening_ended(LzOpeningView *view, GtkWindow *made)
{
  LzWindow *window = LZ_WINDOW(gtk_widget_get_root(GTK_WIDGET(view)));
  g_autoptr(GError) error = NULL;
  g_autofree char *path = g_strdup(lz_opening_view_path(view));
  g_autoptr(GError) say = g_object_steal_data(G_OBJECT(view), "say");
  LzDesk *desk = lz_opening_view_take(view, &error);
  if (!desk)
    lz_window_set_desk(window, NULL);
  if (desk || error)
    opened(window, path, desk, error, say);
  else if (made)
    gtk_window_destroy(made);
}

static void
wait_for(GtkApplication *application, LzOpening *opening, const GError *say)
{
  LzWindow *reused = start_page(application);
  LzWindow *window = reused ? reused : LZ_WINDOW(lz_window_new(application));
  const gboolean alone = !gtk_application_get_windows(application)->next;
  GtkWidget *view = lz_opening_view_new(opening);
  if (say)
    g_object_set_data_full(G_OBJECT(view), "say", g_error_copy(say), (GDestroyNotify)g_error_free);
  g_signal_connect(view, "ended", G_CALLBACK(on_opening_ended), reused || alone ? NULL : window);
  lz_window_notice(window, NULL);
  lz_window_show_opening(window, view);
  gtk_window_present(GTK_WINDOW(window));
}

// `say` is a notice over the station.
static void
open_saying(GtkApplication *application, const char *path, const GError *say)
{
  LzOpening *opening = lz_opening_new(path, lz_application_clock(application));
  if (!lz_opening_wait(opening, AT_ONCE_MS)) {
    wait_for(application, opening, say);
    return;
  }
  g_autoptr(GError) error = NULL;
  LzDesk *desk = lz_opening_take(opening, &error);
  lz_opening_free(opening);
  opened(free_window(application), path, desk, error, say);
}

void
lz_files_open(GtkApplication *application, const char *path)
{
  LzWindow *window = window_of(application, path);
  if (window)
    gtk_window_present(GTK_WINDOW(window));
  else
    open_saying(application, path, NULL);
}

static char *
demo_path(void)
{
  g_autofree char *folder = g_build_filename(g_get_user_cache_dir(), "lazaret", NULL);
  g_mkdir_with_parents(folder, 0700);
  return g_build_filename(folder, "demo.lazaret", NULL);
}

// Made afresh from today's date each time, unless its window is open already.
void
lz_files_open_demo(GtkApplication *application)
{
  g_autofree char *path = demo_path();
  g_autoptr(GError) error = NULL;
  LzWindow *window = window_of(application, path);
  if (window) {
    gtk_window_present(GTK_WINDOW(window));
    return;
  }
  static const char *const ends[] = {"", "-wal", "-shm"};
  for (size_t i = 0; i < G_N_ELEMENTS(ends); i++) {
    g_autofree char *part = g_strconcat(path, ends[i], NULL);
    g_unlink(part);
  }
  LzDeskOptions options = {.clock = lz_application_clock(application), .watch = TRUE};
  LzDesk *desk = lz_demo_make(path, DEMO_SEED, &options, &error);
  lz_files_show(application, desk, error);
}

void
lz_files_open_last(GtkApplication *application)
{
  g_autofree char *last = g_settings_get_string(lz_settings(), "last-file");
  g_autofree char *usual = lz_desk_default_path();
  if (*last && g_file_test(last, G_FILE_TEST_IS_REGULAR))
    lz_files_open(application, last);
  else if (g_file_test(usual, G_FILE_TEST_IS_REGULAR))
    lz_files_open(application, usual);
  else
    lz_files_show(application, NULL, NULL);
}

static GtkFileChooserNative *
ask(GtkWindow *window, const char *title, const char *accept)
{
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new(
      title, window, GTK_FILE_CHOOSER_ACTION_OPEN, accept, _("_Cancel"));
  g_autoptr(GtkFileFilter) filter = gtk_file_filter_new();
  gtk_file_filter_set_name(filter, _("Station files"));
  gtk_file_filter_add_pattern(filter, "*.lazaret");
  gtk_file_chooser_add_filter(GTK_FILE_CHOOSER(dialog), filter);
  gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(dialog), TRUE);
  return dialog;
}

static char *
chosen_path(GtkNativeDialog *dialog, int response)
{
  g_autoptr(GFile) file =
      response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file(GTK_FILE_CHOOSER(dialog)) : NULL;
  return file ? g_file_get_path(file) : NULL;
}

static void
on_open(GtkNativeDialog *dialog, int response, GtkApplication *application)
{
  g_autofree char *path = chosen_path(dialog, response);
  if (path)
    lz_files_open(application, path);
  g_object_unref(dialog);
}

void
lz_files_ask_open(GtkApplication *application, GtkWindow *window)
{
  GtkFileChooserNative *dialog = ask(window, _("Open a station"), _("_Open"));
  g_signal_connect(dialog, "response", G_CALLBACK(on_open), application);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(dialog));
}

// The usual name, or the next one that is free.
static char *
free_path(void)
{
  g_autofree char *usual = lz_desk_default_path();
  char *path = g_strdup(usual);
  for (int i = 2; g_file_test(path, G_FILE_TEST_EXISTS); i++) {
    g_free(path);
    g_autofree char *stem = g_strndup(usual, strlen(usual) - strlen(".lazaret"));
    path = g_strdup_printf("%s-%d.lazaret", stem, i);
  }
  return path;
}

static void
on_restored(LzWindow *window, const char *path, const GError *failed, gpointer application)
{
  if (failed)
    lz_files_show(application, NULL, failed);
  else
    open_saying(application, path, NULL);
}

// The back-up is copied to a name that is free, and the copy verified entry by entry.
void
lz_files_restore(GtkApplication *application, const char *from)
{
  LzWindow *window = free_window(application);
  g_autofree char *path = free_path();
  g_autofree char *folder = g_path_get_dirname(path);
  g_autofree char *doing = g_strdup_printf(_("The back-up is brought back and checked: %s"), from);
  g_mkdir_with_parents(folder, 0700);
  gtk_window_present(GTK_WINDOW(window));
  lz_window_copy(window, from, path, doing, on_restored, application);
}

// The station of this PC: what is open, else what was, else the usual file; the demo is none.
static char *
station_of(GtkWindow *window)
{
  LzDesk *desk = LZ_IS_WINDOW(window) ? lz_window_desk(LZ_WINDOW(window)) : NULL;
  g_autofree char *demo = demo_path();
  g_autofree char *last = g_settings_get_string(lz_settings(), "last-file");
  if (desk && !g_str_equal(lz_desk_path(desk), demo))
    return g_strdup(lz_desk_path(desk));
  return *last ? g_steal_pointer(&last) : lz_desk_default_path();
}

static void
on_restore(GtkNativeDialog *dialog, int response, GtkWindow *window)
{
  g_autofree char *path = chosen_path(dialog, response);
  if (path) {
    g_autofree char *station = station_of(window);
    GtkApplication *application = gtk_window_get_application(window);
    lz_restore_ask(LZ_IS_WINDOW(window) ? LZ_WINDOW(window) : free_window(application), path,
                   station, lz_files_restore);
  }
  g_object_unref(dialog);
}

void
lz_files_ask_restore(GtkWindow *window)
{
  GtkFileChooserNative *dialog = ask(window, _("Restore a back-up"), _("_Choose"));
  g_signal_connect_object(dialog, "response", G_CALLBACK(on_restore), window, 0);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(dialog));
}

void
lz_files_ask_new(GtkApplication *application, GtkWindow *window)
{
  gtk_window_present(GTK_WINDOW(lz_setup_window_new(application, window)));
}

GtkNativeDialog *
lz_files_ask_save(GtkWindow *window, const char *title, const char *name)
{
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new(
      title, window, GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"), _("_Cancel"));
  gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(dialog), TRUE);
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(dialog), name);
  return GTK_NATIVE_DIALOG(dialog);
}

GtkNativeDialog *
lz_files_ask_photo(GtkWindow *window)
{
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new(
      _("Choose a photograph"), window, GTK_FILE_CHOOSER_ACTION_OPEN, _("_Choose"), _("_Cancel"));
  g_autoptr(GtkFileFilter) filter = gtk_file_filter_new();
  gtk_file_filter_set_name(filter, _("JPEG and PNG pictures"));
  gtk_file_filter_add_mime_type(filter, "image/jpeg");
  gtk_file_filter_add_mime_type(filter, "image/png");
  gtk_file_chooser_add_filter(GTK_FILE_CHOOSER(dialog), filter);
  gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(dialog), TRUE);
  return GTK_NATIVE_DIALOG(dialog);
}

char *
lz_files_saved_path(GtkNativeDialog *dialog, int response)
{
  g_autoptr(GFile) file =
      response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file(GTK_FILE_CHOOSER(dialog)) : NULL;
  char *path = file ? g_file_get_path(file) : NULL;
  g_object_unref(dialog);
  return path;
}
