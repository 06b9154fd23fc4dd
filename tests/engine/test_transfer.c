// SPDX-License-Identifier: GPL-3.0-or-later
// Tank transfer: four moves at 72 h into clean dry tanks (Colorni 1985), one that is late by more
// than the tolerance begins the course anew, early in the day (Watanabe 2020). The turn-round of a
// used tank is 24 h in chlorine and 24 h dry (Hirazawa, Goto and Shirasu 2003). Dates are the
// arithmetic beside them.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

enum { TOLERANCE = 180 };
static const int two_slots[] = {480, 960}; // 08:00 and 16:00

static lzt_station *s;

static void
course_begin(int n_tanks)
{
  for (int i = 0; i < n_tanks; i++)
    lzt_system(s, LZQ_ROLE_ISOLATION, 120);
  lzt_slots(s, 5, 3, 40, two_slots, 2);
  lzt_protocol(s);
  for (int i = 0; i < 4; i++) {
    lzq_phase *phase = lzt_phase(s, LZQ_PHASE_TRANSFER);
    phase->place = LZQ_PLACE_NEXT_CLEAN;
    phase->min_elapsed_min = 3 * LZQ_DAY;
    phase->late_tolerance_min = TOLERANCE;
    phase->sighting_to = 0;
  }
  lzq_phase *watch = lzt_phase(s, LZQ_PHASE_OBSERVE);
  watch->min_elapsed_min = 14 * LZQ_DAY;
  watch->sighting_to = 0;
  lzt_receive(s, lzt_lot(s), 0, 6, lzt_at(5, 3, 7, 0));
  lzt_course(s, 0, 0, 0, lzt_at(5, 3, 7, 0));
}

static void
setup(void)
{
  s = malloc(sizeof *s);
  lzt_station_init(s);
}

static void
teardown(void)
{
  lzt_station_free(s);
  free(s);
}

static const lzq_lot_credit *
credit_at(lzq_minute at)
{
  return &lzt_plan(s, at)->credit->lots[0];
}

START_TEST(four_moves_twelve_and_fourteen_days)
{
  course_begin(5);
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 3, 8, 0));
  uint32_t moves = 0;
  for (uint32_t i = 0; i < plan->n_tasks; i++) {
    if (plan->tasks[i].kind != LZQ_TASK_MOVE)
      continue;
    MINUTES_EQ(plan->tasks[i].at, lzt_at(5, 3 + 3 * (int)moves, 8, 0));
    ck_assert_uint_eq(plan->tasks[i].to_system, ++moves); // each tank but the first is clean
  }
  ck_assert_uint_eq(moves, 4);
  MINUTES_EQ(plan->lots[0].release_earliest, lzt_at(5, 3 + 12 + 14, 8, 0));
}
END_TEST

// Received after the morning round: the first transfer waits for the next morning, and with it
// every one that follows at 72 h is made in the morning. Parasites leave the fish in the last hours
// of the dark (Watanabe 2020).
START_TEST(moved_in_the_morning)
{
  course_begin(5);
  for (uint32_t i = 0; i < 4; i++)
    s->phases[i].early = true;
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 3, 12, 0));
  uint32_t moves = 0;
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    if (plan->tasks[i].kind == LZQ_TASK_MOVE)
      MINUTES_EQ(plan->tasks[i].at, lzt_at(5, 4 + 3 * (int)moves++, 8, 0)); // not today, 16:00
  ck_assert_uint_eq(moves, 4);
  MINUTES_EQ(plan->lots[0].release_earliest, lzt_at(5, 4 + 12 + 14, 8, 0));
  MINUTES_EQ(lzt_plan(s, lzt_at(5, 3, 8, 30))->lots[0].segments[0].end, lzt_at(5, 3, 8, 30));
}
END_TEST

