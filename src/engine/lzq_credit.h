// SPDX-License-Identifier: GPL-3.0-or-later
// Credit: which minutes of a lot's stay count, when its phases ended, and whether it may go.
//
// THE DEFINITION (docs/engine/credit.md gives it with examples; tests/engine/oracle replays it
// minute by minute and must agree to the minute):
//
// A lot follows the water that it is in. Minute t earns credit iff the lot stands in the phase's
// place at t and, for each band of the phase, in the water where the lot is at t (after the records
// of t):
//  1. the last reading at or before t is effective and at most G old, minute r+G included;
//  2. the next reading after t, taken back to t through every dose, change and top-up recorded
//     after minute t and before that reading, is effective. If the changes between leave less than
//     half of the water (product of 1-f < 0.5), or carbon or resin went in, or new water of unknown
//     salinity came in (for salinity), it says nothing. While no reading has spoken, or it says
//     nothing, the minute is OPEN: it counts, not firm. (Carbon and resin take out every dosed
//     medicine, copper first, and no salt; "less than half" means below 0.5 by more than
//     LZQ_EDGE);
//  3. the level at t carried forward from the last reading through every later dose, change and
//     top-up up to and including those of minute t is effective.
//
// Not carried (temperature, pH ...): 3 is the same as 1 and nothing is taken back, the half rule
// stays.
//
// Dose: c += m/V (salinity: amount is g of salt, g/L taken as practical salinity). Change: c =
// c(1-f) + r f, f = min(v/V,1), drip f = 1-exp(-v/V). Top-up: c += r v/V (evaporation took the
// water, not the salt; its copper is zero). Unknown copper in new water is zero. Carbon or resin
// switched on: every dosed medicine unknown until read. V = the volume in force at that event.
//
// Effective at_or_above: v >= works; at_or_below: v <= works; between: works <= v <= works_high,
// each with LZQ_EDGE. A level that has become unknown stays so until the next reading. With
// error_inside the worst value (v-err, v+err, both) is compared and carried, where err =
// record.error, or the instrument's error_abs + error_rel * v when NAN.
//
// Which readings exist for a band: those of its analyte in that water, except copper readings
// whose instrument does not see the form of the water (form of the last copper dose before the
// reading, or if none, the form of the band; LZQ_FORM_NONE there, or a reading without an
// instrument, excludes nothing), and except SUSPECT readings that are by themselves effective.
// Suspect: flagged and not confirmed by an existing record whose `confirms` names its first entry;
// or taken with an instrument whose last check at or before the reading failed, or whose first
// check after it failed; or never checked before, where the station does not trust that (a reading
// without an instrument is one of an instrument never checked). Of two readings in one minute the
// worse (further to the wrong side; for BETWEEN the larger of works - low and high - works_high)
// serves; if they are equal, the first entered.
//
// Place: LZQ_PLACE_STAY: anywhere; ROLE: the system's role; NEXT_CLEAN: another system than the
// one in which the lot stood when the phase began. A lot that stands in no water (not yet
// received, released, dead, merged) stands in no place, whatever the phase asks. placed_at = first
// minute at which, after all records of the minute, it stood there (the phase's start where the
// place is STAY); elapsed time counts from then.
//
// Credit at t counts the credited minutes from the phase's start to t-1. A phase ends at the first
// minute t, after all records of t, at which: credit(t) + accepted >= min_credit; t - placed_at >=
// min_elapsed (and it has been placed); t - max(start, last sighting) >= quiet_min; days of eating
// reached (distinct `day` with a FEED of at least eaten_share at or after start); the sign given
// at or after start (a vet's serves for a person's); and with `reach`, minute t itself would earn
// credit. Minute t belongs to the next phase, and several phases may end in one minute. Of the
// records of t, those up to ACCEPT_OPEN act, then phases end, then SPLIT .. RELEASE act, then
// phases end once more. A SIGN serves the phase that it names if the lot was in it then, or if
// that phase begins in the same minute, and if it was given at or after the start; an ACCEPT
// serves the phase that it names while the lot is in it; the accepted minutes of one stay in a
// phase are at most station.accept_max_min.
//
// Firm: a phase's end is firm at the first minute at or after it by which every credited minute of
// that stay (since the last restart), the minute that a `reach` needed, and the last ends of the
// phases before it in this course have been confirmed: by the next reading of each band, or by an
// ACCEPT_OPEN later than the minute. Credit that a course keeps waits for the ends that it was
// earned after.
//
// Lapse: in the (L+1)th minute in a row without credit in this phase, credit > 0: RESTART sets
// credit (and accepted) to 0, PAUSE keeps it. Like that minute's credit this shows in credit(t+1):
// an end at t still has the full credit. Start and placed_at stay. A run lapses once; where L
// becomes smaller under a run (a course that keeps it), its next minute without credit lapses. The
// run goes on across moves; it begins anew with a credited minute, a new phase, a sighting.
//
// Sighting in water X at s: every lot that is in X at any moment of minute s (also one that moves
// in or out in it) starts phase sighting_to of its current phase anew at s, credit 0; a lot that
// has served goes back by its last phase's rule. A lot without course is not touched (but is
// listed). Several sightings that reach a lot in one minute set it back once.
//
// Late dose: the same if a phase of kind MEDICATE that gives its medicine once (lzq_phase_gives)
// has it not by start + late_tolerance_min; the phase may also ask for no other place.
//
// Early dose: such a phase that begins at t because the one before it ended has its dose already if
// the water in which the lot stands, and stood then, was dosed in t - lzq_early_min .. t - 1, later
// than any dose or bath that an earlier phase of the lot (or of lots that merged into it) had: the
// first such minute is given_at. Its time still counts from t, but by when the next transfer or
// dose is due is counted from the dose, by a clock as of merged lots (below).
//
// Bath: a phase of kind BATH has its medicine at the record by which baths that count
// (lzq_bath_counts) have reached as many fish as the lot has then. Of a lot that is split each part
// has as many of them as it must have; lots that merge add them up.
//
// Late transfer: a phase that asks for another place, with late_tolerance_min > 0, and that is not
// itself the phase that its sighting_to names: at the first minute t, after all records of t, at
// which t - start > late_tolerance_min and the lot had not been placed by start +
// late_tolerance_min, phase sighting_to starts anew at t, credit 0 (before any phase ends at t, but
// not before what had ended when the records up to ACCEPT_OPEN had acted).
//
// Merged lots and lateness: each part keeps its own clock, beside the merged lot's. A part whose
// phase still owes a transfer or a dose that may be late needs it by its own start + tolerance. One
// that has it needs the next by when its own time alone (the larger of placed_at and given_at, plus
// min_elapsed) would have begun the next phase that owes one, plus that one's tolerance; where
// credit, quiet, eating, a sign or an act without tolerance lies between, its clock is forgotten.
// If the merged lot's phase owes one and has not got it (where it stands after the merge), the
// earliest of these is the last minute for it; else for the next phase that owes one, but the
// minute in which that begins always does. If time alone leads to that phase, and only after the
// last minute, the lot goes back at the merge. With that transfer or dose, and with a set-back or a
// course that keeps nothing, all clocks are forgotten.
//
// Split: the child gets the whole state (and, if it has served, the last stay), with record.heads
// fish; the other lot keeps the rest. The waters that it was in count as its own for the last-in
// rule; it can be let go from the split on. A split into a lot that is already one, or a merge
// with a lot that is not here, is ignored. Merge (same protocol and version, or both without a
// course, else ignored): `other` keeps the earlier phase; in one phase the smaller credit and
// accepted minutes, the later start and placed_at, the longer run, fewer eaten days, signs that
// both have; if credit of either is open, that waits. Always the later last sighting and, by
// phase, the later firm end. Two that have served: the later of each. Whatever they merge in, under
// the last-in rule who shared water counts from the earlier of the minutes at which either entered
// its last phase (until a set-back or another course); what that adds, and the waters of the merged
// lot, count for `other` from the merge on.
//
// Day one (course_from): the minute at which the course began, or at which the last set-back began
// it anew. Each next phase has it, and the parts of a split; a course that keeps what was earned
// keeps it; of merged lots the later one.
//
// Stop: no course from then. Course: phase given, start = t, credit 0; with keep the phase index
// is the record's and credit, start, placed_at and the rest stay (if the lot is in a phase that
// serves the new one, lzq_phase_serves; a lot that has served, had no course, or was in a phase
// that asked for less, starts anew). Records about a lot that is not yet received or
// split off, or that is released, merged or dead, are ignored, but COUNT may bring fish back
// (without a course).
//
// Last-in (if the station has it): a lot is let go at t if it, every lot in its water at t, and
// every lot that shared its water since it entered its last phase, wherever that lot is now, have
// served. Lots with no living fish or released hold nobody. Fish without a course in that water
// hold everybody. Two lots share a water if both stand in it after all records of some minute. A
// lot that has no course and once shared the water holds too: it has not served.
#ifndef LZQ_CREDIT_H
#define LZQ_CREDIT_H

