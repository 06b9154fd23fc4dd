// SPDX-License-Identifier: GPL-3.0-or-later
// A table of many rows lays out few of them; scrolling, and looking for one, brings up the others.
#include "lz_app_window.h"
#include "lz_text_table.h"

#define ROWS 1000

static GtkWidget *window;
static LzTextTable *table;
static GtkColumnView *view;

// Row 1 is the first; their numbers are sorted as numbers.
static GListModel *
rows(void)
{
  GListStore *store = g_list_store_new(LZ_TYPE_TEXT_ROW);
  for (int i = 1; i <= ROWS; i++) {
    g_autofree char *number = g_strdup_printf("%d", i);
    const char *cells[] = {number, "words"};
    g_autoptr(LzTextRow) row = lz_text_row_new(i, cells, G_N_ELEMENTS(cells));
    lz_text_row_set_order(row, 0, i);
    g_list_store_append(store, row);
  }
  return G_LIST_MODEL(store);
}

static void
setup(void)
{
  static const char *const titles[] = {"number", "words", NULL};
  window = gtk_window_new();
  table = LZ_TEXT_TABLE(lz_text_table_new());
  lz_text_table_set_columns(table, "Rows", titles, 1);
  gtk_window_set_default_size(GTK_WINDOW(window), 600, 700);
  gtk_window_set_child(GTK_WINDOW(window), GTK_WIDGET(table));
  gtk_window_present(GTK_WINDOW(window));
  lz_wait_until(gtk_widget_get_mapped(GTK_WIDGET(table)));
  lz_text_table_set_rows(table, rows());
  view = lz_app_below(GTK_WIDGET(table), GTK_TYPE_COLUMN_VIEW);
}

static void
teardown(void)
{
  gtk_window_destroy(GTK_WINDOW(window));
}

static guint
laid_out(void)
{
  return g_list_model_get_n_items(G_LIST_MODEL(gtk_column_view_get_model(view)));
}

START_TEST(few_are_laid_out)
{
  ck_assert_uint_eq(g_list_model_get_n_items(lz_text_table_rows(table)), ROWS);
  ck_assert_uint_ge(laid_out(), 30);
  ck_assert_uint_lt(laid_out(), 100);
}
END_TEST

// To the end again and again, as somebody who holds Page Down.
START_TEST(scrolling_brings_up_all)
{
  GtkScrolledWindow *scroll = lz_app_below(GTK_WIDGET(table), GTK_TYPE_SCROLLED_WINDOW);
  GtkAdjustment *at = gtk_scrolled_window_get_vadjustment(scroll);
  lz_wait_until(gtk_adjustment_get_upper(at) > gtk_adjustment_get_page_size(at) + 100);
  for (int turns = 0; laid_out() < ROWS && turns < 50; turns++) {
    guint before = laid_out();
    gtk_adjustment_set_value(at, gtk_adjustment_get_upper(at));
    lz_wait_until(laid_out() > before);
    gtk_test_widget_wait_for_draw(window);
  }
  ck_assert_uint_eq(laid_out(), ROWS);
}
END_TEST

START_TEST(one_far_down_is_found)
{
  lz_text_table_select(table, 700);
  ck_assert_int_eq(lz_text_table_selected(table), 700);
  lz_text_table_set_rows(table, rows()); // the same again: it stays marked
  ck_assert_int_eq(lz_text_table_selected(table), 700);
}
END_TEST

// Sorted are all of them, not those that are laid out.
START_TEST(the_last_comes_first_if_so_sorted)
{
  g_autoptr(GtkColumnViewColumn) first =
      g_list_model_get_item(gtk_column_view_get_columns(view), 0);
  gtk_column_view_sort_by_column(view, first, GTK_SORT_DESCENDING);
  g_autoptr(LzTextRow) top =
      g_list_model_get_item(G_LIST_MODEL(gtk_column_view_get_model(view)), 0);
  ck_assert_int_eq(lz_text_row_id(top), ROWS);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("text table");
  TCase *tcase = tcase_create("rows");
  if (!gtk_init_check())
    return 77;
  tcase_set_timeout(tcase, 60);
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_add_test(tcase, few_are_laid_out);
  tcase_add_test(tcase, scrolling_brings_up_all);
  tcase_add_test(tcase, one_far_down_is_found);
  tcase_add_test(tcase, the_last_comes_first_if_so_sorted);
  suite_add_tcase(suite, tcase);
  return lz_app_test_run(suite, true);
}
