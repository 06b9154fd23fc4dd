// SPDX-License-Identifier: GPL-3.0-or-later
// Phases found short: what somebody did was right by what was entered then, and is not true by what
// is known now. A release found short stays released and is listed; a phase that the fish have left
// too early goes on as if it had never ended, until a named person accepts the minutes.
#ifndef LZQ_SHORTS_H
#define LZQ_SHORTS_H

#include "lzq_credit.h"

typedef enum {
  LZQ_SHORT_RELEASED, // released in a phase that has not ended
  LZQ_SHORT_UNPROVEN, // released after the last end, which no reading has confirmed
  LZQ_SHORT_HELD,     // released after it had served, while another held it under the last-in rule
  LZQ_SHORT_LEFT,     // moved on, or its water was taken on, before the phase had ended
  LZQ_N_SHORT_HOWS
} lzq_short_how;

typedef struct {
  uint32_t lot, protocol, phase; // the phase that was left too early
  uint8_t how;                   // lzq_short_how
  uint32_t held_by;              // HELD: by which lot, else LZQ_NONE
  lzq_minute at;                 // when it was left
  uint64_t entry;                // id of the first entry of the act that left it, 0 = none
  int64_t short_min; // that the phase lacks: of credit or of time, whichever is more; 0 = only
                     // another condition (a sign, days of eating) or the proof is missing
  int64_t later_min; // RELEASED: that the phases after it ask for at least
  int64_t
      acceptable_min; // LEFT: what a person may accept to end the phase, 0 = the station says no
} lzq_short;

typedef struct {
  const lzq_short *items; // by lot
  size_t n;
} lzq_shorts;

// Of a credit of that snapshot as known now. Linear in lots and their spans, and one more credit
// run, as known then, for each act after which a lot earned nothing more. The result lives in
// arena. Errors as lzq_credit_run.
lzq_status lzq_shorts_make(const lzq_snapshot *snapshot, const lzq_credit *credit, lzq_arena *arena,
                           lzq_shorts *out);

#endif
