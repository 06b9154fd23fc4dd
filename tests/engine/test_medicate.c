// SPDX-License-Identifier: GPL-3.0-or-later
// A medicine that is dosed once, and a bath: the phase waits for them. Praziquantel 2 mg/L at days
// 0, 4 and 8 (Bondad-Reantaso 1995; Thomas 2016: gone after 8 days, faster when repeated, so a
// second dose within the four days would add up). Dates are the arithmetic beside them.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int two_slots[] = {480, 960}; // 08:00 and 16:00
static lzt_station *s;

static void
setup(void)
{
  s = malloc(sizeof *s);
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_bottle(s, LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 10);
  lzt_slots(s, 5, 3, 30, two_slots, 2);
  lzt_protocol(s);
  for (int i = 0; i < 3; i++) {
    lzq_phase *phase = lzt_phase(s, LZQ_PHASE_MEDICATE);
    phase->min_elapsed_min = 4 * LZQ_DAY;
    phase->medicine = LZQ_PRAZIQUANTEL;
    phase->dose_level = 2;
    phase->gear_off = 1 << LZQ_GEAR_UV;
  }
}

static void
teardown(void)
{
  lzt_station_free(s);
  free(s);
}

static uint32_t
lot_from(int day, int hour)
{
  uint32_t lot = lzt_lot(s);
  lzt_receive(s, lot, 0, 10, lzt_at(5, day, hour, 0));
  lzt_course(s, lot, 0, 0, lzt_at(5, day, hour, 0));
  return lot;
}

static void
dose(lzq_minute at)
{
  lzq_record *r = lzt_record(s, LZQ_REC_DOSE, at);
  r->system = 0;
  r->analyte = LZQ_PRAZIQUANTEL;
  r->amount = 2000;
}

static uint32_t
n_doses(const lzq_plan *plan)
{
  uint32_t n = 0;
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    n += plan->tasks[i].kind == LZQ_TASK_DOSE;
  return n;
}

START_TEST(nothing_was_given_and_nothing_ends)
{
  lot_from(3, 7);
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 25, 12, 0));
  ck_assert_uint_eq(plan->credit->lots[0].phase, 0);
  MINUTES_EQ(plan->credit->lots[0].visits[0].given_at, LZQ_NEVER);
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->at, lzt_at(5, 25, 16, 0)); // it is still asked
  MINUTES_EQ(plan->lots[0].release_earliest, lzt_at(5, 25, 16, 0) + 12 * LZQ_DAY);
}
END_TEST

START_TEST(the_time_counts_from_the_dose)
{
  lot_from(3, 7);
  dose(lzt_at(5, 4, 9, 0));
  lzq_lot_credit credit = lzt_plan(s, lzt_at(5, 8, 8, 59))->credit->lots[0];
  ck_assert_uint_eq(credit.phase, 0);
  MINUTES_EQ(credit.visits[0].given_at, lzt_at(5, 4, 9, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 8, 9, 0));
  ck_assert_uint_eq(plan->credit->lots[0].phase, 1);
  MINUTES_EQ(plan->credit->lots[0].visits[0].end, lzt_at(5, 8, 9, 0));
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->at, lzt_at(5, 8, 9, 0)); // a visit now
  plan = lzt_plan(s, lzt_at(5, 6, 9, 0)); // two days before: the second and the third wait
  ck_assert_uint_eq(n_doses(plan), 2);
  for (int i = 0; i < 2; i++) {
    const lzq_task *task = lzt_task(plan, LZQ_TASK_DOSE, 0, (uint32_t)i);
    MINUTES_EQ(task->at, lzt_at(5, i ? 12 : 8, 16, 0)); // 09:00 is no slot
    ck_assert_int_eq(task->state, LZQ_TASK_WAITS);
    ck_assert(isnan(task->level_after)); // nobody has read what is left
  }
}
END_TEST

START_TEST(one_dose_serves_all_the_lots_of_a_water)
{
  lot_from(3, 7);
  lot_from(3, 7);
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 3, 8, 0));
  ck_assert_uint_eq(n_doses(plan), 3); // days 0, 4 and 8
  const lzq_task *task = lzt_task(plan, LZQ_TASK_DOSE, 0, 0);
  ck_assert_uint_eq(task->lot, LZQ_NONE);
  ck_assert_double_eq_tol(task->amount, 200, 1e-9); // 2 mg/L x 1,000 L / 10 mg/mL
  dose(lzt_at(5, 3, 8, 0));
  plan = lzt_plan(s, lzt_at(5, 3, 8, 0));
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->at, lzt_at(5, 7, 8, 0));
  for (int i = 0; i < 2; i++)
    MINUTES_EQ(plan->credit->lots[i].visits[0].given_at, lzt_at(5, 3, 8, 0));
}
END_TEST

