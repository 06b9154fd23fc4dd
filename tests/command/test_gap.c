// SPDX-License-Identifier: GPL-3.0-or-later
// Cases A and D through the command line: a dose that replaces what a change takes out; a gap in a
// hold.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

static const char *
hold_end(const Table *plan)
{
  int row = table_find(plan, "lot", "0412", "phase", "Hold", "what", "end", NULL);
  ck_assert_int_ge(row, 0);
  return table_cell(plan, (guint)row, "when");
}

// Case D up to and without the reading of 14 March 08:00.
static Ctl *
until_the_gap(const char *lapse)
{
  Ctl *c = case_ionic(lapse, "metal");
  case_read_daily(c, 4, 12, 0.19);
  case_read(c, "2027-03-13 08:00 0.19\n2027-03-13 20:00 0.18\n");
  return c;
}

static void
the_gap(Ctl *c)
{
  case_read(c, "2027-03-14 08:00 0.15\n");
  // 2,400 L x (0.185 - 0.15) mg/L = 84 mg = 84 mL of 1.00 mg/mL
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-14 12:30' system=Blue-1 bottle=C-07 amount_ml=84"));
  case_read(c, "2027-03-14 14:00 0.185\n");
}

START_TEST(test_gap_changes_the_end)
{
  Ctl *c = until_the_gap("pause");
  g_autoptr(Table) before = ctl_table(c, "plan --at '2027-03-14 07:59' --format=csv");
  // 21 days of credit from 4 March 08:00 local = 07:00 UTC
  ck_assert_str_eq(hold_end(before), "2027-03-25T07:00Z");
  case_read(c, "2027-03-14 08:00 0.15\n");
  g_autoptr(Table) after = ctl_table(c, "plan --at '2027-03-14 08:01' --format=csv");
  ck_assert_str_ne(hold_end(after), "2027-03-25T07:00Z");
  ctl_free(c);
}
END_TEST

START_TEST(test_gap_pause)
{
  Ctl *c = until_the_gap("pause");
  the_gap(c);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-14 14:01' --format=csv");
  // no credit from 13 March 20:00 to 14 March 14:00, 18 h: 25 March 08:00 + 18 h = 26 March 02:00
  // local, 01:00 UTC
  ck_assert_str_eq(hold_end(plan), "2027-03-26T01:00Z");
  ctl_free(c);
}
END_TEST

START_TEST(test_gap_restart)
{
  Ctl *c = until_the_gap("restart");
  the_gap(c);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-14 14:01' --format=csv");
  // 504 h from 14 March 14:00 local (13:00 UTC): 4 April 13:00 UTC, 15:00 local after the clock
  // change of 28 March
  ck_assert_str_eq(hold_end(plan), "2027-04-04T13:00Z");
  int row = table_find(plan, "lot", "0412", "phase", "Hold", "what", "end", NULL);
  ck_assert(strstr(table_cell(plan, (guint)row, "local"), "2027-04-04 15:00"));
  // the 721st minute without credit since 13 March 20:00 local is 14 March 08:00 local
  ck_assert_int_ge(
      table_find(plan, "lot", "0412", "what", "lapse", "when", "2027-03-14T07:00Z", NULL), 0);
  ctl_free(c);
}
END_TEST

// Case A: 360 of 2,400 L at 0.19 changed for copper-free water.
static Ctl *
replacing(const char *strength_as)
{
  Ctl *c = case_ionic("pause", strength_as);
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  g_free(ctl(c, 0,
             "record change --happened '2027-03-05 07:40' system=Blue-1 litres=360 new_copper=0"));
  return c;
}

START_TEST(test_replace_what_a_change_takes_out)
{
  Ctl *c = replacing("metal");
  g_autoptr(Table) water =
      ctl_table(c, "water --at '2027-03-05 07:40' --system Blue-1 --format=csv");
  int row = table_find(water, "analyte", "copper", NULL);
  // 0.19 x (1 - 360/2,400) = 0.1615; 2,400 x 0.15 x 0.19 = 68.4 mg = 68.4 mL
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(water, (guint)row, "carried"), NULL), 0.1615,
                          5e-4);
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(water, (guint)row, "dose_amount"), NULL), 68.4,
                          0.05);
  ck_assert_str_eq(table_cell(water, (guint)row, "dose_unit"), "mL");
  // ten times: predicted 0.1615 + 684/2,400 = 0.4465; refused whoever asks
  g_autofree char *slip = ctl(
      c, 1, "record dose --happened '2027-03-05 07:40' system=Blue-1 bottle=C-07 amount_ml=684");
  ck_assert_msg(strstr(slip, "684") && strstr(slip, "0.446"), "%s", slip);
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-05 07:40' system=Blue-1 bottle=C-07 amount_ml=68.4"));
  g_autoptr(Table) after =
      ctl_table(c, "water --at '2027-03-05 07:41' --system Blue-1 --format=csv");
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(after, (guint)row, "carried"), NULL), 0.19,
                          5e-4);
  // a second person at 09:10 is told who gave what and when
  g_autofree char *twice = ctl(
      c, 1, "record dose --happened '2027-03-05 09:10' system=Blue-1 bottle=C-07 amount_ml=68.4");
  ck_assert_msg(strstr(twice, "68.4") && strstr(twice, "MK") && strstr(twice, "07:40"), "%s",
                twice);
  // a reading at least the mixing time (60 min) later unlocks it
  case_read(c, "2027-03-05 09:20 0.17\n");
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-05 09:25' system=Blue-1 bottle=C-07 amount_ml=48"));
  ctl_free(c);
}
END_TEST

START_TEST(test_bottle_labelled_in_salt)
{
  Ctl *c = replacing("salt");
  g_autoptr(Table) water =
      ctl_table(c, "water --at '2027-03-05 07:40' --system Blue-1 --format=csv");
  int row = table_find(water, "analyte", "copper", NULL);
  // CuSO4.5H2O is 25.451 % copper (IUPAC 2021 masses): 68.4 / 0.25451 = 268.7 mL
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(water, (guint)row, "dose_amount"), NULL), 268.7,
                          0.2);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: cases A and D");
  TCase *tc = tcase_create("cases");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_gap_changes_the_end);
  tcase_add_test(tc, test_gap_pause);
  tcase_add_test(tc, test_gap_restart);
  tcase_add_test(tc, test_replace_what_a_change_takes_out);
  tcase_add_test(tc, test_bottle_labelled_in_salt);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
