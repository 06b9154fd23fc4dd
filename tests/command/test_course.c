// SPDX-License-Identifier: GPL-3.0-or-later
// Case H through the command line: a whole course under the station's main protocol as it ships.
// Common practice, no source: 0.50 mg/L reached in three daily steps, SG 1.016 while on copper, at
// least 14 days held, a move only into water that already matches.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "course.h"

START_TEST(test_rise_is_asked_for)
{
  Ctl *c = course_station();
  course_read(c, "Blue-2", "2027-03-01 17:00", 0, 34);
  g_free(ctl(c, 0,
             "record change --happened '2027-03-02 09:30' system=Blue-2 litres=257 new_salinity=0 "
             "new_copper=0"));
  g_autoptr(Table) water =
      ctl_table(c, "water --at '2027-03-02 09:30' --system Blue-2 --format=csv");
  int row = table_find(water, "analyte", "salinity", NULL);
  // 34 x (1 - 257/1,800) = 29.15
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(water, (guint)row, "carried"), NULL), 29.15,
                          0.01);
  ctl_free(c);
}
END_TEST

// The change of the second step is on record and salinity has further to go: its dose belongs to
// the same visit, 69.9 mL to 0.340, not to the next day's.
START_TEST(test_the_dose_follows_its_change)
{
  Ctl *c = course_station();
  course_read(c, "Blue-2", "2027-03-01 17:00", 0, 34);
  g_free(ctl(c, 0,
             "record change --happened '2027-03-02 09:30' system=Blue-2 litres=257 new_salinity=0 "
             "new_copper=0"));
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-02 09:30' system=Blue-2 bottle=C-14 amount_ml=61.2"));
  course_read(c, "Blue-2", "2027-03-02 11:00", 0.170, 29.15);
  course_read(c, "Blue-2", "2027-03-03 07:30", 0.170, 29.15);
  g_free(ctl(c, 0,
             "record change --happened '2027-03-03 09:30' system=Blue-2 litres=257 new_salinity=0 "
             "new_copper=0"));
  g_autofree char *plan = ctl(c, 0, "plan --at '2027-03-03 09:35'");
  const char *dose = strstr(plan, "Dose C-14: 69.9 mL");
  ck_assert_msg(dose != NULL, "%s", plan);
  while (dose > plan && dose[-1] != '\n')
    dose--;
  ck_assert_msg(g_str_has_prefix(g_strchug((char *)dose), "2027-03-03 09:35"), "%s", dose);
  ctl_free(c);
}
END_TEST

START_TEST(test_whole_course)
{
  Ctl *c = course_station();
  course_rise(c);
  course_hold(c);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-18 22:59' --lot 0412 --format=csv");
  // credit begins with the reading of Thursday 10:00 local, 09:00 UTC
  ck_assert_int_ge(
      table_find(plan, "phase", "Hold", "what", "start", "when", "2027-03-04T09:00Z", NULL), 0);
  // 20,160 min + 479 min (missed test: 23:31 to 07:30) + 300 min (10:00 to 15:00): 18 March 22:59
  // local
  int row = table_find(plan, "phase", "Hold", "what", "end", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_str_eq(table_cell(plan, (guint)row, "when"), "2027-03-18T21:59Z");
  ck_assert_str_eq(table_cell(plan, (guint)row, "credit_min"), "20160");
  ck_assert_str_eq(table_cell(plan, (guint)row, "planned"), "no");
  // provisional until the next test
  ck_assert_int_eq(table_find(plan, "phase", "Hold", "what", "firm", NULL), -1);
  course_read(c, "Blue-3", "2027-03-19 07:30", 0.50, 21.42);
  g_autoptr(Table) firm = ctl_table(c, "plan --at '2027-03-19 07:30' --lot 0412 --format=csv");
  ck_assert_int_ge(
      table_find(firm, "phase", "Hold", "what", "firm", "when", "2027-03-19T06:30Z", NULL), 0);
  g_autofree char *text = ctl(c, 0, "plan --at '2027-03-19 07:30' --lot 0412");
  ck_assert_msg(strstr(text, "7 h 59 min") && strstr(text, "5 h"), "%s", text);
  ctl_free(c);
}
END_TEST

START_TEST(test_handover_prints)
{
  Ctl *c = course_station();
  course_rise(c);
  g_free(ctl(c, 0, "print handover --at '2027-03-04 17:30' --pdf one.pdf"));
  g_free(ctl(c, 0, "print handover --at '2027-03-04 17:30' --pdf two.pdf"));
  g_autofree char *command = g_strdup_printf(
      "cd '%s' && cmp one.pdf two.pdf && pdftotext -layout one.pdf - | tr '\\n' ' '", c->folder);
  g_autofree char *out = NULL;
  const char *argv[] = {"sh", "-c", command, NULL};
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL,
                         NULL, NULL));
  ck_assert_msg(strstr(out, "Shift handover") && strstr(out, "Blue-2") && strstr(out, "0.500"),
                "%s", out);
  ck_assert_msg(strstr(out, "page 1 of 1"), "%s", out);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: case H");
  TCase *tc = tcase_create("cases");
  tcase_set_timeout(tc, 180);
  tcase_add_test(tc, test_rise_is_asked_for);
  tcase_add_test(tc, test_the_dose_follows_its_change);
  tcase_add_test(tc, test_whole_course);
  tcase_add_test(tc, test_handover_prints);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
