// SPDX-License-Identifier: GPL-3.0-or-later
// The registers of Station as tables: sorted by value and not by how a date is written, one change
// told as one stretch while the selection stays, corrected from the row.
#include <string.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_app_window.h"
#include "lz_place.h"
#include "lz_station_view.h"
#include "lz_text_table.h"
#include "model_checker.h"

static LzAppStation station;
static GtkWidget *window, *view;
static gint64 corrected;
static char *kind;

static void
on_record(GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr(GVariant) fields = NULL;
  g_free(kind);
  g_variant_get(parameter, "(sx@a{ss})", &kind, &corrected, &fields);
}

static void
setup(void)
{
  static const GActionEntry actions[] = {{"record", on_record, "(sxa{ss})", NULL, NULL}};
  lz_app_station_open(&station);
  window = gtk_window_new();
  view = lz_station_view_new(station.desk);
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
  g_clear_pointer(&kind, g_free);
}

static GtkColumnView *
columns(void)
{
  return lz_app_below(view, GTK_TYPE_COLUMN_VIEW);
}

static LzTextTable *
table(void)
{
  return lz_app_below(view, LZ_TYPE_TEXT_TABLE);
}

// The first column of the rows as they stand now, in the order of a column's own sorter.
static char *
sorted_by(const char *title)
{
  GListModel *all = gtk_column_view_get_columns(columns());
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(GtkColumnViewColumn) column = g_list_model_get_item(all, i);
    if (strcmp(gtk_column_view_column_get_title(column), title) == 0)
      gtk_column_view_sort_by_column(columns(), column, GTK_SORT_ASCENDING);
  }
  GListModel *rows = G_LIST_MODEL(gtk_column_view_get_model(columns()));
  GString *names = g_string_new(NULL);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzTextRow) row = g_list_model_get_item(rows, i);
    g_string_append_printf(names, "%s%s", i ? " " : "", lz_text_row_cell(row, 0));
  }
  return g_string_free(names, FALSE);
}

static void
is_sorted(const char *title, const char *names)
{
  g_autofree char *now = sorted_by(title);
  ck_assert_msg(strcmp(now, names) == 0, "by %s: %s", title, now);
}

static LzTextRow *
row_of(const char *name)
{
  GListModel *rows = lz_text_table_rows(table());
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzTextRow) row = g_list_model_get_item(rows, i);
    if (strcmp(lz_text_row_cell(row, 0), name) == 0)
      return row; // the list keeps it
  }
  ck_abort_msg("no row %s", name);
}

START_TEST(instruments_are_sorted_by_value)
{
  lz_app_submit(&station, "instrument", "name", "R1", "method", "refractometer", "resolution", "1",
                "check_days", "7", NULL);
  lz_app_submit(&station, "instrument", "name", "T1", "method", "thermometer", "resolution", "0.1",
                "check_days", "300", NULL);
  lz_app_submit(&station, "check", "instrument", "R1", "ok", "yes", NULL);
  lz_place_show(LZ_PLACE(view), "instruments");
  is_sorted("next check", "R1 T1 P2"); // 16 March, January of the next year, none
  is_sorted("resolution", "T1 R1 P2");
  is_sorted("name", "P2 R1 T1");
  ck_assert_str_eq(lz_text_row_cell(row_of("R1"), 1), "refractometer");
  ck_assert_str_eq(lz_text_row_cell(row_of("R1"), 2), "salinity");
  ck_assert_str_eq(lz_text_row_cell(row_of("R1"), 6), "passed");
  ck_assert_str_eq(lz_text_row_cell(row_of("P2"), 2), "copper (all)");
  ck_assert_str_eq(lz_text_row_cell(row_of("P2"), 5), "never");
}
END_TEST

