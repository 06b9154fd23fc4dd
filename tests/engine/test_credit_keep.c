// SPDX-License-Identifier: GPL-3.0-or-later
// What a course keeps of the time served when it moves to an edited version: minutes that were
// earned under less are none of a phase that asks for more. The rule is that of lzq_phase_serves;
// no source outside the project.
#include <stdlib.h>

#include "credit_run.h"

enum { HOUR = 60, DAY = LZQ_DAY, GAP = 16 * HOUR };

static lzb_station station;
static lzq_phase *before, *after;
static lzq_minute t0;

static lzq_phase *
hold(void)
{
  lzb_add_protocol(&station);
  lzq_phase *phase = lzb_add_phase(&station, LZQ_PHASE_HOLD);
  lzb_add_band(phase, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, GAP)->form = LZQ_FORM_AMINE;
  phase->min_credit_min = 14 * DAY;
  return phase;
}

// Ten hours of credit under one protocol, then the other with what was served.
static void
setup(void)
{
  lzb_init(&station);
  t0 = lzb_at(&station, 2027, 1, 4, 8, 0);
  lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
  lzb_add_instrument(&station, 1u << LZQ_FORM_AMINE, 0);
  lzb_add_lot(&station);
  before = hold();
  after = hold();
  lzb_receive(&station, t0, 0, 0, 30);
  lzb_course(&station, t0, 0, 0);
  lzb_read(&station, t0, 0, LZQ_COPPER, 0.50);
  lzb_course(&station, t0 + 10 * HOUR, 0, 1)->keep = true;
}

static void
teardown(void)
{
  lzq_arena_free(&credit_arena);
}

static void
kept(int64_t minutes)
{
  ck_assert_int_eq(run_lot(&station, 0, t0 + 10 * HOUR)->credit_min, minutes);
}

START_TEST(the_same_or_less_keeps_it)
{
  kept(10 * HOUR);
  after->bands[0].works = 0.40;
  kept(10 * HOUR);
  after->bands[0].gap_min = GAP + 60;
  kept(10 * HOUR);
  after->min_credit_min = 21 * DAY; // more of the same is still the same
  kept(10 * HOUR);
}
END_TEST

START_TEST(a_higher_edge_does_not)
{
  after->bands[0].works = 0.46;
  kept(0);
}
END_TEST

START_TEST(a_shorter_gap_does_not)
{
  after->bands[0].gap_min = GAP - 1;
  kept(0);
}
END_TEST

START_TEST(another_form_does_not)
{
  after->bands[0].form = LZQ_FORM_IONIC;
  kept(0);
}
END_TEST

START_TEST(an_error_that_must_lie_inside_does_not)
{
  after->bands[0].error_inside = true;
  kept(0);
  before->bands[0].error_inside = true;
  kept(10 * HOUR);
}
END_TEST

START_TEST(one_more_band_does_not)
{
  lzb_add_band(after, LZQ_SALINITY, LZQ_AT_OR_BELOW, 16, GAP);
  kept(0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("keep");
  TCase *tests = tcase_create("edited");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, the_same_or_less_keeps_it);
  tcase_add_test(tests, a_higher_edge_does_not);
  tcase_add_test(tests, a_shorter_gap_does_not);
  tcase_add_test(tests, another_form_does_not);
  tcase_add_test(tests, an_error_that_must_lie_inside_does_not);
  tcase_add_test(tests, one_more_band_does_not);
  suite_add_tcase(suite, tests);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  const int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
