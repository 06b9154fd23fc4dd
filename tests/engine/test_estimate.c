// SPDX-License-Identifier: GPL-3.0-or-later
// The bank against reference series whose values come from dense Gaussians (no filter code),
// against the irregular decay series and its likelihoods, and its rules for suspect readings.
#include "lzq_estimate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "lzq_forecast.h"
#include "published.h"

typedef struct {
  const char *name;
  double c0, p0, s_var, s2, edge; // first line of the series' input file
} series;

// tests/data/published/series: dense Gaussian per loss rate, tau2 = 0 [C]
static const series all_series[] = {
    {"s1_check", 0.5, 0.01, 1e-12, 1e-5, 0.2},
    {"s2_photometer", 0.0, 1e-8, 0.0013, 5.0625e-6, 0.763},
    {"s3_ionic_small", 0.0, 1e-8, 0.0013, 3.24e-8, 0.15},
};

static published_row *
part(const series *s, const char *what, size_t *n)
{
  char name[64];
  snprintf(name, sizeof name, "series/%s_%s.csv", s->name, what);
  return published_read(name, n);
}

static void
start(const series *s, lzq_bank *bank, published_row *grid, size_t n)
{
  double k[LZQ_GRID_MAX], prior[LZQ_GRID_MAX];
  lzq_bank_rules rules = lzq_bank_rules_default(1.0);
  rules.n = (uint32_t)n;
  rules.tau2 = 0.0;
  rules.s2 = s->s2;
  rules.volume_sd = sqrt(s->s_var);
  rules.gain_sd = 0.0;
  for (size_t i = 0; i < n; i++) {
    k[i] = grid[i].n[0];
    prior[i] = grid[i].n[1];
  }
  ck_assert_int_eq(lzq_bank_init_grid(bank, &rules, k, prior, s->c0, s->p0, 0), LZQ_OK);
}

static void
expect(const lzq_bank *bank, double increment, const published_row *row)
{
  lzq_bank_moments m = lzq_bank_summary(bank);
  const double *n = row->n;
  NEAR(increment, n[3], 1e-9);
  NEAR(bank->log_likelihood, n[4], 1e-9);
  NEAR(m.mean, n[5], 1e-9);
  NEAR(m.sd, n[6], 1e-9);
  const double p[] = {0.05, 0.10, 0.50, 0.90, 0.95};
  for (int i = 0; i < 5; i++)
    NEAR(lzq_bank_quantile(bank, p[i], LZQ_SCALE_SHOWN), n[7 + i], 1e-9);
  NEAR(m.k_mean, n[12], 1e-9);
  NEAR(m.s_mean, n[13], 1e-9);
  NEAR(m.s_sd, n[14], 1e-9);
}

START_TEST(reference_series)
{
  const series *s = &all_series[_i];
  size_t n_grid, n_input, n_expected, n_forecast, seen = 0;
  published_row *grid = part(s, "grid", &n_grid), *input = part(s, "input", &n_input);
  published_row *expected = part(s, "expected", &n_expected);
  published_row *forecast = part(s, "forecast", &n_forecast);
  lzq_bank bank;
  start(s, &bank, grid, n_grid);
  double at = 0.0;
  for (size_t i = 0; i < n_input; i++) {
    const double *n = input[i].n;
    lzq_bank_advance(&bank, n[0] - at);
    at = n[0];
    if (strcmp(input[i].text[1], "dose") == 0)
      lzq_bank_dose(&bank, n[2], n[3]);
    else if (strcmp(input[i].text[1], "change") == 0)
      lzq_bank_change(&bank, n[2], n[3], n[4]);
    else {
      double increment = lzq_bank_update(&bank, n[2], n[3]);
      ck_assert(seen < n_expected);
      expect(&bank, increment, &expected[seen++]);
    }
  }
  ck_assert_uint_eq(seen, n_expected);
  double weights[LZQ_GRID_MAX], sum = 0.0;
  lzq_bank_weights(&bank, weights);
  for (size_t i = 0; i < n_grid; i++) {
    NEAR(weights[i], grid[i].n[2], 1e-9);
    sum += weights[i];
  }
  NEAR(sum, 1.0, 1e-12);
  for (size_t i = 0; i < n_forecast; i++) {
    lzq_bank ahead = bank;
    lzq_bank_advance(&ahead, forecast[i].n[1]);
    NEAR(lzq_bank_summary(&ahead).mean, forecast[i].n[2], 1e-9);
    NEAR(lzq_bank_below(&ahead, s->edge, LZQ_SCALE_SHOWN), forecast[i].n[3], 1e-9);
  }
  free(grid);
  free(input);
  free(expected);
  free(forecast);
}
END_TEST

