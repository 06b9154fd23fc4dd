// SPDX-License-Identifier: GPL-3.0-or-later
// Whole courses worked by hand: a gap in a hold, fish that join, a spot on day ten, a course with a
// missed test, a move and a water change. Dates follow from the inputs by the arithmetic beside
// them; edges, doses of three days and the last-in rule: see docs/engine/credit.md for their
// sources.
#include <math.h>
#include <stdlib.h>

#include "credit_run.h"

enum { HOUR = 60, DAY = LZQ_DAY };

static lzb_station station;

static void
setup(void)
{
  lzb_init(&station);
  station.utc_offset_min = 60; // Berlin in winter
}

static void
teardown(void)
{
  lzq_arena_free(&credit_arena);
}

// --- a gap in a hold of 21 days at 0.18 mg/L or more, longest gap 24 h

static void
build_gap(lzq_lapse lapse, bool with_low_reading)
{
  lzb_add_system(&station, 2400, LZQ_ROLE_TREATMENT);
  lzb_add_lot(&station);
  lzb_add_protocol(&station);
  lzq_phase *hold = lzb_add_phase(&station, LZQ_PHASE_HOLD);
  lzb_add_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 24 * HOUR);
  hold->min_credit_min = 21 * DAY;
  hold->lapse_min = 12 * HOUR;
  hold->lapse = lapse;
  lzq_minute start = lzb_at(&station, 2027, 3, 4, 8, 0);
  lzb_receive(&station, start, 0, 0, 20);
  lzb_course(&station, start, 0, 0);
  lzq_minute last_good = lzb_at(&station, 2027, 3, 13, 20, 0);
  for (lzq_minute t = start; t < last_good; t += 12 * HOUR)
    lzb_read(&station, t, 0, LZQ_COPPER, 0.19);
  lzb_read(&station, last_good, 0, LZQ_COPPER, 0.18);
  if (!with_low_reading)
    return;
  lzb_read(&station, lzb_at(&station, 2027, 3, 14, 8, 0), 0, LZQ_COPPER, 0.15);
  lzb_dose(&station, lzb_at(&station, 2027, 3, 14, 13, 0), 0, LZQ_FORM_IONIC, 0.035 * 2400);
  lzb_read(&station, lzb_at(&station, 2027, 3, 14, 14, 0), 0, LZQ_COPPER, 0.185);
  for (lzq_minute t = lzb_at(&station, 2027, 3, 14, 20, 0); t < start + 40 * DAY; t += 12 * HOUR)
    lzb_read(&station, t, 0, LZQ_COPPER, 0.19);
}

START_TEST(gap_before_the_low_reading)
{
  build_gap(LZQ_LAPSE_PAUSE, false);
  lzq_minute now = lzb_at(&station, 2027, 3, 13, 20, 0);
  const lzq_lot_credit *lot = run_lot(&station, 0, now);
  ck_assert_int_eq(lot->credit_min, 9 * DAY + 12 * HOUR);
  ck_assert_int_eq(lot->open_min, 0); // the 20:00 reading has confirmed all before it
  ck_assert_int_eq(now + 21 * DAY - lot->credit_min, lzb_at(&station, 2027, 3, 25, 8, 0));
  // Twelve hours later they still count, but nobody has confirmed them.
  lot = run_lot(&station, 0, now + 12 * HOUR);
  ck_assert_int_eq(lot->credit_min, 10 * DAY);
  ck_assert_int_eq(lot->open_min, 12 * HOUR);
}
END_TEST

START_TEST(gap_with_pause)
{
  build_gap(LZQ_LAPSE_PAUSE, true);
  // At 08:00, with 0.15 read, the twelve hours before it are gone.
  const lzq_lot_credit *lot = run_lot(&station, 0, lzb_at(&station, 2027, 3, 14, 8, 0));
  ck_assert_int_eq(lot->credit_min, 9 * DAY + 12 * HOUR);
  ck_assert_int_eq(minutes_lost(lot, 0, LZQ_WHY_NEXT_BAD), 12 * HOUR);
  ck_assert_int_eq(lot->run_min, 12 * HOUR);
  lot = run_lot(&station, 0, lzb_at(&station, 2027, 4, 10, 0, 0));
  ck_assert_uint_eq(lot->n_visits, 1);
  ck_assert_int_eq(lot->visits[0].end, lzb_at(&station, 2027, 3, 26, 2, 0));
  ck_assert_int_eq(lot->visits[0].end - lot->visits[0].start - 21 * DAY, 18 * HOUR);
  ck_assert_uint_eq(lot->visits[0].lapses, 1);
  // The 721st minute in a row without credit.
  ck_assert_int_eq(lot->visits[0].first_lapse, lzb_at(&station, 2027, 3, 14, 8, 0));
  ck_assert_int_eq(lot->visits[0].firm_at, lzb_at(&station, 2027, 3, 26, 8, 0));
}
END_TEST

