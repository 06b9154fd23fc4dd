// SPDX-License-Identifier: GPL-3.0-or-later
// The plan on worked cases. Every figure follows from the inputs by the arithmetic shown beside it;
// rules of the trade (steps, half doses, last-in) are common practice or named where they are
// published.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int twice[] = {8 * 60, 20 * 60};

// Ionic copper 0.18-0.21 mg/L (Zec, Hadfield and Hungerford 2021), 21 days, longest gap 24 h.
static lzq_phase *
ionic_hold(lzt_station *s, lzq_lapse lapse)
{
  lzt_protocol(s);
  lzq_phase *hold = lzt_phase(s, LZQ_PHASE_HOLD);
  hold->min_credit_min = 21 * LZQ_DAY;
  hold->lapse_min = 720;
  hold->lapse = lapse;
  lzq_band *band = lzt_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 0.19);
  band->form = LZQ_FORM_IONIC;
  band->plan = 0.21;
  band->harm = 0.25;
  return hold;
}

// A gap in a hold: 0.15 at 14 March 08:00, in the band again from 14:00; 18 h are lost.
static lzt_station *
gap_station(lzq_lapse lapse, bool low_reading)
{
  lzt_station *s = malloc(sizeof *s);
  lzt_station_init(s);
  uint32_t blue = lzt_system(s, LZQ_ROLE_TREATMENT, 2400);
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_IONIC, 1.0);
  ionic_hold(s, lapse);
  uint32_t lot = lzt_lot(s);
  lzt_receive(s, lot, blue, 30, lzt_at(3, 4, 7, 0));
  lzt_course(s, lot, 0, 0, lzt_at(3, 4, 7, 0));
  for (int day = 4; day <= 13; day++)
    for (int i = 0; i < 2; i++)
      lzt_read(s, blue, LZQ_COPPER, day == 13 && i == 1 ? 0.18 : 0.19,
               lzt_at(3, day, twice[i] / 60, 0));
  lzt_slots(s, 3, 14, 14, twice, 2);
  if (low_reading) {
    lzt_read(s, blue, LZQ_COPPER, 0.15, lzt_at(3, 14, 8, 0));
    lzt_dose(s, blue, LZQ_FORM_IONIC, 0.035 * 2400, lzt_at(3, 14, 8, 30));
    lzt_read(s, blue, LZQ_COPPER, 0.185, lzt_at(3, 14, 14, 0));
  }
  return s;
}

START_TEST(gap_in_a_hold_before_the_low_reading)
{
  lzt_station *s = gap_station(LZQ_LAPSE_PAUSE, false);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 13, 21, 0));
  MINUTES_EQ(lzt_phase_end(plan, 0, 0), lzt_at(3, 25, 8, 0));
  lzt_station_free(s);
  free(s);
}
END_TEST

START_TEST(gap_in_a_hold_pauses)
{
  lzt_station *s = gap_station(LZQ_LAPSE_PAUSE, true);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 14, 14, 5));
  MINUTES_EQ(lzt_phase_end(plan, 0, 0), lzt_at(3, 26, 2, 0));
  lzt_station_free(s);
  free(s);
}
END_TEST

START_TEST(gap_in_a_hold_restarts)
{
  lzt_station *s = gap_station(LZQ_LAPSE_RESTART, true);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 14, 14, 5));
  MINUTES_EQ(lzt_phase_end(plan, 0, 0), lzt_at(4, 4, 15, 0)); // the clock change makes it 15:00
  lzt_station_free(s);
  free(s);
}
END_TEST

// Last-in rule, Australian industry advice notice 41-2025: holds of 30 days, dates at 09:00.
static lzt_station *
shared_station(void)
{
  lzt_station *s = malloc(sizeof *s);
  lzt_station_init(s);
  uint32_t coral = lzt_system(s, LZQ_ROLE_FINISHING, 1500);
  static const int nine[] = {9 * 60};
  lzt_protocol(s);
  lzt_phase(s, LZQ_PHASE_OBSERVE)->min_elapsed_min = 30 * LZQ_DAY;
  s->snap.station.last_in = true;
  lzt_slots(s, 5, 1, 60, nine, 1);
  uint32_t a = lzt_lot(s);
  lzt_receive(s, a, coral, 140, lzt_at(5, 1, 9, 0));
  lzt_course(s, a, 0, 0, lzt_at(5, 1, 9, 0));
  return s;
}