// A transfer that would be late tomorrow morning is made at the next slot instead.
START_TEST(rather_in_the_evening_than_late)
{
  course_begin(5);
  for (uint32_t i = 0; i < 4; i++)
    s->phases[i].early = true;
  lzt_move(s, 0, 1, lzt_at(5, 3, 15, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 6, 12, 0));
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_MOVE, 1, 0)->at, lzt_at(5, 6, 16, 0));
}
END_TEST

// 72 h hold from 22 to 32 °C (Aquaculture 2018); at 18 to 20 °C parasites take more than 4 days.
START_TEST(the_interval_is_that_of_a_temperature)
{
  course_begin(5);
  for (uint32_t i = 0; i < 4; i++)
    s->phases[i].warm_from = 22, s->phases[i].warm_to = 32;
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  const double read[] = {NAN, 20, 22, 25};
  for (int i = 0; i < 4; i++) {
    if (i > 0)
      lzt_read(s, 1, LZQ_TEMPERATURE, read[i], lzt_at(5, 3, 9, i));
    const lzq_lot_plan *lot = &lzt_plan(s, lzt_at(5, 3, 10, 0))->lots[0];
    const lzq_because *said = NULL;
    for (uint32_t w = 0; w < lot->n_waits; w++)
      if (lot->waits[w].code == LZQ_BECAUSE_WARMTH)
        said = &lot->waits[w];
    ck_assert_int_eq(said != NULL, i < 2);
    if (said && i == 1)
      ck_assert(said->n[0] == 20 && said->n[1] == 22 && said->n[2] == 32);
  }
}
END_TEST

static bool
waits_for_warmth(double read, double from, double to)
{
  teardown(), setup();
  course_begin(5);
  for (uint32_t i = 0; i < 4; i++)
    s->phases[i].warm_from = from, s->phases[i].warm_to = to;
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  lzt_read(s, 1, LZQ_TEMPERATURE, read, lzt_at(5, 3, 9, 0));
  const lzq_lot_plan *lot = &lzt_plan(s, lzt_at(5, 3, 10, 0))->lots[0];
  for (uint32_t w = 0; w < lot->n_waits; w++)
    if (lot->waits[w].code == LZQ_BECAUSE_WARMTH)
      return true;
  return false;
}

START_TEST(one_end_of_the_warmth_may_be_open)
{
  ck_assert(waits_for_warmth(21, 22, NAN));
  ck_assert(!waits_for_warmth(35, 22, NAN));
  ck_assert(waits_for_warmth(33, NAN, 32));
  ck_assert(!waits_for_warmth(10, NAN, 32));
  ck_assert(!waits_for_warmth(10, NAN, NAN));
}
END_TEST

// Nobody comes on Sundays (9 May 2027 is one), which is so too beyond the slots handed in, the last
// of them on the 12th: 13 days after the 3rd is Sunday the 16th, and the move is on Monday.
START_TEST(a_sunday_without_people_stays_one)
{
  course_begin(5);
  s->snap.n_slots = 0;
  for (int day = 3; day <= 12; day++)
    for (int hour = 8; hour <= 16 && day != 9; hour += 8)
      s->slots[s->snap.n_slots++] = (lzq_slot){lzt_at(5, day, hour, 0), day, true};
  for (uint32_t i = 0; i < 4; i++) {
    s->phases[i].min_elapsed_min = 13 * LZQ_DAY;
    s->phases[i].late_tolerance_min = 2 * LZQ_DAY;
    s->phases[i].early = i % 2;
  }
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 3, 12, 0));
  MINUTES_EQ(lzt_task(plan, LZQ_TASK_MOVE, 1, 0)->at, lzt_at(5, 17, 8, 0)); // early
  const lzq_lot_plan *lot = &plan->lots[0];
  bool monday = false; // any slot: 13 days after is Sunday the 30th
  for (uint32_t i = 0; i < lot->n_segments; i++)
    monday = monday || lot->segments[i].end == lzt_at(5, 31, 8, 0);
  ck_assert(monday);
}
END_TEST

