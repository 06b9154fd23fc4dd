// SPDX-License-Identifier: GPL-3.0-or-later
// Opening what takes a while shows how far it is and can be called off; closing what takes a while
// goes on without a window. How long both take is in the hands of these tests: the desk's calls are
// wrapped, and its options let a small file count as a large one.
#include <glib/gstdio.h>
#include <lz_error.h>
#include <string.h>
#include <unistd.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_application.h"
#include "lz_files.h"
#include "lz_opening_view.h"
#include "lz_window.h"
#include "lz_window_private.h"

static LzAppStation station;
static GtkApplication *application;
static char *path;

// --- the desk's calls (-Wl,--wrap)

static gint opening_waits, closing_waits; // atomic: until they are 0
static gint opened, refused, holds;

LzDesk *__real_lz_desk_open(const char *path, const LzDeskOptions *options, GError **error);
LzDesk *__wrap_lz_desk_open(const char *path, const LzDeskOptions *options, GError **error);
void __real_lz_desk_close(LzDesk *desk);
void __wrap_lz_desk_close(LzDesk *desk);
void __real_g_application_hold(GApplication *held);
void __wrap_g_application_hold(GApplication *held);
void __real_g_application_release(GApplication *held);
void __wrap_g_application_release(GApplication *held);

LzDesk *
__wrap_lz_desk_open(const char *file, const LzDeskOptions *options, GError **error)
{
  LzDeskOptions how = *options;
  how.pc_folder = station.folder;
  how.leave_from = 1;
  how.keep_newest = 5;
  while (g_atomic_int_get(&opening_waits) && how.progress(how.hearer, 0.5))
    g_usleep(2000);
  LzDesk *desk = __real_lz_desk_open(file, &how, error);
  g_atomic_int_inc(desk ? &opened : &refused);
  return desk;
}

void
__wrap_lz_desk_close(LzDesk *desk)
{
  while (g_atomic_int_get(&closing_waits))
    g_usleep(2000);
  __real_lz_desk_close(desk);
}

void
__wrap_g_application_hold(GApplication *held)
{
  g_atomic_int_inc(&holds);
  __real_g_application_hold(held);
}

void
__wrap_g_application_release(GApplication *held)
{
  g_atomic_int_add(&holds, -1);
  __real_g_application_release(held);
}

// --- the program

static void
setup(void)
{
  lz_app_station_open(&station);
  path = g_strdup(lz_desk_path(station.desk));
  __real_lz_desk_close(station.desk);
  g_clear_object(&station.desk);
  opening_waits = closing_waits = opened = refused = holds = 0;
}

static GList *
windows(void)
{
  return gtk_application_get_windows(application);
}

static void
teardown(void)
{
  g_atomic_int_set(&opening_waits, 0);
  g_atomic_int_set(&closing_waits, 0);
  while (windows())
    gtk_window_destroy(windows()->data);
  lz_wait_until(g_atomic_int_get(&holds) == 0);
  g_clear_pointer(&path, g_free);
  lz_app_station_close(&station);
}

static LzWindow *
only_window(void)
{
  ck_assert_uint_eq(g_list_length(windows()), 1);
  return windows()->data;
}

static GtkWidget *
page_of(LzWindow *window)
{
  GtkWidget *page = gtk_stack_get_visible_child(window->stack);
  return LZ_IS_OPENING_VIEW(page) ? page : NULL;
}

static GtkWidget *
part_of(GtkWidget *page, const char *name)
{
  return GTK_WIDGET(gtk_widget_get_template_child(page, LZ_TYPE_OPENING_VIEW, name));
}

static LzWindow *
begin_slowly(void)
{
  g_atomic_int_set(&opening_waits, 1);
  lz_files_open(application, path);
  for (GList *w = windows(); w; w = w->next)
    if (page_of(w->data))
      return w->data;
  ck_abort_msg("no window says that it opens");
}

// Which file the copy is; 0 = there is none.
static guint64
copy(void)
{
  g_autoptr(GDir) folder = g_dir_open(station.folder, 0, NULL);
  GStatBuf is = {0};
  for (const char *name; (name = g_dir_read_name(folder));) {
    g_autofree char *whole = g_build_filename(station.folder, name, NULL);
    if (g_str_has_suffix(name, ".records"))
      ck_assert_int_eq(g_stat(whole, &is), 0);
  }
  return is.st_ino;
}

// --- opening

START_TEST(how_far_it_is)
{
  LzWindow *window = begin_slowly();
  GtkWidget *page = page_of(window), *bar = part_of(page, "bar");
  ck_assert_ptr_null(lz_window_desk(window));
  lz_wait_until(gtk_progress_bar_get_fraction(GTK_PROGRESS_BAR(bar)) > 0.3);
  ck_assert_ptr_eq(only_window(), window);
  ck_assert_str_eq(gtk_label_get_label(GTK_LABEL(part_of(page, "title"))),
                   "Opening station.lazaret");
  ck_assert_ptr_eq(gtk_window_get_focus(GTK_WINDOW(window)), part_of(page, "cancel"));
  gtk_test_accessible_assert_role(page, GTK_ACCESSIBLE_ROLE_REGION);
  // one window for each file, by whatever name
  g_autofree char *link = g_build_filename(station.folder, "link.lazaret", NULL);
  ck_assert_int_eq(symlink(path, link), 0);
  lz_files_open(application, link);
  lz_files_open(application, path);
  ck_assert_ptr_eq(only_window(), window);
  ck_assert_ptr_eq(page_of(window), page);
  g_atomic_int_set(&opening_waits, 0);
  lz_wait_until(lz_window_desk(window));
  // read whole, and again by the copy that was made of it
  ck_assert_int_eq(g_atomic_int_get(&opened), 2);
  ck_assert_uint_ne(copy(), 0);
  ck_assert(!lz_desk_is_heavy(lz_window_desk(window)));
  ck_assert_ptr_nonnull(lz_window_find_place(window, "round"));
  ck_assert_ptr_null(page_of(window));
  lz_wait_until(g_atomic_int_get(&holds) == 0); // nothing keeps the program any more
}
END_TEST

