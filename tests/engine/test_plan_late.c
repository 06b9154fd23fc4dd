// SPDX-License-Identifier: GPL-3.0-or-later
// The late release against a brute-force enumeration: every pattern of tests kept and missed is
// played as readings on record, and the credit engine says when the hold would have ended and
// become firm. The quantile over all patterns, weighted, must be the planner's to the minute.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

#define N_TESTS 13

typedef struct {
  lzq_minute at;
  double p;
} outcome;

static int
by_time(const void *a, const void *b)
{
  const outcome *x = a, *y = b;
  return x->at < y->at ? -1 : x->at > y->at;
}

static void
station(lzt_station *s, int64_t credit, int32_t gap, lzq_lapse lapse, int32_t lapse_min,
        int64_t watch)
{
  static const int slots[] = {450, 1020};
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 1000);
  lzt_bottle(s, LZQ_COPPER, LZQ_FORM_IONIC, 1);
  lzt_protocol(s);
  lzq_phase *hold = lzt_phase(s, LZQ_PHASE_HOLD);
  hold->min_credit_min = credit;
  hold->lapse = lapse;
  hold->lapse_min = lapse_min;
  lzq_band *band = lzt_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 0.19);
  band->form = LZQ_FORM_IONIC;
  band->gap_min = gap;
  if (watch > 0) // then the very minute of the end shows, not only the test that makes it firm
    lzt_phase(s, LZQ_PHASE_OBSERVE)->min_elapsed_min = watch;
  lzt_receive(s, lzt_lot(s), 0, 10, lzt_at(3, 1, 8, 0));
  lzt_course(s, 0, 0, 0, lzt_at(3, 1, 8, 0));
  lzt_read(s, 0, LZQ_COPPER, 0.19, lzt_at(3, 1, 8, 0));
  lzt_slots(s, 3, 1, 20, slots, 2);
}

// When the hold is served and firm if exactly the tests of `kept` are made; N_TESTS of them are
// free, later ones are all kept.
static lzq_minute
played(lzt_station *s, unsigned kept)
{
  size_t n_before = s->snap.n_records;
  int test = 0;
  for (uint32_t i = 0; i < s->snap.n_slots; i++) {
    if (s->slots[i].at <= lzt_at(3, 1, 8, 0))
      continue;
    if (test >= N_TESTS || (kept >> test & 1))
      lzt_read(s, 0, LZQ_COPPER, 0.19, s->slots[i].at);
    test++;
  }
  const lzq_credit *credit = NULL;
  lzq_minute until = s->slots[s->snap.n_slots - 1].at + 1;
  ck_assert_int_eq(lzq_credit_run(&s->snap, UINT64_MAX, until, &s->arena, &credit, NULL), LZQ_OK);
  ck_assert(credit->lots[0].served);
  lzq_minute at = credit->lots[0].served_at > credit->lots[0].firm_at ? credit->lots[0].served_at
                                                                      : credit->lots[0].firm_at;
  s->snap.n_records = n_before;
  lzq_arena_reset(&s->arena);
  return at;
}

static lzq_minute
enumerated(lzt_station *s, double missed)
{
  static outcome all[1 << N_TESTS];
  for (unsigned kept = 0; kept < 1u << N_TESTS; kept++) {
    double p = 1;
    for (int i = 0; i < N_TESTS; i++)
      p *= kept >> i & 1 ? 1 - missed : missed;
    all[kept] = (outcome){played(s, kept), p};
  }
  qsort(all, 1 << N_TESTS, sizeof *all, by_time);
  double sum = 0;
  for (unsigned i = 0; i < 1u << N_TESTS; i++)
    if ((sum += all[i].p) >= 0.9 - 1e-9)
      return all[i].at;
  return LZQ_NEVER;
}

static void
compare_with(int64_t credit, int32_t gap, lzq_lapse lapse, int32_t lapse_min, double missed,
             int64_t watch)
{
  lzt_station *s = malloc(sizeof *s);
  station(s, credit, gap, lapse, lapse_min, watch);
  s->snap.station.missed_share = missed;
  lzq_minute want = enumerated(s, missed);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 8, 0));
  ck_assert_msg(plan->lots[0].release_late == want,
                "credit %lld gap %d missed %g: %+lld min from the enumeration", (long long)credit,
                gap, missed, (long long)(plan->lots[0].release_late - want));
  ck_assert_int_ge(plan->lots[0].release_late, plan->lots[0].release_earliest);
  lzt_station_free(s);
  free(s);
}

static void
compare(int64_t credit, int32_t gap, lzq_lapse lapse, int32_t lapse_min, double missed)
{
  compare_with(credit, gap, lapse, lapse_min, missed, 0);
  compare_with(credit, gap, lapse, lapse_min, missed, 3 * LZQ_DAY);
}

START_TEST(hold_that_pauses)
{
  static const double shares[] = {0.05, 0.1, 0.2};
  for (int i = 0; i < 3; i++) {
    compare(3 * LZQ_DAY, 960, LZQ_LAPSE_PAUSE, 720, shares[i]);
    compare(2 * LZQ_DAY + 333, 900, LZQ_LAPSE_PAUSE, -1, shares[i]);
    compare(4 * LZQ_DAY, 1500, LZQ_LAPSE_PAUSE, 720, shares[i]);
  }
}
END_TEST

START_TEST(hold_that_restarts)
{
  compare(2 * LZQ_DAY, 960, LZQ_LAPSE_RESTART, 600, 0.1);
  compare(2 * LZQ_DAY, 960, LZQ_LAPSE_RESTART, 300, 0.05);
}
END_TEST

START_TEST(nothing_missed_is_not_late)
{
  lzt_station *s = malloc(sizeof *s);
  station(s, 3 * LZQ_DAY, 960, LZQ_LAPSE_PAUSE, 720, 0);
  const lzq_plan *plan = lzt_plan(s, lzt_at(3, 1, 8, 0));
  ck_assert_int_eq(plan->lots[0].release_late, plan->lots[0].release_earliest);
  MINUTES_EQ(plan->lots[0].release_earliest, lzt_at(3, 4, 17, 0)); // ends 08:00, firm at 17:00
  lzt_station_free(s);
  free(s);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_late");
  TCase *cases = tcase_create("against enumeration");
  tcase_set_timeout(cases, 120);
  tcase_add_test(cases, hold_that_pauses);
  tcase_add_test(cases, hold_that_restarts);
  tcase_add_test(cases, nothing_missed_is_not_late);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