START_TEST(new_fish_into_shared_water)
{
  lzt_station *s = shared_station();
  lzq_minute join = lzt_at(5, 12, 9, 0);
  const lzq_plan *before = lzt_plan(s, join), *after = NULL;
  MINUTES_EQ(before->lots[0].release_earliest, lzt_at(5, 31, 9, 0));
  lzq_lot lot = {.mean_mass_g = 10};
  lzq_record joins[2] = {{.id = 90, .kind = LZQ_REC_RECEIVE, .at = join, .lot = 1, .heads = 40},
                         {.id = 91, .kind = LZQ_REC_COURSE, .at = join, .lot = 1}};
  lzq_whatif whatif = {.records = joins, .n_records = 2, .lots = &lot, .n_lots = 1};
  ck_assert_int_eq(lzq_plan_whatif(&s->snap, &whatif, join, &s->arena, &after, NULL), LZQ_OK);
  const lzq_diff *diff = NULL;
  ck_assert_int_eq(lzq_diff_make(before, after, 1, &s->arena, &diff), LZQ_OK);
  ck_assert_uint_eq(diff->n_lots, 2);
  MINUTES_EQ(diff->lots[0].after, lzt_at(6, 11, 9, 0));
  ck_assert_int_eq(diff->lots[0].later_min, 11 * LZQ_DAY);
  ck_assert_double_eq_tol(diff->fish_days, 11 * 140, 1e-9);
  ck_assert_int_eq(diff->lots[0].because.code, LZQ_BECAUSE_HELD_BY);
  ck_assert_double_eq(diff->lots[0].because.n[0], 1);
  ck_assert(diff->lots[1].added);
  lzt_station_free(s);
  free(s);
}
END_TEST

// 140 fish in observation for 30 days and 40 that came eleven days later merge: all have the later
// date. 140 fish x 11 days later, the 40 as before: 1,540 fish-days, whichever is merged into
// which.
START_TEST(merged_fish_count_once)
{
  lzt_station *s = shared_station();
  s->snap.station.last_in = false;
  lzt_receive(s, lzt_lot(s), 0, 40, lzt_at(5, 12, 9, 0));
  lzt_course(s, 1, 0, 0, lzt_at(5, 12, 9, 0));
  const lzq_minute now = lzt_at(5, 13, 9, 0);
  const lzq_plan *before = lzt_plan(s, now), *after = NULL;
  lzq_record merge = {
      .id = 90, .kind = LZQ_REC_MERGE, .at = now, .lot = (uint32_t)_i, .other = !_i};
  const lzq_whatif whatif = {.records = &merge, .n_records = 1};
  ck_assert_int_eq(lzq_plan_whatif(&s->snap, &whatif, now, &s->arena, &after, NULL), LZQ_OK);
  const lzq_diff *diff = NULL;
  ck_assert_int_eq(lzq_diff_make(before, after, 1, &s->arena, &diff), LZQ_OK);
  ck_assert_uint_eq(diff->n_lots, 1);
  ck_assert_uint_eq(diff->lots[0].lot, 0);
  ck_assert_int_eq(diff->lots[0].heads, 140);
  ck_assert_double_eq_tol(diff->fish_days, 11 * 140, 1e-9);
  // once merged, the lot that is no more is counted with the other
  s->records[s->snap.n_records++] = merge;
  before = lzt_plan(s, now);
  lzq_record seen = {.id = 91, .kind = LZQ_REC_DEATH, .at = now, .lot = !_i, .heads = 1};
  const lzq_whatif dies = {.records = &seen, .n_records = 1};
  ck_assert_int_eq(lzq_plan_whatif(&s->snap, &dies, now, &s->arena, &after, NULL), LZQ_OK);
  ck_assert_int_eq(lzq_diff_make(before, after, 1, &s->arena, &diff), LZQ_OK);
  ck_assert_uint_eq(diff->n_lots, 0);
  lzt_station_free(s);
  free(s);
}
END_TEST