START_TEST(bottles_are_sorted_by_value)
{
  lz_app_submit(&station, "bottle", "name", "C-07", "analyte", "copper", "form", "ionic",
                "strength", "25", "strength_as", "salt", "expiry", "2027-02-01", "volume_ml",
                "1000", "prescription", "R-12", NULL);
  lz_app_submit(&station, "bottle", "name", "F-1", "analyte", "formalin", "strength", "1080",
                "volume_ml", "90", NULL);
  lz_place_show(LZ_PLACE(view), "bottles");
  is_sorted("mg per mL", "C-14 C-07 F-1");
  is_sorted("left", "F-1 C-07 C-14");                          // 90, 1,000, not known
  ck_assert_str_eq(lz_text_row_cell(row_of("C-07"), 3), "25"); // as its label has it
  ck_assert_str_eq(lz_text_row_cell(row_of("C-07"), 4), "salt");
  ck_assert_str_eq(lz_text_row_cell(row_of("C-14"), 4), "metal");
  ck_assert_str_eq(lz_text_row_cell(row_of("F-1"), 4), "");
  ck_assert_ptr_nonnull(strstr(lz_text_row_cell(row_of("C-07"), 5), "expired"));
  ck_assert_str_eq(lz_text_row_cell(row_of("C-07"), 7), "R-12");
}
END_TEST

START_TEST(one_change_is_one_stretch)
{
  lz_place_show(LZ_PLACE(view), "bottles");
  GListModel *rows = lz_text_table_rows(table());
  lz_text_table_select(table(), lz_desk_find(station.desk, "bottle", "C-14"));
  LzTextRow *kept = row_of("C-14");
  g_autoptr(LztModelChecker) checker = lzt_model_checker_new(rows);
  lz_app_submit(&station, "bottle", "name", "C-15", "analyte", "copper", "form", "amine",
                "strength", "5", NULL);
  lz_app_submit(&station, "bottle", "name", "C-16", "analyte", "copper", "form", "amine",
                "strength", "5", NULL);
  lz_wait_until(g_list_model_get_n_items(rows) == 3);
  lz_app_submit(&station, "reading", "system", "Blue-1", "analyte", "salinity", "value", "34",
                NULL);
  ck_assert_uint_eq(lzt_model_checker_signals(checker), 2); // the reading changed no bottle
  ck_assert_msg(!lzt_model_checker_fault(checker), "%s", lzt_model_checker_fault(checker));
  ck_assert_ptr_eq(row_of("C-14"), kept);
  ck_assert_int_eq(lz_text_table_selected(table()), lz_desk_find(station.desk, "bottle", "C-14"));
}
END_TEST

static gint64 chosen;

static void
on_chosen(LzTextTable *of, gint64 id, gpointer data)
{
  chosen = id;
}

// GTK may hold the focus on another row than the marked one: Enter means the marked one.
START_TEST(enter_means_the_marked_row)
{
  gint64 id = lz_desk_find(station.desk, "bottle", "C-14");
  lz_place_show(LZ_PLACE(view), "bottles");
  g_signal_connect(table(), "chosen", G_CALLBACK(on_chosen), NULL);
  lz_text_table_select(table(), id);
  for (guint i = 0; i < 2; i++) {
    chosen = 0;
    g_signal_emit_by_name(columns(), "activate", i);
    ck_assert_int_eq(chosen, id);
  }
}
END_TEST

START_TEST(a_row_is_corrected_in_place)
{
  gint64 id = lz_desk_find(station.desk, "bottle", "C-14");
  lz_place_show(LZ_PLACE(view), "bottles");
  lz_text_table_select(table(), id);
  lz_place_key(LZ_PLACE(view), (LzPadKey){LZ_PAD_MINUS, -1, true});
  ck_assert_str_eq(kind, "bottle");
  ck_assert_int_eq(corrected, lz_entry_id(lz_desk_entity(station.desk, "bottle", id)));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("app station");
  TCase *all = tcase_create("station");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, instruments_are_sorted_by_value);
  tcase_add_test(all, bottles_are_sorted_by_value);
  tcase_add_test(all, one_change_is_one_stretch);
  tcase_add_test(all, a_row_is_corrected_in_place);
  tcase_add_test(all, enter_means_the_marked_row);
  suite_add_tcase(suite, all);
  return lz_app_test_run(suite, true);
}