#include "lzq_book.h"

// Why a run of minutes earned nothing; the first that applies, bands in their order.
typedef enum {
  LZQ_WHY_NONE = 0,        // it earned
  LZQ_WHY_PLACE,           // the lot does not stand in the phase's place
  LZQ_WHY_NO_READING,      // never read (or never with a method that sees it)
  LZQ_WHY_LAST_BAD,        // the last reading is not effective
  LZQ_WHY_LAST_OLD,        // the last reading is older than G
  LZQ_WHY_CARRIED_BAD,     // carried through doses and changes the level is not effective
  LZQ_WHY_CARRIED_UNKNOWN, // carbon, or new water of unknown salinity
  LZQ_WHY_NEXT_BAD,        // the next reading, taken back, is not effective
} lzq_why;

// A maximal run of minutes of one lot in one phase with one answer: minutes from .. to-1.
typedef struct {
  lzq_minute from, to;
  uint8_t why;    // lzq_why
  uint8_t band;   // of the phase, for the WHYs that have one
  bool firm;      // of earned minutes: confirmed for every band, or accepted
  uint8_t unused; // always 0: no padding, so that the same input gives the same bytes
  uint32_t system;
  uint32_t visit; // index into visits
} lzq_span;

typedef enum {
  LZQ_LEFT_NOT = 0,  // still in it at `until`
  LZQ_LEFT_ENDED,    // its conditions held
  LZQ_LEFT_SIGHTING, // set back
  LZQ_LEFT_LATE,     // the transfer into it came too late: set back
  LZQ_LEFT_STOPPED,  // stop, another course, merged into another lot
  LZQ_LEFT_RELEASED, // let go by an act while in it
  LZQ_LEFT_DEAD,     // no fish left
  LZQ_LEFT_APART,    // merged: no transfer or dose could be in time for all its fish: set back
} lzq_left;