// By Esc or the button one is where one was, and nothing is half open: on the start page, or in the
// window of another station.
START_TEST(called_off)
{
  const gboolean other = _i > 1;
  LzWindow *before = other ? LZ_WINDOW(lz_window_new(application)) : NULL;
  g_autofree char *beside = g_build_filename(station.folder, "other.lazaret", NULL);
  if (other) {
    LzDeskOptions how = {.pc_folder = station.folder};
    lz_window_set_desk(before, lz_desk_create(beside, &how, NULL));
  }
  LzWindow *window = begin_slowly();
  ck_assert_int_eq(window == before, FALSE);
  if (_i % 2)
    ck_assert(lz_place_back(lz_window_place(window)));
  else
    g_signal_emit_by_name(part_of(page_of(window), "cancel"), "clicked");
  if (other)
    ck_assert_ptr_eq(only_window(), before);
  else
    ck_assert_ptr_null(lz_window_path(only_window()));
  lz_wait_until(g_atomic_int_get(&refused) == 1);
  lz_wait_until(g_atomic_int_get(&holds) == 0);
  ck_assert_int_eq(g_atomic_int_get(&opened), 0);
  ck_assert_uint_eq(copy(), 0);
  // and then it opens as if nothing had been
  g_atomic_int_set(&opening_waits, 0);
  lz_files_open(application, path);
  lz_wait_until(g_atomic_int_get(&opened) == 2);
}
END_TEST

// The program ends once the thread has heard of it.
START_TEST(closed_while_it_opens)
{
  LzWindow *window = begin_slowly();
  ck_assert_int_eq(g_atomic_int_get(&holds), 1);
  gtk_window_destroy(GTK_WINDOW(window));
  lz_wait_until(g_atomic_int_get(&holds) == 0);
  ck_assert_int_eq(g_atomic_int_get(&opened), 0);
}
END_TEST

// Why it cannot be opened stands on the start page, as after a quick one.
START_TEST(what_cannot_be_opened)
{
  ck_assert(g_file_set_contents(path, "no station", -1, NULL));
  LzWindow *window = begin_slowly();
  g_atomic_int_set(&opening_waits, 0);
  lz_wait_until(!page_of(window));
  ck_assert_ptr_null(lz_window_path(window));
  ck_assert(gtk_widget_get_visible(GTK_WIDGET(window->notice)));
  ck_assert_ptr_nonnull(strstr(gtk_label_get_label(window->notice_text), "station.lazaret"));
}
END_TEST

// --- closing

static void
say_notes(LzDesk *desk)
{
  for (int i = 0; i < 12; i++) {
    g_autoptr(LzCommand) c = lz_command_build("note", "words", "the pump hums", NULL);
    lz_command_set_actor(c, "MK");
    ck_assert(lz_desk_submit_one(desk, c, NULL));
  }
}

// The window is gone at once and the program goes on until the copy is written; who opens the
// station meanwhile waits for it.
START_TEST(the_copy_is_written_without_a_window)
{
  lz_files_open(application, path);
  lz_wait_until(g_atomic_int_get(&opened) == 2 && lz_window_desk(only_window()));
  lz_wait_until(g_atomic_int_get(&holds) == 0);
  const guint64 before = copy();
  say_notes(lz_window_desk(only_window()));
  g_atomic_int_set(&closing_waits, 1);
  gtk_window_destroy(GTK_WINDOW(only_window()));
  ck_assert_ptr_null(windows());
  ck_assert_int_eq(g_atomic_int_get(&holds), 1);
  ck_assert_uint_eq(copy(), before);
  lz_files_open(application, path);
  LzWindow *window = only_window();
  ck_assert_ptr_nonnull(page_of(window));
  ck_assert_int_eq(g_atomic_int_get(&opened), 2);
  g_atomic_int_set(&closing_waits, 0);
  lz_wait_until(lz_window_desk(window));
  lz_wait_until(g_atomic_int_get(&holds) == 0);
  ck_assert_uint_ne(copy(), before);
  ck_assert_int_eq(g_atomic_int_get(&opened), 3); // by the new one at once
  // there is nothing to write now, and closing is quick
  ck_assert(!lz_desk_closes_slowly(lz_window_desk(window)));
  gtk_window_destroy(GTK_WINDOW(window));
  ck_assert_int_eq(g_atomic_int_get(&holds), 0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("opening");
  TCase *t = tcase_create("slow files");
  g_setenv("DBUS_SESSION_BUS_ADDRESS", "disabled:", TRUE);
  if (!gtk_init_check())
    return 77;
  application = lz_application_new();
  g_application_set_flags(G_APPLICATION(application), G_APPLICATION_NON_UNIQUE);
  g_application_register(G_APPLICATION(application), NULL, NULL);
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_test(t, how_far_it_is);
  tcase_add_loop_test(t, called_off, 0, 4);
  tcase_add_test(t, closed_while_it_opens);
  tcase_add_test(t, what_cannot_be_opened);
  tcase_add_test(t, the_copy_is_written_without_a_window);
  suite_add_tcase(suite, t);
  return lz_app_test_run(suite, true);
}
