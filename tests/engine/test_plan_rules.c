// SPDX-License-Identifier: GPL-3.0-or-later
// Single rules of the plan, each on the smallest station that shows it. Levels and steps are common
// practice, no source, unless a line names one; amounts are the arithmetic beside them.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int two_slots[] = {450, 1020}; // 07:30 and 17:00

static lzt_station *s;

// Complexed copper 0.45 / 0.50 / 0.60 / 0.80 held in 1,000 L, bottle of 5 mg/mL.
static lzq_phase *
hold_phase(lzq_phase_kind kind)
{
  lzq_phase *phase = lzt_phase(s, kind);
  phase->min_credit_min = kind == LZQ_PHASE_HOLD ? 14 * LZQ_DAY : 0;
  phase->reach = kind == LZQ_PHASE_RISE;
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
  hold_phase(LZQ_PHASE_HOLD);
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

START_TEST(a_low_level_is_topped_up_to_the_target)
{
  lzt_read(s, 0, LZQ_COPPER, 0.46, lzt_at(3, 1, 7, 30)); // more than half way to the edge
  const lzq_task *dose = task(lzt_plan(s, lzt_at(3, 1, 7, 35)), LZQ_TASK_DOSE, 0);
  ck_assert_double_eq_tol(dose->dose_mg, 40, 1e-9); // (0.50 - 0.46) x 1,000
  ck_assert_double_eq_tol(dose->amount, 8, 1e-9);
  ck_assert_int_eq(dose->because.code, LZQ_BECAUSE_TOP_UP_LEVEL);
  MINUTES_EQ(dose->at, lzt_at(3, 1, 7, 35)); // the shift is at the tanks
}
END_TEST

START_TEST(a_level_near_its_target_is_left_alone)
{
  lzt_read(s, 0, LZQ_COPPER, 0.48, lzt_at(3, 1, 7, 30));
  ck_assert_ptr_null(lzt_task(lzt_plan(s, lzt_at(3, 1, 7, 35)), LZQ_TASK_DOSE, 0, 0));
}
END_TEST

START_TEST(a_level_beyond_the_plan_edge_is_changed_down)
{
  lzt_read(s, 0, LZQ_COPPER, 0.70, lzt_at(3, 1, 7, 30));
  const lzq_task *change = task(lzt_plan(s, lzt_at(3, 1, 9, 50)), LZQ_TASK_CHANGE, 0);
  ck_assert_double_eq_tol(change->amount, 1000 * 0.2 / 0.7, 1e-9); // f = (c - target)/(c - 0)
  ck_assert_double_eq_tol(change->level_after, 0.5, 1e-9);
  ck_assert_int_eq(change->because.code, LZQ_BECAUSE_TOO_HIGH);
  MINUTES_EQ(change->at, lzt_at(3, 1, 17, 0));
}
END_TEST

START_TEST(the_harm_edge_is_answered_at_once)
{
  lzt_read(s, 0, LZQ_COPPER, 0.80, lzt_at(3, 1, 7, 30));
  const lzq_task *change = task(lzt_plan(s, lzt_at(3, 1, 23, 0)), LZQ_TASK_CHANGE, 0);
  ck_assert_int_eq(change->because.code, LZQ_BECAUSE_HARM);
  MINUTES_EQ(change->at, lzt_at(3, 1, 23, 0));        // not at the next slot
  ck_assert_double_eq_tol(change->amount, 375, 1e-9); // 1,000 x 0.3/0.8
}
END_TEST

// A dose of ten times, after a good reading: no reading has closed it, and nothing waits for one.
START_TEST(harm_by_a_dose_waits_for_no_reading)
{
  lzt_read(s, 0, LZQ_COPPER, 0.40, lzt_at(3, 1, 7, 30));
  lzq_record *dose = lzt_record(s, LZQ_REC_DOSE, lzt_at(3, 1, 7, 40));
  dose->system = 0;
  dose->analyte = LZQ_COPPER;
  dose->form = LZQ_FORM_AMINE;
  dose->amount = 1000;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 50));
  ck_assert_int_eq(plan->tasks[0].kind, LZQ_TASK_CHANGE); // before the tests of the round
  ck_assert_int_eq(plan->tasks[0].because.code, LZQ_BECAUSE_HARM);
  MINUTES_EQ(plan->tasks[0].at, lzt_at(3, 1, 7, 50));
  // 1.4 down to 0.5 takes 643 L; no more than half of the water is changed in a day
  ck_assert_double_eq_tol(plan->tasks[0].amount, 500, 1e-9);
  ck_assert_double_eq_tol(plan->tasks[0].level_after, 0.7, 1e-9);
}
END_TEST