START_TEST(gap_with_restart)
{
  build_gap(LZQ_LAPSE_RESTART, true);
  const lzq_lot_credit *lot = run_lot(&station, 0, lzb_at(&station, 2027, 4, 10, 0, 0));
  lzq_minute redosed = lzb_at(&station, 2027, 3, 14, 14, 0);
  station.utc_offset_min = 120; // summer time since 28 March
  ck_assert_int_eq(lot->visits[0].credit_from, redosed);
  ck_assert_int_eq(lot->visits[0].end, lzb_at(&station, 2027, 4, 4, 15, 0));
  ck_assert_int_eq(lot->visits[0].end - redosed, 504 * HOUR);
}
END_TEST

// --- thirty days without a band, and whoever came last holds the others (Australian industry
// advice notice 41-2025)

static lzq_minute
build_shared(int lots)
{
  const int day[3] = {1, 12, 22};
  station.utc_offset_min = 120;
  station.snapshot.station.last_in = true;
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  lzb_add_protocol(&station);
  lzb_add_phase(&station, LZQ_PHASE_HOLD)->min_credit_min = 30 * DAY;
  for (int i = 0; i < lots; i++) {
    uint32_t lot = lzb_add_lot(&station);
    lzq_minute at = lzb_at(&station, 2027, 5, day[i], 9, 0);
    lzb_receive(&station, at, lot, 0, 140);
    lzb_course(&station, at, lot, 0);
  }
  return lzb_at(&station, 2027, 6, 30, 9, 0);
}

START_TEST(last_in)
{
  const int month[3] = {5, 6, 6}, day[3] = {31, 11, 21};
  lzq_minute until = build_shared(_i + 1);
  const lzq_credit *credit = run_known(&station, UINT64_MAX, until);
  for (int l = 0; l <= _i; l++) {
    ck_assert_int_eq(credit->lots[l].served_at, lzb_at(&station, 2027, month[l], day[l], 9, 0));
    ck_assert_int_eq(credit->lots[l].releasable_at,
                     lzb_at(&station, 2027, month[_i], day[_i], 9, 0));
    ck_assert_uint_eq(credit->lots[l].held_by, LZQ_NONE);
  }
}
END_TEST

START_TEST(last_in_names_who_holds)
{
  build_shared(3);
  const lzq_credit *credit = run_known(&station, UINT64_MAX, lzb_at(&station, 2027, 6, 11, 9, 0));
  ck_assert(credit->lots[0].served);
  ck_assert(credit->lots[1].served);
  ck_assert_int_eq(credit->lots[0].releasable_at, LZQ_NEVER);
  ck_assert_uint_eq(credit->lots[0].held_by, 2);
  ck_assert_uint_eq(credit->lots[1].held_by, 2);
  // Wherever it is now: moving the last lot out does not let the others go.
  lzb_add_system(&station, 500, LZQ_ROLE_ISOLATION);
  lzb_move(&station, lzb_at(&station, 2027, 6, 1, 9, 0), 2, 1);
  credit = run_known(&station, UINT64_MAX, lzb_at(&station, 2027, 6, 12, 9, 0));
  ck_assert_uint_eq(credit->lots[0].held_by, 2);
  // But its death does.
  lzb_act(&station, LZQ_REC_DEATH, lzb_at(&station, 2027, 6, 12, 9, 0), 2)->heads = 140;
  credit = run_known(&station, UINT64_MAX, lzb_at(&station, 2027, 6, 12, 9, 0));
  ck_assert_int_eq(credit->lots[0].releasable_at, lzb_at(&station, 2027, 6, 12, 9, 0));
}
END_TEST

