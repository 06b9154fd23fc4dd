// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the dose that the program computes for a water at a minute.
#ifndef LZ_ADVICE_H
#define LZ_ADVICE_H

#include "lz_desk_private.h"

void lz_advice_make(LzDesk *desk, uint32_t system, lzq_analyte analyte, double change_l,
                    lzq_minute at, LzDoseAdvice *out);

// A medicine that is dosed once or again and again with no reading between, as against flukes: how
// much of it a lot in that water waits for, and the minutes from one dose there to the next.
typedef struct {
  double level;      // mg/L, the most that one asks for; NAN = no lot there waits for it
  double least;      // the least that one asks for
  int64_t apart_min; // the shortest that one of them allows
} LzOnce;
LzOnce lz_advice_once(LzDesk *desk, uint32_t system, lzq_analyte medicine, lzq_minute at);
// What the lots in a water ask for: target, the step of a rise (mg/L) and hours between two of
// them; NAN = none asks. For LOWER and RAISE of the adviser.
void lz_advice_wanted(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at,
                      double *target, double *step, double *step_hours);
// The form of copper that the lots in a water ask for, or that was dosed last; LZQ_FORM_NONE =
// nothing says which, as without a water.
lzq_form lz_advice_form(LzDesk *desk, uint32_t system);
// The newest bottle that fits what is or shall be in a water (LZQ_NONE: any); LZQ_NONE.
uint32_t lz_advice_bottle(LzDesk *desk, uint32_t system, lzq_analyte analyte);

// How fast the lots in a water may go in salinity now: one step, and any 1,440 minutes down and up;
// a day that no course states is the usual one while fish live there. NAN = no limit.
typedef struct {
  double step, fall_day, rise_day;
} LzSalinityPace;
LzSalinityPace lz_advice_salinity_pace(LzDesk *desk, uint32_t system, lzq_minute at);

#endif
