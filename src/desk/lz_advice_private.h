// SPDX-License-Identifier: GPL-3.0-or-later
// Inside lz_advice: what the lots in a water ask for at a minute.
#ifndef LZ_ADVICE_PRIVATE_H
#define LZ_ADVICE_PRIVATE_H

#include "lz_advice.h"

#include <lzq_goal.h>

// What the lots in a water ask for of one analyte at a minute. The level that they share is the
// plan's; an edge is the strictest of theirs, also of the phase that a lot is in and does not ask
// for: its fish are the same.
typedef struct {
  lzq_goal goal;
  int index;         // of the analyte in the goal; -1 = no goal holds it
  double plan, harm; // NAN = none
  double below;      // the most for lots that ask for little of it; NAN = none does
  lzq_form form;
} LzNeed;

LzNeed lz_need_of(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at);
// They ask for a level of it, and not for little.
gboolean lz_need_is_asked(const LzNeed *need);
double lz_need_target(const LzNeed *need); // NAN = none
// Of two limits of which each may be NAN, none.
double lz_need_smaller(double a, double b);

#endif
