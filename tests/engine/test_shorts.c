// SPDX-License-Identifier: GPL-3.0-or-later
// The last-in rule after a merge, and phases found short, worked by hand: what was right by what
// was entered then is listed when it is not true any more (the definition in lzq_shorts.h). Copper
// at or above 0.18 mg/L for a day, then two quiet days in a finishing water; common practice, no
// source.
#include <stdlib.h>

#include "credit_run.h"

enum { HOUR = 60, DAY = LZQ_DAY };

static lzb_station station;
static lzq_minute start;

static lzq_short
only(lzq_minute until)
{
  const lzq_credit *credit = run_known(&station, UINT64_MAX, until);
  lzq_shorts shorts;
  ck_assert_int_eq(lzq_shorts_make(&station.snapshot, credit, &credit_arena, &shorts), LZQ_OK);
  ck_assert_msg(shorts.n < 2, "%zu listed", shorts.n);
  return shorts.n ? shorts.items[0] : (lzq_short){.lot = LZQ_NONE};
}

// In treatment, read every six hours for a day at 0.19, then moved into the finishing water.
static void
course_of_a_day(int moved_h)
{
  lzb_init(&station);
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  lzb_add_system(&station, 1000, LZQ_ROLE_FINISHING);
  lzb_add_instrument(&station, (1u << LZQ_N_FORMS) - 1, 0.01);
  lzb_add_lot(&station);
  lzb_add_protocol(&station);
  lzq_phase *hold = lzb_add_phase(&station, LZQ_PHASE_HOLD);
  hold->min_credit_min = DAY;
  lzb_add_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 12 * HOUR);
  lzq_phase *watch = lzb_add_phase(&station, LZQ_PHASE_OBSERVE);
  watch->place = LZQ_PLACE_ROLE;
  watch->role = LZQ_ROLE_FINISHING;
  watch->min_elapsed_min = watch->quiet_min = 2 * DAY;
  station.snapshot.station.accept_max_min = 5 * HOUR;
  start = lzb_at(&station, 2027, 3, 1, 8, 0);
  lzb_receive(&station, start, 0, 0, 30);
  lzb_course(&station, start, 0, 0);
  for (int h = 0; h <= 24; h += 6)
    lzb_read(&station, start + h * HOUR, 0, LZQ_COPPER, 0.19)->instrument = 0;
  lzb_move(&station, start + moved_h * HOUR, 0, 1);
}

static lzq_record *
last_record(void)
{
  return &station.records[station.snapshot.n_records - 1];
}

// The last reading is corrected to 0.17 after the move: the last six hours earned nothing.
static void
correct_last_reading(lzq_minute at)
{
  const uint64_t first = station.records[station.snapshot.n_records - 2].id;
  lzq_record *fix = lzb_read(&station, at, 0, LZQ_COPPER, 0.17);
  fix->instrument = 0;
  fix->corrects = first;
}

START_TEST(moved_on_and_found_short)
{
  course_of_a_day(25);
  ck_assert_uint_eq(only(start + 26 * HOUR).lot, LZQ_NONE);
  const uint64_t move = last_record()->id;
  correct_last_reading(start + 24 * HOUR);
  const lzq_short found = only(start + 30 * HOUR);
  ck_assert_uint_eq(found.lot, 0);
  ck_assert_int_eq(found.how, LZQ_SHORT_LEFT);
  ck_assert_uint_eq(found.phase, 0);
  ck_assert_uint_eq(found.entry, move);
  ck_assert_int_eq(found.at, start + 25 * HOUR);
  ck_assert_int_eq(found.short_min, 6 * HOUR); // more than the station lets a person accept
  ck_assert_int_eq(found.acceptable_min, 0);
  station.snapshot.station.accept_max_min = 6 * HOUR;
  ck_assert_int_eq(only(start + 30 * HOUR).acceptable_min, 6 * HOUR);
  // accepted, the hold ends and the lot goes on
  lzq_record *accept = lzb_act(&station, LZQ_REC_ACCEPT, start + 31 * HOUR, 0);
  accept->phase = 0;
  accept->amount = 6 * HOUR;
  ck_assert_uint_eq(only(start + 32 * HOUR).lot, LZQ_NONE);
  ck_assert_uint_eq(run_lot(&station, 0, start + 32 * HOUR)->phase, 1);
}
END_TEST