START_TEST(last_in_fish_without_a_course)
{
  lzq_minute until = build_shared(1);
  uint32_t stray = lzb_add_lot(&station);
  lzb_receive(&station, lzb_at(&station, 2027, 6, 5, 9, 0), stray, 0, 1);
  const lzq_lot_credit *lot = run_lot(&station, 0, until);
  ck_assert_int_eq(lot->releasable_at, LZQ_NEVER);
  ck_assert_uint_eq(lot->held_by, stray);
  station.snapshot.station.last_in = false;
  lot = run_lot(&station, 0, until);
  ck_assert_int_eq(lot->releasable_at, lzb_at(&station, 2027, 5, 31, 9, 0));
}
END_TEST

// --- a spot on day ten of fourteen: day ten becomes day one (common practice, no source)

START_TEST(spot_on_day_ten)
{
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  lzb_add_protocol(&station);
  lzb_add_phase(&station, LZQ_PHASE_OBSERVE)->quiet_min = 14 * DAY;
  lzq_minute start = lzb_at(&station, 2027, 6, 8, 9, 0), spot = start + 10 * DAY;
  for (uint32_t l = 0; l < 4; l++) {
    lzb_add_lot(&station);
    lzb_receive(&station, start, l, l == 3 ? 1 : 0, 24);
    lzb_course(&station, start, l, 0);
  }
  lzb_move(&station, spot - 1, 1, 1); // left the minute before: a contact, not set back
  lzb_move(&station, spot, 2, 1);     // leaves in that minute: as if it were in both
  lzb_sight(&station, spot, 0);
  const lzq_credit *credit = run_known(&station, UINT64_MAX, start + 30 * DAY);
  ck_assert_uint_eq(credit->lots[0].visits[0].left, LZQ_LEFT_SIGHTING);
  ck_assert_int_eq(credit->lots[0].served_at, spot + 14 * DAY);
  ck_assert_int_eq(credit->lots[1].served_at, start + 14 * DAY);
  ck_assert_int_eq(credit->lots[2].served_at, spot + 14 * DAY);
  ck_assert_int_eq(credit->lots[3].served_at, start + 14 * DAY);
}
END_TEST

// --- the main course (common practice; edges 0.45 mg/L and 22.5, longest gap 16 h, pause)

// Thursday 4 March 2027 is day 4: every slot reads 0.50 and 21.42 in both waters but one.
static void
build_course(void)
{
  lzb_add_system(&station, 1800, LZQ_ROLE_TREATMENT);
  lzb_add_system(&station, 1800, LZQ_ROLE_TREATMENT);
  uint32_t meter = lzb_add_instrument(&station, 0, 0.5);
  lzb_add_lot(&station);
  lzb_add_protocol(&station);
  const lzq_phase_kind kinds[2] = {LZQ_PHASE_RISE, LZQ_PHASE_HOLD};
  for (int i = 0; i < 2; i++) {
    lzq_phase *phase = lzb_add_phase(&station, kinds[i]);
    lzb_add_band(phase, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, 16 * HOUR)->form = LZQ_FORM_AMINE;
    lzb_add_band(phase, LZQ_SALINITY, LZQ_AT_OR_BELOW, 22.5, 16 * HOUR)->error_inside = true;
    phase->reach = i == 0;
    phase->min_credit_min = i == 0 ? 0 : 14 * DAY;
    phase->lapse_min = 12 * HOUR;
  }
  lzq_minute monday = lzb_at(&station, 2027, 3, 1, 9, 0);
  lzb_receive(&station, monday, 0, 0, 30);
  lzb_course(&station, monday, 0, 0);
  lzb_read(&station, monday, 0, LZQ_SALINITY, 34)->instrument = meter;
  const int rise_hour[3] = {9, 9, 8};
  const double ml[3] = {61.2, 69.9, 75.1};
  for (int i = 0; i < 3; i++) {
    lzq_minute at = lzb_at(&station, 2027, 3, 2 + i, rise_hour[i], 30);
    lzb_change(&station, at, 0, 257, 0, 0);
    lzb_dose(&station, at, 0, LZQ_FORM_AMINE, ml[i] * 5.00);
  }
  for (uint32_t s = 0; s < 2; s++) {
    lzb_read(&station, lzb_at(&station, 2027, 3, 4, 10, 0), s, LZQ_COPPER, 0.50);
    lzb_read(&station, lzb_at(&station, 2027, 3, 4, 10, 0), s, LZQ_SALINITY, 21.42)->instrument =
        meter;
    for (int slot = 0; slot < 32; slot++) {
      lzq_minute at = slot % 2 ? lzb_at(&station, 2027, 3, 5 + slot / 2, 7, 30)
                               : lzb_at(&station, 2027, 3, 4 + slot / 2, 17, 0);
      if (at == lzb_at(&station, 2027, 3, 5, 17, 0))
        continue; // Friday evening
      lzb_read(&station, at, s, LZQ_COPPER, 0.50);
      lzb_read(&station, at, s, LZQ_SALINITY, 21.42)->instrument = meter;
    }
  }
  lzb_move(&station, lzb_at(&station, 2027, 3, 6, 11, 0), 0, 1);
  lzb_change(&station, lzb_at(&station, 2027, 3, 7, 10, 0), 1, 270, 0, 21.42);
  lzb_dose(&station, lzb_at(&station, 2027, 3, 7, 15, 0), 1, LZQ_FORM_AMINE, 27.0 * 5.00);
}

