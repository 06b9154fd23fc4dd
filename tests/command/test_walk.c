// SPDX-License-Identifier: GPL-3.0-or-later
// The day of a house: rounds for which nobody is there, instruments that are due, lots that are
// merged, nets that have been in copper. Stations invented; every figure follows from the inputs by
// the arithmetic shown. What is due when is common practice, no source.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "course.h"

static Ctl *
house(const char *slots)
{
  Ctl *c = ctl_new();
  g_free(ctl(c, 0,
             "new --name Harbour --zone Europe/Berlin --person 'Mo Kay' --initials MK --slots '%s'",
             slots));
  g_free(ctl(c, 0, "protocol complexed-copper-low-salinity"));
  g_free(ctl(c, 0, "record system name=B-1 volume_l=1000 role=treatment nets=red"));
  g_free(ctl(c, 0, "record system name=R-1 volume_l=500 role=display nets=Red"));
  g_free(ctl(c, 0, "record tank system=B-1 number=1"));
  g_free(ctl(c, 0, "record tank system=B-1 number=2"));
  g_free(ctl(c, 0, "record tank system=R-1 number=1"));
  g_free(ctl(c, 0, "record instrument name=P1 method=photometer sees=all error_abs=0.01"));
  g_free(ctl(c, 0, "record instrument name=M1 method=conductivity error_abs=0.2"));
  return c;
}

static void
holds(Ctl *c, const char *code, int tank)
{
  g_free(ctl(c, 0, "record lot --happened '2027-03-01 09:00' code=%s tank=B-1/%d heads=30", code,
             tank));
  g_free(
      ctl(c, 0,
          "record course --happened '2027-03-01 09:00' lot=%s phase=2 protocol='Complexed copper "
          "with lowered salinity'",
          code));
}

// Read on Monday 1 March 10:00, G 16 h. Nobody comes on Sunday evenings: from Sunday 07:30 the
// reading counts up to and including 23:30, and Monday 07:30 is 7 h 59 min later. Two such Sundays
// lie in 14 days: 15 March 10:00 + 15 h 58 min = 16 March 01:58.
START_TEST(nobody_on_sunday_evening)
{
  Ctl *c = house("07:30 17:00 except sun 17:00");
  holds(c, "L1", 1);
  course_read(c, "B-1", "2027-03-01 10:00", 0.50, 21.4);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-01 10:05' --format=csv");
  int end = table_find(plan, "what", "end", "phase", "Hold", NULL);
  ck_assert_int_ge(end, 0);
  ck_assert_str_eq(table_cell(plan, (guint)end, "local"), "2027-03-16 01:58 +01:00");
  int gap = table_find(plan, "what", "waits", "because_code", "slot_gap", NULL);
  ck_assert_int_ge(gap, 0);
  const char *words = table_cell(plan, (guint)gap, "because");
  ck_assert_msg(strstr(words, "Sun 7 Mar 07:30") && strstr(words, "Mon 8 Mar 07:30") &&
                    strstr(words, "7 h 59 min"),
                "%s", words);
  // somebody was found: the plain 14 days, and nothing to name
  g_free(ctl(c, 0, "record station --entity Harbour slots='07:30 17:00'"));
  g_autoptr(Table) found = ctl_table(c, "plan --at '2027-03-01 10:05' --format=csv");
  end = table_find(found, "what", "end", "phase", "Hold", NULL);
  ck_assert_str_eq(table_cell(found, (guint)end, "local"), "2027-03-15 10:00 +01:00");
  ck_assert_int_lt(table_find(found, "because_code", "slot_gap", NULL), 0);
  ctl_free(c);
}
END_TEST

