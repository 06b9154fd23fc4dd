// SPDX-License-Identifier: GPL-3.0-or-later
// The bank against reference series whose values come from dense Gaussians (no filter code),
// against the irregular decay series and its likelihoods, and its rules for suspect readings.
#include "lzq_estimate.h"

#include <stdlib.h>
#include <string.h>

#include "published.h"

static lzq_bank
fresh_bank(double tau2, double c0, double p0)
{
  lzq_bank_rules rules = lzq_bank_rules_default(0.19);
  rules.tau2 = tau2;
  lzq_bank bank;
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, c0, p0, 0), LZQ_OK);
  return bank;
}

// As tau2 goes to 0 the moving bank becomes the exact one
START_TEST(still_rates_are_the_limit)
{
  lzq_bank exact = fresh_bank(0.0, 0.2, 1e-4);
  double off = 1.0;
  for (double tau2 = 1e-4; tau2 > 1e-9; tau2 /= 10.0) {
    lzq_bank bank = fresh_bank(tau2, 0.2, 1e-4), still = exact;
    for (int i = 0; i < 10; i++) {
      lzq_bank_advance(&bank, 12.0);
      lzq_bank_advance(&still, 12.0);
      lzq_bank_update(&bank, 0.2 * exp(-0.05 * i), 1e-4);
      lzq_bank_update(&still, 0.2 * exp(-0.05 * i), 1e-4);
    }
    double now = fabs(lzq_bank_summary(&bank).mean - lzq_bank_summary(&still).mean) +
                 fabs(bank.log_likelihood - still.log_likelihood);
    ck_assert(now < off);
    off = now;
  }
  ck_assert(off < 1e-5);
}
END_TEST

// The square-root grid and its prior, as in the reference series' own files [C]
START_TEST(grid_and_prior)
{
  size_t n;
  published_row *grid = published_read("series/s2_photometer_grid.csv", &n);
  lzq_bank bank = fresh_bank(0.002, 0.2, 1e-4);
  double weights[LZQ_GRID_MAX];
  lzq_bank_weights(&bank, weights);
  ck_assert_uint_eq(n, bank.rules.n);
  for (size_t i = 0; i < n; i++) {
    NEAR(bank.k[i], grid[i].n[0], 1e-15);
    NEAR(weights[i], grid[i].n[1], 1e-12);
  }
  free(grid);
}
END_TEST

static double
mixture_covariance(const lzq_bank *bank)
{
  double w[LZQ_GRID_MAX], sum = 0.0;
  lzq_bank_moments m = lzq_bank_summary(bank);
  lzq_bank_weights(bank, w);
  for (uint32_t i = 0; i < bank->rules.n; i++)
    sum += w[i] * (bank->f[i].pxs + (bank->f[i].x - m.mean) * (bank->f[i].s - m.s_mean));
  return sum;
}

// Moving k among its neighbours must not move the mixture: with rates too small to decay, mean and
// covariance stay
START_TEST(moving_keeps_the_moments)
{
  const double k[5] = {1e-18, 4e-18, 9e-18, 16e-18, 25e-18}, prior[5] = {1, 3, 4, 2, 1};
  lzq_bank_rules rules = lzq_bank_rules_default(0.2);
  rules.n = 5;
  rules.s2 = 0.0;
  lzq_bank bank;
  ck_assert_int_eq(lzq_bank_init_grid(&bank, &rules, k, prior, 0.2, 1e-4, 0), LZQ_OK);
  for (int i = 0; i < 5; i++) {
    bank.f[i].x += 0.01 * i;
    bank.f[i].s -= 0.02 * i * i;
    bank.f[i].pxs = 1e-4 * i;
  }
  lzq_bank_moments before = lzq_bank_summary(&bank);
  double covariance = mixture_covariance(&bank);
  lzq_bank_advance(&bank, 100.0);
  lzq_bank_moments after = lzq_bank_summary(&bank);
  NEAR(after.mean, before.mean, 1e-12);
  NEAR(after.sd, before.sd, 1e-9);
  NEAR(after.s_mean, before.s_mean, 1e-12);
  NEAR(after.s_sd, before.s_sd, 1e-9);
  NEAR(mixture_covariance(&bank), covariance, 1e-12);
}
END_TEST

