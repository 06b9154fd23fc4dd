// SPDX-License-Identifier: GPL-3.0-or-later
#include "file_dialog.h"

#include "lz_app_test.h"

GtkDialog *
file_dialog(void)
{
  GListModel *all = gtk_window_get_toplevels();
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(GtkWidget) window = g_list_model_get_item(all, i);
    if (GTK_IS_FILE_CHOOSER(window) && gtk_widget_get_mapped(window))
      return GTK_DIALOG(window);
  }
  return NULL;
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
file_dialog_save_as(const char *offered, const char *path)
{
  g_autofree char *folder = g_path_get_dirname(path), *name = g_path_get_basename(path);
  g_autoptr(GFile) into = g_file_new_for_path(folder);
  lz_wait_until(file_dialog());
  settle(); // into the folder that it begins with
  GtkFileChooser *chooser = GTK_FILE_CHOOSER(file_dialog());
  g_autofree char *now = gtk_file_chooser_get_current_name(chooser);
  ck_assert_str_eq(now, offered);
  ck_assert(gtk_file_chooser_set_current_folder(chooser, into, NULL));
  settle();
  gtk_file_chooser_set_current_name(chooser, name);
  lz_wait_until(answers(chooser, path)); // the folder is read beside
  gtk_dialog_response(GTK_DIALOG(chooser), GTK_RESPONSE_ACCEPT);
  lz_wait_until(!file_dialog());
}

void
file_dialog_choose(const char *path)
{
  g_autoptr(GFile) file = g_file_new_for_path(path);
  lz_wait_until(file_dialog());
  settle(); // into the folder that it begins with
  GtkFileChooser *chooser = GTK_FILE_CHOOSER(file_dialog());
  ck_assert(gtk_file_chooser_set_file(chooser, file, NULL));
  lz_wait_until(answers(chooser, path));
  gtk_dialog_response(GTK_DIALOG(chooser), GTK_RESPONSE_ACCEPT);
  lz_wait_until(!file_dialog());
}

void
file_dialog_call_off(void)
{
  lz_wait_until(file_dialog());
  gtk_dialog_response(file_dialog(), GTK_RESPONSE_CANCEL);
  lz_wait_until(!file_dialog());
}
