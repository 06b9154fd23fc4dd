// SPDX-License-Identifier: GPL-3.0-or-later
// What is in the water now: a bank of Kalman filters over irregular readings and recorded events,
// one bank for each (system, analyte) whose level decays. Forecasts on it: lzq_forecast.h. Salinity
// and temperature do not decay: lzq_trend.h.
//
// THE MODEL (docs/engine/estimate.md says why, and how well it is calibrated).
// Each point i of a grid of loss rates k_i (1/h) carries one Gaussian over [x, s]: x the level as
// the instrument shows it (mg/L), s the gain of a dose, (1 + instrument gain) V_entered / V_true.
// Points are weighted by prior and likelihood, and k drifts between neighbours (variance of ln k
// per hour: tau2).
//   predict: k moves; a = exp(-k dt); x = a x; Pxx = a^2 Pxx + s2 (1 - a^2)/(2k); Pxs = a Pxs
//   dose d:  x += d s; Pxx += 2 d Pxs + d^2 Pss + (d sd)^2; Pxs += d Pss      (d = mg / V_entered)
//   change:  x = (1-f) x + f r; Pxx = (1-f)^2 Pxx + q^2; Pxs = (1-f) Pxs
//   reading: the Kalman update with R = sa^2 + (srel y)^2 + res^2/12
// The decay with its noise is the exact discretisation of an Ornstein-Uhlenbeck process. The common
// gain of the instrument is not averaged away: it is added on output (scale LZQ_SCALE_TRUE). With
// tau2 = 0 the bank is the exact posterior of its grid.
//
// A bank is a plain value of fixed size: copy it, compare it, keep it as a checkpoint (same program
// and machine), throw it away. No call allocates. Times in a call are hours ahead (dt) or absolute
// minutes.
#ifndef LZQ_ESTIMATE_H
#define LZQ_ESTIMATE_H

#include <stdbool.h>

#include "lzq_model.h"
#include "lzq_status.h"

#define LZQ_GRID_MAX 33

// What the bank assumes. lzq_bank_rules_default gives the values that were measured; change them
// with care.
typedef struct {
  uint32_t n;        // grid points, 1..LZQ_GRID_MAX (25)
  double k_max;      // 1/h (0.04, that is 62 % a day)
  double k_middle;   // median of the prior on k, 1/h (0.004)
  double k_spread;   // sd of ln k in the prior (1.0)
  double k_zero;     // prior share of no loss at all (0.10)
  double tau2;       // variance of ln k per hour (0.002); 0 = k stands still
  double s2;         // noise of the level, (mg/L)^2 per hour: (0.001 c_ref)^2
  double c_ref;      // middle of the band, mg/L
  double volume_sd;  // of the entered volume, relative (0.03)
  double gain_sd;    // of the instrument's common gain, relative (0.02)
  double dose_sd;    // of one measured dose, relative (0.01)
  double change_sd;  // of one measured change, relative (0.03)
  double suspect_sd; // a reading further out than this many sd is suspect (3.5)
} lzq_bank_rules;

// c_ref: the middle of the band (or the target where only one edge is set), above 0.
lzq_bank_rules lzq_bank_rules_default(double c_ref);

typedef struct {
  double x, s;          // mean
  double pxx, pxs, pss; // covariance
  double l;             // log weight
} lzq_filter;

// A suspect reading that waits for the next one. `y` is taken along through time, doses and
// changes, so that a reading after a dose still tells whether the suspect one was true.
typedef struct {
  double y, sa, srel, res; // the reading and its instrument's error, see lzq_bank_reading
  double added;            // variance that taking it along has brought; 0 = read in this minute
  bool waiting;
} lzq_suspect;

typedef struct {
  lzq_bank_rules rules;
  double k[LZQ_GRID_MAX]; // rising
  double log_prior[LZQ_GRID_MAX];
  double up[LZQ_GRID_MAX];   // rate of moving from i to i+1, 1/h
  double down[LZQ_GRID_MAX]; // from i to i-1
  double fastest;            // the largest total rate
  lzq_filter f[LZQ_GRID_MAX];
  lzq_suspect suspect;   // a suspect reading that waits for its repeat
  lzq_minute at;         // what lzq_bank_to has reached
  double log_likelihood; // of all readings taken
  uint32_t readings;     // taken
} lzq_bank;

// A bank that knows level c0 with variance p0 at minute `at` (c0 known to be 0: p0 = 1e-8).
// LZQ_BAD_INPUT where a rule is not finite or out of its range.
lzq_status lzq_bank_init(lzq_bank *bank, const lzq_bank_rules *rules, double c0, double p0,
                         lzq_minute at);