START_TEST(a_large_change_becomes_a_sequence)
{
  s->systems[0].max_change_day = 0.2;
  lzt_read(s, 0, LZQ_COPPER, 0.70, lzt_at(3, 1, 7, 30));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
  ck_assert_double_eq_tol(task(plan, LZQ_TASK_CHANGE, 0)->amount, 200, 1e-9);
  ck_assert_double_eq_tol(task(plan, LZQ_TASK_CHANGE, 0)->level_after, 0.56, 1e-9);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_CHANGE, 0, 1)); // 0.56 is inside the plan edge
}
END_TEST

START_TEST(gear_blocks_the_dose_until_it_is_on_record)
{
  s->phases[0].gear_off = 1 << LZQ_GEAR_UV;
  lzt_read(s, 0, LZQ_COPPER, 0.40, lzt_at(3, 1, 7, 30));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
  ck_assert_uint_eq(task(plan, LZQ_TASK_GEAR, 0)->gear, LZQ_GEAR_UV);
  ck_assert_int_eq(task(plan, LZQ_TASK_DOSE, 0)->state, LZQ_TASK_BLOCKED);
  ck_assert_int_eq(task(plan, LZQ_TASK_DOSE, 0)->because.code, LZQ_BECAUSE_GEAR);
  lzt_gear(s, 0, LZQ_GEAR_UV, false, lzt_at(3, 1, 7, 36));
  plan = lzt_plan(s, lzt_at(3, 1, 7, 40));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_GEAR, 0, 0));
  ck_assert_int_eq(task(plan, LZQ_TASK_DOSE, 0)->state, LZQ_TASK_DUE);
}
END_TEST

START_TEST(no_bottle_no_dose)
{
  s->bottles[0].form = LZQ_FORM_IONIC;
  lzt_read(s, 0, LZQ_COPPER, 0.40, lzt_at(3, 1, 7, 30));
  const lzq_task *dose = task(lzt_plan(s, lzt_at(3, 1, 7, 35)), LZQ_TASK_DOSE, 0);
  ck_assert_int_eq(dose->state, LZQ_TASK_BLOCKED);
  ck_assert_int_eq(dose->because.code, LZQ_BECAUSE_NO_BOTTLE);
}
END_TEST

// Read some minutes before the round or after it: that round's test is not asked for again.
START_TEST(a_test_that_was_made_is_not_asked_again)
{
  static const struct {
    int read_h, read_min, now_h, now_min;
    bool made;
  } cases[] = {
      {7, 18, 7, 19, true},  {7, 30, 7, 30, true},  {7, 41, 7, 42, true},
      {5, 30, 5, 31, true},  {5, 29, 5, 30, false}, // more than two hours before: another round's
      {7, 18, 16, 0, false},
  };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    teardown();
    setup();
    lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 2, cases[i].read_h, cases[i].read_min));
    lzq_minute now = lzt_at(3, 2, cases[i].now_h, cases[i].now_min);
    const lzq_task *next = task(lzt_plan(s, now), LZQ_TASK_TEST, 0);
    bool evening = cases[i].made || cases[i].now_h > 7;
    ck_assert_int_eq(next->analyte, LZQ_COPPER);
    MINUTES_EQ(next->at, evening ? lzt_at(3, 2, 17, 0) : lzt_at(3, 2, 7, 30));
  }
  // the round after it would come later than the longest gap: the slot's own test stands
  teardown();
  setup();
  lzt_read(s, 0, LZQ_COPPER, 0.50,
           lzt_at(3, 2, 16, 10)); // + 960 min = 08:10, and the slot is 07:30
  MINUTES_EQ(task(lzt_plan(s, lzt_at(3, 2, 16, 11)), LZQ_TASK_TEST, 0)->at, lzt_at(3, 3, 7, 30));
  teardown();
  setup();
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 2, 15, 20)); // + 960 min = 07:20
  MINUTES_EQ(task(lzt_plan(s, lzt_at(3, 2, 15, 21)), LZQ_TASK_TEST, 0)->at, lzt_at(3, 2, 17, 0));
}
END_TEST

START_TEST(a_missed_test_is_late)
{
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 17, 0));
  const lzq_task *test = task(lzt_plan(s, lzt_at(3, 2, 8, 0)), LZQ_TASK_TEST, 0);
  ck_assert_int_eq(test->state, LZQ_TASK_LATE);
  MINUTES_EQ(test->at, lzt_at(3, 2, 7, 30));
  MINUTES_EQ(test->deadline, lzt_at(3, 2, 9, 0)); // 17:00 + 16 h
}
END_TEST

START_TEST(a_suspect_reading_asks_for_a_repeat)
{
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.90, lzt_at(3, 1, 17, 0));
  s->records[s->snap.n_records - 1].suspect = true;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 17, 5));
  ck_assert_int_eq(task(plan, LZQ_TASK_TEST, 0)->because.code, LZQ_BECAUSE_TEST_REPEAT);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_CHANGE, 0, 0)); // nobody acts on it yet
}
END_TEST

