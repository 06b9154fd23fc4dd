// SPDX-License-Identifier: GPL-3.0-or-later
// The Round by keys alone: digits fill the open line, Enter records, a refusal opens the gate and
// keeps the number, minus asks why, what is half typed survives.
#include "full_disk.h"
#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_number_entry.h"
#include "lz_place.h"
#include "lz_round_view.h"
#include "lz_rows.h"

#include <sqlite3.h>

static LzAppStation station;
static GtkWidget *window, *view;

static char *notice; // that the window was last asked to show

static void
on_notice(GSimpleAction *action, GVariant *words, gpointer data)
{
  g_free(notice);
  notice = g_variant_dup_string(words, NULL);
}

static void
setup(void)
{
  static const GActionEntry actions[] = {{"notice", on_notice, "s", NULL, NULL}};

  full_disk_begin();
  lz_app_station_open(&station);
  lz_app_station_lot(&station);
  window = gtk_window_new();
  view = lz_round_view_new(station.desk);
  g_autoptr(GSimpleActionGroup) group = g_simple_action_group_new();
  g_action_map_add_action_entries(G_ACTION_MAP(group), actions, 1, NULL);
  gtk_widget_insert_action_group(window, "win", G_ACTION_GROUP(group));
  gtk_window_set_child(GTK_WINDOW(window), view);
  gtk_window_present(GTK_WINDOW(window));
  lz_wait_until(gtk_widget_get_mapped(view));
}

static void
teardown(void)
{
  gtk_window_destroy(GTK_WINDOW(window));
  lz_app_station_close(&station);
  g_clear_pointer(&notice, g_free);
}

static void
press(const char *keys)
{
  for (const char *c = keys; *c; c++) {
    LzPadKey key = {LZ_PAD_OTHER, -1, true};
    if (g_ascii_isdigit(*c))
      key = (LzPadKey){LZ_PAD_DIGIT, *c - '0', true};
    else if (*c == '\n')
      key.kind = LZ_PAD_ENTER;
    else if (*c == '-')
      key.kind = LZ_PAD_MINUS;
    else if (*c == 'v')
      key.kind = LZ_PAD_DOWN;
    else if (*c == '^')
      key.kind = LZ_PAD_UP;
    lz_place_key(LZ_PLACE(view), key);
  }
}

// Walks to the first line that asks for a test of salinity.
static void
walk_to_test(lzq_analyte analyte)
{
  GListModel *tasks = lz_desk_tasks(station.desk);
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++)
    press("^");
  for (guint i = 0; i < g_list_model_get_n_items(tasks); i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    const lzq_task *task = lz_task_row_info(row)->task;
    if (task->kind == LZQ_TASK_TEST && task->analyte == analyte)
      return;
    press("v");
  }
  ck_abort_msg("the round asks for no such test");
}

START_TEST(digits_and_enter_record_a_reading)
{
  walk_to_test(LZQ_SALINITY);
  press("34\n");
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 1);
  g_autoptr(GPtrArray) facts = lz_desk_facts(station.desk, "reading", 0, LZQ_NEVER - 1);
  ck_assert_double_eq_tol(lz_entry_number(g_ptr_array_index(facts, 0), "value"), 34, 1e-9);
}
END_TEST

START_TEST(enter_alone_records_nothing)
{
  walk_to_test(LZQ_SALINITY);
  press("\n");
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 0);
}
END_TEST

START_TEST(a_value_beyond_the_field_is_kept_and_not_recorded)
{
  walk_to_test(LZQ_SALINITY);
  press("3400000\n");
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 0);
  ck_assert(lz_place_back(LZ_PLACE(view))); // Esc takes the number away: so it was still there
}
END_TEST

START_TEST(a_full_disk_keeps_what_was_typed)
{
  walk_to_test(LZQ_SALINITY);
  press("34");
  full_disk_set(SQLITE_FULL);
  press("\n");
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 0);
  ck_assert_ptr_nonnull(notice);
  ck_assert_ptr_nonnull(strstr(notice, "there is no room left on the disk; nothing was saved"));
  full_disk_set(0);
  press("\n"); // the number is still there
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 1);
  g_autoptr(GPtrArray) facts = lz_desk_facts(station.desk, "reading", 0, LZQ_NEVER - 1);
  ck_assert_double_eq_tol(lz_entry_number(g_ptr_array_index(facts, 0), "value"), 34, 1e-9);
}
END_TEST

