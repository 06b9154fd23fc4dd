// SPDX-License-Identifier: GPL-3.0-or-later
// What the plan makes of a reading in doubt. Levels are common practice, no source; litres are the
// arithmetic beside them.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int two_slots[] = {450, 1020}; // 07:30 and 17:00

static lzt_station *s;

// Complexed copper 0.45 / 0.50 / 0.60 / 0.80 held in 1,000 L, bottle of 5 mg/mL.
static lzq_phase *
hold_phase(void)
{
  lzq_phase *phase = lzt_phase(s, LZQ_PHASE_HOLD);
  phase->min_credit_min = 14 * LZQ_DAY;
  lzq_band *band = lzt_band(phase, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, 0.50);
  band->form = LZQ_FORM_AMINE;
  band->plan = 0.60;
  band->harm = 0.80;
  band->gap_min = 960;
  return phase;
}

static void
setup(void)
{
  s = malloc(sizeof *s);
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_AMINE, 5);
  lzt_slots(s, 3, 1, 14, two_slots, 2);
  lzt_protocol(s);
  hold_phase();
  lzt_receive(s, lzt_lot(s), 0, 10, lzt_at(3, 1, 7, 0));
  lzt_course(s, 0, 0, 0, lzt_at(3, 1, 7, 0));
}

static void
teardown(void)
{
  lzt_station_free(s);
  free(s);
}

static const lzq_task *
task(const lzq_plan *plan, lzq_task_kind kind, uint32_t system)
{
  const lzq_task *found = lzt_task(plan, kind, system, 0);
  ck_assert_msg(found != NULL, "no task of kind %d", kind);
  return found;
}

static void
in_doubt(uint8_t analyte, double value, lzq_minute at)
{
  lzt_read(s, 0, (lzq_analyte)analyte, value, at);
  s->records[s->snap.n_records - 1].suspect = true;
}

// 0.70 harms nobody. 0.90 would, from 0.80 on: the repeat says so, and that 1,000 (1 - 0.50 / 0.90)
// = 444.4 L are changed if it is confirmed, 300 where a day changes at most 0.3. After a change of
// 200 L it is 0.72.
START_TEST(a_repeat_says_what_it_may_mean)
{
  s->systems[0].max_change_day = 1;
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  in_doubt(LZQ_COPPER, 0.70, lzt_at(3, 1, 16, 50));
  const lzq_task *test = task(lzt_plan(s, lzt_at(3, 1, 16, 55)), LZQ_TASK_TEST, 0);
  ck_assert_int_eq(test->because.code, LZQ_BECAUSE_TEST_REPEAT);
  ck_assert_double_eq(test->because.n[1], 0.70);
  ck_assert_double_eq(test->because.n[2], 0);
  in_doubt(LZQ_COPPER, 0.90, lzt_at(3, 1, 17, 0));
  test = task(lzt_plan(s, lzt_at(3, 1, 17, 5)), LZQ_TASK_TEST, 0);
  ck_assert_double_eq(test->because.n[2], 0.80);
  ck_assert_double_eq_tol(test->because.n[3], 4000 / 9.0, 1e-9);
  s->systems[0].max_change_day = 0.3;
  test = task(lzt_plan(s, lzt_at(3, 1, 17, 5)), LZQ_TASK_TEST, 0);
  ck_assert_double_eq_tol(test->because.n[3], 300, 1e-9);
  lzt_change(s, 0, 200, 0, NAN, lzt_at(3, 1, 17, 10));
  test = task(lzt_plan(s, lzt_at(3, 1, 17, 15)), LZQ_TASK_TEST, 0);
  ck_assert_int_eq(test->because.code, LZQ_BECAUSE_TEST_REPEAT);
  ck_assert_double_eq(test->because.n[2], 0);
}
END_TEST

// A lower one after it takes nothing back: the higher may be right.
START_TEST(the_higher_of_two_counts)
{
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  in_doubt(LZQ_COPPER, 0.90, lzt_at(3, 1, 17, 0));
  in_doubt(LZQ_COPPER, 0.20, lzt_at(3, 1, 17, 3));
  const lzq_task *test = task(lzt_plan(s, lzt_at(3, 1, 17, 5)), LZQ_TASK_TEST, 0);
  ck_assert_double_eq(test->because.n[2], 0.80);
}
END_TEST

// Ammonia, which no band asks for: a repeat all the same, until a good one.
START_TEST(a_repeat_without_a_band)
{
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  in_doubt(LZQ_AMMONIA, 2, lzt_at(3, 1, 7, 40));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 8, 0));
  uint32_t n = 0;
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    n += plan->tasks[i].kind == LZQ_TASK_TEST && plan->tasks[i].analyte == LZQ_AMMONIA &&
         plan->tasks[i].at == lzt_at(3, 1, 8, 0) &&
         plan->tasks[i].because.code == LZQ_BECAUSE_TEST_REPEAT;
  ck_assert_uint_eq(n, 1);
  lzt_read(s, 0, LZQ_AMMONIA, 0.1, lzt_at(3, 1, 8, 5));
  plan = lzt_plan(s, lzt_at(3, 1, 8, 10));
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    ck_assert(plan->tasks[i].kind != LZQ_TASK_TEST || plan->tasks[i].analyte != LZQ_AMMONIA);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_doubt");
  TCase *cases = tcase_create("doubt");
  tcase_add_checked_fixture(cases, setup, teardown);
  tcase_add_test(cases, a_repeat_says_what_it_may_mean);
  tcase_add_test(cases, the_higher_of_two_counts);
  tcase_add_test(cases, a_repeat_without_a_band);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
