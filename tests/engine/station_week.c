// SPDX-License-Identifier: GPL-3.0-or-later
// The simulated week: truth, instrument, and the station that tops up to its target at each test.
#include "station_week.h"

#include <stdlib.h>

#include "lzq_forecast.h"

#define LAST_H    216.0
#define DRIFT_H   72.0
#define CHANGE    0.12 // of the volume, once in the week
#define LEVEL_RHO 0.001

station_truth
station_truth_start(const week_kind *kind, published_random *random)
{
  station_truth t = {.drift = kind->drift_sd * published_normal(random),
                     .gain = 1.0 + 0.02 * published_normal(random),
                     .volume = 1.0 + 0.03 * published_normal(random)};
  if (kind->k_low > 0.0) {
    t.log_k = published_uniform(random, log(kind->k_low), log(kind->k_high));
  } else {
    t.lossless = published_uniform(random, 0.0, 1.0) < 0.10;
    do
      t.log_k = log(0.004) + published_normal(random);
    while (exp(t.log_k) > 0.03);
  }
  return t;
}

void
station_truth_step(station_truth *t, const week_kind *kind, published_random *random)
{
  double a = exp(-STATION_STEP_H / DRIFT_H), k = t->lossless ? 0.0 : exp(t->log_k + t->drift);
  t->drift = a * t->drift + kind->drift_sd * sqrt(1.0 - a * a) * published_normal(random);
  t->c = t->c * exp(-k * STATION_STEP_H) +
         LEVEL_RHO * kind->target * sqrt(STATION_STEP_H) * published_normal(random);
  t->c = fmax(t->c, 0.0);
}

lzq_bank_reading
station_measure(const station_truth *t, const week_kind *kind, published_random *random)
{
  double y = t->c * t->gain * (1.0 + kind->srel * published_normal(random)) +
             kind->sa * published_normal(random);
  return (lzq_bank_reading){fmax(nearbyint(y / kind->res) * kind->res, 0.0), kind->sa, kind->srel,
                            kind->res};
}

void
station_give(station_truth *t, lzq_bank *bank, double level, published_random *random)
{
  t->c += level / t->volume * (1.0 + 0.01 * published_normal(random));
  lzq_bank_dose(bank, level, NAN);
}

static void
change(station_truth *t, lzq_bank *bank, published_random *random)
{
  t->c *= 1.0 - CHANGE / t->volume * (1.0 + 0.03 * published_normal(random));
  lzq_bank_change(bank, CHANGE, 0.0, NAN);
}

static void
count_level(const lzq_bank *bank, double c, week_counts *counts)
{
  double off = fabs(lzq_bank_below(bank, c, LZQ_SCALE_TRUE) - 0.5);
  counts->n++;
  counts->in50 += off < 0.25;
  counts->in80 += off < 0.40;
  counts->in95 += off < 0.475;
}

// A reading at a round: a suspect one is repeated at once, as the program asks, at most twice.
static void
test_round(station_truth *t, lzq_bank *bank, const week_kind *kind, published_random *random,
           week_counts *counts)
{
  for (int i = 0; i < 3; i++) {
    lzq_bank_reading reading = station_measure(t, kind, random);
    bool wrong = published_uniform(random, 0.0, 1.0) < kind->wrong_share;
    double low = kind->wrong_low > 0.0 ? kind->wrong_low : 0.3;
    double high = kind->wrong_high > 0.0 ? kind->wrong_high : 2.0;
    if (wrong)
      reading.y *= published_uniform(random, 0.0, 1.0) < 0.5 ? low : high;
    lzq_read_verdict verdict = lzq_bank_read(bank, &reading);
    bool flagged = verdict == LZQ_READ_SUSPECT || verdict == LZQ_READ_ASK_THIRD;
    if (i == 0) {
      *(wrong ? &counts->wrong : &counts->good) += 1;
      *(wrong ? &counts->caught : &counts->flagged) += flagged;
    }
    if (!flagged)
      return;
  }
}

// Nothing is given any more: when does the truth leave, and what chance was given to leaving by
// then?
static void
count_exit(const station_truth *start, const lzq_bank *bank, const week_kind *kind,
           published_random *random, week_counts *counts)
{
  station_truth t = *start;
  double hours = 0.0;
  while (t.c >= kind->edge && hours < LZQ_HORIZON_H) {
    station_truth_step(&t, kind, random);
    hours += STATION_STEP_H;
  }
  double chance = lzq_forecast_chance(bank, kind->edge, hours);
  if (hours == 0.0 ||
      hours >= LZQ_HORIZON_H) { // out already, or not within 14 days: anywhere in that mass
    double low = hours == 0.0 ? 0.0 : chance, high = hours == 0.0 ? chance : 1.0;
    chance = published_uniform(random, low, high);
  }
  double off = fabs(chance - 0.5);
  counts->exits++;
  counts->out50 += off < 0.25;
  counts->out80 += off < 0.40;
  counts->out95 += off < 0.475;
}

void
station_week(const week_kind *kind, published_random *random, week_counts *counts)
{
  station_truth t = station_truth_start(kind, random);
  lzq_bank_rules rules = lzq_bank_rules_default(kind->target);
  lzq_bank bank;
  if (lzq_bank_init(&bank, &rules, 0.0, 1e-8, 0) != LZQ_OK)
    abort();
  double next_test = 30.0 + published_uniform(random, 0.0, 6.0), at = 0.0;
  double change_at = published_uniform(random, 60.0, 190.0);
  double unseen_at = published_uniform(random, 0.0, 1.0) < kind->unseen_share
                         ? published_uniform(random, 60.0, 190.0)
                         : 1e9;
  double look_at = 30.0 + published_uniform(random, 0.0, 16.0), told = 0.0;
  int rises = 0;
  for (; at < LAST_H; at += STATION_STEP_H) {
    bool due[4] = {rises < 3 && at >= 0.5 + 12.0 * rises, at >= change_at, at >= next_test,
                   at >= look_at};
    if (due[0] || due[1] || due[2] || due[3]) {
      lzq_bank_advance(&bank, at - told);
      told = at;
    }
    if (due[3]) {
      count_level(&bank, t.c, counts);
      look_at += published_uniform(random, 6.0, 32.0);
    }
    if (due[0]) {
      station_give(&t, &bank, kind->target / 3.0, random);
      rises++;
    }
    if (due[1]) {
      change(&t, &bank, random);
      change_at = 1e9;
    }
    if (at >= unseen_at) {
      t.c *= 0.85;
      unseen_at = 1e9;
    }
    if (due[2]) {
      test_round(&t, &bank, kind, random, counts);
      double lack = kind->target - lzq_bank_summary(&bank).mean;
      if (lack > 0.02 * kind->target)
        station_give(&t, &bank, lack, random);
      next_test += published_uniform(random, 8.0, 16.0);
    }
    station_truth_step(&t, kind, random);
  }
  lzq_bank_advance(&bank, at - told);
  count_exit(&t, &bank, kind, random, counts);
}