// A gap in treatment is no leaving, and neither is a move into other water of the treatment.
START_TEST(a_gap_is_not_left)
{
  course_of_a_day(25);
  station.snapshot.n_records -= 3; // the move and the last two readings
  ck_assert_uint_eq(only(start + 30 * HOUR).lot, LZQ_NONE);
  station.systems[1].role = LZQ_ROLE_TREATMENT;
  lzb_move(&station, start + 20 * HOUR, 0, 1);
  ck_assert_uint_eq(only(start + 30 * HOUR).lot, LZQ_NONE);
  // into the water of the next phase it is, whatever was known then
  station.systems[1].role = LZQ_ROLE_FINISHING;
  ck_assert_int_eq(only(start + 30 * HOUR).how, LZQ_SHORT_LEFT);
}
END_TEST

START_TEST(released_and_found_short)
{
  course_of_a_day(25);
  const lzq_minute gone = start + 25 * HOUR + 2 * DAY;
  lzb_act(&station, LZQ_REC_RELEASE, gone, 0);
  ck_assert_uint_eq(only(gone + DAY).lot, LZQ_NONE);
  const uint64_t release = last_record()->id;
  lzq_record *fix = lzb_read(&station, start + 24 * HOUR, 0, LZQ_COPPER, 0.17);
  fix->instrument = 0;
  fix->corrects = station.records[station.snapshot.n_records - 4].id;
  ck_assert_int_eq(station.records[station.snapshot.n_records - 4].kind, LZQ_REC_READING);
  const lzq_short found = only(gone + DAY);
  ck_assert_int_eq(found.how, LZQ_SHORT_RELEASED);
  ck_assert_uint_eq(found.entry, release);
  ck_assert_int_eq(found.at, gone);
  ck_assert_int_eq(found.short_min, 6 * HOUR);
  ck_assert_int_eq(found.later_min, 2 * DAY);
  // a spot that was entered late: the watch begins anew, and the release came a day too early
  fix->kind = LZQ_REC_SIGHTING;
  fix->corrects = 0;
  fix->system = 1;
  fix->at = gone - DAY;
  const lzq_short spot = only(gone + DAY);
  ck_assert_int_eq(spot.how, LZQ_SHORT_RELEASED);
  ck_assert_uint_eq(spot.phase, 0); // as day one: phase 0 is where a sighting sends it
}
END_TEST

// The hold is the last phase and its end waits for a reading that never came.
START_TEST(released_unproven)
{
  course_of_a_day(25);
  station.protocols[0].n_phases = 1;
  station.snapshot.n_records -= 2; // the move and the reading at the end
  const lzq_minute gone = start + 25 * HOUR;
  lzb_act(&station, LZQ_REC_RELEASE, gone, 0);
  const lzq_short found = only(gone + DAY);
  ck_assert_int_eq(found.how, LZQ_SHORT_UNPROVEN);
  ck_assert_int_eq(found.short_min, 0);
}
END_TEST

// Under the last-in rule. Lot 1 came into the water of the watch on its second day and watches
// until a day after lot 0 has gone: by that record lot 0 went a day too early, with nothing short.
START_TEST(released_while_held)
{
  course_of_a_day(25);
  station.snapshot.station.last_in = true;
  lzb_add_lot(&station);
  const lzq_minute gone = start + 25 * HOUR + 2 * DAY;
  lzb_receive(&station, gone - DAY, 1, 1, 7);
  lzb_course(&station, gone - DAY, 1, 0)->phase = 1;
  const uint64_t release = lzb_act(&station, LZQ_REC_RELEASE, gone, 0)->id;
  for (int days = 0; days < 3; days++) { // listed for good, also when lot 1 has served
    const lzq_short found = only(gone + days * DAY);
    ck_assert_uint_eq(found.lot, 0);
    ck_assert_int_eq(found.how, LZQ_SHORT_HELD);
    ck_assert_uint_eq(found.held_by, 1);
    ck_assert_uint_eq(found.entry, release);
    ck_assert_int_eq(found.at, gone);
    ck_assert_int_eq(found.short_min, 0);
  }
  station.snapshot.station.last_in = false;
  ck_assert_uint_eq(only(gone + DAY).lot, LZQ_NONE);
}
END_TEST

