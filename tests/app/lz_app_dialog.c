// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_app_dialog.h"

#include <string.h>

#include "lz_window_private.h"

gboolean
lz_app_dialog_init(void)
{
  g_autofree char *home = g_dir_make_tmp("lazaret-home-XXXXXX", NULL);
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  g_setenv("XDG_DATA_HOME", home, TRUE); // GTK keeps a list of the files chosen
  g_set_application_name("Lazaret");
  g_set_prgname("lazaret");
  return lz_app_window_init();
}

GtkDialog *
lz_app_dialog(void)
{
  GListModel *all = gtk_window_get_toplevels();
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(GtkWidget) window = g_list_model_get_item(all, i);
    if (GTK_IS_FILE_CHOOSER(window) && gtk_widget_get_mapped(window))
      return GTK_DIALOG(window);
  }
  return NULL;
}

char *
lz_app_path(const char *name)
{
  return g_build_filename(lz_app_window_station()->folder, name, NULL);
}

// A folder is read by jobs of the main loop, which nothing tells the end of.
static void
settle(void)
{
  for (int quiet = 0; quiet < 50; quiet++)
    if (g_main_context_iteration(NULL, FALSE))
      quiet = 0;
    else
      g_usleep(2000);
}

static gboolean
answers(GtkFileChooser *chooser, const char *path)
{
  g_autoptr(GFile) file = gtk_file_chooser_get_file(chooser), wanted = g_file_new_for_path(path);
  return file && g_file_equal(file, wanted);
}

void
lz_app_save_as(const char *offered, const char *path)
{
  g_autofree char *folder = g_path_get_dirname(path), *name = g_path_get_basename(path);
  g_autoptr(GFile) into = g_file_new_for_path(folder);
  lz_wait_until(lz_app_dialog());
  settle(); // into the folder that it begins with
  GtkFileChooser *chooser = GTK_FILE_CHOOSER(lz_app_dialog());
  g_autofree char *now = gtk_file_chooser_get_current_name(chooser);
  ck_assert_str_eq(now, offered);
  ck_assert(gtk_file_chooser_set_current_folder(chooser, into, NULL));
  settle();
  gtk_file_chooser_set_current_name(chooser, name);
  lz_wait_until(answers(chooser, path)); // the folder is read beside
  gtk_dialog_response(GTK_DIALOG(chooser), GTK_RESPONSE_ACCEPT);
  lz_wait_until(!lz_app_dialog());
}

void
lz_app_choose(const char *path)
{
  g_autoptr(GFile) file = g_file_new_for_path(path);
  lz_wait_until(lz_app_dialog());
  settle(); // into the folder that it begins with
  GtkFileChooser *chooser = GTK_FILE_CHOOSER(lz_app_dialog());
  ck_assert(gtk_file_chooser_set_file(chooser, file, NULL));
  lz_wait_until(answers(chooser, path));
  gtk_dialog_response(GTK_DIALOG(chooser), GTK_RESPONSE_ACCEPT);
  lz_wait_until(!lz_app_dialog());
}

void
lz_app_call_off(void)
{
  lz_wait_until(lz_app_dialog());
  gtk_dialog_response(lz_app_dialog(), GTK_RESPONSE_CANCEL);
  lz_wait_until(!lz_app_dialog());
}

const char *
lz_app_notice(void)
{
  return gtk_label_get_label(lz_app_window()->notice_text);
}

void
lz_app_said_saved(const char *path)
{
  g_autofree char *words = g_strdup_printf("Saved: %s", path);
  ck_assert_str_eq(lz_app_notice(), words);
}

// Its words are those of the chart: which water, what was read, what is aimed at.
void
lz_app_pdf_says(const char *path, const char *const *words)
{
  g_autofree char *text = NULL;
  g_autofree char *tool = g_find_program_in_path("pdftotext");
  const char *const command[] = {"pdftotext", "-layout", path, "-", NULL};
  if (!tool)
    return; // poppler-utils are not on this machine: nothing can be read back
  ck_assert(g_spawn_sync(NULL, (char **)command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL,
                         NULL, NULL));
  for (; *words; words++)
    ck_assert_msg(strstr(text, *words) != NULL, "no %s in %s", *words, text);
}
