// SPDX-License-Identifier: GPL-3.0-or-later
// The local level on the Nile, its coverage as a thermometer, and salinity with evaporation.
#include "lzq_trend.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "published.h"

// Annual flow of the Nile at Aswan 1871-1970, 10^8 m3: Cobb (1978) Biometrika 65:243-251, as
// distributed with R (datasets::Nile) and statsmodels; n = 100, sum 91935.
static const double nile[100] = {
    1120, 1160, 963, 1210, 1160, 1160, 813,  1230, 1370, 1140, 995,  935,  1110, 994,  1020,
    960,  1180, 799, 958,  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774,  840,
    874,  694,  940, 833,  701,  916,  692,  1020, 1050, 969,  831,  726,  456,  824,  702,
    1120, 1100, 832, 764,  821,  768,  845,  864,  862,  698,  845,  744,  796,  1040, 759,
    781,  865,  845, 944,  984,  897,  822,  1010, 771,  676,  649,  846,  812,  742,  801,
    1040, 860,  874, 848,  890,  744,  749,  838,  1050, 918,  986,  797,  923,  975,  815,
    1020, 906,  901, 1170, 912,  746,  919,  718,  714,  740};

// Durbin & Koopman (2012) section 2.2.5: variances 15099 and 1469.1; a "year" is the unit of time
// here
#define EPS2 15099.0
#define ETA2 1469.1

static bool
missing(int i)
{
  return (i >= 20 && i < 40) || (i >= 60 && i < 80);
}

// Filters the series; filtered, predicted and variance may be NULL. Log-likelihood without the
// first observation.
static double
filter_nile(lzq_local_level *level, bool gaps, double *filtered, double *predicted,
            double *variance)
{
  double sum = 0.0;
  for (int i = 0; i < 100; i++) {
    if (i > 0)
      lzq_local_level_advance(level, 1.0);
    predicted[i] = level->x;
    variance[i] = level->p;
    if (!(gaps && missing(i))) {
      double increment = lzq_local_level_update(level, nile[i], EPS2);
      sum += i > 0 ? increment : 0.0;
    }
    filtered[i] = level->x;
  }
  return sum;
}

START_TEST(nile_with_a_wide_prior)
{
  double x[100], a[100], p[100], total = 0.0;
  for (int i = 0; i < 100; i++)
    total += nile[i];
  NEAR(total, 91935.0, 0.0);
  lzq_local_level level = {.x = 0.0, .p = 1e7, .q = ETA2};
  NEAR(filter_nile(&level, false, x, a, p), -632.5442122783, 1e-9); // own scalar filter [C]
  NEAR(x[99], 798.3702926083, 1e-9);                                // [C, 2x]
  NEAR(p[99], 5501.25794181, 1e-7);                                 // steady state [C, 2x]
  level = (lzq_local_level){.x = 0.0, .p = 1e7, .q = ETA2};
  NEAR(filter_nile(&level, true, x, a, p), -380.5856113, 5e-8); // 21-40 and 61-80 missing [C]
  NEAR(a[40], 1026.1414, 2.5e-3); // statsmodels starts wider: 1026.1414 [C]
  NEAR(p[20], 5501.296, 5e-4);
}
END_TEST

START_TEST(time_adds_up)
{
  lzq_local_level once = {.x = 25.0, .p = 0.1, .q = 0.03}, twice = once;
  lzq_local_level_advance(&once, 5.0);
  lzq_local_level_advance(&twice, 2.0);
  lzq_local_level_advance(&twice, 3.0);
  NEAR(once.p, 0.1 + 5.0 * 0.03, 1e-12);
  NEAR(twice.p, once.p, 1e-12);
  lzq_local_level pulled = lzq_temperature_level(25.0), parts;
  pulled.x = 27.0;
  parts = pulled;
  lzq_local_level_advance(&pulled, 5.0);
  lzq_local_level_advance(&parts, 2.0);
  lzq_local_level_advance(&parts, 3.0);
  NEAR(parts.x, pulled.x, 1e-12);
  NEAR(parts.p, pulled.p, 1e-12);
}
END_TEST

// Exact diffuse start: the first reading is the level, its variance the reading's
START_TEST(nile_diffuse)
{
  double x[100], a[100], p[100], sum = 0.0;
  lzq_local_level level = {.x = nile[0], .p = EPS2, .q = ETA2};
  x[0] = level.x;
  for (int i = 1; i < 100; i++) {
    lzq_local_level_advance(&level, 1.0);
    sum += lzq_local_level_update(&level, nile[i], EPS2);
    x[i] = level.x;
  }
  NEAR(sum, -632.5456251157, 1e-9); // statsmodels 0.13.5, exact diffuse [C]
  const struct {
    int t;
    double filtered;
  } printed[] = {{1, 1120.0},         {2, 1140.92783993}, {3, 1072.79852953},
                 {10, 1162.90261546}, {50, 849.0705662},  {100, 798.37029261}};
  for (int i = 0; i < 6; i++) // statsmodels [C]; the last also by another filter (2x)
    NEAR(x[printed[i].t - 1], printed[i].filtered, 1e-7);
  level = (lzq_local_level){.x = nile[0], .p = EPS2, .q = ETA2};
  sum = 0.0;
  for (int i = 1; i < 100; i++) {
    lzq_local_level_advance(&level, 1.0);
    a[i] = level.x;
    p[i] = level.p;
    if (!missing(i))
      sum += lzq_local_level_update(&level, nile[i], EPS2);
  }
  NEAR(sum, -380.5870628, 5e-8); // statsmodels [C]
  NEAR(a[20], 1026.1414, 2e-4);
  NEAR(p[40], 34883.296, 1e-2);
}
END_TEST

