// SPDX-License-Identifier: GPL-3.0-or-later
// One rule of credit at a time: one water of 1,000 L, copper at or above 0.45 mg/L, longest gap 16
// h, and readings worked by hand. The rules are those of lzq_credit.h; no source outside the
// project.
#include <math.h>
#include <stdlib.h>

#include "credit_run.h"

enum { HOUR = 60, DAY = LZQ_DAY, GAP = 16 * HOUR };

static lzb_station station;
static lzq_phase *hold;
static lzq_minute t0;

// A lot in a hold of a day from minute t0, with 0.50 read at t0.
static void
setup(void)
{
  lzb_init(&station);
  t0 = lzb_at(&station, 2027, 1, 4, 8, 0);
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  lzb_add_system(&station, 1000, LZQ_ROLE_FINISHING);
  lzb_add_instrument(&station, 1u << LZQ_FORM_IONIC, 0);
  lzb_add_instrument(&station, 1u << LZQ_FORM_AMINE, 0);
  for (int i = 0; i < 3; i++)
    lzb_add_lot(&station);
  lzb_add_protocol(&station);
  hold = lzb_add_phase(&station, LZQ_PHASE_HOLD);
  lzb_add_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, GAP)->form = LZQ_FORM_AMINE;
  hold->min_credit_min = DAY;
  lzb_receive(&station, t0, 0, 0, 30);
  lzb_course(&station, t0, 0, 0);
  lzb_read(&station, t0, 0, LZQ_COPPER, 0.50);
}

static void
teardown(void)
{
  lzq_arena_free(&credit_arena);
}

static lzq_record *
read_copper(int64_t after, double value)
{
  return lzb_read(&station, t0 + after, 0, LZQ_COPPER, value);
}

static const lzq_lot_credit *
lot_at(int64_t after)
{
  return run_lot(&station, 0, t0 + after);
}

START_TEST(gap_includes_its_last_minute)
{
  ck_assert_int_eq(lot_at(20 * HOUR)->credit_min, GAP + 1);
  ck_assert_int_eq(lot_at(20 * HOUR)->open_min, GAP + 1);
  ck_assert_int_eq(lot_at(20 * HOUR)->run_min, 4 * HOUR - 1);
  ck_assert_uint_eq(lot_at(20 * HOUR)->spans[1].why, LZQ_WHY_LAST_OLD);
}
END_TEST

START_TEST(edge_is_effective)
{
  station.records[2].value = 0.45 - 0.9e-9;
  ck_assert_int_eq(lot_at(60)->credit_min, 60);
  station.records[2].value = 0.45 - 1.1e-9;
  ck_assert_int_eq(lot_at(60)->credit_min, 0);
  ck_assert_uint_eq(lot_at(60)->spans[0].why, LZQ_WHY_LAST_BAD);
}
END_TEST

START_TEST(correction_acts_at_its_own_minute)
{
  lzq_record *low = read_copper(120, 0.40); // id 4
  read_copper(240, 0.50);
  ck_assert_int_eq(lot_at(300)->credit_min, 60);
  lzq_record *fixed = read_copper(180, 0.47); // was read an hour later, and better
  fixed->corrects = low->id;
  ck_assert_int_eq(lot_at(300)->credit_min, 300);
  // As it was known before the correction: the low reading stands.
  const lzq_credit *credit = run_known(&station, fixed->id - 1, t0 + 300);
  ck_assert_int_eq(credit->lots[0].credit_min, 60);
  // A void of the first entry, entered last, holds over the replacement.
  lzq_record *gone = lzb_add(&station, LZQ_REC_READING, 0);
  gone->corrects = low->id;
  gone->voided = true;
  ck_assert_int_eq(lot_at(150)->open_min, 150);
  ck_assert_int_eq(lot_at(300)->open_min, 60);
}
END_TEST

START_TEST(suspect_good_reading_is_passed_over)
{
  lzq_record *odd = read_copper(10 * HOUR, 0.60);
  odd->suspect = true;
  ck_assert_int_eq(lot_at(20 * HOUR)->credit_min, GAP + 1); // the age of the last good one serves
  read_copper(10 * HOUR + 30, 0.60)->confirms = odd->id;
  station.records[4].suspect = true; // even if that one is itself no evidence
  ck_assert_int_eq(lot_at(20 * HOUR)->credit_min, 20 * HOUR);
}
END_TEST

START_TEST(suspect_bad_reading_counts)
{
  read_copper(10 * HOUR, 0.20)->suspect = true;
  ck_assert_int_eq(lot_at(12 * HOUR)->credit_min, 0);
  ck_assert_uint_eq(lot_at(12 * HOUR)->spans[0].why, LZQ_WHY_NEXT_BAD);
  ck_assert_uint_eq(lot_at(12 * HOUR)->spans[1].why, LZQ_WHY_LAST_BAD);
}
END_TEST