START_TEST(last_in_holds_all_three)
{
  lzt_station *s = shared_station();
  for (int i = 1; i <= 2; i++) {
    uint32_t lot = lzt_lot(s);
    lzq_minute at = lzt_at(5, i == 1 ? 12 : 22, 9, 0);
    lzt_receive(s, lot, 0, 50, at);
    lzt_course(s, lot, 0, 0, at);
  }
  const lzq_plan *plan = lzt_plan(s, lzt_at(5, 22, 9, 30));
  for (int lot = 0; lot < 3; lot++)
    MINUTES_EQ(plan->lots[lot].release_earliest, lzt_at(6, 21, 9, 0));
  for (int lot = 0; lot < 2; lot++) {
    ck_assert_int_eq(plan->lots[lot].because.code, LZQ_BECAUSE_HELD_BY);
    ck_assert_double_eq(plan->lots[lot].because.n[0], 2);
  }
  // the first has served on the 31st: the late date stays known
  plan = lzt_plan(s, lzt_at(6, 2, 9, 30));
  ck_assert(plan->credit->lots[0].served);
  MINUTES_EQ(plan->lots[0].release_late, lzt_at(6, 21, 9, 0));
  lzt_station_free(s);
  free(s);
}
END_TEST

// A spot on day ten: three ways on, priced as plans of a changed station.
START_TEST(spot_on_day_ten)
{
  lzt_station *s = malloc(sizeof *s);
  lzt_station_init(s);
  uint32_t pearl = lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  static const int nine[] = {9 * 60};
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_IONIC, 1.0);
  lzt_protocol(s); // 0: observation of 14 days
  lzq_phase *watch = lzt_phase(s, LZQ_PHASE_OBSERVE);
  watch->min_elapsed_min = watch->quiet_min = 14 * LZQ_DAY;
  lzt_protocol(s); // 1: copper: rise 4 days, hold 21, out 1, watch 14
  lzq_phase *rise = lzt_phase(s, LZQ_PHASE_RISE);
  rise->min_elapsed_min = 4 * LZQ_DAY;
  rise->reach = true;
  rise->rise_steps = 4;
  rise->rise_per_day = 0.06;
  lzq_band *band = lzt_band(rise, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 0.19);
  band->form = LZQ_FORM_IONIC;
  lzq_phase *hold = lzt_phase(s, LZQ_PHASE_HOLD);
  hold->min_credit_min = 21 * LZQ_DAY;
  hold->n_bands = 1;
  hold->bands[0] = *band;
  lzt_phase(s, LZQ_PHASE_COPPER_OUT)->min_elapsed_min = LZQ_DAY;
  lzt_phase(s, LZQ_PHASE_OBSERVE)->min_elapsed_min = 14 * LZQ_DAY;
  lzt_protocol(s); // 2: four transfers at 72 h (Colorni 1985), then 14 days
  for (int i = 0; i < 4; i++)
    lzt_phase(s, LZQ_PHASE_TRANSFER)->min_elapsed_min = 3 * LZQ_DAY;
  lzt_phase(s, LZQ_PHASE_OBSERVE)->min_elapsed_min = 14 * LZQ_DAY;
  uint32_t lot = lzt_lot(s);
  lzt_receive(s, lot, pearl, 24, lzt_at(6, 9, 9, 0));
  lzt_course(s, lot, 0, 0, lzt_at(6, 9, 9, 0));
  lzq_minute now = lzt_at(6, 18, 9, 0);
  lzt_record(s, LZQ_REC_SIGHTING, now)->heads = 1;
  lzt_slots(s, 6, 18, 60, nine, 1);
  const lzq_plan *plan = lzt_plan(s, now);
  MINUTES_EQ(plan->lots[lot].release_earliest, lzt_at(7, 2, 9, 0)); // day one again
  ck_assert_ptr_nonnull(lzt_task(plan, LZQ_TASK_SCRAPE, pearl, 0));
  lzt_record(s, LZQ_REC_SCRAPE, now)->lot = lot; // done is not asked again, and moves no date
  plan = lzt_plan(s, now);
  MINUTES_EQ(plan->lots[lot].release_earliest, lzt_at(7, 2, 9, 0));
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_SCRAPE, pearl, 0));
  static const int days[] = {0, 40, 26};
  for (int way = 1; way <= 2; way++) {
    lzq_record to = {.id = 90, .kind = LZQ_REC_COURSE, .at = now, .protocol = (uint32_t)way};
    lzq_whatif whatif = {.records = &to, .n_records = 1};
    const lzq_plan *other = NULL;
    ck_assert_int_eq(lzq_plan_whatif(&s->snap, &whatif, now, &s->arena, &other, NULL), LZQ_OK);
    MINUTES_EQ(other->lots[lot].release_earliest, now + days[way] * LZQ_DAY);
  }
  lzt_station_free(s);
  free(s);
}
END_TEST

