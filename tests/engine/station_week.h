// SPDX-License-Identifier: GPL-3.0-or-later
// A simulated week of one water under copper: a truth that the estimator does not see, and the
// readings, doses and changes that it does. The truth model is ours, so coverage says "consistent
// with that world".
#ifndef LZ_STATION_WEEK_H
#define LZ_STATION_WEEK_H

#include "lzq_estimate.h"
#include "published.h"

typedef struct {
  const char *name;
  double target, edge;  // mg/L
  double sa, srel, res; // of the instrument
  double drift_sd;      // of ln k about its mean, correlated over 72 h
  double k_low, k_high; // 1/h: fixed if equal and above 0; else log-normal about 0.004 with sd 1, a
                        // tenth without loss
  double wrong_share;   // of readings that are simply wrong: times wrong_low or wrong_high by turns
  double wrong_low, wrong_high; // 0 = 0.3 and 2.0
  double unseen_share;          // of weeks with a 15 % dilution that nobody recorded
} week_kind;

// Counts of a run of weeks.
typedef struct {
  int n, in50, in80, in95;        // level at random times
  int exits, out50, out80, out95; // time of leaving the band
  int wrong, caught, good, flagged;
} week_counts;

// The truth of one water, a quarter of an hour at a time.
typedef struct {
  double c, log_k, drift; // level, mean of ln k, its drift about it
  bool lossless;
  double gain, volume; // instrument gain, true over entered volume
} station_truth;

#define STATION_STEP_H 0.25

station_truth station_truth_start(const week_kind *kind, published_random *random);
void station_truth_step(station_truth *truth, const week_kind *kind, published_random *random);
lzq_bank_reading station_measure(const station_truth *truth, const week_kind *kind,
                                 published_random *random);
void station_give(station_truth *truth, lzq_bank *bank, double level, published_random *random);

// Plays one week of 9 days and adds to the counts.
void station_week(const week_kind *kind, published_random *random, week_counts *counts);

#endif
