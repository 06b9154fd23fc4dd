// SPDX-License-Identifier: GPL-3.0-or-later
// Forecasts: a worked case, known answers where the loss is known, dose to hold, and the next test.
#include "lzq_forecast.h"

#include <stdio.h>

#include "published.h"

static lzq_bank
known_loss(double k, double level, double variance, double gain_sd)
{
  lzq_bank_rules rules = lzq_bank_rules_default(0.19);
  const double one = 1.0;
  rules.n = 1;
  rules.s2 = 0.0;
  rules.gain_sd = gain_sd;
  lzq_bank bank;
  ck_assert_int_eq(lzq_bank_init_grid(&bank, &rules, &k, &one, level, variance, 0), LZQ_OK);
  return bank;
}

// 0.200, 0.194, 0.188 at 12 h: k = ln(0.200/0.188)/24 = 0.00258, and 0.18 is 16.9 h later
// (arithmetic)
START_TEST(known_loss_gives_the_known_time)
{
  double k = log(0.200 / 0.188) / 24.0;
  lzq_bank bank = known_loss(k, 0.188, 1e-14, 0.0);
  lzq_exit leaves = lzq_forecast_exit(&bank, 0.18);
  NEAR(leaves.likely_h, 16.9, 1.0); // F climbs within one step of 2 h
  ck_assert(leaves.low_h <= leaves.likely_h && leaves.likely_h <= leaves.high_h);
  // a level known to 2 %: the 10 % time is where x e^-kt (1 - 1.2816 x 0.02) = 0.18
  bank = known_loss(k, 0.188, 1e-14, 0.02);
  leaves = lzq_forecast_exit(&bank, 0.18);
  double z10 = 1.2815515655 * 0.02;
  NEAR(leaves.low_h, log(0.188 * (1.0 - z10) / 0.18) / k, 0.2);
  NEAR(leaves.likely_h, 16.9, 0.2);
  NEAR(leaves.high_h, log(0.188 * (1.0 + z10) / 0.18) / k, 0.2);
  NEAR(lzq_forecast_reaches(&bank, 0.18, 0.5), leaves.likely_h, 1e-9);
  NEAR(lzq_forecast_chance(&bank, 0.18, leaves.likely_h), 0.5, 0.02);
}
END_TEST

START_TEST(no_loss_does_not_leave)
{
  lzq_bank bank = known_loss(0.0, 0.25, 1e-6, 0.02);
  lzq_exit leaves = lzq_forecast_exit(&bank, 0.18);
  ck_assert(isinf(leaves.low_h) && isinf(leaves.likely_h) && isinf(leaves.high_h));
  bank = known_loss(0.0, 0.10, 1e-6, 0.02); // it is out already
  leaves = lzq_forecast_exit(&bank, 0.18);
  NEAR(leaves.low_h, 0.0, 0.0);
  NEAR(leaves.high_h, 0.0, 0.0);
  NEAR(leaves.below_now, 1.0, 1e-9);
}
END_TEST

// 8 March 08:00 0.200, 20:00 0.194, 9 March 08:00 0.188, +-0.01, nothing dosed. End points say 10
// March 00:52; the level may be below already; test and top-up belong to the evening round of 9
// March, not after midnight.
START_TEST(when_does_it_leave_the_band)
{
  const lzq_bank_reading readings[] = {
      {0.200, 0.01, 0.0, 0.001}, {0.194, 0.01, 0.0, 0.001}, {0.188, 0.01, 0.0, 0.001}};
  lzq_bank_rules rules = lzq_bank_rules_default(0.195);
  lzq_bank bank;
  double r = lzq_reading_variance(&readings[0]);
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, readings[0].y, r, 0), LZQ_OK);
  for (int i = 1; i < 3; i++) {
    lzq_bank_advance(&bank, 12.0);
    ck_assert_int_eq(lzq_bank_read(&bank, &readings[i]), LZQ_READ_TAKEN);
  }
  lzq_exit leaves = lzq_forecast_exit(&bank, 0.18);
  printf("case C: 10/50/90 %% of leaving at %.1f, %.1f, %.1f h; below now %.3f\n", leaves.low_h,
         leaves.likely_h, leaves.high_h, leaves.below_now);
  ck_assert(leaves.below_now > 0.05); // "may be left already"
  ck_assert(leaves.low_h < 16.9 && leaves.high_h > 16.9);
  NEAR(leaves.likely_h, 16.9, 4.0); // it may differ by its prior
  // rounds at 17:00 (9 h), 07:30 (23.5 h) and 17:00 (33 h)
  const double slots[] = {9.0, 23.5, 33.0};
  lzq_next_test next = lzq_forecast_next_test(&bank, 0.18, slots, 3, 24.0, 0.10);
  ck_assert_uint_eq(next.slot, 0);
  // topped up now so that it holds until the next morning with a chance of at most a tenth
  lzq_hold hold = lzq_forecast_hold(&bank, 0.18, 0.21, 9.0, 0.10, 0.10);
  ck_assert(hold.level > 0.0 && hold.held);
}
END_TEST