// Salinity 34 to 16 in 1,800 L, largest fall 6 a step and 12 a day: four equal-ratio steps of 309
// L.
START_TEST(salinity_down_in_four_steps)
{
  lzt_station *s = malloc(sizeof *s);
  lzt_station_init(s);
  uint32_t red = lzt_system(s, LZQ_ROLE_TREATMENT, 1800);
  lzt_protocol(s);
  lzq_phase *lower = lzt_phase(s, LZQ_PHASE_LOWER);
  lower->reach = true;
  lower->salinity_step = 6;
  lower->salinity_fall_day = 12;
  lzt_band(lower, LZQ_SALINITY, LZQ_AT_OR_BELOW, 16, 16);
  uint32_t lot = lzt_lot(s);
  lzt_receive(s, lot, red, 10, lzt_at(3, 1, 7, 0));
  lzt_course(s, lot, 0, 0, lzt_at(3, 1, 7, 0));
  lzt_read(s, red, LZQ_SALINITY, 34, lzt_at(3, 1, 7, 0));
  lzt_slots(s, 3, 1, 14, twice, 2);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 8, 0));
  double salinity = 34, ratio = pow(16.0 / 34.0, 0.25), litres = 0;
  for (uint32_t i = 0; i < 4; i++) {
    const lzq_task *change = lzt_task(plan, LZQ_TASK_CHANGE, red, i);
    ck_assert_ptr_nonnull(change);
    ck_assert_double_eq_tol(change->amount, 309.2, 0.1); // 1,800 x (1 - (16/34)^(1/4))
    ck_assert_double_eq_tol(change->level_before, salinity, 1e-9);
    salinity *= ratio;
    ck_assert_double_eq_tol(change->level_after, salinity, 1e-9);
    MINUTES_EQ(change->at, lzt_at(3, 1, 8, 0) + (lzq_minute)i * 720);
    litres += change->amount;
  }
  ck_assert_double_eq_tol(litres, 1237, 0.5);
  ck_assert_ptr_null(lzt_task(plan, LZQ_TASK_CHANGE, red, 4));
  lzt_station_free(s);
  free(s);
}
END_TEST

// 34 to 13.3: equal steps would be five, but the day's 12 cuts the second; four are made, and every
// one says so.
START_TEST(steps_name_one_number)
{
  lzt_station *s = malloc(sizeof *s);
  lzt_station_init(s);
  uint32_t red = lzt_system(s, LZQ_ROLE_TREATMENT, 1800);
  lzt_protocol(s);
  lzq_phase *lower = lzt_phase(s, LZQ_PHASE_LOWER);
  lower->reach = true;
  lower->salinity_step = 6;
  lower->salinity_fall_day = 12;
  lzt_band(lower, LZQ_SALINITY, LZQ_AT_OR_BELOW, 14, 13.3);
  uint32_t lot = lzt_lot(s);
  lzt_receive(s, lot, red, 10, lzt_at(3, 1, 7, 0));
  lzt_course(s, lot, 0, 0, lzt_at(3, 1, 7, 0));
  lzt_read(s, red, LZQ_SALINITY, 34, lzt_at(3, 1, 9, 30));
  static const int shifts[] = {450, 1020}; // 07:30 and 17:00
  lzt_slots(s, 3, 1, 14, shifts, 2);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 11, 0));
  uint32_t n = 0;
  for (const lzq_task *change; (change = lzt_task(plan, LZQ_TASK_CHANGE, red, n)); n++) {
    ck_assert_double_eq(change->because.n[0], n + 1);
    ck_assert_double_eq(change->because.n[1], 4);
  }
  ck_assert_uint_eq(n, 4);
  lzt_station_free(s);
  free(s);
}
END_TEST

static Suite *
suite(void)
{
  Suite *all = suite_create("plan");
  TCase *cases = tcase_create("worked cases");
  tcase_add_test(cases, gap_in_a_hold_before_the_low_reading);
  tcase_add_test(cases, gap_in_a_hold_pauses);
  tcase_add_test(cases, gap_in_a_hold_restarts);
  tcase_add_test(cases, new_fish_into_shared_water);
  tcase_add_loop_test(cases, merged_fish_count_once, 0, 2);
  tcase_add_test(cases, last_in_holds_all_three);
  tcase_add_test(cases, spot_on_day_ten);
  tcase_add_test(cases, salinity_down_in_four_steps);
  tcase_add_test(cases, steps_name_one_number);
  suite_add_tcase(all, cases);
  return all;
}

int
main(void)
{
  SRunner *runner = srunner_create(suite());
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
