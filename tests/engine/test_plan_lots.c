// SPDX-License-Identifier: GPL-3.0-or-later
// What a lot still needs after something went otherwise: planned absences that let a hold lapse,
// a water that was left before its last reading, two protocols' doses in one water, a course that
// was stopped in copper. The credit engine, played through the planned tests, is the oracle of the
// dates; levels are common practice, no source.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int round_slots[] = {7 * 60 + 30, 17 * 60};
static lzt_station *s;

static void
setup(void)
{
  s = malloc(sizeof *s);
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_receive(s, lzt_lot(s), 0, 20, lzt_at(3, 1, 7, 0));
  lzt_slots(s, 3, 1, 30, round_slots, 2);
}

static void
teardown(void)
{
  lzt_station_free(s);
  free(s);
}

static lzq_phase *
copper_hold(int64_t days, lzq_lapse lapse)
{
  lzt_protocol(s);
  lzq_phase *hold = lzt_phase(s, LZQ_PHASE_HOLD);
  hold->min_credit_min = days * LZQ_DAY;
  hold->lapse = lapse;
  hold->lapse_min = 720;
  lzq_band *band = lzt_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 0.19);
  band->gap_min = 960;
  return hold;
}

// Nobody tests from the evening of 4 March to the morning of 6 March (38 h 30 min apart; 16 h
// count): 22 h 29 min without credit, 12 h allowed. With restart the seven days begin again on the
// 6th at 07:30 and end on the 13th; with pause they end as much later as was lost.
START_TEST(an_absence_may_let_the_hold_lapse)
{
  copper_hold(7, _i ? LZQ_LAPSE_RESTART : LZQ_LAPSE_PAUSE);
  lzt_course(s, 0, 0, 0, lzt_at(3, 2, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.19, lzt_at(3, 2, 7, 30));
  for (uint32_t i = 0; i < s->snap.n_slots; i++)
    if (s->slots[i].at > lzt_at(3, 4, 17, 0) && s->slots[i].at < lzt_at(3, 6, 7, 30))
      s->slots[i].test = false;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 7, 31));
  const lzq_minute end = lzt_phase_end(plan, 0, 0);
  const int64_t lost = lzt_at(3, 6, 7, 30) - lzt_at(3, 4, 17, 0) - 961;
  MINUTES_EQ(end, _i ? lzt_at(3, 13, 7, 30) : lzt_at(3, 9, 7, 30) + lost);
  ck_assert_int_eq(plan->lots[0].because.code,
                   _i ? LZQ_BECAUSE_WILL_LAPSE : LZQ_BECAUSE_CREDIT_RUNS);
  if (_i) {
    MINUTES_EQ((lzq_minute)plan->lots[0].because.n[0], lzt_at(3, 5, 9, 1));
    MINUTES_EQ((lzq_minute)plan->lots[0].because.n[1], lzt_at(3, 6, 7, 30));
    ck_assert_double_eq(plan->lots[0].because.n[2], (double)lost);
  }
  for (uint32_t i = 0; i < s->snap.n_slots; i++)
    if (s->slots[i].test && s->slots[i].at > lzt_at(3, 2, 7, 31))
      lzt_read(s, 0, LZQ_COPPER, 0.19, s->slots[i].at);
  const lzq_plan *played = lzt_plan(s, lzt_at(3, 20, 7, 31));
  ck_assert(played->credit->lots[0].served);
  MINUTES_EQ(played->credit->lots[0].served_at, end);
}
END_TEST

