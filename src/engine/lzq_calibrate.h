// SPDX-License-Identifier: GPL-3.0-or-later
// An instrument against its standards: is it off by the same amount everywhere (zero), in
// proportion (slope), or both? Straight line reading = zero + slope * truth by least squares;
// arithmetic, no published source.
//
// One standard cannot tell the two apart: a refractometer set to 0 in pure water that reads 33 in a
// standard of 35 has a slope error, and taking the 2 off every reading would be wrong by 0.8 at 21.
// What one standard leaves open is answered as a range.
#ifndef LZQ_CALIBRATE_H
#define LZQ_CALIBRATE_H

#include <stdbool.h>
#include <stdint.h>

#include "lzq_status.h"

typedef struct {
  double truth, reading;
} lzq_standard;

typedef struct {
  double zero, slope; // reading = zero + slope * truth
  bool told_apart; // two or more different standards; else zero and slope are one assumption each:
                   // zero = reading - truth with slope 1, and `slope_alone` with zero 0
  double slope_alone; // NAN where the one standard is 0
  double worst;       // largest distance of a standard from the line
} lzq_calibration;

// LZQ_BAD_INPUT: no standard, or one that is not finite; LZQ_OUT_OF_RANGE: a slope that is not
// above 0.
lzq_status lzq_calibrate(const lzq_standard *standards, uint32_t n, lzq_calibration *out);

typedef struct {
  double value;     // corrected
  double low, high; // what the standards leave open; equal to value when told apart
} lzq_corrected;

// How many times its stated error an instrument has, so many days after its last good check: 1 for
// the days after which it is checked again (a fortnight where check_days is not above 0), then
// sqrt(1 + ((days - check_days) / 30)^2), at most 3. House rule, no source: makers state an error,
// not how it grows. Never checked (infinite, NAN): 1, whether it counts at all is the station's
// rule.
double lzq_error_growth(double days_since_check, int32_t check_days);

lzq_corrected lzq_calibrated(const lzq_calibration *calibration, double reading);

#endif
