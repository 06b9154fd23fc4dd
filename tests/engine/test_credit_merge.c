// SPDX-License-Identifier: GPL-3.0-or-later
// Lots that merge keep the clock of each part: what is late for some of the fish is late for the
// lot. Doses against flukes five to eleven days apart, transfers every 72 h with 3 h of tolerance
// (data/protocols: sources there); minutes worked by hand from lzq_credit.h.
#include <stdlib.h>

#include "credit_run.h"

enum { HOUR = 60, DAY = LZQ_DAY, APART = 5 * DAY, WINDOW = 6 * DAY };

static lzb_station station;
static lzq_minute t0;

static void
setup(void)
{
  lzb_init(&station);
  t0 = lzb_at(&station, 2027, 1, 4, 8, 0);
  for (int i = 0; i < 6; i++)
    lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  for (int i = 0; i < 3; i++)
    lzb_add_lot(&station);
  lzb_add_protocol(&station);
}

static void
teardown(void)
{
  lzq_arena_free(&credit_arena);
}

static void
three_doses(void)
{
  for (int i = 0; i < 3; i++) {
    lzq_phase *phase = lzb_add_phase(&station, LZQ_PHASE_MEDICATE);
    phase->medicine = LZQ_PRAZIQUANTEL;
    phase->dose_level = 2;
    phase->min_elapsed_min = APART;
    phase->late_tolerance_min = WINDOW;
    phase->sighting_to = 0;
  }
}

static void
three_transfers(void)
{
  for (int i = 0; i < 3; i++) {
    lzq_phase *phase = lzb_add_phase(&station, LZQ_PHASE_TRANSFER);
    phase->place = LZQ_PLACE_NEXT_CLEAN;
    phase->min_elapsed_min = 72 * HOUR;
    phase->late_tolerance_min = 3 * HOUR;
    phase->sighting_to = 0;
  }
}

// Lot i comes into water i, `after` t0.
static void
begin(uint32_t lot, int64_t after)
{
  lzb_receive(&station, t0 + after, lot, lot, 10);
  lzb_course(&station, t0 + after, lot, 0);
}

static void
dose(uint32_t system, int64_t after)
{
  lzq_record *r = lzb_dose(&station, t0 + after, system, LZQ_FORM_NONE, 2000);
  r->analyte = LZQ_PRAZIQUANTEL;
}

// Its first dose is given as it comes.
static void
begin_dosed(uint32_t lot, int64_t after)
{
  begin(lot, after);
  dose(lot, after);
}

static void
merge(uint32_t lot, uint32_t other, int64_t after)
{
  lzb_act(&station, LZQ_REC_MERGE, t0 + after, lot)->other = other;
}

// The stay of that lot which began last but `back`.
static const lzq_visit *
stay(uint32_t lot, uint32_t back, int64_t until)
{
  const lzq_lot_credit *credit = run_lot(&station, lot, t0 + until);
  ck_assert_uint_gt(credit->n_visits, back);
  return &credit->visits[credit->n_visits - 1 - back];
}

static void
back_at(uint32_t lot, int64_t minute, lzq_left why)
{
  const lzq_visit *before = stay(lot, 0, minute - 1);
  ck_assert_uint_eq(before->left, LZQ_LEFT_NOT);
  const lzq_visit *left = stay(lot, 1, minute);
  ck_assert_uint_eq(left->left, why);
  ck_assert_int_eq(left->end - t0, minute);
  ck_assert_uint_eq(stay(lot, 0, minute)->phase, 0);
}

static void
late_at(uint32_t lot, int64_t minute)
{
  back_at(lot, minute, LZQ_LEFT_LATE);
}

// Dosed on days 0 and 4: those of day 0 need the second dose by day 5 + 6, though the lot's second
// phase begins on day 9 only.
START_TEST(next_dose_is_due_for_the_first)
{
  three_doses();
  begin_dosed(0, 0);
  begin_dosed(1, 4 * DAY);
  merge(0, 1, 4 * DAY + 12 * HOUR);
  ck_assert_uint_eq(stay(1, 0, 9 * DAY - 1)->phase, 0);
  ck_assert_uint_eq(stay(1, 0, 9 * DAY)->phase, 1);
  late_at(1, 11 * DAY + 1);
}
END_TEST

START_TEST(a_dose_in_time_ends_it)
{
  three_doses();
  begin_dosed(0, 0);
  begin_dosed(1, 4 * DAY);
  merge(0, 1, 4 * DAY + 12 * HOUR);
  dose(1, 11 * DAY);
  const lzq_visit *last = stay(1, 0, 16 * DAY);
  ck_assert_uint_eq(last->phase, 2);
  ck_assert_int_eq(last->start - t0, 16 * DAY);
  late_at(1, (16 + 6) * DAY + 1); // all fish were dosed at once: one clock again
}
END_TEST