// The lot moves into water that matches before a reading has spoken for its last hours. The test
// of the water it left is planned, until it was made or a great change leaves nothing to say.
START_TEST(the_water_that_was_left_is_tested)
{
  copper_hold(3, LZQ_LAPSE_PAUSE);
  lzt_course(s, 0, 0, 0, lzt_at(3, 2, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.19, lzt_at(3, 2, 7, 30));
  lzt_read(s, 1, LZQ_COPPER, 0.19, lzt_at(3, 2, 9, 0));
  lzt_move(s, 0, 1, lzt_at(3, 2, 10, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 10, 1));
  const lzq_task *test = lzt_task(plan, LZQ_TASK_TEST, 0, 0);
  ck_assert_ptr_nonnull(test);
  MINUTES_EQ(test->at, lzt_at(3, 2, 17, 0));
  ck_assert_int_eq(test->analyte, LZQ_COPPER);
  ck_assert_int_eq(test->because.code, LZQ_BECAUSE_TEST_ENDS_PHASE);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_TEST, 0, 1));
  if (_i == 0)
    lzt_read(s, 0, LZQ_COPPER, 0.19, lzt_at(3, 2, 17, 0));
  else
    lzt_change(s, 0, 501, 0, NAN, lzt_at(3, 2, 17, 0));
  plan = lzt_plan(s, lzt_at(3, 2, 17, 30));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_TEST, 0, 0));
}
END_TEST

// One lot's water got its dose yesterday; another protocol's dose, of a phase that lasts five days,
// comes up tomorrow: it is listed five days after the dose that is in there.
START_TEST(doses_of_two_protocols_keep_apart)
{
  lzt_bottle(s, LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 100);
  for (int p = 0; p < 2; p++) {
    lzt_protocol(s);
    if (p == 1)
      lzt_phase(s, LZQ_PHASE_WAIT)->min_elapsed_min = 2 * LZQ_DAY;
    lzq_phase *dose = lzt_phase(s, LZQ_PHASE_MEDICATE);
    dose->medicine = LZQ_PRAZIQUANTEL;
    dose->dose_level = 2;
    dose->min_elapsed_min = 5 * LZQ_DAY;
  }
  lzt_receive(s, lzt_lot(s), 0, 20, lzt_at(3, 1, 7, 0));
  lzt_course(s, 0, 0, 0, lzt_at(3, 1, 7, 5));
  lzt_course(s, 1, 1, 0, lzt_at(3, 1, 7, 5));
  const lzq_minute given = lzt_at(3, 1, 7, 30);
  lzt_dose(s, 0, LZQ_FORM_NONE, 2000, given);
  s->records[s->snap.n_records - 1].analyte = LZQ_PRAZIQUANTEL;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 9, 0));
  const lzq_task *dose = lzt_task(plan, LZQ_TASK_DOSE, 0, 0);
  ck_assert_ptr_nonnull(dose);
  MINUTES_EQ(dose->at, given + 5 * LZQ_DAY);
  MINUTES_EQ(lzt_phase_end(plan, 1, 1), given + 10 * LZQ_DAY);
}
END_TEST

// A course stopped in copper: the choice is asked for and the level tested at each slot. 0.50 to
// 0.02 in 1,000 L takes 1,000 (1 - 0.02/0.50) = 960 L. In water that holds none nothing is asked.
START_TEST(stopped_in_copper)
{
  copper_hold(14, LZQ_LAPSE_PAUSE);
  lzt_course(s, 0, 0, 0, lzt_at(3, 2, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 3, 7, 30));
  lzt_record(s, LZQ_REC_STOP, lzt_at(3, 3, 9, 0))->lot = 0;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 3, 9, 1));
  const lzq_task *choose = lzt_task(plan, LZQ_TASK_DECIDE, 0, 0);
  ck_assert_ptr_nonnull(choose);
  ck_assert_int_eq(choose->lot, 0);
  ck_assert_int_eq(choose->state, LZQ_TASK_DUE);
  ck_assert_int_eq(choose->because.code, LZQ_BECAUSE_NO_COURSE_IN_COPPER);
  ck_assert_double_eq_tol(choose->because.n[0], 0.50, 1e-12);
  ck_assert_double_eq_tol(choose->because.n[1], 960, 1e-9);
  ck_assert_double_eq(choose->because.n[3], 1);
  const lzq_task *test = lzt_task(plan, LZQ_TASK_TEST, 0, 0);
  ck_assert_ptr_nonnull(test);
  MINUTES_EQ(test->at, lzt_at(3, 3, 17, 0));
  ck_assert_int_eq(test->because.code, LZQ_BECAUSE_NO_COURSE_IN_COPPER);
  MINUTES_EQ(test->deadline, LZQ_NEVER); // no count that could stop
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_TEST, 0, 1)->at, lzt_at(3, 4, 7, 30));
  // carbon: the level is not known any more, and is asked about all the same
  lzt_gear(s, 0, LZQ_GEAR_CARBON, true, lzt_at(3, 3, 10, 0));
  plan = lzt_plan(s, lzt_at(3, 3, 10, 1));
  choose = lzt_task(plan, LZQ_TASK_DECIDE, 0, 0);
  ck_assert_ptr_nonnull(choose);
  ck_assert(isnan(choose->because.n[0]) && isnan(choose->because.n[1]));
  lzt_read(s, 0, LZQ_COPPER, 0.02, lzt_at(3, 3, 17, 0));
  plan = lzt_plan(s, lzt_at(3, 3, 17, 1));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_DECIDE, 0, 0));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_TEST, 0, 0));
}
END_TEST

