// SPDX-License-Identifier: GPL-3.0-or-later
// The dose adviser: what exactly to add, with the working line by line as one would write it on
// paper.
//
// Pure functions of numbers: no record, no clock. Levels mg/L, volumes L, amounts mg, stock
// strengths in mg/mL as the label counts them (lzq_as says what that is). Every answer carries its
// working as codes and numbers; the desk makes the sentences. Drops and scoops are never an answer.
// The arithmetic is that of lzq_balance.h; nothing here assumes a loss.
#ifndef LZQ_DOSE_H
#define LZQ_DOSE_H

#include <stdbool.h>
#include <stdint.h>

#include "lzq_status.h"
#include "lzq_units.h"

// One line of the working. The numbers n[0..3] of each are named behind it.
typedef enum {
  LZQ_LINE_NONE = 0,
  LZQ_LINE_SHARE,        // n0 litres / n1 volume = n2 share
  LZQ_LINE_SHARE_DRIP,   // 1 - exp(-n0 litres / n1 volume) = n2 share
  LZQ_LINE_AFTER_CHANGE, // n0 level x (1 - n1 share) + n2 new level x n1 = n3 level
  LZQ_LINE_MASS_IN_NEW,  // n0 litres of new water x (n1 level it must have - n2 level it has) = n3
                         // mg
  LZQ_LINE_MASS_RAISE,   // n0 volume x (n1 level wanted - n2 level now) = n3 mg
  LZQ_LINE_NEW_LEVEL,    // n0 mg / n1 litres of new water + n2 level it has = n3 level in it
  LZQ_LINE_AS_LABEL,     // n0 mg / n1 share of the analyte in the labelled salt = n2 mg of salt
  LZQ_LINE_STOCK,        // n0 mg / n1 mg per mL = n2 mL
  LZQ_LINE_AFTER_DOSE,   // n0 level + n1 mg / n2 volume = n3 level
  LZQ_LINE_SHARE_NEEDED, // (n0 level - n1 target) / (n0 - n2 new level) = n3 share
  LZQ_LINE_SHARE_DAY,    // n0 share needed, n1 largest share a day: n2 changes
  LZQ_LINE_LITRES,       // n0 share x n1 volume = n2 litres
  LZQ_LINE_NONE_NEEDED,  // n0 level, n1 target: it is there already
  LZQ_LINE_MASS,         // n0 volume x n1 level = n2 mg
  LZQ_LINE_VOLUME_PART,  // n0 volume x n1 uL per L / 1000 = n2 mL
  LZQ_LINE_DENSITY,      // n0 mg / n1 g per mL / 1000 = n2 mL
  LZQ_LINE_RATIO,        // n0 mg x n1 mg per mg = n2 mg
  LZQ_LINE_BIOMASS,      // n0 heads x n1 g each = n2 g
  LZQ_LINE_BIOMASS_SUM,  // n0 lots: n1 kg together
  LZQ_LINE_FEED_DRUG,    // n0 kg of fish x n1 mg per kg and day = n2 mg a day
  LZQ_LINE_FEED_RATION,  // n0 kg of fish x n1 share of body mass = n2 kg of feed a day
  LZQ_LINE_FEED_RATE,    // n0 mg a day / n1 kg of feed = n2 mg per kg of feed
  LZQ_LINE_PRODUCT,      // n0 mg / n1 active share = n2 mg of product
  LZQ_LINE_TOOL,         // n0 full measures of n1, then n2: n3 measured in all
  LZQ_LINE_TOOL_ERROR,   // n0 measured - n1 exact = n2; n3 relative to exact
  LZQ_N_LINES
} lzq_line_code;

typedef struct {
  lzq_line_code code;
  double n[4];
} lzq_line;

#define LZQ_MAX_LINES 24

// The working of one answer. Lines beyond LZQ_MAX_LINES are dropped and `cut` is set.
typedef struct {
  lzq_line lines[LZQ_MAX_LINES];
  uint32_t n;
  bool cut;
} lzq_working;