// The same on a grid and prior of the caller's (rising k, prior above 0; it is scaled to sum 1),
// for reference series and other priors. rules->n points.
lzq_status lzq_bank_init_grid(lzq_bank *bank, const lzq_bank_rules *rules, const double *k,
                              const double *prior, double c0, double p0, lzq_minute at);

// --- time and events
// -------------------------------------------------------------------------------

// dt_h >= 0 hours pass with nothing done. Beyond 21 days the weights return to the prior and the
// level becomes uncertain by half of itself.
void lzq_bank_advance(lzq_bank *bank, double dt_h);

// Advances to minute `to`; earlier minutes do nothing.
void lzq_bank_to(lzq_bank *bank, lzq_minute to);

// `level` = mg / entered volume. sd_rel NAN = rules.dose_sd.
void lzq_bank_dose(lzq_bank *bank, double level, double sd_rel);

// Share 0..1 replaced by water of new_level. q = sd of the level that the change itself brings,
// mg/L; NAN = share * sqrt(change_sd^2 + volume_sd^2) * |new_level - x| in each filter.
void lzq_bank_change(lzq_bank *bank, double share, double new_level, double q);

// The level became unknown (carbon, resin, an unrecorded event): the next reading decides.
void lzq_bank_forget(lzq_bank *bank);

// Another volume is entered: the gain of a dose begins again at 1 with its prior.
void lzq_bank_new_volume(lzq_bank *bank);

// --- readings
// ---------------------------------------------------------------------------------------

// y and its error: sa absolute and srel relative sd, res the resolution (step of the display). A
// stated accuracy +-e is taken as one sd: makers seldom say what it covers, and too wide is the
// safe side.
typedef struct {
  double y, sa, srel, res;
} lzq_bank_reading;

double lzq_reading_variance(const lzq_bank_reading *reading);

typedef enum {
  LZQ_READ_TAKEN,     // as expected
  LZQ_READ_SUSPECT,   // too far out: kept, repeat asked for, the estimate has not moved
  LZQ_READ_JUMPED,    // agrees with the suspect one before, taken along through what was done
                      // since: the level did jump, both were taken
  LZQ_READ_CLEARED,   // as expected: the suspect one before was wrong
  LZQ_READ_ASK_THIRD, // neither agrees nor is expected: both stay suspect
} lzq_read_verdict;

// The two-sided probability of a reading at least this far out, under the mixture's prediction. A
// reading is suspect below 2 Phi(-suspect_sd).
double lzq_bank_surprise(const lzq_bank *bank, const lzq_bank_reading *reading);

// Judges and takes a reading. While one is suspect the next counts as its repeat. Two agree if
// |y2 - y| < 3 sqrt(R + R2), with y and R taken along through doses, changes and the learnt loss.
lzq_read_verdict lzq_bank_read(lzq_bank *bank, const lzq_bank_reading *reading);

// Takes it whatever it says (a person's decision, or a reference series). Returns the increment of
// the log-likelihood.
double lzq_bank_take(lzq_bank *bank, const lzq_bank_reading *reading);

// The update with a variance given outright.
double lzq_bank_update(lzq_bank *bank, double y, double r);

// --- what it holds
// ------------------------------------------------------------------------------------

typedef enum {
  LZQ_SCALE_SHOWN,
  LZQ_SCALE_TRUE
} lzq_scale; // what this instrument shows, or what is there

// Mixture cdf: probability that the level is below c.
double lzq_bank_below(const lzq_bank *bank, double c, lzq_scale scale);

// Level below which it lies with probability p (0..1), to 1e-14 of its sd, within 12 sd.
double lzq_bank_quantile(const lzq_bank *bank, double p, lzq_scale scale);

typedef struct {
  double mean, sd;     // of the level, as shown
  double k_mean, k_sd; // learnt loss rate, 1/h
  double s_mean, s_sd; // learnt gain of a dose
} lzq_bank_moments;

lzq_bank_moments lzq_bank_summary(const lzq_bank *bank);

// Whether the readings have taken at least half of the doubt about k away: its sd is at most half
// of the prior's. Before that the rate is the one usually assumed.
bool lzq_bank_knows_loss(const lzq_bank *bank);

// Weights, summing to 1; n = rules.n of them.
void lzq_bank_weights(const lzq_bank *bank, double *weights);

// The volume that the doses speak for, entered / s, with its sd. `differs` only where s is off by
// more than 2 sd and by more than a tenth: one instrument cannot tell a volume from its own gain,
// so no entered volume is ever changed by this.
typedef struct {
  double volume_l, sd_l;
  bool differs;
} lzq_learnt_volume;

lzq_learnt_volume lzq_bank_volume(const lzq_bank *bank, double entered_l);

// Standard normal cdf, accurate in both tails.
double lzq_normal_below(double z);

#endif