START_TEST(a_move_at_the_last_minute_of_the_tolerance_is_in_time)
{
  course_begin(5);
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  lzt_move(s, 0, 2, lzt_at(5, 6, 11, 0)); // 72 h and 180 min
  const lzq_lot_credit *credit = credit_at(lzt_at(5, 6, 12, 0));
  ck_assert_uint_eq(credit->phase, 1);
  MINUTES_EQ(credit->visits[credit->n_visits - 1].placed_at, lzt_at(5, 6, 11, 0));
}
END_TEST

START_TEST(a_minute_later_it_begins_anew)
{
  course_begin(5);
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  lzt_move(s, 0, 2, lzt_at(5, 6, 11, 1));
  const lzq_lot_credit *credit = credit_at(lzt_at(5, 6, 12, 0));
  ck_assert_uint_eq(credit->phase, 0);
  ck_assert_uint_eq(credit->n_visits, 3);
  ck_assert_uint_eq(credit->visits[1].left, LZQ_LEFT_LATE);
  MINUTES_EQ(credit->visits[1].end, lzt_at(5, 6, 11, 1));
  MINUTES_EQ(credit->visits[2].start, lzt_at(5, 6, 11, 1));
  ck_assert_int_eq(credit->visits[2].placed_at, LZQ_NEVER); // it needs another clean tank
  const lzq_lot_plan *lot = &lzt_plan(s, lzt_at(5, 6, 12, 0))->lots[0];
  bool said = false;
  for (uint32_t i = 0; i < lot->n_segments; i++)
    said = said || lot->segments[i].because.code == LZQ_BECAUSE_TRANSFER_LATE;
  ck_assert(said);
}
END_TEST

START_TEST(nobody_moves_and_the_course_begins_anew)
{
  course_begin(5);
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  ck_assert_uint_eq(credit_at(lzt_at(5, 6, 11, 0))->phase, 1);
  ck_assert_uint_eq(credit_at(lzt_at(5, 6, 11, 1))->phase, 0);
  ck_assert_uint_eq(credit_at(lzt_at(5, 9, 0, 0))->n_visits, 3); // and only once
}
END_TEST

START_TEST(a_slot_that_would_be_late_gives_way_to_the_minute)
{
  course_begin(5);
  lzt_move(s, 0, 1, lzt_at(5, 3, 10, 30)); // slots at 08:00 and 16:00: 16:00 is 5 h 30 late
  const lzq_task *move = lzt_task(lzt_plan(s, lzt_at(5, 5, 8, 0)), LZQ_TASK_MOVE, 1, 0);
  MINUTES_EQ(move->at, lzt_at(5, 6, 10, 30));
  MINUTES_EQ(move->deadline, lzt_at(5, 6, 13, 30));
  ck_assert_int_eq(move->because.code, LZQ_BECAUSE_PHASE_ENDS);
}
END_TEST

START_TEST(two_tanks_take_turns_with_disinfection_between)
{
  course_begin(3); // one to begin in and two sets
  lzt_record(s, LZQ_REC_STATE, lzt_at(5, 2, 8, 0))->state = LZQ_STATE_STOCKED;
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  lzt_move(s, 0, 2, lzt_at(5, 6, 8, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 6, 8, 0));
  const lzq_task *move = lzt_task(plan, LZQ_TASK_MOVE, 2, 0);
  ck_assert_ptr_nonnull(move);
  MINUTES_EQ(move->at, lzt_at(5, 9, 8, 0));
  ck_assert_uint_eq(move->to_system, 0); // empty since the 3rd
  const lzq_task *bleach = lzt_task(plan, LZQ_TASK_DISINFECT, 0, 0);
  ck_assert_ptr_nonnull(bleach);
  MINUTES_EQ(bleach->deadline, lzt_at(5, 7, 8, 0)); // 48 h before the move
  // begun in time: the next thing is to fill it, and it is clean
  lzq_record *state = lzt_record(s, LZQ_REC_STATE, lzt_at(5, 6, 9, 0));
  state->system = 0;
  state->state = LZQ_STATE_DISINFECTING;
  plan = lzt_plan(s, lzt_at(5, 6, 10, 0));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_DISINFECT, 0, 0));
  const lzq_task *fill = lzt_task(plan, LZQ_TASK_FILL, 0, 0);
  MINUTES_EQ(fill->at, lzt_at(5, 8, 16, 0)); // dry from 09:00, the next slot
  ck_assert_double_eq_tol(fill->amount, 120, 1e-9);
  // not filled until the fish are to come: filled first, though they stand nearer
  plan = lzt_plan(s, lzt_at(5, 9, 8, 0));
  fill = lzt_task(plan, LZQ_TASK_FILL, 0, 0);
  move = lzt_task(plan, LZQ_TASK_MOVE, 2, 0);
  ck_assert(fill && move && fill->at == move->at);
  ck_assert(fill < move);
  // nor between the rounds, when the move cannot wait for the next
  plan = lzt_plan(s, lzt_at(5, 9, 10, 30));
  fill = lzt_task(plan, LZQ_TASK_FILL, 0, 0);
  move = lzt_task(plan, LZQ_TASK_MOVE, 2, 0);
  MINUTES_EQ(move->at, lzt_at(5, 9, 10, 30));
  MINUTES_EQ(fill->at, move->at);
  ck_assert(fill < move);
}
END_TEST