// One sick fish is split off into isolation: its copper is tested there and topped up as its hold
// asks (120 L from 0.19 to 0.19: nothing; from 0.15: 120 x 0.04 / 1 = 4.8 mL of 1 mg/mL), it goes
// back to the water that it came from, not to another that serves alike, when it is fit, and its
// time does not count. Care apart is common practice, no source; the rule of the place is the
// definition of credit.
START_TEST(a_sick_fish_apart)
{
  lzq_phase *hold = copper_hold(7, LZQ_LAPSE_PAUSE);
  hold->place = LZQ_PLACE_ROLE;
  hold->role = LZQ_ROLE_TREATMENT;
  hold->tol_copper = 0.05;
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_IONIC, 1);
  const uint32_t iso = lzt_system(s, _i ? LZQ_ROLE_DISPLAY : LZQ_ROLE_ISOLATION, 120);
  // the lot is in the second of two waters alike
  lzt_move(s, 0, 1, lzt_at(3, 1, 8, 0));
  lzt_course(s, 0, 0, 0, lzt_at(3, 2, 7, 30));
  for (uint32_t water = 0; water < 3; water++)
    lzt_read(s, water, LZQ_COPPER, 0.19, lzt_at(3, 2, 7, 30));
  const uint32_t part = lzt_lot(s);
  lzq_record *split = lzt_record(s, LZQ_REC_SPLIT, lzt_at(3, 2, 10, 0));
  split->lot = 0;
  split->other = part;
  split->heads = 1;
  lzt_move(s, part, iso, lzt_at(3, 2, 10, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 10, 1));
  const lzq_task *back = lzt_task(plan, LZQ_TASK_MOVE, iso, 0);
  ck_assert_ptr_nonnull(back);
  ck_assert_uint_eq(back->lot, part);
  ck_assert_uint_eq(back->to_system, 1);
  ck_assert_int_eq(back->state, _i ? LZQ_TASK_DUE : LZQ_TASK_WAITS);
  ck_assert_int_eq(back->because.code, _i ? LZQ_BECAUSE_MOVE_READY : LZQ_BECAUSE_MOVE_APART);
  const lzq_task *test = lzt_task(plan, LZQ_TASK_TEST, iso, 0);
  ck_assert_int_eq(test != NULL, !_i);
  lzt_read(s, iso, LZQ_COPPER, 0.15, lzt_at(3, 2, 17, 0));
  plan = lzt_plan(s, lzt_at(3, 2, 17, 1));
  const lzq_task *dose = lzt_task(plan, LZQ_TASK_DOSE, iso, 0);
  ck_assert_int_eq(dose != NULL, !_i);
  if (dose)
    ck_assert_double_eq_tol(dose->amount, 4.8, 0.101); // 10 mL syringe
  ck_assert_int_eq((int)plan->credit->lots[part].credit_min, 150);
  ck_assert_int_eq((int)plan->credit->lots[0].credit_min, 571);
}
END_TEST