// A day off moves what would fall on it to the next round.
START_TEST(a_holiday_has_no_tasks)
{
  Ctl *c = house("07:30 17:00 except 2027-03-02..2027-03-03");
  holds(c, "L1", 1);
  course_read(c, "B-1", "2027-03-01 10:00", 0.50, 21.4);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-01 18:05' --format=csv");
  int tests = 0;
  for (guint row = 0; row < plan->rows->len; row++) {
    if (strcmp(table_cell(plan, row, "what"), "task") != 0)
      continue;
    const char *local = table_cell(plan, row, "local");
    ck_assert_msg(!g_str_has_prefix(local, "2027-03-02") && !g_str_has_prefix(local, "2027-03-03"),
                  "%s", local);
    tests += g_str_equal(table_cell(plan, row, "kind"), "test");
  }
  ck_assert_int_gt(tests, 0);
  g_autofree char *none = ctl(c, 2,
                              "record station --entity Harbour slots='07:30 except mon tue wed "
                              "thu fri sat sun'");
  ck_assert_msg(strstr(none, "no round is left") != NULL, "%s", none);
  g_autofree char *odd = ctl(c, 2, "record station --entity Harbour slots='07:30 except sunday'");
  ck_assert_msg(strstr(odd, "sunday") && strstr(odd, "except sun 17:00"), "%s", odd);
  ctl_free(c);
}
END_TEST

static const char *
check_of(Table *plan, const char *name, const char *column)
{
  int row = table_find(plan, "kind", "calibrate", "instrument", name, NULL);
  return row < 0 ? NULL : table_cell(plan, (guint)row, column);
}

// Checked on 1 March 07:00 and good for 10 days: due on 11 March 07:00, so at 07:30.
START_TEST(instruments_come_due)
{
  Ctl *c = house("07:30 17:00");
  g_free(ctl(c, 0,
             "record instrument name=P2 method=photometer sees=all error_abs=0.01 "
             "check_days=10"));
  g_autoptr(Table) never = ctl_table(c, "plan --at '2027-03-01 06:00' --format=csv");
  ck_assert_str_eq(check_of(never, "P2", "local"), "2027-03-01 07:30 +01:00");
  ck_assert_ptr_nonnull(strstr(check_of(never, "P2", "because"), "never checked"));
  ck_assert_ptr_null(check_of(never, "P1", "local")); // nobody gave it a rhythm
  holds(c, "L1", 1);
  g_free(ctl(c, 0, "record check --happened '2027-03-01 07:00' instrument=P2 ok=yes"));
  g_autoptr(Table) good = ctl_table(c, "plan --at '2027-03-01 08:00' --format=csv");
  ck_assert_str_eq(check_of(good, "P2", "local"), "2027-03-11 07:30 +01:00");
  ck_assert_str_eq(check_of(good, "P2", "state"), "due");
  ck_assert_ptr_nonnull(strstr(check_of(good, "P2", "because"), "good for 10 days"));
  g_free(ctl(c, 0, "record check --happened '2027-03-05 07:00' instrument=P2 ok=no"));
  g_autoptr(Table) failed = ctl_table(c, "plan --at '2027-03-05 12:00' --format=csv");
  ck_assert_str_eq(check_of(failed, "P2", "local"), "2027-03-05 17:00 +01:00");
  // in one round the instrument comes before what is read with it
  int first = table_find(failed, "kind", "calibrate", NULL);
  int test = table_find(failed, "kind", "test", "local", "2027-03-05 17:00 +01:00", NULL);
  ck_assert_msg(test > first, "check in row %d, test in row %d", first, test);
  ck_assert_ptr_nonnull(strstr(check_of(failed, "P2", "because"), "failed"));
  g_free(ctl(c, 0, "record check --happened '2027-03-05 13:00' instrument=P2 ok=yes"));
  g_autoptr(Table) late = ctl_table(c, "plan --at '2027-03-17 12:00' --format=csv");
  ck_assert_str_eq(check_of(late, "P2", "state"), "late");
  ctl_free(c);
}
END_TEST

