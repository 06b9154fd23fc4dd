// SPDX-License-Identifier: GPL-3.0-or-later
// The gates in front of a dose: a slip of ten, a level that harms, a second dose without a reading.
//
// Pure verdicts. House rules of this program (not published): five times the computed amount or
// more, or a predicted level that reaches the harm edge, is refused whoever asks; more than one and
// a half times asks a second person; half or less asks again.
#ifndef LZQ_GATE_H
#define LZQ_GATE_H

#include <stdbool.h>

#include "lzq_model.h"

#define LZQ_SLIP_REFUSED 5.0
#define LZQ_SLIP_SECOND  1.5
#define LZQ_SLIP_SMALL   0.5
#define LZQ_MIXING_MIN   60 // default mixing time, common practice, no source

typedef enum {
  LZQ_DOSE_FITS = 0,
  LZQ_DOSE_ASK_AGAIN,     // half of the computed amount or less: is that meant?
  LZQ_DOSE_SECOND_PERSON, // more than one and a half times: somebody else must agree
  LZQ_DOSE_OPEN,          // an earlier dose has no reading yet: nothing may be added until it has
  LZQ_DOSE_REFUSED_SLIP,  // five times or more
  LZQ_DOSE_REFUSED_HARM,  // the level would reach the harm edge
  LZQ_DOSE_REFUSED_INPUT, // not a positive finite amount
  LZQ_N_DOSE_VERDICTS
} lzq_dose_verdict_code;

typedef struct {
  double computed_mg; // by the adviser; NAN = it computes none (nothing is known): any amount asks
                      // a second person
  double typed_mg;    // what somebody means to give, same unit
  double level;       // in the system now, mg/L; NAN = unknown, taken as 0 for the prediction
  double volume_l;
  double harm;          // reached = refused; NAN = no such edge
  bool other_dose_open; // an earlier dose of this medicine in this water has not been closed by a
                        // reading
} lzq_dose_request;

typedef struct {
  lzq_dose_verdict_code code;
  double ratio; // typed / computed; NAN where nothing was computed, INFINITY where it computes 0
  double predicted; // mg/L after the typed amount
  bool refused;     // nobody may give it
  bool slip_of_ten; // within a tenth of exactly ten times or a tenth: a decimal point
} lzq_dose_answer;

// The first that applies of: bad input, an open dose, slip, harm, second person, small. Slip goes
// before harm, since it tells the person what went wrong (`predicted` says the level in any case).
lzq_dose_answer lzq_dose_verdict(const lzq_dose_request *request);

// Whether a reading taken at `read_at` closes a dose given at `dosed_at` in a water with this
// mixing time (minute dosed_at + mixing_min included). Suspect readings never do: the caller passes
// good ones.
bool lzq_reading_closes_dose(lzq_minute dosed_at, lzq_minute read_at, int32_t mixing_min);

#endif