START_TEST(whole_course)
{
  build_course();
  lzq_minute end = lzb_at(&station, 2027, 3, 18, 22, 59);
  lzq_minute next_test = lzb_at(&station, 2027, 3, 19, 7, 30);
  const lzq_lot_credit *lot = run_lot(&station, 0, next_test - 1);
  ck_assert_uint_eq(lot->n_visits, 2);
  ck_assert_int_eq(lot->visits[1].start, lzb_at(&station, 2027, 3, 4, 10, 0));
  ck_assert_int_eq(lot->visits[1].credit_from, lzb_at(&station, 2027, 3, 4, 10, 0));
  ck_assert_int_eq(minutes_lost(lot, 1, LZQ_WHY_LAST_OLD), 479);    // 23:31 to 07:29
  ck_assert_int_eq(minutes_lost(lot, 1, LZQ_WHY_CARRIED_BAD), 300); // 0.425 from 10:00 to 14:59
  ck_assert_uint_eq(lot->visits[1].lapses, 0);
  ck_assert_int_eq(lot->served_at, end);
  ck_assert_int_eq(lot->firm_at, LZQ_NEVER);
  ck_assert_int_eq(lot->visits[1].open_min, end - lzb_at(&station, 2027, 3, 18, 17, 0));
  ck_assert_int_eq(lot->releasable_at, LZQ_NEVER);
  lot = run_lot(&station, 0, next_test);
  ck_assert_int_eq(lot->served_at, end);
  ck_assert_int_eq(lot->firm_at, next_test);
  ck_assert_int_eq(lot->visits[1].open_min, 0);
  ck_assert_int_eq(lot->releasable_at, next_test);
}
END_TEST

// A move keeps what was earned: in the water it left, and in the one it came to.
START_TEST(move_keeps_credit)
{
  build_course();
  lzq_minute moved = lzb_at(&station, 2027, 3, 6, 11, 0);
  const lzq_lot_credit *lot = run_lot(&station, 0, moved + 60);
  ck_assert_int_eq(lot->credit_min, moved + 60 - lzb_at(&station, 2027, 3, 4, 10, 0) - 479);
  ck_assert_uint_eq(lot->system, 1);
  ck_assert_uint_eq(lot->spans[lot->n_spans - 1].system, 1);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("credit");
  TCase *tcase = tcase_create("courses by hand");
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_add_test(tcase, gap_before_the_low_reading);
  tcase_add_test(tcase, gap_with_pause);
  tcase_add_test(tcase, gap_with_restart);
  tcase_add_loop_test(tcase, last_in, 0, 3);
  tcase_add_test(tcase, last_in_names_who_holds);
  tcase_add_test(tcase, last_in_fish_without_a_course);
  tcase_add_test(tcase, spot_on_day_ten);
  tcase_add_test(tcase, whole_course);
  tcase_add_test(tcase, move_keeps_credit);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
