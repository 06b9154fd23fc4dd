// SPDX-License-Identifier: GPL-3.0-or-later
// Copper that is mixed into the new water before the change that brings it in: the way in which a
// hold is kept while salinity goes down (common practice, no source). Levels are the mass balance
// beside them.
#include <check.h>
#include <stdlib.h>

#include "plan_station.h"

static const int two_slots[] = {450, 1020}; // 07:30 and 17:00

static lzt_station *s;

// 1,000 L at 0.50 mg/L and a salinity of 25, both just read; the salinity has to go to 20 in one
// step: 200 L of fresh water, which take 1,000 x (0.50 - 0.40) = 100 mg of copper with them.
static void
setup(void)
{
  s = malloc(sizeof *s);
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_AMINE, 5);
  lzt_slots(s, 3, 1, 14, two_slots, 2);
  lzt_protocol(s);
  lzq_phase *hold = lzt_phase(s, LZQ_PHASE_HOLD);
  hold->min_credit_min = 14 * LZQ_DAY;
  lzq_band *copper = lzt_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, 0.50);
  copper->form = LZQ_FORM_AMINE;
  copper->plan = 0.60;
  copper->harm = 0.80;
  copper->gap_min = 960;
  lzt_band(hold, LZQ_SALINITY, LZQ_AT_OR_BELOW, 21, 20)->gap_min = 960;
  lzt_receive(s, lzt_lot(s), 0, 10, lzt_at(3, 1, 7, 0));
  lzt_course(s, 0, 0, 0, lzt_at(3, 1, 7, 0));
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  lzt_read(s, 0, LZQ_SALINITY, 25, lzt_at(3, 1, 7, 30));
}

static void
teardown(void)
{
  lzt_station_free(s);
  free(s);
}

static void
into_new_water(double mg, lzq_minute at)
{
  lzt_dose(s, 0, LZQ_FORM_AMINE, mg, at);
  s->records[s->snap.n_records - 1].drip = true;
}

static bool
is_due(const lzq_plan *plan, lzq_task_kind kind)
{
  const lzq_task *task = lzt_task(plan, kind, 0, 0);
  return task && task->state == LZQ_TASK_DUE && task->at <= lzt_at(3, 1, 12, 0);
}

START_TEST(the_change_that_brings_it_in_is_still_due)
{
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
  ck_assert_double_eq_tol(lzt_task(plan, LZQ_TASK_CHANGE, 0, 0)->amount, 200, 1e-6);
  ck_assert_double_eq_tol(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->dose_mg, 100, 1e-6);
  into_new_water(100, lzt_at(3, 1, 8, 0));
  plan = lzt_plan(s, lzt_at(3, 1, 8, 5));
  ck_assert(is_due(plan, LZQ_TASK_CHANGE));
  ck_assert_double_eq_tol(lzt_task(plan, LZQ_TASK_CHANGE, 0, 0)->amount, 200, 1e-6);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)); // not asked for twice
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.50, 1e-9);
  MINUTES_EQ(plan->waters[0].open_dose_at, LZQ_LONG_AGO);
}
END_TEST

START_TEST(it_is_in_with_the_change)
{
  into_new_water(100, lzt_at(3, 1, 8, 0));
  lzt_change(s, 0, 200, 0, 0, lzt_at(3, 1, 9, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 9, 5));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.50, 1e-9);
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_SALINITY], 20, 1e-9);
  MINUTES_EQ(plan->waters[0].open_dose_at, lzt_at(3, 1, 9, 0)); // to be read before the next
  ck_assert_double_eq_tol(plan->waters[0].open_dose_mg, 100, 1e-9);
}
END_TEST

START_TEST(what_is_missing_is_asked_for)
{
  into_new_water(60, lzt_at(3, 1, 8, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 8, 5));
  ck_assert(is_due(plan, LZQ_TASK_DOSE));
  ck_assert_double_eq_tol(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->dose_mg, 40, 1e-6);
  into_new_water(36, lzt_at(3, 1, 8, 6)); // 96 of 100: within what a syringe leaves
  ck_assert_ptr_null(lzt_task(lzt_plan(s, lzt_at(3, 1, 8, 10)), LZQ_TASK_DOSE, 0, 0));
}
END_TEST

// Entered after its change, in the order in which the plan names them: it has come in with it.
START_TEST(entered_after_its_change_it_is_in)
{
  lzt_change(s, 0, 200, 0, 0, lzt_at(3, 1, 8, 0));
  into_new_water(100, lzt_at(3, 1, 8, 10));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 8, 15));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.50, 1e-9);
  MINUTES_EQ(plan->waters[0].open_dose_at, lzt_at(3, 1, 8, 10));
  into_new_water(50, lzt_at(3, 1, 8, 20)); // the change has had its dose: this is for the next
  plan = lzt_plan(s, lzt_at(3, 1, 8, 25));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.50, 1e-9);
}
END_TEST

// What no change has brought in for a day is taken to be in: a reading before the next dose.
START_TEST(it_waits_for_a_day)
{
  into_new_water(100, lzt_at(3, 1, 8, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 7, 59));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.50, 1e-9);
  plan = lzt_plan(s, lzt_at(3, 2, 8, 0));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.60, 1e-9);
  MINUTES_EQ(plan->waters[0].open_dose_at, lzt_at(3, 2, 8, 0));
  lzt_change(s, 0, 200, 0, 0, lzt_at(3, 2, 9, 0)); // and later changes take their share of it
  plan = lzt_plan(s, lzt_at(3, 2, 9, 5));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.48, 1e-9);
}
END_TEST

// A continuous change lets some of what it brings run out: 1 - exp(-0.2) of 100 mg / 200 L.
START_TEST(a_drip_brings_in_less)
{
  into_new_water(100, lzt_at(3, 1, 8, 0));
  lzt_change(s, 0, 200, 0, 0, lzt_at(3, 1, 9, 0));
  s->records[s->snap.n_records - 1].drip = true;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 9, 5));
  ck_assert_double_eq_tol(plan->waters[0].level[LZQ_COPPER], 0.50, 1e-9); // r = c: it stays
  MINUTES_EQ(plan->waters[0].open_dose_at, lzt_at(3, 1, 9, 0));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_new_water");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, the_change_that_brings_it_in_is_still_due);
  tcase_add_test(all, it_is_in_with_the_change);
  tcase_add_test(all, what_is_missing_is_asked_for);
  tcase_add_test(all, entered_after_its_change_it_is_in);
  tcase_add_test(all, it_waits_for_a_day);
  tcase_add_test(all, a_drip_brings_in_less);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