// A lot whose course gives no copper is not sent into water whose lots are under copper, nor one
// under copper into water whose lots are not, though no band forbids it; other water is found, or
// none can take it. Copper is for fish whose course gives it: common practice, no source.
START_TEST(nobody_is_sent_into_another_s_copper)
{
  const bool comes_with_copper = _i & 1, has_room = _i & 2;
  copper_hold(7, LZQ_LAPSE_PAUSE);
  lzt_protocol(s);
  lzt_phase(s, LZQ_PHASE_OBSERVE)->min_elapsed_min = 7 * LZQ_DAY;
  for (uint32_t i = 0; i < s->snap.n_phases; i++) {
    s->phases[i].place = LZQ_PLACE_ROLE;
    s->phases[i].role = LZQ_ROLE_TREATMENT;
  }
  const uint32_t dock = lzt_system(s, LZQ_ROLE_RECEIVING, 500);
  s->systems[1].role = has_room ? LZQ_ROLE_TREATMENT : LZQ_ROLE_DISPLAY;
  lzt_receive(s, lzt_lot(s), dock, 10, lzt_at(3, 1, 7, 0));
  lzt_course(s, 0, comes_with_copper ? 1 : 0, 0, lzt_at(3, 2, 7, 30));
  lzt_course(s, 1, comes_with_copper ? 0 : 1, 0, lzt_at(3, 2, 7, 30));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 7, 31));
  const lzq_task *move = lzt_task(plan, LZQ_TASK_MOVE, dock, 0);
  ck_assert_ptr_nonnull(move);
  ck_assert_int_eq(move->state, has_room ? LZQ_TASK_DUE : LZQ_TASK_BLOCKED);
  ck_assert_uint_eq(move->to_system, has_room ? 1 : LZQ_NONE);
}
END_TEST

// Two lots, from water of 30 and of 20, are to go into the one finishing system, of 35: it is
// prepared for the first of them, 500 (1 - 30/35) = 71.4 L, and for nobody else in the same visit.
// From water alike both go in, out of copper into water without it too. The amount is the mass
// balance of a change.
START_TEST(one_water_is_prepared_for_one)
{
  const bool alike = _i & 1;
  lzt_protocol(s);
  lzq_phase *watch = lzt_phase(s, LZQ_PHASE_OBSERVE);
  watch->place = LZQ_PLACE_ROLE;
  watch->role = LZQ_ROLE_FINISHING;
  watch->min_elapsed_min = 7 * LZQ_DAY;
  watch->tol_salinity = 1;
  watch->copper_free = _i & 2;
  const uint32_t to = lzt_system(s, LZQ_ROLE_FINISHING, 500);
  lzt_receive(s, lzt_lot(s), 1, 10, lzt_at(3, 1, 7, 0));
  for (uint32_t lot = 0; lot < 2; lot++)
    lzt_course(s, lot, 0, 0, lzt_at(3, 2, 7, 30));
  lzt_read(s, 0, LZQ_SALINITY, 30, lzt_at(3, 2, 7, 40));
  lzt_read(s, 1, LZQ_SALINITY, alike ? 30 : 20, lzt_at(3, 2, 7, 40));
  for (uint32_t water = 0; water < 2; water++)
    lzt_read(s, water, LZQ_COPPER, 0.5, lzt_at(3, 2, 7, 40));
  lzt_read(s, to, LZQ_SALINITY, 35, lzt_at(3, 2, 7, 40));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 7, 41));
  const lzq_task *change = lzt_task(plan, LZQ_TASK_CHANGE, to, 0);
  ck_assert_ptr_nonnull(change);
  ck_assert_double_eq_tol(change->amount, 500 * (1 - 30.0 / 35), 1e-9);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_CHANGE, to, 1));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_SALT, to, 0));
  const lzq_task *second = lzt_task(plan, LZQ_TASK_MOVE, 1, 0);
  ck_assert_ptr_nonnull(second);
  ck_assert_uint_eq(second->to_system, alike ? to : LZQ_NONE);
  ck_assert_int_eq(plan->lots[1].release_earliest != LZQ_NEVER, alike);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_lots");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_loop_test(all, an_absence_may_let_the_hold_lapse, 0, 2);
  tcase_add_loop_test(all, the_water_that_was_left_is_tested, 0, 2);
  tcase_add_test(all, doses_of_two_protocols_keep_apart);
  tcase_add_test(all, stopped_in_copper);
  tcase_add_loop_test(all, a_sick_fish_apart, 0, 2);
  tcase_add_loop_test(all, nobody_is_sent_into_another_s_copper, 0, 4);
  tcase_add_loop_test(all, one_water_is_prepared_for_one, 0, 4);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