// Who comes a day after the dose gets it with the others' second one, not on top of the first.
START_TEST(no_dose_on_top_of_another)
{
  lot_from(3, 7);
  dose(lzt_at(5, 3, 8, 0));
  lot_from(4, 7);
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 4, 8, 0));
  ck_assert_uint_eq(n_doses(plan), 3); // and the third of who came later
  for (int i = 0; i < 3; i++)
    MINUTES_EQ(lzt_task(plan, LZQ_TASK_DOSE, 0, (uint32_t)i)->at, lzt_at(5, 7 + 4 * i, 8, 0));
  MINUTES_EQ(plan->lots[1].release_earliest, lzt_at(5, 7 + 12, 8, 0));
}
END_TEST

// Ten days from dose to dose (what settles after one is grown 10 to 11 days later, Bondad-Reantaso
// 1995): the second phase begins four days after the first dose and bears six more. Given in that
// minute it counts; a minute later the three have begun anew, and that dose is the first of them.
static const lzq_lot_credit *
second_dose_at(lzq_minute at, uint32_t *lot)
{
  s->phases[1].late_tolerance_min = s->phases[2].late_tolerance_min = 6 * LZQ_DAY;
  s->phases[1].sighting_to = s->phases[2].sighting_to = 0;
  *lot = lot_from(3, 8);
  dose(lzt_at(5, 3, 9, 0));
  dose(at);
  return lzt_plan(s, lzt_at(5, 14, 9, 0))->credit->lots;
}

START_TEST(in_its_window)
{
  uint32_t lot;
  const lzq_lot_credit *c = &second_dose_at(lzt_at(5, 13, 9, 0), &lot)[lot];
  ck_assert_uint_eq(c->phase, 1);
  ck_assert_uint_eq(c->n_visits, 2);
  MINUTES_EQ(c->visits[1].given_at, lzt_at(5, 13, 9, 0));
}
END_TEST

START_TEST(a_minute_past_its_window)
{
  uint32_t lot;
  const lzq_lot_credit *c = &second_dose_at(lzt_at(5, 13, 9, 1), &lot)[lot];
  ck_assert_uint_eq(c->phase, 0);
  ck_assert_uint_eq(c->n_visits, 3);
  ck_assert_int_eq(c->visits[1].left, LZQ_LEFT_LATE);
  MINUTES_EQ(c->visits[1].end, lzt_at(5, 13, 9, 1));
  MINUTES_EQ(c->visits[2].given_at, lzt_at(5, 13, 9, 1));
}
END_TEST

// The first dose on day 3 at 12:00; its phase ends on day 7 at 12:00.
static const lzq_plan *
first_at_noon(int hour, int minute, lzq_minute now)
{
  lot_from(3, 8);
  dose(lzt_at(5, 3, 12, 0));
  dose(lzt_at(5, 7, hour, minute));
  return lzt_plan(s, now);
}

// Some hours early, in the round of the morning: a tenth of the four days is 9 h 36 min. Nobody is
// asked for another dose, before that phase begins or after, until the third is due.
START_TEST(some_hours_early)
{
  const lzq_plan *plan = first_at_noon(8, 0, lzt_at(5, 7, 9, 0));
  ck_assert_uint_eq(n_doses(plan), 1);
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->at, lzt_at(5, 11, 16, 0));
  plan = lzt_plan(s, lzt_at(5, 8, 9, 0));
  ck_assert_uint_eq(plan->credit->lots[0].phase, 1);
  MINUTES_EQ(plan->credit->lots[0].visits[1].given_at, lzt_at(5, 7, 8, 0));
  ck_assert_uint_eq(n_doses(plan), 1);
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->at, lzt_at(5, 11, 16, 0));
}
END_TEST

START_TEST(as_early_as_may_be)
{
  const lzq_plan *plan = first_at_noon(2, 24, lzt_at(5, 8, 9, 0));
  MINUTES_EQ(plan->credit->lots[0].visits[1].given_at, lzt_at(5, 7, 2, 24));
}
END_TEST

START_TEST(a_minute_too_early)
{
  const lzq_plan *plan = first_at_noon(2, 23, lzt_at(5, 8, 9, 0));
  MINUTES_EQ(plan->credit->lots[0].visits[1].given_at, LZQ_NEVER);
}
END_TEST

// Let go two days after the first of three doses: 4 - 2 days of its own phase are lacking.
START_TEST(short_of_the_time_since_its_dose)
{
  uint32_t lot = lot_from(3, 8);
  dose(lzt_at(5, 5, 8, 0));
  lzt_record(s, LZQ_REC_RELEASE, lzt_at(5, 7, 8, 0))->lot = lot;
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 8, 8, 0));
  ck_assert_uint_eq(plan->n_shorts, 1);
  ck_assert_int_eq(plan->shorts[0].short_min, 2 * LZQ_DAY);
}
END_TEST