// How much is played, and from which seed: LZ_STATION_WEEKS and LZ_SEED, else what is given.
static uint64_t
told(const char *name, uint64_t usual)
{
  const char *text = getenv(name);
  return text ? strtoull(text, NULL, 10) : usual;
}

#define TEMPERATURE_WEEKS (60 * 7.5 / 168) // of one run: so many looks, so many hours apart
#define SALT_WEEKS        4

// A temperature that wanders about 25 °C, read twice a day: 80 % and 95 % intervals of the level
// cover
START_TEST(temperature_covers)
{
  published_random random = published_seed("temperature", told("LZ_SEED", 20270310));
  const int runs = (int)ceil((double)told("LZ_STATION_WEEKS", 1072) / TEMPERATURE_WEEKS);
  int in50 = 0, in80 = 0, in95 = 0, n = 0;
  for (int run = 0; run < runs; run++) {
    lzq_local_level level = lzq_temperature_level(25.0);
    double truth = 25.0 + 0.3 * published_normal(&random);
    for (int step = 0; step < 60; step++) {
      double dt = published_uniform(&random, 1.0, 14.0), a = exp(-dt / 6.0);
      truth = 25.0 + a * (truth - 25.0) + 0.3 * sqrt(1.0 - a * a) * published_normal(&random);
      lzq_local_level_advance(&level, dt);
      double z = fabs(truth - level.x) / sqrt(level.p);
      in50 += z < 0.6744897502;
      in80 += z < 1.2815515655;
      in95 += z < 1.9599639845;
      n++;
      if (step % 2)
        lzq_local_level_update(&level, truth + 0.1 * published_normal(&random), 0.01);
    }
  }
  printf("temperature, %.0f station-weeks: %d looks, %.1f %.1f %.1f %%\n", runs * TEMPERATURE_WEEKS,
         n, 100.0 * in50 / n, 100.0 * in80 / n, 100.0 * in95 / n);
  NEAR((double)in50 / n, 0.50, 0.02);
  NEAR((double)in80 / n, 0.80, 0.02);
  NEAR((double)in95 / n, 0.95, 0.02);
}
END_TEST

// 2,000 L under a lamp, topped up to its mark every third day, read twice a day.
typedef struct {
  double lost_l_day, spread; // median over waters, sd of its logarithm
  double wanders;            // sd of ln of the rate about its mean, correlated over 72 h
  double accuracy, step;     // of the instrument; step 0 = reads between its marks
} salt_kind;

typedef struct {
  int n, in50, in80, in95;
  double rate_l_day; // learnt at the end, mean
} salt_counts;

#define SALT_VOLUME 2000.0

static double
salt_read(const salt_kind *kind, double s, published_random *random)
{
  double y = s + kind->accuracy * published_normal(random);
  return kind->step > 0.0 ? round(y / kind->step) * kind->step : y;
}

// Half a day of it, an hour at a time. Returns what is left of the water.
static double
salt_evaporate(const salt_kind *kind, double water, double l_day, double *drift,
               published_random *random)
{
  const double keeps = exp(-1.0 / 72.0);
  for (int hour = 0; hour < 12; hour++) {
    *drift = keeps * *drift + kind->wanders * sqrt(1 - keeps * keeps) * published_normal(random);
    water -= l_day / 24.0 * exp(*drift - 0.5 * kind->wanders * kind->wanders);
  }
  return water;
}

static void
salt_weeks(const salt_kind *kind, published_random *random, salt_counts *counts)
{
  double water = SALT_VOLUME, salt = 34.0 * SALT_VOLUME;
  double l_day = kind->lost_l_day * exp(kind->spread * published_normal(random));
  double drift = kind->wanders * published_normal(random);
  double r = kind->accuracy * kind->accuracy + kind->step * kind->step / 12.0;
  lzq_salt_level level = lzq_salt_start(salt_read(kind, 34.0, random), r);
  for (int half = 1; half <= 56; half++) {
    water = salt_evaporate(kind, water, l_day, &drift, random);
    salt *= 1.0 + 0.02 / 34.0 * sqrt(0.5) * published_normal(random); // splash, skimming, food
    lzq_salt_advance(&level, 12.0);
    double s = salt / water, z = fabs(s - level.s) / sqrt(level.pss);
    counts->in50 += z < 0.6744897502;
    counts->in80 += z < 1.2815515655;
    counts->in95 += z < 1.9599639845;
    counts->n++;
    lzq_salt_update(&level, salt_read(kind, s, random), r);
    if (half % 6 == 0) { // poured to the mark; what is written down is off by 3 %
      double poured = (SALT_VOLUME - water) * (1.0 + 0.03 * published_normal(random));
      water = SALT_VOLUME;
      lzq_salt_change(&level, poured / SALT_VOLUME, 0.0, 0.03);
    }
  }
  counts->rate_l_day += lzq_salt_evaporation_l_day(&level, SALT_VOLUME);
}