// Lot 1 had served when lot 0 went; a spot in another water sets it back afterwards.
START_TEST(set_back_later_held_nobody)
{
  course_of_a_day(25);
  station.snapshot.station.last_in = true;
  lzb_add_lot(&station);
  lzb_add_system(&station, 500, LZQ_ROLE_FINISHING);
  const lzq_minute gone = start + 25 * HOUR + 3 * DAY;
  lzb_receive(&station, gone - 2 * DAY, 1, 1, 7);
  lzb_course(&station, gone - 2 * DAY, 1, 0)->phase = 1;
  lzb_act(&station, LZQ_REC_RELEASE, gone, 0);
  lzb_move(&station, gone + HOUR, 1, 2);
  lzb_act(&station, LZQ_REC_SIGHTING, gone + DAY, LZQ_NONE)->system = 2;
  ck_assert(!run_lot(&station, 1, gone + DAY)->served);
  ck_assert_uint_eq(only(gone + DAY).lot, LZQ_NONE);
}
END_TEST

// Lots 0 and 1 watch a day, from t0 and from t0 + 600, beside lot 2 until they move to the other
// water: lot 0 at t0 + 300, so that it is held by lot 2; lot 1 never met it in its last phase.
// Merged they end with lot 1's start, and look back to lot 0's: lot 2 holds them.
START_TEST(merged_look_back_to_the_earlier)
{
  lzb_init(&station);
  const lzq_minute t0 = lzb_at(&station, 2027, 1, 4, 8, 0);
  lzb_add_system(&station, 1000, LZQ_ROLE_FINISHING);
  lzb_add_system(&station, 1000, LZQ_ROLE_FINISHING);
  for (int i = 0; i < 3; i++)
    lzb_add_lot(&station);
  lzb_add_protocol(&station);
  lzb_add_phase(&station, LZQ_PHASE_OBSERVE)->min_elapsed_min = DAY;
  station.snapshot.station.last_in = true;
  lzb_receive(&station, t0, 0, 0, 30);
  lzb_course(&station, t0, 0, 0);
  const uint32_t into = (uint32_t)_i; // whichever merges into the other
  lzb_receive(&station, t0, 2, 0, 5);
  lzb_move(&station, t0 + 300, 0, 1);
  lzb_receive(&station, t0 + 600, 1, 1, 5);
  lzb_course(&station, t0 + 600, 1, 0);
  ck_assert_uint_eq(run_lot(&station, 0, t0 + 3 * DAY)->held_by, 2);
  ck_assert_uint_eq(run_lot(&station, 1, t0 + 599 + DAY)->held_by, LZQ_NONE);
  lzb_act(&station, LZQ_REC_MERGE, t0 + 700, 1 - into)->other = into;
  const lzq_lot_credit *lot = run_lot(&station, into, t0 + 3 * DAY);
  ck_assert_int_eq(lot->served_at, t0 + 600 + DAY);
  ck_assert_uint_eq(lot->held_by, 2);
  ck_assert_int_eq(lot->releasable_at, LZQ_NEVER);
  // a sighting begins anew: who was met before is a contact, and holds nobody
  lzb_act(&station, LZQ_REC_SIGHTING, t0 + 800, LZQ_NONE)->system = 1;
  lot = run_lot(&station, into, t0 + 3 * DAY);
  ck_assert_uint_eq(lot->held_by, LZQ_NONE);
  ck_assert_int_eq(lot->releasable_at, t0 + 800 + DAY);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("shorts");
  TCase *tcase = tcase_create("shorts");
  tcase_add_test(tcase, moved_on_and_found_short);
  tcase_add_test(tcase, a_gap_is_not_left);
  tcase_add_test(tcase, released_and_found_short);
  tcase_add_test(tcase, released_unproven);
  tcase_add_test(tcase, released_while_held);
  tcase_add_test(tcase, set_back_later_held_nobody);
  tcase_add_loop_test(tcase, merged_look_back_to_the_earlier, 0, 2);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  const int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  lzq_arena_free(&credit_arena);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
