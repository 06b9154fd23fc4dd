// SPDX-License-Identifier: GPL-3.0-or-later
// Tables in and out through the command line: a whole ledger there and back, what is refused and
// how it is said.
#include <check.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

START_TEST(test_ledger_there_and_back)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read_daily(c, 4, 6, 0.19);
  g_autoptr(Table) readings = ctl_table(c, "export readings");
  g_free(ctl(c, 0,
             "record reading --corrects %s --reason 'typed wrongly' system=Blue-1 analyte=copper "
             "value=0,187 instrument=P1",
             table_cell(readings, readings->rows->len - 1, "id") + 1));
  g_free(ctl(c, 0, "export entries all.csv"));
  g_autofree char *before = ctl(c, 0, "verify");
  g_autofree char *plan_before = ctl(c, 0, "plan --at '2027-03-07 08:00' --format=csv");
  g_autofree char *moved = g_build_filename(c->folder, "old.lazaret", NULL);
  ck_assert_int_eq(g_rename(c->file, moved), 0);
  g_autofree char *said = ctl(c, 0, "import entries all.csv");
  ck_assert_msg(strstr(said, "restored"), "%s", said);
  g_autofree char *after = ctl(c, 0, "verify");
  ck_assert_str_eq(before, after); // same number of entries, same head of the chain
  g_autofree char *plan_after = ctl(c, 0, "plan --at '2027-03-07 08:00' --format=csv");
  ck_assert_str_eq(plan_before, plan_after);
  // one changed digit is found
  g_autofree char *csv = NULL, *name = g_build_filename(c->folder, "all.csv", NULL);
  ck_assert(g_file_get_contents(name, &csv, NULL, NULL));
  char *value = strstr(csv, "0.187");
  ck_assert_ptr_nonnull(value);
  value[4] = '8';
  ck_assert(g_file_set_contents(name, csv, -1, NULL));
  g_unlink(c->file);
  g_free(ctl(c, 3, "import entries all.csv"));
  ctl_free(c);
}
END_TEST

START_TEST(test_rows_are_all_or_nothing)
{
  Ctl *c = case_ionic("pause", "metal");
  g_autofree char *name = g_build_filename(c->folder, "bad.csv", NULL);
  ck_assert(
      g_file_set_contents(name,
                          "happened,system,analyte,value\r\n2027-03-04 08:00,Blue-1,copper,0.19\r\n"
                          "2027-03-04 09:00,Blue-1,copper,\"1.234,5\"\r\n",
                          -1, NULL));
  g_autofree char *said = ctl(c, 2, "import readings bad.csv");
  ck_assert_msg(strstr(said, "line 3") && strstr(said, "value") && strstr(said, "1.234,5"), "%s",
                said);
  g_autoptr(Table) readings = ctl_table(c, "export readings");
  ck_assert_uint_eq(readings->rows->len, 0);
  ck_assert(g_file_set_contents(name, "happened,system,analite,value\r\n", -1, NULL));
  g_autofree char *column = ctl(c, 2, "import readings bad.csv");
  ck_assert_msg(strstr(column, "analite") && strstr(column, "analyte"), "%s", column);
  ctl_free(c);
}
END_TEST

// A table from an instrument names nobody: the call does. A row that names somebody keeps him.
START_TEST(test_rows_that_name_nobody)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record person --who MK name='Timo Arp' initials=TA role=keeper"));
  g_autofree char *name = g_build_filename(c->folder, "r.csv", NULL);
  ck_assert(g_file_set_contents(name,
                                "happened,who,system,analyte,value\r\n"
                                "2027-03-04 08:00,,Blue-1,copper,0.19\r\n"
                                "2027-03-04 09:00,MK,Blue-1,copper,0.19\r\n",
                                -1, NULL));
  g_free(ctl(c, 0, "import readings r.csv --who=TA"));
  g_autoptr(Table) readings = ctl_table(c, "export readings");
  ck_assert_str_eq(table_cell(readings, 0, "who"), "TA");
  ck_assert_str_eq(table_cell(readings, 1, "who"), "MK");
  g_autofree char *unknown = ctl(c, 2, "import readings r.csv --who=ZZ --dry-run");
  ck_assert_msg(strstr(unknown, "ZZ") && strstr(unknown, "MK, TA"), "%s", unknown);
  ctl_free(c);
}
END_TEST

START_TEST(test_formula_is_text)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record note words='=1+1'"));
  g_free(ctl(c, 0, "record note words=-dash"));
  g_free(ctl(c, 0, "export notes notes.csv"));
  g_autoptr(Table) notes = ctl_table(c, "export notes");
  ck_assert_str_eq(table_cell(notes, 0, "words"), "'=1+1");
  ck_assert_str_eq(table_cell(notes, 1, "words"), "'-dash");
  g_autofree char *twice = ctl(c, 2, "import notes notes.csv");
  ck_assert_msg(strstr(twice, "line 2: id: ") && strstr(twice, "\nline 3: id: "), "%s", twice);
  ctl_import(c, "notes", "words\r\n'=1+1\r\n'-dash\r\n");
  g_autoptr(Table) again = ctl_table(c, "export notes");
  ck_assert_uint_eq(again->rows->len, 4);
  ck_assert_str_eq(table_cell(again, 2, "words"), "'=1+1");
  ctl_free(c);
}
END_TEST

START_TEST(test_exit_status)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 2, "frobnicate"));
  g_free(ctl(c, 2, "record reading system=Blue-1 analyte=copper value=abc"));
  g_free(ctl(c, 2, "record reading system=Blue-9 analyte=copper value=0.1"));
  g_free(ctl(c, 2, "plan --format=xml"));
  // a local time that does not exist, and one that occurs twice (Europe/Berlin 2027)
  g_autofree char *skipped = ctl(c, 2, "record note --happened '2027-03-28 02:30' words=x");
  ck_assert_msg(strstr(skipped, "02:30"), "%s", skipped);
  g_autofree char *twice = ctl(c, 2, "record note --happened '2027-10-31 02:30' words=x");
  ck_assert_msg(strstr(twice, "+01:00") && strstr(twice, "+02:00"), "%s", twice);
  g_free(ctl(c, 0, "record note --happened '2027-10-31 02:30 +02:00' words=x"));
  g_unlink(c->file);
  g_free(ctl(c, 3, "verify"));
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: tables and refusals");
  TCase *tc = tcase_create("tables");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_ledger_there_and_back);
  tcase_add_test(tc, test_rows_are_all_or_nothing);
  tcase_add_test(tc, test_rows_that_name_nobody);
  tcase_add_test(tc, test_formula_is_text);
  tcase_add_test(tc, test_exit_status);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