static void
check_instrument(int64_t after, bool ok)
{
  lzq_record *check = lzb_add(&station, LZQ_REC_CHECK, t0 + after);
  check->instrument = 1;
  check->ok = ok;
}

START_TEST(failed_check_reaches_back)
{
  station.records[2].instrument = 1;
  check_instrument(-60, true);
  read_copper(10 * HOUR, 0.50)->instrument = 1;
  ck_assert_int_eq(lot_at(12 * HOUR)->credit_min, 12 * HOUR);
  check_instrument(11 * HOUR, false); // everything since the good check is suspect
  ck_assert_int_eq(lot_at(12 * HOUR)->credit_min, 0);
  ck_assert_uint_eq(lot_at(12 * HOUR)->spans[0].why, LZQ_WHY_NO_READING);
  check_instrument(5 * HOUR, true); // a good one between clears what was before it
  ck_assert_int_eq(lot_at(12 * HOUR)->credit_min, 12 * HOUR);
  ck_assert_int_eq(lot_at(12 * HOUR)->open_min, 12 * HOUR);
}
END_TEST

START_TEST(never_checked)
{
  ck_assert_int_eq(lot_at(60)->credit_min, 60);
  station.snapshot.station.trust_unchecked = false;
  ck_assert_int_eq(lot_at(60)->credit_min, 0);
  station.records[2].instrument = 1;
  check_instrument(0, true); // acts before the reading of its minute
  ck_assert_int_eq(lot_at(60)->credit_min, 60);
}
END_TEST

START_TEST(method_must_see_the_form)
{
  station.records[2].instrument = 0; // sees ionic copper only
  ck_assert_int_eq(lot_at(60)->credit_min, 0);
  station.records[2].instrument = 1;
  ck_assert_int_eq(lot_at(60)->credit_min, 60);
  lzb_dose(&station, t0 - 60, 0, LZQ_FORM_IONIC, 0); // what was dosed decides, not the band
  ck_assert_int_eq(lot_at(60)->credit_min, 0);
}
END_TEST

START_TEST(half_of_the_water_says_nothing)
{
  lzb_change(&station, t0 + 60, 0, 500, 0.50, 21);
  read_copper(120, 0.50);
  ck_assert_int_eq(lot_at(180)->open_min, 60); // exactly half is left: it speaks
  station.records[3].amount = 501;
  ck_assert_int_eq(lot_at(180)->credit_min, 180);
  ck_assert_int_eq(lot_at(180)->open_min, 60 + 60);
  // A named person accepts what would stay open for ever.
  lzb_act(&station, LZQ_REC_ACCEPT_OPEN, t0 + 150, 0);
  ck_assert_int_eq(lot_at(180)->open_min, 30);
}
END_TEST

START_TEST(taken_back_through_a_change)
{
  // 0.50 before, 0.425 after 15 % without copper, dosed back by 75 mg an hour later.
  lzb_change(&station, t0 + 60, 0, 150, 0, 21);
  lzb_dose(&station, t0 + 120, 0, LZQ_FORM_AMINE, 75);
  read_copper(180, 0.50);
  ck_assert_int_eq(lot_at(180)->credit_min, 120);
  ck_assert_int_eq(minutes_lost(lot_at(180), 0, LZQ_WHY_CARRIED_BAD), 60);
  // Read 0.47 at the end: before the change it was (0.47 - 0.075) / 0.85 = 0.4647, still effective.
  station.records[5].value = 0.47;
  ck_assert_int_eq(lot_at(180)->credit_min, 120);
  // 0.45: (0.45 - 0.075) / 0.85 = 0.4412, so the first hour is denied too.
  station.records[5].value = 0.45;
  ck_assert_int_eq(lot_at(180)->credit_min, 60);
}
END_TEST

START_TEST(dosed_into_the_new_water)
{
  lzb_change(&station, t0 + 60, 0, 150, 0.50, 21);
  read_copper(180, 0.50);
  ck_assert_int_eq(lot_at(180)->credit_min, 180);
  ck_assert_int_eq(lot_at(180)->open_min, 0);
}
END_TEST

START_TEST(carbon_makes_copper_unknown)
{
  lzq_record *carbon = lzb_add(&station, LZQ_REC_GEAR, t0 + 60);
  carbon->system = 0;
  carbon->gear = LZQ_GEAR_CARBON;
  carbon->ok = true;
  read_copper(120, 0.50);
  const lzq_lot_credit *lot = lot_at(180);
  ck_assert_int_eq(minutes_lost(lot, 0, LZQ_WHY_CARRIED_UNKNOWN), 60);
  ck_assert_int_eq(lot->open_min, 60 + 60);
  ck_assert_int_eq(lot->credit_min, 120);
}
END_TEST