START_TEST(dose_to_hold)
{
  // known loss, no doubt but in the level: closed form for the smallest dose
  const double k = 0.005, sd = 0.004, hours = 14.5;
  lzq_bank bank = known_loss(k, 0.185, sd * sd, 0.0);
  bank.rules.dose_sd = 0.0;
  bank.f[0].pss = 0.0;
  lzq_hold hold = lzq_forecast_hold(&bank, 0.18, NAN, hours, 0.10, 0.10);
  double a = exp(-k * hours), z10 = 1.2815515655;
  NEAR(hold.level, (0.18 + z10 * sd * a) / a - 0.185, 1e-8);
  ck_assert(hold.held);
  NEAR(hold.below_then, 0.10, 1e-6);
  // the upper edge wins: the dose stops there, and the test must come earlier
  hold = lzq_forecast_hold(&bank, 0.18, 0.195, hours, 0.10, 0.10);
  ck_assert(!hold.held);
  NEAR(hold.above_now, 0.10, 1e-6);
  NEAR(hold.level, 0.195 - z10 * sd - 0.185, 1e-8);
  ck_assert(hold.below_then > 0.10);
  // so much is lost until then that no dose holds it
  lzq_bank gone = known_loss(0.04, 0.185, sd * sd, 0.0);
  ck_assert(!lzq_forecast_hold(&gone, 0.18, NAN, 800.0, 0.10, 0.10).held);
  // plenty there: nothing to add
  bank = known_loss(k, 0.30, sd * sd, 0.0);
  hold = lzq_forecast_hold(&bank, 0.18, NAN, hours, 0.10, 0.10);
  NEAR(hold.level, 0.0, 0.0);
  ck_assert(hold.held);
}
END_TEST

START_TEST(next_test)
{
  const double slots[] = {9.0, 23.5, 33.0, 47.5};
  lzq_bank slow = known_loss(0.0005, 0.21, 1e-5, 0.02), fast = known_loss(0.01, 0.21, 1e-5, 0.02);
  lzq_next_test next = lzq_forecast_next_test(&slow, 0.18, slots, 4, 24.0, 0.10);
  ck_assert_uint_eq(next.slot, 1); // never later than the gap
  ck_assert(!next.cannot_hold && next.chance <= 0.10);
  next = lzq_forecast_next_test(&slow, 0.18, slots, 4, 48.0, 0.10);
  ck_assert_uint_eq(next.slot, 3);
  next = lzq_forecast_next_test(&fast, 0.18, slots, 4, 48.0, 0.10);
  ck_assert_uint_eq(next.slot, 0);
  ck_assert(!next.cannot_hold);
  next = lzq_forecast_next_test(&fast, 0.20, slots, 4, 48.0, 0.10);
  ck_assert_uint_eq(next.slot, 0);
  ck_assert(next.cannot_hold);
  next = lzq_forecast_next_test(&slow, 0.18, slots, 4, 8.0,
                                0.10); // the first round is later than the gap
  ck_assert_uint_eq(next.slot, 0);
  ck_assert(next.cannot_hold);
  next = lzq_forecast_next_test(&slow, 0.18, slots, 0, 8.0, 0.10);
  ck_assert_uint_eq(next.slot, LZQ_NONE);
}
END_TEST

// The limit is the station's p and nothing else: a hair above a slot's chance takes that slot, a
// hair below leaves it.
START_TEST(the_limit_decides)
{
  const double slots[] = {9.0, 23.5, 33.0, 47.5};
  lzq_bank bank = known_loss(0.003, 0.205, 1e-4, 0.02);
  double before = 0.0;
  for (uint32_t i = 0; i < 4; i++) {
    double chance = lzq_forecast_chance(&bank, 0.18, slots[i]);
    ck_assert(chance > before + 1e-6);
    before = chance;
    lzq_next_test taken = lzq_forecast_next_test(&bank, 0.18, slots, 4, 96.0, chance * 1.001);
    ck_assert_uint_eq(taken.slot, i);
    ck_assert(!taken.cannot_hold);
    NEAR(taken.chance, chance, 2e-3);
    lzq_next_test left = lzq_forecast_next_test(&bank, 0.18, slots, 4, 96.0, chance * 0.98);
    ck_assert_uint_eq(left.slot, i ? i - 1 : 0);
    ck_assert(left.cannot_hold == (i == 0));
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("forecast");
  TCase *tcase = tcase_create("forecast");
  tcase_add_test(tcase, known_loss_gives_the_known_time);
  tcase_add_test(tcase, no_loss_does_not_leave);
  tcase_add_test(tcase, when_does_it_leave_the_band);
  tcase_add_test(tcase, dose_to_hold);
  tcase_add_test(tcase, next_test);
  tcase_add_test(tcase, the_limit_decides);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
