// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the level of one analyte in one water carried from reading to reading by exact
// mass balance with no assumed loss, and doses that no reading has closed. What gates and charts
// are made of.
#ifndef LZ_CARRY_H
#define LZ_CARRY_H

#include "lz_model.h"

typedef struct {
  lzq_minute at;
  uint32_t record;      // index in the model
  uint8_t kind;         // lzq_record_kind
  double before, after; // NAN = unknown
  double most;          // after it, at the most: nothing on record is there, or carbon took none
  double doubt;         // after it, if the highest reading in doubt is right; NAN = there is none
  double volume_l;      // in force
  double mg;            // a dose: what it adds to the system
  gboolean good;        // readings: not suspect, by a method that sees the form
  // A dose that was mixed into new water (lzq_new_water.h): nothing of it is in yet, after ==
  // before. A second step of the same record follows where it comes in.
  gboolean waits;
} LzCarryStep;

// Steps of one analyte in one water, in the order in which they act, up to and including `until`;
// in LZQ_NEVER what waits in new water is taken to be in.
// Readings of no worth are steps too (after == before).
GArray *lz_carry(LzModel *model, uint32_t system, lzq_analyte analyte, lzq_minute until);

// The same as if an entry, named by its first version's id, had not been made; 0 = none.
GArray *lz_carry_without(LzModel *model, uint32_t system, lzq_analyte analyte, lzq_minute until,
                         int64_t entry);

// The minute at which an act of minute `at` is judged: its own or, where acts on record come after
// it and no reading that settles both, that of the last of them. What is entered out of order adds
// to what is there already. `entry` as above.
lzq_minute lz_carry_judged(LzModel *model, uint32_t system, lzq_analyte analyte, lzq_minute at,
                           int64_t entry);

// The steps that an act of minute `at` meets: up to the minute at which it is judged, without the
// entry that it corrects (0 = none).
GArray *lz_carry_met(LzModel *model, uint32_t system, lzq_analyte analyte, lzq_minute at,
                     int64_t entry);

// The last of these steps, from a reading on that settles what was before it (it bears witness, and
// every dose was mixed by then), or all of them where none does. What follows says the same of
// both, but lz_carry_form. Costs what was entered since that
// reading.
GArray *lz_carry_now(LzModel *model, uint32_t system, lzq_analyte analyte, lzq_minute until);

// The same from such a reading at or before `since` on: all steps after that minute are there.
GArray *lz_carry_since(LzModel *model, uint32_t system, lzq_analyte analyte, lzq_minute since,
                       lzq_minute until);

// Carried level after all steps, NAN = never read or unknown.
double lz_carry_level(const GArray *steps);
// What may be there at the most, also where the level is unknown: every dose on record that no
// change took out. 0 = nothing was ever recorded.
double lz_carry_most(const GArray *steps);
// The highest reading in doubt since the last good one (flagged, or of an instrument in doubt) by a
// method that sees the form, carried on from there: what may be true until a repeat has spoken.
// NAN = there is none.
double lz_carry_doubtful(const GArray *steps);
// The most that may be there, for whatever must not meet it: the level; where nobody knows that,
// all that was dosed; and a higher reading in doubt, which may be right.
double lz_carry_may_hold(const GArray *steps);
double lz_carry_volume(LzModel *model, uint32_t system, lzq_minute until);
// The last dose that no good reading at least the mixing time later has closed; NULL = none.
const LzCarryStep *lz_carry_open_dose(LzModel *model, uint32_t system, const GArray *steps);
// The form of copper of the last dose; LZQ_FORM_NONE = nothing was dosed.
lzq_form lz_carry_dosed_form(const LzModel *model, const GArray *steps);
// The form of copper in a water: of the last dose, or before one as the courses there ask for it.
lzq_form lz_carry_form(LzModel *model, uint32_t system, const GArray *steps);
// What changes since the last reading or dose have taken the level down from; NAN = nothing has.
double lz_carry_before_changes(const GArray *steps);
// The same after one step more, `thinned` before it.
double lz_carry_thinned(const LzCarryStep *step, double thinned);

#endif