START_TEST(volume_in_force)
{
  lzq_record *volume = lzb_add(&station, LZQ_REC_VOLUME, t0 + 30);
  volume->system = 0;
  volume->amount = 2000;
  lzb_change(&station, t0 + 60, 0, 150, 0, 21); // 7.5 %: 0.4625
  ck_assert_int_eq(lot_at(120)->credit_min, 120);
  volume->at = t0 + 61; // after it: 15 %, 0.425
  ck_assert_int_eq(lot_at(120)->credit_min, 60);
}
END_TEST

START_TEST(error_must_lie_inside)
{
  hold->bands[0].error_inside = true;
  station.records[2].error = 0.05;
  ck_assert_int_eq(lot_at(60)->credit_min, 60);
  station.records[2].error = 0.06;
  ck_assert_int_eq(lot_at(60)->credit_min, 0);
}
END_TEST

START_TEST(accepted_minutes)
{
  station.snapshot.station.accept_max_min = 100;
  lzb_act(&station, LZQ_REC_ACCEPT, t0 + 1000, 0)->amount = 600;
  // 961 minutes of credit, then nothing; at most 100 are accepted.
  ck_assert_int_eq(lot_at(2 * DAY)->credit_min, GAP + 1);
  ck_assert_int_eq(lot_at(2 * DAY)->accepted_min, 100);
  station.snapshot.station.accept_max_min = 479;
  ck_assert_int_eq(lot_at(2 * DAY)->served_at, t0 + 1000);
  ck_assert_int_eq(lot_at(2 * DAY)->visits[0].credit_min, GAP + 1);
}
END_TEST

START_TEST(split_and_merge_change_nothing)
{
  read_copper(15 * HOUR, 0.50);
  const lzq_minute end = lot_at(2 * DAY)->served_at;
  ck_assert_int_eq(end, t0 + DAY);
  lzq_record *split = lzb_act(&station, LZQ_REC_SPLIT, t0 + 100, 0);
  split->other = 1;
  split->heads = 10;
  ck_assert_int_eq(lot_at(2 * DAY)->heads, 20);
  const lzq_lot_credit *part = run_lot(&station, 1, t0 + 2 * DAY);
  ck_assert_int_eq(part->served_at, end);
  ck_assert_int_eq(part->heads, 10);
  ck_assert_int_eq(part->visits[0].start, t0);
  lzb_act(&station, LZQ_REC_MERGE, t0 + 200, 1)->other = 0;
  ck_assert_int_eq(lot_at(2 * DAY)->served_at, end);
  ck_assert_int_eq(lot_at(2 * DAY)->heads, 30);
  ck_assert(run_lot(&station, 1, t0 + 2 * DAY)->merged);
}
END_TEST

START_TEST(merge_keeps_the_worse)
{
  lzb_receive(&station, t0 + 300, 1, 0, 5);
  lzb_course(&station, t0 + 300, 1, 0);
  lzb_act(&station, LZQ_REC_MERGE, t0 + 400, 1)->other = 0;
  ck_assert_int_eq(lot_at(500)->credit_min, 200);
  ck_assert_int_eq(lot_at(500)->visits[0].start, t0 + 300);
}
END_TEST

START_TEST(phase_with_a_place_waits_for_it)
{
  hold->place = LZQ_PLACE_ROLE;
  hold->role = LZQ_ROLE_FINISHING;
  hold->min_credit_min = 0;
  hold->min_elapsed_min = 100;
  hold->n_bands = 0;
  ck_assert_uint_eq(lot_at(50)->spans[0].why, LZQ_WHY_PLACE);
  lzb_move(&station, t0 + 50, 0, 1);
  ck_assert_int_eq(lot_at(DAY)->visits[0].placed_at, t0 + 50);
  ck_assert_int_eq(lot_at(DAY)->served_at, t0 + 150);
}
END_TEST

START_TEST(eating_and_sign)
{
  hold->min_credit_min = 0;
  hold->eating_days = 2;
  hold->eaten_share = 0.8;
  hold->sign = LZQ_SIGN_VET;
  const double share[4] = {0.9, 0.9, 0.5, 0.8};
  const int32_t day[4] = {1, 1, 2, 3};
  for (int i = 0; i < 4; i++) {
    lzq_record *feed = lzb_act(&station, LZQ_REC_FEED, t0 + 100 * i, 0);
    feed->amount = share[i];
    feed->day = day[i];
  }
  lzb_act(&station, LZQ_REC_SIGN, t0 + 350, 0); // a person's is not the vet's
  ck_assert(!lot_at(500)->served);
  lzb_act(&station, LZQ_REC_SIGN, t0 + 400, 0)->ok = true;
  ck_assert_int_eq(lot_at(500)->served_at, t0 + 400);
}
END_TEST

