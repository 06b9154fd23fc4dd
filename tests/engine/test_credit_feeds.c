// SPDX-License-Identifier: GPL-3.0-or-later
// Feeds act when their lot is next looked at, and must say what they would have said one by one in
// their minute. The rules are those of lzq_credit.h; no source outside the project.
#include <stdlib.h>

#include "credit_run.h"

enum { DAY = LZQ_DAY, PLAIN = 0, EATS = 1 };

static lzb_station station;
static lzq_minute t0;

// Three lots; a course of two quiet weeks that asks for no eating, and one that asks for two days.
static void
setup(void)
{
  lzb_init(&station);
  t0 = lzb_at(&station, 2027, 1, 4, 8, 0);
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  for (int i = 0; i < 3; i++)
    lzb_add_lot(&station);
  lzb_add_protocol(&station);
  lzb_add_phase(&station, LZQ_PHASE_OBSERVE)->min_elapsed_min = 7 * DAY;
  lzb_add_phase(&station, LZQ_PHASE_OBSERVE)->min_elapsed_min = 7 * DAY;
  lzb_add_protocol(&station);
  lzq_phase *eats = lzb_add_phase(&station, LZQ_PHASE_OBSERVE);
  eats->eating_days = 2;
  eats->eaten_share = 0.8;
  lzb_receive(&station, t0, 0, 0, 30);
}

static void
teardown(void)
{
  lzq_arena_free(&credit_arena);
}

static void
feed(int64_t after, uint32_t lot)
{
  lzq_record *record = lzb_act(&station, LZQ_REC_FEED, t0 + after, lot);
  record->amount = 0.9;
  record->day = (int32_t)(after / DAY);
}

static const lzq_lot_credit *
lot_at(uint32_t lot, int64_t after)
{
  return run_lot(&station, lot, t0 + after);
}

// What was eaten under a course that did not ask for it counts for the one that is kept over to.
START_TEST(kept_over_to_one_that_asks)
{
  lzb_course(&station, t0, 0, PLAIN);
  feed(100, 0);
  feed(DAY + 100, 0);
  lzq_record *other = lzb_course(&station, t0 + 2 * DAY, 0, EATS);
  ck_assert(!lot_at(0, 3 * DAY)->served); // begun anew
  other->keep = true;
  ck_assert_int_eq(lot_at(0, 3 * DAY)->served_at, t0 + 2 * DAY);
}
END_TEST

// One that merges in an earlier phase brings its own meals, and those of the other are no more.
START_TEST(those_of_the_earlier_phase_hold)
{
  lzb_receive(&station, t0, 1, 0, 5);
  lzb_course(&station, t0, 0, PLAIN);
  lzb_course(&station, t0, 1, PLAIN)->phase = 1;
  feed(100, 1);
  feed(DAY + 100, 1);
  lzb_act(&station, LZQ_REC_MERGE, t0 + 2 * DAY, 0)->other = 1;
  lzb_course(&station, t0 + 2 * DAY + 10, 1, EATS)->keep = true;
  ck_assert(!lot_at(1, 3 * DAY)->served);
  feed(3 * DAY, 1);
  feed(4 * DAY, 1);
  ck_assert_int_eq(lot_at(1, 5 * DAY)->served_at, t0 + 4 * DAY);
}
END_TEST

// Parts have eaten what the whole lot ate, and each its own from then on.
START_TEST(parts_have_eaten_together)
{
  lzb_course(&station, t0, 0, EATS);
  feed(100, 0);
  lzq_record *split = lzb_act(&station, LZQ_REC_SPLIT, t0 + 200, 0);
  split->other = 2;
  split->heads = 10;
  feed(DAY + 100, 2);
  ck_assert_int_eq(lot_at(2, 2 * DAY)->served_at, t0 + DAY + 100);
  ck_assert(!lot_at(0, 2 * DAY)->served);
  feed(DAY + 300, 0);
  ck_assert_int_eq(lot_at(0, 2 * DAY)->served_at, t0 + DAY + 300);
}
END_TEST

// Those of a lot that is not here are listed in their place among what else could not be done.
START_TEST(of_nobody_are_listed_in_order)
{
  feed(20, 1);
  lzb_act(&station, LZQ_REC_RELEASE, t0 + 10, 2);
  lzb_act(&station, LZQ_REC_RELEASE, t0 + 30, 2);
  feed(40, 2);
  feed(5, 2);
  const lzq_credit *credit = run_known(&station, UINT64_MAX, t0 + DAY);
  ck_assert_uint_eq(credit->n_ignored, 5);
  static const int64_t at[] = {5, 10, 20, 30, 40};
  for (int i = 0; i < 5; i++) {
    ck_assert_int_eq(credit->ignored[i].at, t0 + at[i]);
    ck_assert_uint_eq(credit->ignored[i].kind, at[i] % 20 == 10 ? LZQ_REC_RELEASE : LZQ_REC_FEED);
    ck_assert_uint_eq(credit->ignored[i].why, LZQ_IGNORED_NOT_HERE);
  }
}
END_TEST

// Fish that are counted again after they were held dead had not eaten meanwhile.
START_TEST(the_dead_do_not_eat)
{
  lzb_course(&station, t0, 0, EATS);
  feed(100, 0);
  lzb_act(&station, LZQ_REC_DEATH, t0 + 200, 0)->heads = 30;
  feed(DAY + 100, 0);
  lzb_act(&station, LZQ_REC_COUNT, t0 + 2 * DAY, 0)->heads = 3;
  lzb_course(&station, t0 + 2 * DAY, 0, EATS);
  feed(2 * DAY + 10, 0);
  ck_assert(!lot_at(0, 4 * DAY)->served);
  ck_assert_uint_eq(run_known(&station, UINT64_MAX, t0 + 4 * DAY)->n_ignored, 1);
  feed(3 * DAY + 10, 0);
  ck_assert_int_eq(lot_at(0, 4 * DAY)->served_at, t0 + 3 * DAY + 10);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("credit feeds");
  TCase *tcase = tcase_create("feeds");
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_add_test(tcase, kept_over_to_one_that_asks);
  tcase_add_test(tcase, those_of_the_earlier_phase_hold);
  tcase_add_test(tcase, parts_have_eaten_together);
  tcase_add_test(tcase, of_nobody_are_listed_in_order);
  tcase_add_test(tcase, the_dead_do_not_eat);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