// Irregular times with decay, Ornstein-Uhlenbeck exact: filter and dense Gaussian (scipy) agree to
// 1e-12 [C, 2x]
static double
log_likelihood_at(double k, lzq_bank *bank)
{
  const double t[] = {0, 5, 12, 24, 30, 48, 49.5, 72, 96, 97, 120};
  const double y[] = {.512, .497, .470, .438, .415, .372, .366, .301, .262, .255, .219};
  const double one = 1.0;
  lzq_bank_rules rules = lzq_bank_rules_default(0.5);
  rules.n = 1;
  rules.s2 = 1e-5;
  ck_assert_int_eq(lzq_bank_init_grid(bank, &rules, &k, &one, 0.5, 0.01, 0), LZQ_OK);
  for (int i = 0; i < 11; i++) {
    lzq_bank_advance(bank, i ? t[i] - t[i - 1] : 0.0);
    lzq_bank_update(bank, y[i], 1e-4);
    if (i == 0 && k == 0.007) {
      NEAR(bank->f[0].x, 0.5118811881, 5e-11);
      NEAR(bank->f[0].pxx, 9.9009901e-5, 5e-13);
    }
  }
  return bank->log_likelihood;
}

START_TEST(irregular_decay)
{
  lzq_bank bank;
  NEAR(log_likelihood_at(0.001, &bank), 8.0381184458, 1e-9);
  NEAR(log_likelihood_at(0.004, &bank), 26.7169714905, 1e-9);
  NEAR(log_likelihood_at(0.010, &bank), 27.6712811311, 1e-9);
  NEAR(log_likelihood_at(0.020, &bank), -70.3601085530, 1e-9);
  NEAR(log_likelihood_at(0.007, &bank), 33.1687775828, 1e-9);
  NEAR(bank.f[0].x, 0.2189778566, 1e-10);
  NEAR(bank.f[0].pxx, 6.9604308e-5, 5e-13);
  // the best k by golden section
  double low = 0.004, high = 0.010, ratio = 0.6180339887498949;
  for (int i = 0; i < 60; i++) {
    double a = high - ratio * (high - low), b = low + ratio * (high - low);
    if (log_likelihood_at(a, &bank) > log_likelihood_at(b, &bank))
      high = b;
    else
      low = a;
  }
  NEAR(low, 0.00710464917, 2e-9);
  NEAR(log_likelihood_at(low, &bank), 33.1760506428, 1e-9);
  NEAR(log(2.0) / low, 97.5625, 5e-5);
}
END_TEST

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
  lzq_bank_advance(&bank, 22.0 * 24.0);
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
  lzq_bank_dose(&dosed, 0.01, NAN); // an event ends the wait for a repeat
  ck_assert_int_eq(lzq_bank_read(&dosed, &same), LZQ_READ_SUSPECT);
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
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("estimate");
  TCase *tcase = tcase_create("estimate");
  tcase_add_loop_test(tcase, reference_series, 0, 3);
  tcase_add_test(tcase, irregular_decay);
  tcase_add_test(tcase, still_rates_are_the_limit);
  tcase_add_test(tcase, prior_is_stationary);
  tcase_add_test(tcase, numbers_stay_numbers);
  tcase_add_test(tcase, checkpoint);
  tcase_add_test(tcase, suspect_readings);
  tcase_add_test(tcase, coarse_kit);
  tcase_add_test(tcase, volume_learnt_from_doses);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