// The definition: a lot without a course that a sighting reaches is listed, once a minute; also one
// that comes into that water in the minute of the sighting.
START_TEST(reached_without_a_course)
{
  lzb_receive(&station, t0, 1, 0, 5);
  lzb_receive(&station, t0, 2, 1, 5);
  lzb_sight(&station, t0 + 100, 0);
  lzb_sight(&station, t0 + 100, 0);
  lzb_move(&station, t0 + 100, 2, 0);
  lzb_course(&station, t0 + 100, 2, 0); // too late: it begins after the sighting
  lzb_sight(&station, t0 + 200, 1);     // nobody is there
  const lzq_credit *credit = run_known(&station, UINT64_MAX, t0 + 300);
  ck_assert_uint_eq(credit->n_uncoursed, 2);
  for (uint32_t i = 0; i < 2; i++) {
    ck_assert_int_eq(credit->uncoursed[i].at, t0 + 100);
    ck_assert_uint_eq(credit->uncoursed[i].lot, i + 1);
    ck_assert_uint_eq(credit->uncoursed[i].system, 0);
  }
  ck_assert_int_eq(credit->lots[0].last_sighting, t0 + 100);
}
END_TEST

// The definition: an act that could not be done changes nothing, and is listed as a fault.
START_TEST(ignored_acts_are_listed)
{
  lzb_add_lot(&station);
  lzb_receive(&station, t0, 1, 0, 5);
  lzb_act(&station, LZQ_REC_MERGE, t0 + 10, 0)->other = 1; // one has no course
  lzb_act(&station, LZQ_REC_MERGE, t0 + 20, 0)->other = 2; // not here
  lzb_act(&station, LZQ_REC_SPLIT, t0 + 30, 0)->other = 1; // that is a lot already
  lzq_record *merge = lzb_act(&station, LZQ_REC_MERGE, t0 + 40, 0);
  merge->other = 1;
  lzb_act(&station, LZQ_REC_STOP, t0 + 35, 0); // so that both have no course: it is done
  lzq_record *feed = lzb_act(&station, LZQ_REC_FEED, t0 + 5, 0);
  lzq_record *corrected = lzb_act(&station, LZQ_REC_FEED, t0 + 50, 0); // merged by then
  corrected->corrects = feed->id;
  const lzq_credit *credit = run_known(&station, UINT64_MAX, t0 + 300);
  static const uint8_t why[] = {LZQ_IGNORED_OTHER_COURSE, LZQ_IGNORED_OTHER_NOT_HERE,
                                LZQ_IGNORED_PART_TAKEN, LZQ_IGNORED_NOT_HERE};
  static const uint8_t kind[] = {LZQ_REC_MERGE, LZQ_REC_MERGE, LZQ_REC_SPLIT, LZQ_REC_FEED};
  static const uint32_t other[] = {1, 2, 1, LZQ_NONE};
  const uint64_t entry[] = {merge->id - 3, merge->id - 2, merge->id - 1, feed->id};
  ck_assert_uint_eq(credit->n_ignored, 4);
  for (int i = 0; i < 4; i++) {
    ck_assert_uint_eq(credit->ignored[i].why, why[i]);
    ck_assert_uint_eq(credit->ignored[i].kind, kind[i]);
    ck_assert_uint_eq(credit->ignored[i].other, other[i]);
    ck_assert_uint_eq(credit->ignored[i].lot, 0);
    ck_assert_uint_eq(credit->ignored[i].entry, entry[i]);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("credit rules");
  TCase *tcase = tcase_create("one rule at a time");
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_add_test(tcase, gap_includes_its_last_minute);
  tcase_add_test(tcase, edge_is_effective);
  tcase_add_test(tcase, correction_acts_at_its_own_minute);
  tcase_add_test(tcase, suspect_good_reading_is_passed_over);
  tcase_add_test(tcase, suspect_bad_reading_counts);
  tcase_add_test(tcase, failed_check_reaches_back);
  tcase_add_test(tcase, never_checked);
  tcase_add_test(tcase, method_must_see_the_form);
  tcase_add_test(tcase, half_of_the_water_says_nothing);
  tcase_add_test(tcase, taken_back_through_a_change);
  tcase_add_test(tcase, dosed_into_the_new_water);
  tcase_add_test(tcase, carbon_makes_copper_unknown);
  tcase_add_test(tcase, volume_in_force);
  tcase_add_test(tcase, error_must_lie_inside);
  tcase_add_test(tcase, accepted_minutes);
  tcase_add_test(tcase, split_and_merge_change_nothing);
  tcase_add_test(tcase, merge_keeps_the_worse);
  tcase_add_test(tcase, phase_with_a_place_waits_for_it);
  tcase_add_test(tcase, eating_and_sign);
  tcase_add_test(tcase, reached_without_a_course);
  tcase_add_test(tcase, ignored_acts_are_listed);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
