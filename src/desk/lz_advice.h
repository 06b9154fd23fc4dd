// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the dose that the program computes for a water at a minute.
#ifndef LZ_ADVICE_H
#define LZ_ADVICE_H

#include "lz_desk_private.h"

void lz_advice_make(LzDesk *desk, uint32_t system, lzq_analyte analyte, double change_l,
                    lzq_minute at, LzDoseAdvice *out);

// What the lots in a water ask for: target, the step of a rise (mg/L) and hours between two of
// them; NAN = none asks. For LOWER and RAISE of the adviser.
void lz_advice_wanted(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at,
                      double *target, double *step, double *step_hours);
// The newest bottle that fits what is or shall be in a water (LZQ_NONE: any); LZQ_NONE.
uint32_t lz_advice_bottle(LzDesk *desk, uint32_t system, lzq_analyte analyte);

// Largest single step of salinity that the lots in a water may make now; NAN = none asks.
double lz_advice_salinity_step(LzDesk *desk, uint32_t system, lzq_minute at);

#endif