START_TEST(no_clean_tank_in_time_is_said)
{
  course_begin(2);
  lzt_move(s, 0, 1, lzt_at(5, 3, 8, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 4, 12, 0)); // tank 0 can be dry on the 6th, 12:00
  ck_assert_int_eq(plan->lots[0].release_earliest, LZQ_NEVER);
  const lzq_task *move = lzt_task(plan, LZQ_TASK_MOVE, 1, 0);
  ck_assert_int_eq(move->state, LZQ_TASK_BLOCKED);
  ck_assert_int_eq(move->because.code, LZQ_BECAUSE_MOVE_NO_ROOM);
  ck_assert_double_eq(move->because.n[0], LZQ_ASKS_CLEAN);
  // an hour and a minute earlier it would still be ready within the tolerance
  ck_assert_int_ne(lzt_plan(s, lzt_at(5, 4, 10, 59))->lots[0].release_earliest, LZQ_NEVER);
}
END_TEST

START_TEST(a_tank_kept_for_one_water_is_not_another_s)
{
  course_begin(3);
  uint32_t other = lzt_system(s, LZQ_ROLE_ISOLATION, 120);
  lzt_receive(s, lzt_lot(s), other, 4, lzt_at(5, 3, 8, 0));
  lzt_course(s, 1, 0, 0, lzt_at(5, 3, 8, 0));
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 3, 8, 0));
  const lzq_task *first = lzt_task(plan, LZQ_TASK_MOVE, 0, 0);
  const lzq_task *second = lzt_task(plan, LZQ_TASK_MOVE, other, 0);
  ck_assert_uint_ne(first->to_system, second->to_system);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("transfer");
  TCase *tcase = tcase_create("transfers");
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_add_test(tcase, four_moves_twelve_and_fourteen_days);
  tcase_add_test(tcase, moved_in_the_morning);
  tcase_add_test(tcase, rather_in_the_evening_than_late);
  tcase_add_test(tcase, the_interval_is_that_of_a_temperature);
  tcase_add_test(tcase, one_end_of_the_warmth_may_be_open);
  tcase_add_test(tcase, a_sunday_without_people_stays_one);
  tcase_add_test(tcase, a_move_at_the_last_minute_of_the_tolerance_is_in_time);
  tcase_add_test(tcase, a_minute_later_it_begins_anew);
  tcase_add_test(tcase, nobody_moves_and_the_course_begins_anew);
  tcase_add_test(tcase, a_slot_that_would_be_late_gives_way_to_the_minute);
  tcase_add_test(tcase, two_tanks_take_turns_with_disinfection_between);
  tcase_add_test(tcase, no_clean_tank_in_time_is_said);
  tcase_add_test(tcase, a_tank_kept_for_one_water_is_not_another_s);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
