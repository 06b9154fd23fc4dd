// SPDX-License-Identifier: GPL-3.0-or-later
// What goes out of the window and comes in through a dialog that asks for a file: what was written
// is read back. For charts see test_chart_out.c.
#include <cairo.h>
#include <string.h>

#include "lz_app_dialog.h"
#include "lz_files.h"
#include "lz_ledger_bar.h"
#include "lz_place.h"
#include "lz_window_private.h"

START_TEST(a_sheet_as_pdf)
{
  g_autofree char *path = lz_app_path("card.pdf");
  LzWindow *window = lz_app_window();
  gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", "lots", "0412");
  gtk_widget_activate_action(GTK_WIDGET(window), "win.save-pdf", NULL);
  lz_wait_until(lz_app_dialog());
  g_autofree char *offered = gtk_file_chooser_get_current_name(GTK_FILE_CHOOSER(lz_app_dialog()));
  ck_assert_ptr_nonnull(strstr(offered, "0412"));
  ck_assert(g_str_has_suffix(offered, ".pdf"));
  lz_app_save_as(offered, path);
  lz_app_said_saved(path);
  lz_app_pdf_says(path, (const char *const[]){"0412", "Quay Street", NULL});
}
END_TEST

// The table and the key to it; of the lot one row that names it.
START_TEST(the_ledger_as_a_table)
{
  g_autofree char *path = lz_app_path("all.csv"), *text = NULL;
  LzWindow *window = lz_app_window();
  gtk_widget_activate_action(GTK_WIDGET(window), "win.ledger", NULL);
  GtkWidget *bar = lz_app_below(GTK_WIDGET(lz_window_place(window)), LZ_TYPE_LEDGER_BAR);
  gtk_widget_activate_action(bar, "ledger.export", NULL);
  lz_app_save_as("ledger.csv", path);
  lz_wait_until(g_str_has_prefix(lz_app_notice(), "Saved: "));
  ck_assert(g_file_get_contents(path, &text, NULL, NULL));
  ck_assert_ptr_nonnull(strstr(text, "0412"));
  ck_assert_ptr_nonnull(strstr(text, "P2"));
  ck_assert_ptr_nonnull(strstr(lz_app_notice(), path));
}
END_TEST

START_TEST(a_back_up)
{
  g_autofree char *path = lz_app_path("safe.lazaret");
  LzDeskOptions options = {.read_only = TRUE};
  LzVerify found;
  gtk_widget_activate_action(GTK_WIDGET(lz_app_window()), "win.back-up", NULL);
  lz_app_save_as("back-up-2027-03-09.lazaret", path);
  lz_wait_until(g_str_equal(lz_app_notice(), "The back-up is saved and checked."));
  g_autoptr(LzDesk) copy = lz_desk_open(path, &options, NULL);
  ck_assert_ptr_nonnull(copy);
  ck_assert(lz_desk_verify(copy, &found, NULL));
  lz_desk_close(copy);
}
END_TEST

// Another station in a window of its own; the same one again is the same window.
START_TEST(another_station_is_opened)
{
  LzWindow *window = lz_app_window();
  GtkApplication *application = gtk_window_get_application(GTK_WINDOW(window));
  g_autofree char *path = lz_app_path("other.lazaret");
  ck_assert_msg(lz_desk_backup(lz_app_window_station()->desk, path, NULL), "no copy");
  const guint before = g_list_length(gtk_application_get_windows(application));
  for (int i = 0; i < 2; i++) {
    lz_files_ask_open(application, GTK_WINDOW(window));
    lz_app_choose(path);
    lz_wait_until(g_list_length(gtk_application_get_windows(application)) == before + 1);
  }
  GtkWindow *other = NULL;
  for (GList *w = gtk_application_get_windows(application); w; w = w->next)
    if (LZ_IS_WINDOW(w->data) && w->data != window)
      other = w->data;
  lz_wait_until(lz_window_desk(LZ_WINDOW(other)));
  ck_assert_str_eq(lz_desk_path(lz_window_desk(LZ_WINDOW(other))), path);
  gtk_window_destroy(other);
}
END_TEST

START_TEST(a_picture_is_chosen)
{
  LzWindow *window = lz_app_window();
  g_autofree char *path = lz_app_path("spot.png");
  cairo_surface_t *spot = cairo_image_surface_create(CAIRO_FORMAT_RGB24, 8, 8);
  ck_assert_int_eq(cairo_surface_write_to_png(spot, path), CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy(spot);
  lz_window_open_see(window);
  GtkWidget *form = GTK_WIDGET(window->form);
  g_autofree char *none = lz_form_text(window->form, "photo");
  ck_assert(!none || !*none);
  ck_assert(gtk_widget_get_visible(form));
  g_autoptr(GPtrArray) all = g_ptr_array_new();
  g_ptr_array_add(all, form);
  for (guint i = 0; i < all->len; i++) {
    GtkWidget *at = g_ptr_array_index(all, i);
    const char *label = GTK_IS_BUTTON(at) ? gtk_button_get_label(GTK_BUTTON(at)) : NULL;
    if (label && strstr(label, "_picture"))
      g_signal_emit_by_name(at, "clicked");
    for (GtkWidget *c = gtk_widget_get_first_child(at); c; c = gtk_widget_get_next_sibling(c))
      g_ptr_array_add(all, c);
  }
  lz_app_choose(path);
  g_autofree char *chosen = lz_form_text(window->form, "photo");
  ck_assert_str_eq(chosen, path);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("dialogs");
  TCase *files = tcase_create("files");
  if (!lz_app_dialog_init())
    return 77;
  tcase_set_timeout(files, 120);
  tcase_add_checked_fixture(files, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_test(files, a_sheet_as_pdf);
  tcase_add_test(files, the_ledger_as_a_table);
  tcase_add_test(files, a_back_up);
  tcase_add_test(files, another_station_is_opened);
  tcase_add_test(files, a_picture_is_chosen);
  suite_add_tcase(suite, files);
  return lz_app_test_run(suite, true);
}
