// SPDX-License-Identifier: GPL-3.0-or-later
// What runs beside the window, with a bar and a button that stops it: a dropped table comes in and
// a copy is made, whole or not at all. A dropped picture is the photograph of what was seen.
#include <string.h>

#include "lz_app_window.h"
#include "lz_window_private.h"

static const char *
notice(void)
{
  return gtk_label_get_label(lz_app_window()->notice_text);
}

static void
drop(const char *path)
{
  g_autoptr(GFile) file = g_file_new_for_path(path);
  ck_assert_msg(lz_window_take_table(lz_app_window(), file), "%s", notice());
  ck_assert(gtk_widget_get_visible(GTK_WIDGET(lz_app_window()->back_up_bar)));
}

static void
wait_for_work(void)
{
  lz_wait_until(lz_app_window()->back_up_wish == NULL);
  ck_assert(!gtk_widget_get_visible(GTK_WIDGET(lz_app_window()->back_up_bar)));
}

// What a drop would do: dragging needs a pointer, so the handler is called.
START_TEST(a_dropped_table_is_taken_in_or_refused_whole)
{
  static const char good[] = "happened,system,analyte,value,unit,instrument\n"
                             "2027-03-09T06:00+01:00,Blue-1,temperature,25.1,C,\n"
                             "2027-03-09T06:10+01:00,Blue-2,temperature,25.4,C,\n";
  static const char bad[] = "happened,system,analyte,value,unit,instrument\n"
                            "2027-03-09T06:20+01:00,Blue-1,temperature,25.1,C,\n"
                            "2027-03-09T06:30+01:00,Blue-1,temperature,warm,C,\n";
  g_autofree char *path = g_build_filename(lz_app_window_station()->folder, "readings.csv", NULL);
  guint before = lz_app_count(lz_app_window_station(), "reading");
  ck_assert(g_file_set_contents(path, good, -1, NULL));
  drop(path);
  wait_for_work();
  ck_assert_uint_eq(lz_app_count(lz_app_window_station(), "reading"), before + 2);
  ck_assert_str_eq(notice(), "2 rows of readings taken in.");
  ck_assert(g_file_set_contents(path, bad, -1, NULL));
  drop(path);
  wait_for_work();
  ck_assert_ptr_nonnull(strstr(notice(), "warm"));
  ck_assert_uint_eq(lz_app_count(lz_app_window_station(), "reading"), before + 2);
  g_autoptr(GFile) other = g_file_new_for_path("/tmp/picture.tiff");
  ck_assert(!lz_window_take_table(lz_app_window(), other));
}
END_TEST

// One at a time, and a press on the button stops it: nothing of it is in the ledger.
START_TEST(a_dropped_table_is_stopped)
{
  g_autofree char *path = g_build_filename(lz_app_window_station()->folder, "notes.csv", NULL);
  g_autoptr(GString) csv = g_string_new("words\n");
  g_autoptr(GFile) file = g_file_new_for_path(path);
  guint before = lz_app_count(lz_app_window_station(), "note");
  for (int i = 0; i < 20000; i++)
    g_string_append(csv, "the pump hums\n");
  ck_assert(g_file_set_contents(path, csv->str, -1, NULL));
  drop(path);
  ck_assert(!lz_window_take_table(lz_app_window(), file));
  ck_assert_ptr_nonnull(strstr(notice(), "still running"));
  gtk_widget_activate_action(GTK_WIDGET(lz_app_window()), "win.back-up-stop", NULL);
  wait_for_work();
  ck_assert_ptr_nonnull(strstr(notice(), "stopped as asked"));
  lz_desk_take_in(lz_app_window_station()->desk, NULL);
  ck_assert_uint_eq(lz_app_count(lz_app_window_station(), "note"), before);
}
END_TEST

// A picture that is dropped goes into the form that is open for it; else such a form opens.
START_TEST(a_dropped_picture_is_a_photograph)
{
  g_autoptr(GFile) file = g_file_new_for_path("/tmp/Spot.JPG");
  g_autoptr(GFile) second = g_file_new_for_path("/tmp/two.png");
  ck_assert(lz_window_take_table(lz_app_window(), file));
  ck_assert(gtk_widget_get_visible(GTK_WIDGET(lz_app_window()->form)));
  g_autofree char *first = lz_form_text(lz_app_window()->form, "photo");
  ck_assert_str_eq(first, "/tmp/Spot.JPG");
  lz_form_open(lz_app_window()->form, lz_app_window_station()->desk, "scrape", 0, NULL, NULL);
  ck_assert(lz_window_take_table(lz_app_window(), second));
  g_autofree char *then = lz_form_text(lz_app_window()->form, "photo");
  ck_assert_str_eq(then, "/tmp/two.png");
}
END_TEST

static char *copied, *failed;

static void
on_copied(LzWindow *self, const char *to, const GError *error, gpointer data)
{
  copied = g_strdup(to);
  failed = error ? g_strdup(error->message) : NULL;
}

// A back-up and a restore: with a bar while it runs, whole or not there at all.
START_TEST(a_copy_is_whole_or_stopped)
{
  g_autofree char *to = g_build_filename(lz_app_window_station()->folder, "copy.lazaret", NULL);
  gboolean stop = _i == 1;
  g_clear_pointer(&copied, g_free);
  g_clear_pointer(&failed, g_free);
  lz_window_copy(lz_app_window(), lz_desk_path(lz_app_window_station()->desk), to, "Copying",
                 on_copied, NULL);
  ck_assert(gtk_widget_get_visible(GTK_WIDGET(lz_app_window()->back_up_bar)));
  ck_assert_str_eq(notice(), "Copying");
  if (stop)
    gtk_widget_activate_action(GTK_WIDGET(lz_app_window()), "win.back-up-stop", NULL);
  lz_wait_until(copied);
  ck_assert_str_eq(copied, to);
  ck_assert(!gtk_widget_get_visible(GTK_WIDGET(lz_app_window()->back_up_bar)));
  ck_assert_msg((failed != NULL) == stop, "%s", failed ? failed : "not stopped");
  ck_assert_int_eq(g_file_test(to, G_FILE_TEST_EXISTS), !stop);
  LzDeskOptions options = {.read_only = TRUE};
  LzVerify found;
  g_autoptr(LzDesk) copy = stop ? NULL : lz_desk_open(to, &options, NULL);
  ck_assert(stop || lz_desk_verify(copy, &found, NULL));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("beside");
  TCase *tcase = tcase_create("window");
  // a session without a notification service: what became late is told to nobody here
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  if (!lz_app_window_init())
    return 77;
  tcase_set_timeout(tcase, 120);
  tcase_add_checked_fixture(tcase, lz_app_window_setup, lz_app_window_teardown);
  tcase_add_test(tcase, a_dropped_table_is_taken_in_or_refused_whole);
  tcase_add_test(tcase, a_dropped_table_is_stopped);
  tcase_add_test(tcase, a_dropped_picture_is_a_photograph);
  tcase_add_loop_test(tcase, a_copy_is_whole_or_stopped, 0, 2);
  suite_add_tcase(suite, tcase);
  return lz_app_test_run(suite, true);
}
