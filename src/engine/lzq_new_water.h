// SPDX-License-Identifier: GPL-3.0-or-later
// What is mixed into new water before its change. It is in no system until the change brings it
// in: until then it neither raises a level nor earns credit, and the change does not thin it. A
// dose on record with `drip` set acts
//   - in its own minute, if a change of that minute, or of the two hours before it that has brought
//     in no dose of that analyte, has come already (the dose is entered after its change);
//   - right after the next change of that water;
//   - where none comes within a day of the last such dose, then: it is taken to be in, which asks
//     for a reading (a house rule, no source).
// Doses of salt act in their own minute.
#ifndef LZQ_NEW_WATER_H
#define LZQ_NEW_WATER_H

#include <stdbool.h>
#include <stdint.h>

#include "lzq_model.h"

// People are still at the tanks this long after a slot, and a dose is entered this long after its
// change (common practice, no source).
#define LZQ_AT_WORK_MIN 120

// What waits for one water, while its record is taken in the order of acting.
typedef struct {
  lzq_minute changed_at;               // the last change, LZQ_LONG_AGO
  lzq_minute waits_at[LZQ_N_ANALYTES]; // the last dose that waits, LZQ_LONG_AGO
  bool came[LZQ_N_ANALYTES];           // a dose is in with the last change, or came after it
} lzq_new_water;

void lzq_new_water_begin(lzq_new_water *waits);

// The next act is this dose, `into` = mixed into new water. True if it waits.
bool lzq_new_water_dose(lzq_new_water *waits, uint8_t analyte, lzq_minute at, double mg, bool into);

// The next act is a change of more than 0 L: whatever waits comes in after it, and no longer does.
void lzq_new_water_change(lzq_new_water *waits, lzq_minute at);

// The minute in which what waits of that analyte is taken to be in; LZQ_NEVER if nothing waits.
lzq_minute lzq_new_water_over(const lzq_new_water *waits, uint8_t analyte);

// It was taken to be in.
void lzq_new_water_let_in(lzq_new_water *waits, uint8_t analyte);

// The last minute in which a dose acts before an act of that minute and kind.
static inline lzq_minute
lzq_dosed_before(lzq_minute at, uint8_t kind)
{
  return kind > LZQ_REC_DOSE ? at : at - 1;
}

// What stays in the system of `mg` mixed into the new litres of a change: all of it; less where
// more is changed than it holds, and where the change is continuous and some runs out again,
// m V/v (1 - exp(-v/V)) (lzq_balance.h).
double lzq_brought_in(double mg, double litres, double volume_l, bool drip);

#endif