// The last minute at which what phase `index` of a course owes (a transfer, a dose given once) is
// not late, if the phase began at `start`; due: a lot that merged needs it by then (LZQ_NEVER =
// none). LZQ_NEVER = it owes nothing, or that cannot be late.
lzq_minute lzq_owed_by(const lzq_phase *phase, uint32_t index, lzq_minute start, lzq_minute due);
// How early a dose that is given once may come: a tenth of the time for which it acts, as for baths
// (house rule, no source).
int32_t lzq_early_min(const lzq_phase *phase);
// The phase begins at `start`: *due of the phase before becomes this one's, if it owes something.
void lzq_hand_on_due(const lzq_phase *phase, uint32_t index, lzq_minute start, lzq_minute *due,
                     lzq_minute *next_due);

// One stay of a lot in one phase.
typedef struct {
  uint32_t protocol, phase;
  lzq_minute start;       // minute that it belongs to first
  lzq_minute course_from; // day one of the course that it is of
  lzq_minute placed_at;   // LZQ_NEVER = never stood in the place
  lzq_minute given_at;    // first time its medicine was given (lzq_phase_gives); LZQ_NEVER = not
  // Of merged lots, LZQ_NEVER = none: `due` of lzq_owed_by for this phase, and for the next that
  // owes something.
  lzq_minute due, next_due;
  lzq_minute end;         // LZQ_NEVER = still in it
  lzq_minute credit_from; // first credited minute since the last restart, LZQ_NEVER = none
  int64_t credit_min;     // at its end, or at `until`
  int64_t open_min;       // of those, not firm
  int64_t accepted_min;
  lzq_minute firm_at; // reading minute that made the end firm; LZQ_NEVER = provisional
  lzq_minute first_lapse, last_lapse; // LZQ_NEVER = none
  uint32_t lapses;
  int32_t bathed;    // fish that a bath has reached, of those that it must; all: given_at
  uint8_t left;      // lzq_left
  uint8_t unused[7]; // always 0
} lzq_visit;