// The doubted reading is old and its slot's successor was missed: one visit, which is late.
START_TEST(a_repeat_that_is_late_is_one_test)
{
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.90, lzt_at(3, 1, 17, 0));
  s->records[s->snap.n_records - 1].suspect = true;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 2, 8, 0));
  const lzq_task *test = task(plan, LZQ_TASK_TEST, 0), *next = lzt_task(plan, LZQ_TASK_TEST, 0, 1);
  ck_assert_int_eq(test->state, LZQ_TASK_LATE);
  ck_assert_int_eq(test->because.code, LZQ_BECAUSE_TEST_REPEAT);
  ck_assert(next == NULL || next->at > lzt_at(3, 2, 8, 0));
}
END_TEST

// The evening's test is late and the dose of the afternoon waits for a reading: one test, that says
// both: since when it is late, and that it confirms the dose.
START_TEST(a_late_test_that_confirms_is_one_test)
{
  lzt_read(s, 0, LZQ_COPPER, 0.46, lzt_at(3, 1, 7, 30));
  lzt_dose(s, 0, LZQ_FORM_NONE, 40, lzt_at(3, 1, 14, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 17, 5));
  const lzq_task *test = task(plan, LZQ_TASK_TEST, 0), *next = lzt_task(plan, LZQ_TASK_TEST, 0, 1);
  ck_assert_int_eq(test->state, LZQ_TASK_LATE);
  MINUTES_EQ(test->at, lzt_at(3, 1, 17, 0));
  ck_assert_int_eq(test->because.code, LZQ_BECAUSE_TEST_CONFIRMS);
  ck_assert(test->deadline != LZQ_NEVER);
  ck_assert(next == NULL || next->at > lzt_at(3, 1, 17, 5));
}
END_TEST

// One judge for credit and plan: what a repeat confirmed is good, also where the repeat itself
// waits.
START_TEST(a_confirmed_reading_is_acted_on)
{
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.90, lzt_at(3, 1, 17, 0));
  lzq_record *high = &s->records[s->snap.n_records - 1];
  high->suspect = true;
  lzt_read(s, 0, LZQ_COPPER, 0.89, lzt_at(3, 1, 17, 5));
  lzq_record *repeat = &s->records[s->snap.n_records - 1];
  repeat->suspect = true;
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 17, 10));
  ck_assert_double_eq(plan->waters[0].level[LZQ_COPPER], 0.50);
  repeat->confirms = high->id;
  plan = lzt_plan(s, lzt_at(3, 1, 17, 10));
  ck_assert_double_eq(plan->waters[0].level[LZQ_COPPER], 0.90);
  MINUTES_EQ(plan->waters[0].read_at[LZQ_COPPER], lzt_at(3, 1, 17, 0));
  ck_assert_ptr_nonnull(lzt_task(plan, LZQ_TASK_CHANGE, 0, 0));
}
END_TEST

START_TEST(lots_that_no_water_serves_are_named)
{
  lzt_protocol(s); // copper-free
  lzq_phase *watch = lzt_phase(s, LZQ_PHASE_HOLD);
  watch->min_credit_min = LZQ_DAY;
  lzt_band(watch, LZQ_COPPER, LZQ_AT_OR_BELOW, 0.02, 0);
  lzt_receive(s, lzt_lot(s), 0, 5, lzt_at(3, 1, 7, 10));
  lzt_course(s, 1, 1, 0, lzt_at(3, 1, 7, 10));
  lzt_read(s, 0, LZQ_COPPER, 0.30, lzt_at(3, 1, 7, 30));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
  ck_assert_uint_eq(plan->waters[0].conflict_a, 0);
  ck_assert_uint_eq(plan->waters[0].conflict_b, 1);
  for (uint32_t lot = 0; lot < 2; lot++) {
    ck_assert_int_eq(plan->lots[lot].because.code, LZQ_BECAUSE_NO_COMMON_BAND);
    ck_assert_double_eq(plan->lots[lot].because.n[0], 1 - lot);
    ck_assert_int_eq(plan->lots[lot].release_earliest, LZQ_NEVER);
  }
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_DOSE, 0, 0));
}
END_TEST