// A change whose uncertainty is not given carries that of its volume and of the entered one
START_TEST(change_carries_its_doubt)
{
  lzq_bank bank = fresh_bank(0.0, 0.2, 1e-8);
  lzq_bank_change(&bank, 0.5, 0.0, NAN);
  double q = 0.5 * hypot(0.03, 0.03) * 0.2;
  NEAR(lzq_bank_summary(&bank).sd, sqrt(0.25e-8 + q * q), 1e-12);
}
END_TEST

START_TEST(prior_is_stationary)
{
  lzq_bank bank = fresh_bank(0.002, 0.2, 1e-4);
  double before[LZQ_GRID_MAX], after[LZQ_GRID_MAX], sum = 0.0;
  lzq_bank_weights(&bank, before);
  NEAR(before[0], 0.10, 1e-9);
  for (int i = 0; i < 100; i++)
    lzq_bank_advance(&bank, 13.7);
  lzq_bank_weights(&bank, after);
  for (uint32_t i = 0; i < bank.rules.n; i++) {
    NEAR(after[i], before[i], 1e-10);
    sum += after[i];
  }
  NEAR(sum, 1.0, 1e-12);
  // and a bank that has learnt returns to it
  for (int i = 0; i < 12; i++) {
    lzq_bank_update(&bank, 0.2 * exp(-0.02 * 8 * i), 1e-5);
    lzq_bank_advance(&bank, 8.0);
  }
  double learnt = lzq_bank_summary(&bank).k_mean;
  ck_assert(learnt > 0.015);
  lzq_bank_moments quiet = lzq_bank_summary(&bank);
  lzq_bank_advance(&bank, 22.0 * 24.0);
  ck_assert(lzq_bank_summary(&bank).sd > 0.2 * quiet.mean); // and is unsure of the level
  NEAR(bank.f[0].pxx, 0.25 * bank.f[0].x * bank.f[0].x, 0.05 * bank.f[0].x * bank.f[0].x);
  lzq_bank_weights(&bank, after);
  for (uint32_t i = 0; i < bank.rules.n; i++)
    NEAR(after[i], before[i], 1e-10);
}
END_TEST

// 40 sd away, nonsense and long silence must not give a NAN
START_TEST(numbers_stay_numbers)
{
  lzq_bank bank = fresh_bank(0.002, 0.2, 1e-4);
  lzq_bank_update(&bank, 5.0, 1e-6);
  lzq_bank_advance(&bank, 1e5);
  lzq_bank_update(&bank, 0.0, 1e-8);
  lzq_bank_dose(&bank, 0.1, NAN);
  lzq_bank_change(&bank, 1.0, 0.0, NAN);
  lzq_bank_update(&bank, 0.0, 1e-12);
  lzq_bank_forget(&bank);
  lzq_bank_moments m = lzq_bank_summary(&bank);
  ck_assert(isfinite(m.mean) && isfinite(m.sd) && isfinite(m.k_mean) && isfinite(m.s_mean));
  ck_assert(isfinite(lzq_bank_quantile(&bank, 0.9, LZQ_SCALE_TRUE)));
  lzq_bank_rules rules = lzq_bank_rules_default(NAN);
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, 0.0, 1e-8, 0), LZQ_BAD_INPUT);
  rules = lzq_bank_rules_default(0.2);
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, 0.0, 0.0, 0), LZQ_BAD_INPUT);
  rules.n = LZQ_GRID_MAX + 1;
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, 0.0, 1e-8, 0), LZQ_BAD_INPUT);
}
END_TEST

// A bank copied byte by byte goes on as the first one would: a checkpoint
START_TEST(checkpoint)
{
  lzq_bank bank = fresh_bank(0.002, 0.2, 1e-4), kept;
  lzq_bank_to(&bank, 600);
  memcpy(&kept, &bank, sizeof bank);
  lzq_bank_to(&bank, 1400);
  lzq_bank_update(&bank, 0.19, 1e-4);
  lzq_bank_to(&kept, 1400);
  lzq_bank_update(&kept, 0.19, 1e-4);
  ck_assert_int_eq(memcmp(&kept, &bank, sizeof bank), 0);
  ck_assert_int_eq(bank.at, 1400);
  lzq_bank_to(&bank, 1000); // back in time: nothing
  ck_assert_int_eq(memcmp(&kept, &bank, sizeof bank), 0);
}
END_TEST

