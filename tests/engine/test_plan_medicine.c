// SPDX-License-Identifier: GPL-3.0-or-later
// Two medicines in one water, and the bottle that a dose is taken from. The level of 2 mg/L of
// praziquantel is that of the protocol Flukes (Thomas 2016); amounts are the arithmetic beside
// them.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int two_slots[] = {450, 1020}; // 07:30 and 17:00

static lzt_station *s;

static lzq_phase *
dose_phase(double level)
{
  lzq_phase *phase = lzt_phase(s, LZQ_PHASE_MEDICATE);
  phase->min_elapsed_min = 4 * LZQ_DAY;
  phase->medicine = LZQ_PRAZIQUANTEL;
  phase->dose_level = level;
  phase->gear_off = 1u << LZQ_GEAR_UV;
  return phase;
}

static void
copper_band(lzq_phase *phase)
{
  lzq_band *band = lzt_band(phase, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, 0.50);
  band->form = LZQ_FORM_AMINE;
  band->plan = 0.60;
  band->harm = 0.80;
  band->gap_min = 960;
}

// Two lots in 1,000 L, bottles of 50 mg/mL of praziquantel and 5 mg/mL of copper.
static void
setup(void)
{
  s = malloc(sizeof *s);
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_bottle(s, LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 50);
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_AMINE, 5);
  lzt_slots(s, 3, 1, 14, two_slots, 2);
  lzt_protocol(s);
  dose_phase(2);
  dose_phase(2);
  for (uint32_t lot = 0; lot < 2; lot++) {
    lzt_receive(s, lzt_lot(s), 0, 10, lzt_at(3, 1, 7, 0));
    lzt_course(s, lot, 0, 0, lzt_at(3, 1, 7, 0));
  }
}

static void
teardown(void)
{
  lzt_station_free(s);
  free(s);
}

static void
give(lzq_analyte analyte, double mg, lzq_minute at)
{
  lzt_dose(s, 0, analyte == LZQ_COPPER ? LZQ_FORM_AMINE : LZQ_FORM_NONE, mg, at);
  s->records[s->snap.n_records - 1].analyte = (uint8_t)analyte;
}

static const lzq_task *
dose_of(const lzq_plan *plan, lzq_analyte analyte, uint32_t nth)
{
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    if (plan->tasks[i].kind == LZQ_TASK_DOSE && plan->tasks[i].analyte == analyte && nth-- == 0)
      return &plan->tasks[i];
  return NULL;
}

START_TEST(a_bottle_past_its_date_is_not_named)
{
  lzt_bottle(s, LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 100);
  const lzq_minute now = lzt_at(3, 1, 7, 35);
  ck_assert_uint_eq(dose_of(lzt_plan(s, now), LZQ_PRAZIQUANTEL, 0)->bottle, 2); // the newest
  s->bottles[2].expires_at = now + 1;
  ck_assert_uint_eq(dose_of(lzt_plan(s, now), LZQ_PRAZIQUANTEL, 0)->bottle, 2);
  s->bottles[2].expires_at = now;
  ck_assert_uint_eq(dose_of(lzt_plan(s, now), LZQ_PRAZIQUANTEL, 0)->bottle, 0);
  s->bottles[0].expires_at = now;
  const lzq_task *weighed = dose_of(lzt_plan(s, now), LZQ_PRAZIQUANTEL, 0);
  ck_assert_uint_eq(weighed->bottle, LZQ_NONE);
  ck_assert_int_eq(weighed->unit, LZQ_UNIT_G);
  ck_assert_double_eq_tol(weighed->amount, 2, 1e-9);
}
END_TEST

// One open dose per water and medicine: praziquantel, which nobody reads, neither holds up the
// copper nor hides that copper was given and not read.
START_TEST(each_medicine_has_its_own_open_dose)
{
  lzt_protocol(s);
  copper_band(dose_phase(2));
  for (uint32_t lot = 0; lot < 2; lot++)
    lzt_course(s, lot, 1, 0, lzt_at(3, 1, 7, 5));
  lzt_gear(s, 0, LZQ_GEAR_UV, false, lzt_at(3, 1, 7, 10));
  lzt_read(s, 0, LZQ_COPPER, 0.46, lzt_at(3, 1, 7, 12));
  give(LZQ_PRAZIQUANTEL, 2000, lzt_at(3, 1, 7, 15));
  const lzq_task *copper = dose_of(lzt_plan(s, lzt_at(3, 1, 7, 35)), LZQ_COPPER, 0);
  ck_assert_ptr_nonnull(copper);
  ck_assert_int_eq(copper->state, LZQ_TASK_DUE);
  ck_assert_double_eq_tol(copper->dose_mg, 40, 1e-9); // (0.50 - 0.46) x 1,000
  MINUTES_EQ(copper->at, lzt_at(3, 1, 7, 35));        // no reading of copper is waited for
  give(LZQ_COPPER, 10, lzt_at(3, 1, 7, 36));
  give(LZQ_PRAZIQUANTEL, 100, lzt_at(3, 1, 7, 37));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 38));
  MINUTES_EQ(plan->waters[0].open_dose_at, lzt_at(3, 1, 7, 36));
  ck_assert_double_eq_tol(plan->waters[0].open_dose_mg, 10, 1e-9);
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    if (plan->tasks[i].kind == LZQ_TASK_DOSE && plan->tasks[i].analyte == LZQ_COPPER)
      ck_assert_int_ne(plan->tasks[i].state, LZQ_TASK_DUE);
}
END_TEST