// A time of a lot in one water, minutes from .. to-1; to == from: it left in the minute in which it
// came. A part has its parent's, and a lot those of the lots that merged into it.
typedef struct {
  lzq_minute from, to; // to: LZQ_NEVER = still there
  uint32_t system;
} lzq_water_stay;

// A lot without a course that a sighting reached: it is not set back, and nothing watches it.
typedef struct {
  lzq_minute at;
  uint32_t lot, system;
} lzq_uncoursed;

typedef enum {
  LZQ_IGNORED_NOT_HERE,       // not yet received or split off, or released, merged or dead
  LZQ_IGNORED_OTHER_NOT_HERE, // the lot to merge into
  LZQ_IGNORED_OTHER_COURSE,   // a merge of two protocols or versions, or of one without a course
  LZQ_IGNORED_PART_TAKEN,     // a split into a lot that is one already
} lzq_ignored_why;

// An act on record that changed nothing, because it could not be done: a fault of the record.
typedef struct {
  uint64_t entry; // id of its first entry
  lzq_minute at;
  uint32_t lot, other; // LZQ_NONE where its kind names no other
  uint8_t kind;        // lzq_record_kind
  uint8_t why;         // lzq_ignored_why
} lzq_ignored;

typedef struct {
  bool has_course, served, released, merged, dead;
  uint32_t protocol, phase; // current; phase = n_phases when served
  uint32_t system, tank;    // where it stands at `until`, LZQ_NONE = nowhere yet
  int32_t heads;
  lzq_minute received_at;
  int64_t credit_min, open_min, accepted_min; // of the current phase
  int64_t run_min;                            // minutes running without credit, up to `until`
  lzq_minute served_at;                       // LZQ_NEVER = not served
  lzq_minute firm_at;                         // minute at which `served` became firm
  // First minute, since it last served, at which served, firm and let go all held and still hold at
  // `until`. LZQ_NEVER = they do not, or it is gone (released, merged, dead).
  lzq_minute releasable_at;
  lzq_minute released_at;
  uint32_t held_by; // lot that holds it under the last-in rule, LZQ_NONE
  // Released after it had served: the lot that held it in the minute of its release (of several the
  // first), LZQ_NONE.
  uint32_t went_held_by;
  uint32_t merged_into; // LZQ_NONE = it did not
  // Since when it counts under the last-in rule who shares its water: since it entered its last
  // phase, or one that merged into it did. LZQ_NEVER = not yet.
  lzq_minute look_from;
  lzq_minute last_sighting; // that touched it, LZQ_LONG_AGO
  const lzq_visit *visits;  // in time order
  uint32_t n_visits;
  const lzq_span *spans; // in time order, covering every minute with a course up to `until`
  uint32_t n_spans;
  const lzq_water_stay *stays; // where it stood; the last one is where it is, if it is anywhere
  uint32_t n_stays;
} lzq_lot_credit;

typedef struct {
  lzq_minute until;
  const lzq_lot_credit *lots; // n_lots of the snapshot
  uint32_t n_lots;
  const lzq_uncoursed *uncoursed; // in the order of time; a lot once a minute
  size_t n_uncoursed;
  const lzq_ignored *ignored; // in the order of time
  size_t n_ignored;
} lzq_credit;

// Credit of every lot from the start of the record to `until` (records up to and including that
// minute; credit counts minutes before `until`), as known when entry known_id had just been made.
// O(n log n) in records, one sweep per (system, band). Results live in arena.
// LZQ_NO_MEMORY or LZQ_BAD_INPUT leave *out NULL; what was taken from the arena comes back with its
// reset.
lzq_status lzq_credit_run(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until,
                          lzq_arena *arena, const lzq_credit **out, lzq_fault *fault);

// The same of all that is known now, with a book that follows the snapshot first (NULL: one for
// this call). O(acts on lots + runs of minutes that they live through), and O(records) of the
// waters that the book had not seen as they are; where facts after `until` are on record, as
// lzq_credit_run. Same bytes whatever book.
lzq_status lzq_credit_of_book(lzq_book *book, const lzq_snapshot *snapshot, lzq_minute until,
                              lzq_arena *arena, const lzq_credit **out, lzq_fault *fault);

#endif