START_TEST(suspect_readings)
{
  lzq_bank bank = fresh_bank(0.002, 0.2, 1e-4), before;
  const lzq_bank_reading good = {0.195, 0.01, 0.01, 0.01}, low = {0.10, 0.01, 0.01, 0.01},
                         same = {0.11, 0.01, 0.01, 0.01}, high = {0.40, 0.01, 0.01, 0.01};
  lzq_bank_advance(&bank, 8.0);
  ck_assert_int_eq(lzq_bank_read(&bank, &good), LZQ_READ_TAKEN);
  before = bank;
  ck_assert_int_eq(lzq_bank_read(&bank, &low), LZQ_READ_SUSPECT);
  NEAR(lzq_bank_summary(&bank).mean, lzq_bank_summary(&before).mean, 0.0); // has not moved
  lzq_bank wrong = bank, third = bank, dosed = bank;
  ck_assert_int_eq(lzq_bank_read(&bank, &same), LZQ_READ_JUMPED);
  NEAR(lzq_bank_summary(&bank).mean, 0.105, 0.01);
  ck_assert_int_eq(lzq_bank_read(&wrong, &good), LZQ_READ_CLEARED);
  NEAR(lzq_bank_summary(&wrong).mean, 0.195, 0.01);
  ck_assert_int_eq(lzq_bank_read(&third, &high), LZQ_READ_ASK_THIRD);
  NEAR(lzq_bank_summary(&third).mean, lzq_bank_summary(&before).mean, 0.0);
  // a dose of 0.08 because it read 0.10: the next reading tells whether that was true
  const lzq_bank_reading was_true = {0.18, 0.01, 0.01, 0.01}, was_wrong = {0.275, 0.01, 0.01, 0.01};
  lzq_bank_dose(&dosed, 0.08, NAN);
  lzq_bank_advance(&dosed, 2.0);
  lzq_bank dosed_wrong = dosed, emptied = dosed;
  ck_assert_int_eq(lzq_bank_read(&dosed, &was_true), LZQ_READ_JUMPED);
  NEAR(lzq_bank_summary(&dosed).mean, 0.18, 0.006);
  ck_assert_int_eq(lzq_bank_read(&dosed_wrong, &was_wrong), LZQ_READ_CLEARED);
  NEAR(lzq_bank_summary(&dosed_wrong).mean, 0.275, 0.006);
  lzq_bank_change(&emptied, 0.5, 0.0, NAN); // half of it changed: 0.09
  const lzq_bank_reading half = {0.09, 0.01, 0.01, 0.01};
  ck_assert_int_eq(lzq_bank_read(&emptied, &half), LZQ_READ_JUMPED);
  lzq_bank_forget(&third); // carbon: nothing is left to compare with
  ck_assert(!third.suspect.waiting);
  NEAR(lzq_reading_variance(&good), 1e-4 + 1.95e-3 * 1.95e-3 + 1e-4 / 12.0, 1e-15);
  // the edge lies at 3.5 sd
  const double z = 3.5, r = lzq_reading_variance(&good);
  lzq_bank narrow = fresh_bank(0.0, 0.2, 1e-8);
  lzq_bank_reading edge = good;
  edge.srel = 0.0;
  double sd = sqrt(1e-8 + r - (0.01 * 0.195) * (0.01 * 0.195));
  edge.y = 0.2 + (z - 0.01) * sd;
  ck_assert_int_eq(lzq_bank_read(&narrow, &edge), LZQ_READ_TAKEN);
  narrow = fresh_bank(0.0, 0.2, 1e-8);
  edge.y = 0.2 + (z + 0.01) * sd;
  ck_assert_int_eq(lzq_bank_read(&narrow, &edge), LZQ_READ_SUSPECT);
}
END_TEST

// A coarse display says an interval: the update is the truncated normal's moments, here by numeric
// integration
START_TEST(coarse_kit)
{
  lzq_bank_rules rules = lzq_bank_rules_default(2.0);
  rules.n = 1;
  const double k = 0.0, one = 1.0;
  lzq_bank bank;
  ck_assert_int_eq(lzq_bank_init_grid(&bank, &rules, &k, &one, 2.1, 0.04, 0), LZQ_OK);
  const lzq_bank_reading kit = {2.25, 0.01, 0.0, 0.25};
  double increment = lzq_bank_take(&bank, &kit);
  double mass = 0.0, mean = 0.0, square = 0.0;
  for (int i = 0; i < 400000; i++) {
    double x = 2.1 + 0.2 * (-8.0 + 16.0 * (i + 0.5) / 400000.0);
    double z = (x - 2.1) / 0.2;
    double p = exp(-0.5 * z * z) / sqrt(2.0 * 3.14159265358979) * 16.0 / 400000.0;
    p *= lzq_normal_below((2.375 - x) / 0.01) - lzq_normal_below((2.125 - x) / 0.01);
    mass += p;
    mean += p * x;
    square += p * x * x;
  }
  mean /= mass;
  NEAR(lzq_bank_summary(&bank).mean, mean, 1e-7);
  NEAR(lzq_bank_summary(&bank).sd, sqrt(square / mass - mean * mean), 1e-6);
  NEAR(increment, log(mass) - log(0.25), 1e-7);
}
END_TEST

