// SPDX-License-Identifier: GPL-3.0-or-later
// A ledger that takes longer than anybody waits is gone through in slices of the main loop: what
// was found is there meanwhile, another word begins anew, and the end is what one pass would have
// found.
#include <string.h>

#include <lz_format.h>
#include <lz_tables.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_ledger_look.h"
#include "lz_text_table.h"

#define NOTES 120000

static LzAppStation station;
static LzLedgerLook *look;
static guint heard;

static void
on_looked(gpointer data)
{
  heard++;
}

// The first of them is the only one of its kind.
static void
setup(void)
{
  g_autoptr(GString) csv = g_string_new("words\na needle in it\n");
  g_autoptr(GError) error = NULL;
  LzImport done = {0};
  lz_app_station_open(&station);
  for (int i = 0; i < NOTES; i++)
    g_string_append(csv, "the pump hums\n");
  g_autoptr(GInputStream) in = g_memory_input_stream_new_from_data(csv->str, -1, NULL);
  gboolean taken = lz_table_import(station.desk, "note", in, FALSE, &done, &error);
  ck_assert_msg(taken, "%s", error ? error->message : "");
  look = lz_ledger_look_new(station.desk, on_looked, NULL);
  heard = 0;
}

static void
teardown(void)
{
  g_clear_pointer(&look, lz_ledger_look_free);
  lz_app_station_close(&station);
}

static gboolean
is_looking(void)
{
  g_autofree char *words = lz_ledger_look_words(look);
  return g_str_has_prefix(words, "Looking through the ledger: ");
}

static guint
n_rows(void)
{
  return g_list_model_get_n_items(lz_ledger_look_rows(look));
}

static void
says(const char *expected)
{
  g_autofree char *words = lz_ledger_look_words(look);
  ck_assert_str_eq(words, expected);
}

START_TEST(everything_is_there_at_once)
{
  const LzLedgerFilter all = {0};
  g_autofree char *n = lz_format_number((double)lz_desk_last_id(station.desk), 0);
  g_autofree char *expected = g_strdup_printf("The newest 1\u202f000 of %s entries.", n);
  lz_ledger_look_for(look, &all, NULL);
  says(expected);
  ck_assert_uint_eq(n_rows(), 1000);
}
END_TEST

START_TEST(a_word_is_found_meanwhile)
{
  const LzLedgerFilter needle = {.words = "NEEDLE"}, hums = {.words = "hums"};
  lz_ledger_look_for(look, &needle, NULL);
  ck_assert(is_looking());
  ck_assert_uint_eq(n_rows(), 0);
  lz_ledger_look_for(look, &hums, NULL); // typed on: the first is forgotten
  ck_assert(is_looking());
  ck_assert_uint_eq(n_rows(), 1000);
  lz_ledger_look_for(look, &needle, NULL);
  guint before = heard;
  lz_wait_until(!is_looking());
  ck_assert_uint_gt(heard, before);
  says("1 entry.");
  ck_assert_uint_eq(n_rows(), 1);
  g_autoptr(LzTextRow) row = g_list_model_get_item(lz_ledger_look_rows(look), 0);
  ck_assert_ptr_nonnull(strstr(lz_text_row_cell(row, 2), "a needle in it"));
}
END_TEST

// Asked again for the same it goes on, and looks again once it is through where something came in.
START_TEST(what_comes_in_is_found_too)
{
  const LzLedgerFilter needle = {.words = "needle"};
  lz_ledger_look_for(look, &needle, NULL);
  lz_app_submit(&station, "note", "words", "another needle", NULL);
  lz_ledger_look_for(look, &needle, NULL);
  lz_wait_until(!is_looking());
  ck_assert_uint_eq(n_rows(), 1);
  lz_ledger_look_for(look, &needle, NULL);
  ck_assert(is_looking());
  ck_assert_uint_eq(n_rows(), 1); // what is known stays in sight
  lz_wait_until(!is_looking());
  says("2 entries.");
  lz_ledger_look_for(look, &needle, NULL);
  ck_assert(!is_looking());
}
END_TEST

START_TEST(let_go_while_it_looks)
{
  const LzLedgerFilter needle = {.words = "needle"};
  lz_ledger_look_for(look, NULL, NULL); // what is past keeping
  lz_ledger_look_for(look, &needle, NULL);
  ck_assert(is_looking());
  g_clear_pointer(&look, lz_ledger_look_free);
  while (g_main_context_iteration(NULL, FALSE))
    continue;
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("ledger look");
  TCase *tcase = tcase_create("slices");
  tcase_set_timeout(tcase, 120);
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_add_test(tcase, everything_is_there_at_once);
  tcase_add_test(tcase, a_word_is_found_meanwhile);
  tcase_add_test(tcase, what_comes_in_is_found_too);
  tcase_add_test(tcase, let_go_while_it_looks);
  suite_add_tcase(suite, tcase);
  return lz_app_test_run(suite, false);
}