START_TEST(a_merged_lot_says_where_it_went)
{
  Ctl *c = house("07:30 17:00");
  holds(c, "Ä-1", 1);
  holds(c, "L2", 2);
  g_free(ctl(c, 0, "record lot --happened '2027-03-01 09:30' code=L3 tank=R-1/1 heads=2"));
  course_read(c, "B-1", "2027-03-01 10:00", 0.50, 21.4);
  g_free(ctl(c, 0, "record merge --happened '2027-03-02 09:00' lot=L2 into='Ä-1'"));
  g_free(ctl(c, 0, "record death --happened '2027-03-02 09:00' lot=L3 heads=2"));
  g_autofree char *plan = ctl(c, 0, "plan --at '2027-03-02 09:05'");
  ck_assert_msg(strstr(plan, "Lot Ä-1, 60 fish"), "%s", plan);
  ck_assert_msg(strstr(plan, "goes on in lot Ä-1"), "%s", plan);
  ck_assert_msg(strstr(plan, "none of its fish is left"), "%s", plan);
  ck_assert_msg(!strstr(plan, "no protocol yet"), "%s", plan);
  ctl_free(c);
}
END_TEST

// Stopped, and found again after the last was counted dead: under no protocol any more, not yet.
START_TEST(a_stopped_lot_was_under_one)
{
  Ctl *c = house("07:30 17:00");
  g_autofree char *none = ctl(c, 2, "plan --lot Nobody");
  ck_assert_msg(strstr(none, "it has none yet"), "%s", none);
  holds(c, "L1", 1);
  g_autofree char *ends = ctl(c, 0, "whatif --happened '2027-03-02 09:00' death lot=L1 heads=30");
  ck_assert_msg(!strstr(ends, "fish-days; ") && !strstr(ends, "not known"), "%s", ends);
  g_free(ctl(c, 0, "record stop --happened '2027-03-02 09:00' lot=L1 why=distress"));
  g_autofree char *plan = ctl(c, 0, "plan --at '2027-03-02 09:05'");
  ck_assert_msg(strstr(plan, "under no protocol any more"), "%s", plan);
  ctl_free(c);
}
END_TEST

// A set is marked for good: brass and nets that held copper killed invertebrates at 15 to 50
// microgram a litre (Wynne 2015; author from memory).
START_TEST(nets_that_held_copper)
{
  Ctl *c = house("07:30 17:00");
  g_free(ctl(c, 0, "record species name='Lysmata amboinensis' invertebrate=yes"));
  g_free(ctl(c, 0, "record species name='Zebrasoma flavescens' invertebrate=no"));
  const char *receive = "record lot --dry-run --happened '2027-03-01 12:00' code=S1 tank=R-1/1 "
                        "heads=5 species='%s'";
  char *shrimp = g_strdup_printf(receive, "Lysmata amboinensis");
  g_autofree char *fish = g_strdup_printf(receive, "Zebrasoma flavescens");
  g_autofree char *line =
      g_strdup_printf("'%s' '%s' %s 2>&1", g_getenv("LAZARETCTL"), c->file, shrimp);
  g_autofree char *fish_line =
      g_strdup_printf("'%s' '%s' %s 2>&1", g_getenv("LAZARETCTL"), c->file, fish);
  const char *const argv[] = {"/bin/sh", "-c", line, NULL};
  const char *const fish_argv[] = {"/bin/sh", "-c", fish_line, NULL};
  g_autofree char *before = NULL, *after = NULL, *other = NULL;
  g_free(shrimp);
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, 0, NULL, NULL, &before, NULL, NULL, NULL));
  ck_assert_msg(!strstr(before, "nets"), "%s", before);
  course_read(c, "B-1", "2027-03-01 10:00", 0.50, 21.4);
  ck_assert(g_spawn_sync(NULL, (char **)argv, NULL, 0, NULL, NULL, &after, NULL, NULL, NULL));
  ck_assert_msg(strstr(after, "nets: those of R-1 have been in copper since 2027-03-01 10:00"),
                "%s", after);
  ck_assert(g_spawn_sync(NULL, (char **)fish_argv, NULL, 0, NULL, NULL, &other, NULL, NULL, NULL));
  ck_assert_msg(!strstr(other, "nets"), "%s", other);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: the day of a house");
  TCase *tc = tcase_create("walk");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, nobody_on_sunday_evening);
  tcase_add_test(tc, a_holiday_has_no_tasks);
  tcase_add_test(tc, instruments_come_due);
  tcase_add_test(tc, a_merged_lot_says_where_it_went);
  tcase_add_test(tc, a_stopped_lot_was_under_one);
  tcase_add_test(tc, nets_that_held_copper);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