// A lot whose hold has served waits for a water that matches: within 0.02 of copper, within 1 of
// salinity.
START_TEST(a_move_says_what_does_not_match)
{
  lzt_system(s, LZQ_ROLE_FINISHING, 500);
  lzq_phase *watch = lzt_phase(s, LZQ_PHASE_OBSERVE);
  watch->place = LZQ_PLACE_ROLE;
  watch->role = LZQ_ROLE_FINISHING;
  watch->min_elapsed_min = 7 * LZQ_DAY;
  watch->copper_free = true;
  watch->tol_salinity = 1;
  s->phases[0].min_credit_min = 500;
  for (uint32_t system = 0; system < 2; system++)
    lzt_read(s, system, LZQ_SALINITY, system ? 34 : 30, lzt_at(3, 1, 7, 20));
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 17, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 17, 5));
  const lzq_task *move = task(plan, LZQ_TASK_MOVE, 0);
  ck_assert_int_eq(move->state, LZQ_TASK_BLOCKED);
  ck_assert_int_eq(move->because.code, LZQ_BECAUSE_MOVE_NOT_MATCHED);
  ck_assert_double_eq(move->because.n[0], LZQ_SALINITY);
  ck_assert_double_eq_tol(move->because.n[1], 30, 1e-9);
  ck_assert_double_eq_tol(move->because.n[2], 34, 1e-9);
  ck_assert_double_eq_tol(move->because.n[3], 1, 1e-9);
  // and the destination is prepared: 500 x (1 - 30/34) of fresh water
  ck_assert_double_eq_tol(task(plan, LZQ_TASK_CHANGE, 1)->amount, 500 * (1 - 30.0 / 34), 1e-9);
  lzt_change(s, 1, 500 * (1 - 30.0 / 34), 0, 0, lzt_at(3, 1, 17, 10));
  lzt_read(s, 1, LZQ_SALINITY, 30, lzt_at(3, 1, 18, 10));
  move = task(lzt_plan(s, lzt_at(3, 1, 18, 15)), LZQ_TASK_MOVE, 0);
  ck_assert_int_eq(move->state, LZQ_TASK_DUE);
  ck_assert_uint_eq(move->to_system, 1);
}
END_TEST

START_TEST(nowhere_to_go_is_said)
{
  lzq_phase *watch = lzt_phase(s, LZQ_PHASE_OBSERVE);
  watch->place = LZQ_PLACE_ROLE;
  watch->role = LZQ_ROLE_DISPLAY;
  lzt_read(s, 0, LZQ_COPPER, 0.50, lzt_at(3, 1, 7, 30));
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 35));
  ck_assert_int_eq(plan->lots[0].release_earliest, LZQ_NEVER);
  bool said = false;
  for (uint32_t i = 0; i < plan->lots[0].n_waits; i++)
    said = said || plan->lots[0].waits[i].code == LZQ_BECAUSE_MOVE_NO_ROOM;
  ck_assert(said);
}
END_TEST

START_TEST(the_walk_goes_from_clean_to_suspicious)
{
  lzt_system(s, LZQ_ROLE_ISOLATION, 100);
  lzt_system(s, LZQ_ROLE_FINISHING, 100);
  for (uint32_t i = 1; i <= 2; i++) {
    lzt_receive(s, lzt_lot(s), i, 5, lzt_at(3, 1, 7, 10));
    lzt_course(s, i, 0, 0, lzt_at(3, 1, 7, 10));
  }
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 7, 15));
  ck_assert_int_lt(task(plan, LZQ_TASK_TEST, 2)->walk, task(plan, LZQ_TASK_TEST, 0)->walk);
  ck_assert_int_lt(task(plan, LZQ_TASK_TEST, 0)->walk, task(plan, LZQ_TASK_TEST, 1)->walk);
  for (uint32_t i = 1; i < plan->n_tasks; i++)
    ck_assert_int_le(plan->tasks[i - 1].at, plan->tasks[i].at);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_rules");
  TCase *cases = tcase_create("rules");
  tcase_add_checked_fixture(cases, setup, teardown);
  tcase_add_test(cases, a_low_level_is_topped_up_to_the_target);
  tcase_add_test(cases, a_level_near_its_target_is_left_alone);
  tcase_add_test(cases, a_level_beyond_the_plan_edge_is_changed_down);
  tcase_add_test(cases, the_harm_edge_is_answered_at_once);
  tcase_add_test(cases, harm_by_a_dose_waits_for_no_reading);
  tcase_add_test(cases, a_large_change_becomes_a_sequence);
  tcase_add_test(cases, gear_blocks_the_dose_until_it_is_on_record);
  tcase_add_test(cases, no_bottle_no_dose);
  tcase_add_test(cases, a_test_that_was_made_is_not_asked_again);
  tcase_add_test(cases, a_missed_test_is_late);
  tcase_add_test(cases, a_suspect_reading_asks_for_a_repeat);
  tcase_add_test(cases, a_repeat_that_is_late_is_one_test);
  tcase_add_test(cases, a_late_test_that_confirms_is_one_test);
  tcase_add_test(cases, a_confirmed_reading_is_acted_on);
  tcase_add_test(cases, lots_that_no_water_serves_are_named);
  tcase_add_test(cases, a_move_says_what_does_not_match);
  tcase_add_test(cases, nowhere_to_go_is_said);
  tcase_add_test(cases, the_walk_goes_from_clean_to_suspicious);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
