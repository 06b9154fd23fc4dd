// SPDX-License-Identifier: GPL-3.0-or-later
// When will the level leave its band, what dose holds it until the next test, and when that test
// should be.
//
// All on the true scale of the bank (lzq_estimate.h), predicted forward with the loss rate
// drifting. A level leaves a band when it falls below its lower edge; nothing here assumes a dose
// that nobody gave.
#ifndef LZQ_FORECAST_H
#define LZQ_FORECAST_H

#include "lzq_estimate.h"

#define LZQ_HORIZON_H 336.0 // fourteen days: beyond it "not within 14 days" is all that is said

typedef struct {
  double edge;      // lower edge, mg/L
  double below_now; // probability that it lies below now
  double low_h, likely_h,
      high_h; // hours until the 10, 50 and 90 % chance; INFINITY = not within 14 days; 0 = now
} lzq_exit;

// F(t): running maximum of P(level < edge) over steps of 2 h, times by linear interpolation.
lzq_exit lzq_forecast_exit(const lzq_bank *bank, double edge);

// Any one of those times: hours until F reaches p.
double lzq_forecast_reaches(const lzq_bank *bank, double edge, double p);

// Chance that the level has been below the edge at some time in the next hours (on that 2 h step).
double lzq_forecast_chance(const lzq_bank *bank, double edge, double hours);

typedef struct {
  double level;      // to add, mg/L; times the entered volume gives mg
  double below_then; // chance of lying under the lower edge at the test
  double above_now;  // chance of lying over the upper edge once given
  bool held; // both chances are kept; if not, the dose is the one for the upper edge, and the test
             // must come earlier
} lzq_hold;

// The smallest dose now with P(level at the test < low) <= p_low, subject to P(level after it >
// high) <= p_high. high NAN = no upper edge.
lzq_hold lzq_forecast_hold(const lzq_bank *bank, double low, double high, double hours,
                           double p_low, double p_high);

typedef struct {
  uint32_t slot;    // index into the slots given; LZQ_NONE if there are none
  double chance;    // of an unseen exit by then
  bool cannot_hold; // even the first slot is later than the chance or G allows
} lzq_next_test;

// The latest slot (hours ahead, rising, above 0) no later than gap_h with F(slot) <= p; the first
// one with cannot_hold if none is. p of 0.10 and a gap of min(G, 24 h) are the defaults that were
// measured.
lzq_next_test lzq_forecast_next_test(const lzq_bank *bank, double edge, const double *slots_h,
                                     uint32_t n_slots, double gap_h, double p);

#endif