// Ten days from dose to dose at 25 °C (Bondad-Reantaso 1995): the second phase begins at 12:00 four
// days after the first dose and bears six more. Whoever gives it must see until when; in the first
// phase nothing is late.
START_TEST(a_dose_says_until_when)
{
  s->phases[1].late_tolerance_min = 6 * LZQ_DAY;
  s->phases[1].sighting_to = 0;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
  MINUTES_EQ(dose_of(plan, LZQ_PRAZIQUANTEL, 0)->deadline, LZQ_NEVER);
  give(LZQ_PRAZIQUANTEL, 2000, lzt_at(3, 1, 12, 0));
  plan = lzt_plan(s, lzt_at(3, 3, 8, 0)); // still ahead
  MINUTES_EQ(dose_of(plan, LZQ_PRAZIQUANTEL, 0)->deadline, lzt_at(3, 11, 12, 0));
  plan = lzt_plan(s, lzt_at(3, 6, 8, 0)); // open for 20 hours
  MINUTES_EQ(dose_of(plan, LZQ_PRAZIQUANTEL, 0)->deadline, lzt_at(3, 11, 12, 0));
}
END_TEST

// The second lot's course asks for another level, in the same minute.
static const lzq_task *
dose_of_two(double one, double other)
{
  lzt_protocol(s);
  dose_phase(other);
  s->phases[0].dose_level = one;
  lzt_course(s, 1, 1, 0, lzt_at(3, 1, 7, 5));
  lzt_gear(s, 0, LZQ_GEAR_UV, false, lzt_at(3, 1, 7, 10));
  return dose_of(lzt_plan(s, lzt_at(3, 1, 7, 35)), LZQ_PRAZIQUANTEL, 0);
}

// Up to the 2 mg/L that are published (Thomas 2016) the higher serves both.
START_TEST(two_levels_that_are_published)
{
  const lzq_task *task = dose_of_two(1.5, 2);
  ck_assert_int_eq(task->state, LZQ_TASK_DUE);
  ck_assert_uint_eq(task->lot, LZQ_NONE);
  ck_assert_double_eq_tol(task->dose_mg, 2000, 1e-9);
}
END_TEST

// Beyond it nobody gives a lot more than its own course asks for.
START_TEST(a_level_that_is_not_published_is_not_anothers)
{
  for (int i = 0; i < 2; i++) {
    const lzq_task *task = i ? dose_of_two(4, 3) : dose_of_two(2, 10);
    ck_assert_int_eq(task->state, LZQ_TASK_BLOCKED);
    ck_assert_int_eq(task->because.code, LZQ_BECAUSE_NO_COMMON_BAND);
    ck_assert_uint_eq(task->lot, i ? 0 : 1); // who asks for more
    ck_assert_double_eq(task->because.n[0], i ? 1.0 : 0.0);
    ck_assert_double_eq(task->because.n[1], LZQ_PRAZIQUANTEL);
    ck_assert(!(task->amount > 0));
    const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
    ck_assert(lzq_plan_torn(plan, 0, LZQ_PRAZIQUANTEL));
    for (uint32_t lot = 0; lot < 2; lot++) { // what cannot be dosed ends nobody's course
      MINUTES_EQ(plan->lots[lot].release_earliest, LZQ_NEVER);
      ck_assert_int_eq(plan->lots[lot].because.code, LZQ_BECAUSE_NO_COMMON_BAND);
      ck_assert_double_eq(plan->lots[lot].because.n[0], 1.0 - lot);
    }
    teardown();
    setup();
  }
  const lzq_task *alike = dose_of_two(10, 10); // both courses say so
  ck_assert_int_eq(alike->state, LZQ_TASK_DUE);
  ck_assert_double_eq_tol(alike->dose_mg, 10000, 1e-9);
  ck_assert(lzt_plan(s, lzt_at(3, 1, 7, 35))->lots[1].release_earliest != LZQ_NEVER);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_medicine");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, a_bottle_past_its_date_is_not_named);
  tcase_add_test(all, each_medicine_has_its_own_open_dose);
  tcase_add_test(all, a_dose_says_until_when);
  tcase_add_test(all, two_levels_that_are_published);
  tcase_add_test(all, a_level_that_is_not_published_is_not_anothers);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