static salt_counts
salt_run(const salt_kind *kind)
{
  published_random random = published_seed("evaporation", told("LZ_SEED", 20270311));
  const int runs = (int)((told("LZ_STATION_WEEKS", 2000) + SALT_WEEKS - 1) / SALT_WEEKS);
  salt_counts counts = {0};
  for (int run = 0; run < runs; run++)
    salt_weeks(kind, &random, &counts);
  counts.rate_l_day /= runs;
  printf(
      "salinity, %.0f L a day, sd of its drift %.1f, accuracy %.1f, step %.1f, %d station-weeks: "
      "%d looks, %.1f %.1f %.1f %%, learnt %.1f L a day\n",
      kind->lost_l_day, kind->wanders, kind->accuracy, kind->step, runs * SALT_WEEKS, counts.n,
      100.0 * counts.in50 / counts.n, 100.0 * counts.in80 / counts.n,
      100.0 * counts.in95 / counts.n, counts.rate_l_day);
  return counts;
}

static void
salt_is_covered(const salt_kind *kind, double tolerance)
{
  salt_counts c = salt_run(kind);
  NEAR((double)c.in50 / c.n, 0.50, tolerance);
  NEAR((double)c.in80 / c.n, 0.80, tolerance);
  NEAR((double)c.in95 / c.n, 0.95, tolerance);
}

// Evaporation that wanders as copper's loss does: the intervals of the level hold within 2 %.
START_TEST(salinity_is_covered)
{
  salt_is_covered(&(salt_kind){10, 0.5, 0.3, 0.1, 0}, 0.02);
  salt_is_covered(&(salt_kind){18, 0.0, 0.3, 0.1, 0}, 0.02);
  salt_is_covered(&(salt_kind){10, 1.0, 0.3, 0.1, 0}, 0.02);
  // an instrument of +-0.3 tells less about the rate than its prior: a little wide
  salt_is_covered(&(salt_kind){10, 0.5, 0.3, 0.3, 0}, 0.04);
  salt_is_covered(&(salt_kind){10, 0.5, 0.3, 0.3, 1.0}, 0.045);
}
END_TEST

// A rate that never changes is learnt; the intervals allow for one that does, and are wide.
START_TEST(evaporation_is_learnt)
{
  salt_counts c = salt_run(&(salt_kind){18, 0, 0, 0.1, 0});
  NEAR(c.rate_l_day, 18.0, 1.0);
  ck_assert((double)c.in80 / c.n > 0.80 && (double)c.in95 / c.n > 0.95);
}
END_TEST

START_TEST(salt_events_are_exact)
{
  lzq_salt_level level = lzq_salt_start(34.0, 1e-12);
  lzq_salt_level doubt = lzq_salt_start(34.0, 0.01);
  lzq_salt_change(&doubt, 0.25, 0.0, 0.02);
  NEAR(doubt.pss, 0.75 * 0.75 * 0.01 + pow(0.25 * 0.02 * 34.0, 2.0), 1e-12);
  lzq_salt_change(&level, 257.0 / 1800.0, 0.0, 0.01);
  NEAR(level.s, 29.1455556, 1e-6);
  lzq_salt_add(&level, 1800.0, 1800.0, 0.01); // a kilogram and 0.8 more: 1 g/L
  NEAR(level.s, 30.1455556, 1e-6);
  level = lzq_salt_start(34.0, 1e-12);
  level.g = 0.0;
  level.pgg = level.qs = level.tau2 = 0.0;
  lzq_salt_advance(&level, 1000.0);
  NEAR(level.s, 34.0, 0.0); // salt does not decay
  lzq_salt_update(&level, 20.0, 1.0);
  ck_assert(lzq_salt_evaporation_l_day(&level, 1800.0) >= 0.0);
  NEAR(lzq_trend_quantile(34.0, 0.04, 0.90), 34.0 + 0.2 * 1.2815515655, 1e-9);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("trend");
  TCase *tcase = tcase_create("trend");
  tcase_add_test(tcase, nile_with_a_wide_prior);
  tcase_add_test(tcase, nile_diffuse);
  tcase_add_test(tcase, time_adds_up);
  tcase_add_test(tcase, temperature_covers);
  tcase_add_test(tcase, salinity_is_covered);
  tcase_add_test(tcase, evaporation_is_learnt);
  tcase_add_test(tcase, salt_events_are_exact);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
