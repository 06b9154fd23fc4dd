// SPDX-License-Identifier: GPL-3.0-or-later
// The bank against reference series whose values come from dense Gaussians (no filter code), and
// against the irregular decay series, its likelihoods and its best loss rate.
#include "lzq_estimate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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

int
main(void)
{
  Suite *suite = suite_create("series");
  TCase *tcase = tcase_create("series");
  tcase_add_loop_test(tcase, reference_series, 0, 3);
  tcase_add_test(tcase, irregular_decay);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
