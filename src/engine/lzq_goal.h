// SPDX-License-Identifier: GPL-3.0-or-later
// What the lots of one water ask of it together: the intersection of their bands and the strictest
// of their limits. The plan's and the gates' one answer.
//
// Level index: MED is the medicine that the goal doses (copper unless the phase holds another), SAL
// is salinity.
#ifndef LZQ_GOAL_H
#define LZQ_GOAL_H

#include "lzq_credit.h"

// Index of a level: the medicine that the goal doses (copper unless the phase holds another), and
// salinity.
enum { LZQ_MED = 0, LZQ_SAL = 1 };

#define LZQ_MAX_ACTS 40 // visits of one programme, and the most steps of a rise

typedef struct {
  bool has[2];
  lzq_band band[2];
  uint32_t asks[2];      // lot whose band narrowed it last
  uint32_t lot_a, lot_b; // conflict, else LZQ_NONE
  uint8_t conflict_analyte;
  bool rise; // some lot is in a phase that raises in steps
  double rise_per_day;
  int32_t rise_steps, step_gap_min;
  double salinity_step, fall_day, rise_day;
  uint32_t gear_on, gear_off;
  uint32_t n_lots;
  int32_t test_gap_min[LZQ_N_ANALYTES]; // G, 0 = no band on it
} lzq_goal;

lzq_goal lzq_goal_none(void);
void lzq_goal_join(lzq_goal *goal, const lzq_phase *phase, uint32_t lot);
// Whether a medicine is held in the water for it, and not only kept low.
bool lzq_goal_medicates(const lzq_goal *goal);

// The phase of its protocol that a lot in its water asks for at the minute of its credit: the
// current one; the one before while that one's end is not firm or the lot has not moved yet.
// LZQ_NONE = none.
uint32_t lzq_phase_asked(const lzq_snapshot *snapshot, const lzq_lot_credit *lot);
// It stood in its place, and was taken out of it before the phase had ended.
bool lzq_phase_away(const lzq_snapshot *snapshot, const lzq_lot_credit *lot);
// Away, in a system for isolation: fish that are cared for by themselves. Their water is kept as
// their phase asks, and they go back when whoever cares for them says so.
bool lzq_phase_apart(const lzq_snapshot *snapshot, const lzq_lot_credit *lot);

// The next level of a rise of the medicine from `basis`, mg/L: the first of the goal's equal shares
// of the target, rounded up to 0.01 where the daily rate allows that (what kits and people read),
// that lies at least half a share above it; never more than a day's rise at once. Returns how many
// steps are left, this one too.
int lzq_goal_rise(const lzq_goal *goal, double basis, double *next);

#endif