void lzq_working_add(lzq_working *working, lzq_line_code code, double n0, double n1, double n2,
                     double n3);

// What a bottle holds: the number on its label, and what that number counts.
typedef struct {
  double strength_mg_ml; // above 0
  lzq_as as;
} lzq_stock;

// What the amount is measured with: a 10 mL syringe graduated in 0.2 mL, a balance of 0.1 g.
// full <= 0: no largest amount (a balance). step > 0.
typedef struct {
  double full; // largest amount in one go
  double step; // smallest step that can be read
  bool down;   // never more than the exact amount, which stands at a limit
} lzq_tool;

typedef struct {
  double exact;
  uint32_t full_times;  // the tool filled whole so many times
  double last;          // and then this much, rounded to the step
  double measured;      // full_times * full + last
  double error;         // measured - exact
  double error_rel;     // error / exact; 0 for an exact 0
  double reading_error; // +- half a step for each time the tool is read
  bool too_coarse;      // the rounding alone is more than a tenth of the amount
} lzq_measured;

// Rounds an amount to what the tool can measure (same unit as the tool). An amount or a step that
// is not one (negative, not finite, a step of 0) is too coarse and measured NAN.
lzq_measured lzq_measure_out(double exact, lzq_tool tool);

// One answer of the adviser.
typedef struct {
  double amount_mg;       // of the analyte (as metal)
  double label_mg;        // the same, as the label counts it
  double amount_ml;       // of the stock; NAN without a stock
  double level_before;    // in the system, now
  double level_between;   // with nothing put back (a change); NAN where that has no meaning
  double level_after;     // expected once given and mixed
  double new_water_level; // in the new water once dosed beforehand; NAN else
  double with_litres;     // dosed into this much new water beforehand; 0 = into the system
  lzq_working working;
} lzq_dose;

typedef enum { LZQ_INTO_NEW_WATER, LZQ_INTO_SYSTEM } lzq_dose_where;

// A change of `litres` in volume_l with new water of new_level, and what brings the system to
// `target`. INTO_NEW_WATER: given to the new water beforehand, so that the level never dips;
// INTO_SYSTEM: after the change. For a batch change both are V (target - (1-f) level - f
// new_level); for a drip the water that runs out takes some of what was put into the new water, and
// the two differ. Nothing to add gives amount 0 and a NONE_NEEDED line. LZQ_BAD_INPUT: volume or
// litres not above 0, litres of a batch change above the volume, a level or strength negative or
// not finite.
lzq_status lzq_dose_replace(double volume_l, double level, double target, double litres, bool drip,
                            double new_level, lzq_stock stock, lzq_dose_where where, lzq_dose *out);

// A dose into the system from `level` to `target`. Errors as above.
lzq_status lzq_dose_raise(double volume_l, double level, double target, lzq_stock stock,
                          lzq_dose *out);

// What the system will hold after `amount_ml` of the stock.
double lzq_dose_predict(double volume_l, double level, double amount_ml, lzq_stock stock);

// Levels of a rise from `level` to `target` by at most max_step each (0 or NAN: in one): the full
// steps first, the rest last (0.17, 0.34, 0.50). Returns how many there are; at most `cap` are
// written.
uint32_t lzq_rise_levels(double level, double target, double max_step, double *levels,
                         uint32_t cap);

// Too high: the change that brings it to `target`, of a volume in which `litres` may be changed a
// day (max_share_day 0 = no bound). amount_mg is what the first change takes out; with_litres its
// litres; level_after what it leaves. LZQ_OUT_OF_RANGE if the new water is not below the target.
lzq_status lzq_dose_lower(double volume_l, double level, double target, double new_level,
                          double max_share_day, lzq_dose *out);

// The volume that a known dose and a measured rise speak for: mg / rise. NAN if it did not rise.
// Cannot tell a wrong volume from an instrument's own gain.
double lzq_volume_from_rise(double amount_mg, double level_before, double level_after);

// Appends how `exact` (mL or g) is measured with the tool.
lzq_measured lzq_dose_measure(lzq_dose *dose, double exact, lzq_tool tool);

#endif
