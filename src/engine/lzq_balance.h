// SPDX-License-Identifier: GPL-3.0-or-later
// Mass balance of what is dissolved in one body of water: changes, doses, loss, evaporation, and
// the water changes that bring a level where it should be.
//
// Levels in mg/L (salinity as such), volumes in litres, amounts in mg (salt in g), time in hours.
// The arithmetic is exact for an ideally mixed, conservative solute: batch change c' = c(1-f) + r
// f; continuous change c' = r + (c-r) exp(-v/V) (Kraul et al. 1985, Progressive Fish-Culturist
// 47(1):69-70); dose c' = c + m/V; loss c' = c exp(-k t); evaporation keeps the salt and loses
// water.
#ifndef LZQ_BALANCE_H
#define LZQ_BALANCE_H

#include <stdbool.h>

#include "lzq_model.h"
#include "lzq_status.h"

// Share of the water replaced by `litres` new ones: min(v/V, 1), or with drip 1 - exp(-v/V).
double lzq_changed_share(double litres, double volume_l, bool drip);

// New water needed for that share: the inverse. NAN if drip and share >= 1.
double lzq_litres_for_share(double share, double volume_l, bool drip);

double lzq_after_change(double level, double share, double new_level);
double lzq_after_dose(double level, double amount_mg, double volume_l);
double lzq_after_loss(double level, double k_per_h, double hours);

// `litres` of pure water have gone from volume_l (before): the level that is left. NAN if nothing
// is.
double lzq_after_evaporation(double level, double volume_l, double litres);

// Topped up to volume_l (after) with `litres` of water of new_level: c + r v / V for a volume that
// is kept, as the record counts it: the level given is that of the full volume.
double lzq_after_topup(double level, double volume_l, double litres, double new_level);

// Level of n waters poured together: sum(q c) / sum(q). Amounts in litres, or in kg where the level
// is per mass (salinity): then the densities matter, see lzq_density. NAN if there is no water.
double lzq_mixture(const double *amount, const double *level, uint32_t n);

// Loss rate from two levels with nothing done between: ln(c1/c2) / hours, per hour.
double lzq_loss_rate(double first, double second, double hours);

// --- sequences of changes
// -------------------------------------------------------------------------

typedef struct {
  int64_t after_min;   // minutes after the first step
  double share;        // of the volume
  double litres;       // of new water; 0 where only salt is added
  double salt_kg;      // of dry salt mix; 0 where only water is changed
  double level_before; // of what the sequence moves
  double level_after;
  double copper_after;   // before anything is put back; NAN = not asked
  double copper_out_mg;  // that the step takes out
  double copper_dose_mg; // that puts it back to copper_target
} lzq_step;

#define LZQ_MAX_STEPS 64

typedef struct {
  lzq_step steps[LZQ_MAX_STEPS];
  uint32_t n;
  double litres; // in all
  double salt_kg;
  double ratio; // of salinity from one step to the next, or of what is left; NAN where it varies
} lzq_steps;

// Level too high: one batch change of f = (c - target)/(c - r), or, bounded by the largest share
// changed a day (0 = no bound), one largest change a day and a last smaller one. LZQ_OUT_OF_RANGE
// if the new water is not below the target, or LZQ_MAX_STEPS days do not do it: *out then holds
// what was reached. A level already at or below the target gives no steps.
lzq_status lzq_bring_down(double level, double target, double new_level, double volume_l,
                          double max_share_day, lzq_steps *out);

// How salinity may be moved.
typedef struct {
  double from, to;     // practical salinity
  double new_salinity; // of the new water: below `to` on the way down, above `to` on the way up
  double volume_l;
  double max_step;      // largest move in one step (0 or NAN = no limit)
  double max_day;       // largest move in any 1,440 minutes (0 or NAN = no limit)
  int32_t gap_min;      // at least this long between two steps
  uint32_t steps;       // 0 = the fewest that the limits allow
  double copper;        // level now, mg/L; NAN = none to keep
  double copper_target; // level to which each step's dose brings it back; NAN = `copper`
  double mix_factor;    // kg of dry mix for 1 kg of sea salt (0 = 1)
} lzq_salinity_way;

// Down: equal-ratio steps, each the same share: (S_i - r) falls by one ratio; where `steps` is 0
// each step is the first of the fewest equal ratios from where it begins whose first (largest) fall
// keeps max_step and max_day: 34 to 16 in four of one ratio, 34 to 13.3 in 0.829, 0.829, 0.755,
// 0.755. Spaced so that no 1,440 minutes (half-open) hold more than max_day. LZQ_OUT_OF_RANGE if
// the new water cannot bring it there, the steps asked for break max_step (*out then holds them, to
// be shown with the refusal), or more than LZQ_MAX_STEPS are needed.
lzq_status lzq_salinity_down(const lzq_salinity_way *way, lzq_steps *out);

// Up by changing against saltier water: equal rises. Errors as down.
lzq_status lzq_salinity_up_by_change(const lzq_salinity_way *way, lzq_steps *out);

// Up by dry salt: kg = dS * V / 1000 * mix factor in each of the equal rises. Errors as down.
lzq_status lzq_salinity_up_by_salt(const lzq_salinity_way *way, lzq_steps *out);

#endif