// Both wait for the second dose, one since day 5, one since day 8.
START_TEST(the_first_of_those_that_owe)
{
  three_doses();
  begin_dosed(0, 0);
  begin_dosed(1, 3 * DAY);
  merge(1, 0, 9 * DAY);
  late_at(0, 11 * DAY + 1);
}
END_TEST

// One is a phase further on; the lot is in the earlier one, and the dose is due all the same.
START_TEST(those_of_a_later_phase)
{
  three_doses();
  begin_dosed(0, 0);
  begin_dosed(1, 4 * DAY);
  merge(0, 1, 6 * DAY);
  ck_assert_uint_eq(stay(1, 0, 6 * DAY)->phase, 0);
  late_at(1, 11 * DAY + 1);
}
END_TEST

// A lot of two, dosed on days 0 and 3, joins one of day 5: still day 11.
START_TEST(clocks_go_on_through_a_second_merge)
{
  three_doses();
  for (uint32_t i = 0; i < 3; i++) {
    static const int64_t days[] = {0, 3, 5};
    begin_dosed(i, days[i] * DAY);
  }
  merge(0, 1, 3 * DAY + HOUR);
  merge(1, 2, 5 * DAY + HOUR);
  late_at(2, 11 * DAY + 1);
}
END_TEST

// Moved at 1 h and 3 h: the second transfer is ready at 75 h, and late after 76 h.
START_TEST(next_transfer_is_due_for_the_first)
{
  three_transfers();
  begin(0, 0);
  begin(1, 2 * HOUR);
  lzb_move(&station, t0 + HOUR, 0, 3);
  lzb_move(&station, t0 + 3 * HOUR, 1, 4);
  merge(1, 0, 4 * HOUR);
  ck_assert_uint_eq(stay(0, 0, 75 * HOUR - 1)->phase, 0);
  late_at(0, 76 * HOUR + 1);
  lzb_move(&station, t0 + 76 * HOUR, 0, 5);
  const lzq_visit *now = stay(0, 0, 76 * HOUR + 1);
  ck_assert_uint_eq(now->phase, 1);
  ck_assert_int_eq(now->placed_at - t0, 76 * HOUR);
}
END_TEST

// A day apart: nothing can be in time for both, so the lot begins anew when they merge.
START_TEST(too_far_apart_to_merge)
{
  three_transfers();
  begin(0, 0);
  begin(1, DAY);
  lzb_move(&station, t0 + HOUR, 0, 3);
  lzb_move(&station, t0 + DAY + HOUR, 1, 4);
  merge(1, 0, 30 * HOUR);
  back_at(0, 30 * HOUR, LZQ_LEFT_APART);
}
END_TEST

// The move of that very visit was in time, and is not asked for once more.
START_TEST(moved_and_merged_in_one_minute)
{
  three_transfers();
  begin(0, 0);
  begin(1, 0);
  lzb_move(&station, t0 + HOUR, 0, 3);
  lzb_move(&station, t0 + HOUR, 1, 3);
  merge(1, 0, HOUR);
  ck_assert_uint_eq(stay(0, 0, 73 * HOUR)->phase, 1);
  late_at(0, 76 * HOUR + 1);
}
END_TEST

// The dose of a short phase is not that of the next one as well, however near it lies.
START_TEST(a_dose_counts_once)
{
  three_doses();
  station.phases[0].min_elapsed_min = HOUR;
  begin_dosed(0, 0);
  const lzq_visit *second = stay(0, 0, 2 * HOUR);
  ck_assert_uint_eq(second->phase, 1);
  ck_assert_int_eq(second->given_at, LZQ_NEVER);
}
END_TEST

// The second dose 12 h early: the third is due 5 + 6 days after it, not after its phase began.
START_TEST(an_early_dose_is_what_the_next_counts_from)
{
  three_doses();
  begin_dosed(0, 0);
  dose(0, 5 * DAY - 12 * HOUR);
  const lzq_visit *second = stay(0, 0, 6 * DAY);
  ck_assert_uint_eq(second->phase, 1);
  ck_assert_int_eq(second->given_at - t0, 5 * DAY - 12 * HOUR);
  late_at(0, 16 * DAY - 12 * HOUR + 1);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("merge");
  TCase *tests = tcase_create("clocks");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, next_dose_is_due_for_the_first);
  tcase_add_test(tests, a_dose_in_time_ends_it);
  tcase_add_test(tests, the_first_of_those_that_owe);
  tcase_add_test(tests, those_of_a_later_phase);
  tcase_add_test(tests, clocks_go_on_through_a_second_merge);
  tcase_add_test(tests, next_transfer_is_due_for_the_first);
  tcase_add_test(tests, too_far_apart_to_merge);
  tcase_add_test(tests, moved_and_merged_in_one_minute);
  tcase_add_test(tests, a_dose_counts_once);
  tcase_add_test(tests, an_early_dose_is_what_the_next_counts_from);
  suite_add_tcase(suite, tests);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  const int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