START_TEST(the_lamp_is_switched_off_first)
{
  lot_from(3, 7);
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 3, 8, 0));
  ck_assert_int_eq(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->state, LZQ_TASK_BLOCKED);
  ck_assert_uint_eq(lzt_task(plan, LZQ_TASK_GEAR, 0, 0)->gear, LZQ_GEAR_UV);
  lzt_gear(s, 0, LZQ_GEAR_UV, false, lzt_at(5, 3, 8, 1));
  plan = lzt_plan(s, lzt_at(5, 3, 8, 2));
  ck_assert_int_eq(lzt_task(plan, LZQ_TASK_DOSE, 0, 0)->state, LZQ_TASK_DUE);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_GEAR, 0, 0));
}
END_TEST

// Carried to another water before the dose there: it has none.
START_TEST(the_dose_is_that_of_its_water)
{
  lzt_system(s, LZQ_ROLE_TREATMENT, 500);
  lot_from(3, 7);
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0)); // in the minute of the dose it is gone
  dose(lzt_at(5, 3, 8, 0));
  ck_assert_int_eq(lzt_plan(s, lzt_at(5, 4, 8, 0))->credit->lots[0].visits[0].given_at, LZQ_NEVER);
}
END_TEST

static lzq_record *
a_bath(lzq_minute at, int32_t heads, double minutes, double level)
{
  lzq_record *r = lzt_record(s, LZQ_REC_BATH, at);
  r->lot = 0;
  r->analyte = LZQ_FORMALIN;
  r->heads = heads;
  r->value = minutes;
  r->amount = level;
  r->error = NAN;
  r->ok = true;
  return r;
}

// Francis-Floyd, UF/IFAS VM061: 150 mg/L above 21 °C (or where nobody read), 60 minutes.
START_TEST(a_bath_that_was_not_given)
{
  lzq_phase *phase = &s->phases[0];
  phase->kind = LZQ_PHASE_BATH;
  phase->medicine = LZQ_FORMALIN;
  phase->dose_level = 200;
  phase->min_elapsed_min = 0;
  phase->bath_min = 60;
  lot_from(3, 7);
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 4, 12, 0));
  ck_assert_uint_eq(plan->credit->lots[0].phase, 0);
  ck_assert_ptr_nonnull(lzt_task(plan, LZQ_TASK_BATH, 0, 0));
  lzq_record *other = lzt_record(s, LZQ_REC_BATH, lzt_at(5, 4, 13, 0));
  other->lot = 0;
  other->analyte = LZQ_SALINITY; // fresh water is another bath
  ck_assert_uint_eq(lzt_plan(s, lzt_at(5, 4, 14, 0))->credit->lots[0].phase, 0);
  a_bath(lzt_at(5, 4, 14, 1), 0, 5, 150); // of 60 minutes
  a_bath(lzt_at(5, 4, 14, 2), 0, 60, 20); // of 150 mg/L
  a_bath(lzt_at(5, 4, 14, 3), 0, 60, NAN);
  a_bath(lzt_at(5, 4, 14, 4), 0, 60, 150)->ok = false; // lifted out at the first sign
  a_bath(lzt_at(5, 4, 14, 5), 4, 60, 150);             // of the lot's ten fish
  const lzq_visit *visit = &lzt_plan(s, lzt_at(5, 4, 14, 30))->credit->lots[0].visits[0];
  MINUTES_EQ(visit->given_at, LZQ_NEVER);
  ck_assert_int_eq(visit->bathed, 4);
  a_bath(lzt_at(5, 4, 15, 0), 6, 54, 135); // nine tenths of both
  MINUTES_EQ(lzt_plan(s, lzt_at(5, 4, 15, 0))->credit->lots[0].visits[0].end, lzt_at(5, 4, 15, 0));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("medicate");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, nothing_was_given_and_nothing_ends);
  tcase_add_test(all, the_time_counts_from_the_dose);
  tcase_add_test(all, one_dose_serves_all_the_lots_of_a_water);
  tcase_add_test(all, no_dose_on_top_of_another);
  tcase_add_test(all, in_its_window);
  tcase_add_test(all, some_hours_early);
  tcase_add_test(all, as_early_as_may_be);
  tcase_add_test(all, a_minute_too_early);
  tcase_add_test(all, a_minute_past_its_window);
  tcase_add_test(all, short_of_the_time_since_its_dose);
  tcase_add_test(all, the_lamp_is_switched_off_first);
  tcase_add_test(all, the_dose_is_that_of_its_water);
  tcase_add_test(all, a_bath_that_was_not_given);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