static GtkWidget *
number_of(GtkWidget *widget)
{
  GtkWidget *found = LZ_IS_NUMBER_ENTRY(widget) && gtk_widget_get_mapped(widget) ? widget : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = number_of(child);
  return found;
}

// The number stands where the eye left it on the line before, whatever stands beside it: alone it
// is no wider.
START_TEST(a_number_alone_is_no_wider)
{
  gtk_window_set_default_size(GTK_WINDOW(window), 1366, 700);
  walk_to_test(LZQ_SALINITY);
  lz_wait_until(gtk_widget_get_width(view) > 1200 && number_of(view));
  int least;
  gtk_widget_measure(number_of(view), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  lz_wait_until(gtk_widget_get_width(number_of(view)) >= least);
  ck_assert_int_lt(gtk_widget_get_width(number_of(view)), 500);
}
END_TEST

START_TEST(half_typed_survives_a_new_window)
{
  walk_to_test(LZQ_SALINITY);
  press("33");
  gtk_window_set_child(GTK_WINDOW(window), NULL);
  view = lz_round_view_new(station.desk);
  gtk_window_set_child(GTK_WINDOW(window), view);
  walk_to_test(LZQ_SALINITY);
  press("\n");
  ck_assert_uint_eq(lz_app_count(&station, "reading"), 1);
}
END_TEST

// Two lots of Blue-1 that are watched, on one line.
static void
walk_to_look(void)
{
  static const char *const codes[] = {"0420", "0421"}, *const tanks[] = {"Blue-1/1", "Blue-1/2"};
  lz_app_submit(&station, "protocol", "name", "Watch", "version", "1", "source", "invented", NULL);
  lz_app_submit(&station, "phase", "protocol", "Watch", "position", "1", "name", "two days", "kind",
                "observe", "min_elapsed_min", "2 d", NULL);
  for (int i = 0; i < 2; i++) {
    lz_app_submit(&station, "lot", "code", codes[i], "tank", tanks[i], "heads", "5", NULL);
    lz_app_submit(&station, "course", "lot", codes[i], "protocol", "Watch", NULL);
  }
  GListModel *tasks = lz_desk_tasks(station.desk);
  guint n = g_list_model_get_n_items(tasks);
  for (guint i = 0; i < n; i++)
    press("^");
  for (guint i = 0; i < n; i++) {
    g_autoptr(LzTaskRow) row = g_list_model_get_item(tasks, i);
    if (lz_task_row_info(row)->n_lots == 2)
      return;
    press("v");
  }
  ck_abort_msg("no line names both lots");
}

// One visit, one number: an entry for each lot that the line names, and for no other.
START_TEST(a_visit_is_recorded_for_each_lot)
{
  walk_to_look();
  press("90\n");
  g_autoptr(GPtrArray) fed = lz_desk_facts(station.desk, "feed", 0, LZQ_NEVER - 1);
  ck_assert_uint_eq(fed->len, 2);
  int64_t first = lz_entry_int(fed->pdata[0], "lot"), second = lz_entry_int(fed->pdata[1], "lot");
  ck_assert_int_eq(first + second, lz_desk_find(station.desk, "lot", "0420") +
                                       lz_desk_find(station.desk, "lot", "0421"));
  for (guint i = 0; i < 2; i++)
    ck_assert_double_eq_tol(lz_entry_number(fed->pdata[i], "eaten_share"), 0.9, 1e-9);
}
END_TEST

START_TEST(hints_name_only_what_acts)
{
  g_autoptr(GPtrArray) hints = lz_place_hints(LZ_PLACE(view));
  ck_assert_uint_gt(hints->len, 3);
  for (guint i = 0; i < hints->len; i++) {
    const LzHint *hint = g_ptr_array_index(hints, i);
    ck_assert(*hint->keys && *hint->label);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("round");
  TCase *keys = tcase_create("keys");
  tcase_set_timeout(keys, 60);
  tcase_add_checked_fixture(keys, setup, teardown);
  tcase_add_test(keys, digits_and_enter_record_a_reading);
  tcase_add_test(keys, enter_alone_records_nothing);
  tcase_add_test(keys, a_value_beyond_the_field_is_kept_and_not_recorded);
  tcase_add_test(keys, a_full_disk_keeps_what_was_typed);
  tcase_add_test(keys, a_number_alone_is_no_wider);
  tcase_add_test(keys, half_typed_survives_a_new_window);
  tcase_add_test(keys, a_visit_is_recorded_for_each_lot);
  tcase_add_test(keys, hints_name_only_what_acts);
  suite_add_tcase(suite, keys);
  return lz_app_test_run(suite, true);
}