// Two doses of 0.25 mg/L by the entered volume, and the level rose by 0.30 each time: the water is
// a sixth less
// The rate is the water's own once its readings have halved the doubt that the prior leaves: one
// reading says nothing about it, readings of a fall by the hour do. k = 0.0026 /h; a shift of the
// prior's middle to 0.004 is what an unread water is said to lose.
START_TEST(loss_is_known_by_readings_only)
{
  lzq_bank_rules rules = lzq_bank_rules_default(0.195);
  lzq_bank bank;
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, 0.2, 1e-4, 0), LZQ_OK);
  ck_assert(!lzq_bank_knows_loss(&bank));
  for (int i = 0; i <= 12; i++) {
    lzq_bank_to(&bank, i * 720);
    lzq_bank_take(&bank, &(lzq_bank_reading){0.2 * exp(-0.0026 * 12 * i), 0.003, 0.0, 0.001});
    if (i == 0)
      ck_assert(!lzq_bank_knows_loss(&bank));
  }
  ck_assert(lzq_bank_knows_loss(&bank));
  NEAR(lzq_bank_summary(&bank).k_mean, 0.0026, 0.001);
  lzq_bank_advance(&bank, 40 * 24); // unread for long, it is as unknown as at first
  ck_assert(!lzq_bank_knows_loss(&bank));
}
END_TEST

START_TEST(volume_learnt_from_doses)
{
  lzq_bank bank = fresh_bank(0.002, 0.0, 1e-8);
  double level = 0.0;
  for (int i = 0; i < 6; i++) {
    lzq_bank_dose(&bank, 0.25, NAN);
    level += 0.30;
    lzq_bank_advance(&bank, 1.0);
    lzq_bank_update(&bank, level, 1e-5);
  }
  lzq_learnt_volume volume = lzq_bank_volume(&bank, 1800.0);
  ck_assert(volume.differs);
  NEAR(volume.volume_l, 1800.0 / 1.2, 0.03 * 1500.0);
  // within a tenth nothing is said, however sure it is
  bank = fresh_bank(0.002, 0.0, 1e-8);
  level = 0.0;
  for (int i = 0; i < 6; i++) {
    lzq_bank_dose(&bank, 0.25, NAN);
    level += 0.25 * 1.08;
    lzq_bank_advance(&bank, 1.0);
    lzq_bank_update(&bank, level, 1e-6);
  }
  ck_assert(!lzq_bank_volume(&bank, 1800.0).differs);
  // nor is anything said while it is unsure
  lzq_bank_rules rules = lzq_bank_rules_default(0.19);
  rules.volume_sd = 0.5;
  ck_assert_int_eq(lzq_bank_init(&bank, &rules, 0.0, 1e-8, 0), LZQ_OK);
  lzq_bank_dose(&bank, 0.05, NAN);
  lzq_bank_update(&bank, 0.065, 1e-4);
  ck_assert(lzq_bank_summary(&bank).s_mean > 1.15);
  ck_assert(!lzq_bank_volume(&bank, 1800.0).differs);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("estimate");
  TCase *tcase = tcase_create("estimate");
  tcase_add_test(tcase, still_rates_are_the_limit);
  tcase_add_test(tcase, grid_and_prior);
  tcase_add_test(tcase, moving_keeps_the_moments);
  tcase_add_test(tcase, change_carries_its_doubt);
  tcase_add_test(tcase, prior_is_stationary);
  tcase_add_test(tcase, numbers_stay_numbers);
  tcase_add_test(tcase, checkpoint);
  tcase_add_test(tcase, suspect_readings);
  tcase_add_test(tcase, coarse_kit);
  tcase_add_test(tcase, loss_is_known_by_readings_only);
  tcase_add_test(tcase, volume_learnt_from_doses);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
