// SPDX-License-Identifier: GPL-3.0-or-later
// Salinity and temperature: what does not decay to zero.
//
// Temperature: a local level that is drawn back to its set point, x' = set + (x - set) exp(-pull
// dt) + noise; with pull = 0 it is the local level model of Durbin & Koopman (2012, Time Series
// Analysis by State Space Methods, 2nd ed., ch. 2), and is tested on their Nile series. Salinity:
// salt stays, water goes. Two states, salinity S and evaporation g (share of the volume an hour,
// shown as litres a day, never below 0): dS/dt = g S, an extended Kalman filter; g wanders in
// proportion to itself, like the loss rate of copper. A top-up of v litres of r: S' = S (V - v)/V +
// r v/V, taken as bringing the water back to its mark V.
#ifndef LZQ_TREND_H
#define LZQ_TREND_H

#include <stdbool.h>

#include "lzq_model.h"

// --- temperature
// --------------------------------------------------------------------------------------

typedef struct {
  double x, p; // mean and variance
  double q;    // noise, variance per hour
  double pull; // 1/h, back to the set point; 0 = none
  double set;  // set point, used if pull > 0
  double log_likelihood;
} lzq_local_level;

// A temperature about its set point, °C: pulled back within about 6 h, sd of the swing 0.3 °C
// (common practice, no source).
lzq_local_level lzq_temperature_level(double set_point_c);

void lzq_local_level_advance(lzq_local_level *level, double dt_h);

// A reading of variance r. Returns the increment of the log-likelihood.
double lzq_local_level_update(lzq_local_level *level, double y, double r);

// Standardised distance of a reading from its prediction, in sd.
double lzq_local_level_off(const lzq_local_level *level, double y, double r);

// --- salinity
// -----------------------------------------------------------------------------------------

typedef struct {
  double s, g;          // salinity, and share of the water that evaporates an hour
  double pss, psg, pgg; // covariance
  double qs;            // noise of the salinity, its variance per hour
  double tau2;          // variance of ln g per hour
  double log_likelihood;
} lzq_salt_level;

// First reading s with variance r. Evaporation starts at 0.5 % a day +- 0.5 % (common practice, no
// source).
lzq_salt_level lzq_salt_start(double s, double r);

void lzq_salt_advance(lzq_salt_level *salt, double dt_h);
// A share 0..1 replaced, or poured in on top of what has evaporated (new_salinity 0 = fresh water).
void lzq_salt_change(lzq_salt_level *salt, double share, double new_salinity, double sd_rel);
void lzq_salt_add(lzq_salt_level *salt, double grams, double volume_l, double sd_rel);
double lzq_salt_update(lzq_salt_level *salt, double y, double r);
double lzq_salt_off(const lzq_salt_level *salt, double y, double r);

// Evaporation as learnt, litres a day, never below 0.
double lzq_salt_evaporation_l_day(const lzq_salt_level *salt, double volume_l);

// Quantile of either: mean + z sd with z of probability p.
double lzq_trend_quantile(double mean, double variance, double p);

#endif
