// SPDX-License-Identifier: GPL-3.0-or-later
// The plan: what each lot will do, what each water needs, and why. Computed from the record and
// `now`; nothing in it is ever stored as truth. Codes and numbers only: the desk makes the
// sentences.
#ifndef LZQ_PLAN_H
#define LZQ_PLAN_H

#include "lzq_shorts.h"

typedef enum {
  LZQ_TASK_TEST,
  LZQ_TASK_DOSE,
  LZQ_TASK_CHANGE,
  LZQ_TASK_SALT,
  LZQ_TASK_TOPUP,
  LZQ_TASK_MOVE,
  LZQ_TASK_BATH,
  LZQ_TASK_FEED,
  LZQ_TASK_INSPECT,
  LZQ_TASK_SCRAPE,
  LZQ_TASK_GEAR,
  LZQ_TASK_CALIBRATE,
  LZQ_TASK_DISINFECT,
  LZQ_TASK_FILL,
  LZQ_TASK_ACCEPT,
  LZQ_TASK_SIGN,
  LZQ_TASK_RELEASE,
  LZQ_TASK_DECIDE, // a person has to choose how a lot goes on
  LZQ_N_TASK_KINDS
} lzq_task_kind;

typedef enum {
  LZQ_TASK_DUE,     // at its slot
  LZQ_TASK_LATE,    // its slot has passed
  LZQ_TASK_BLOCKED, // because.code says by what
  LZQ_TASK_WAITS,   // for an earlier task (a step of a rise waits for its confirming test)
} lzq_task_state;

// Reasons. The numbers n[0..3] of each are named behind it; a test renders every code.
typedef enum {
  LZQ_BECAUSE_NONE = 0,
  LZQ_BECAUSE_CREDIT_RUNS,   // n0 credit min, n1 needed min: ends if every test is kept
  LZQ_BECAUSE_CREDIT_WAITS,  // n0 credit, n1 needed, n2 lzq_why, n3 band analyte: earns nothing now
  LZQ_BECAUSE_ELAPSED,       // n0 elapsed min, n1 needed min
  LZQ_BECAUSE_QUIET,         // n0 quiet min so far, n1 needed
  LZQ_BECAUSE_EATING,        // n0 days eaten, n1 needed
  LZQ_BECAUSE_SIGN,          // n0 1 = vet
  LZQ_BECAUSE_PLACE,         // n0 role or LZQ_ASKS_CLEAN: not in its place yet
  LZQ_BECAUSE_RISE_STEP,     // n0 step, n1 steps, n2 level now, n3 level after
  LZQ_BECAUSE_LOWER_STEP,    // n0 step, n1 steps, n2 salinity now, n3 after
  LZQ_BECAUSE_RAISE_STEP,    // the same upwards
  LZQ_BECAUSE_REPLACE,       // n0 litres changed, n1 level before, n2 level after, n3 target
  LZQ_BECAUSE_TOP_UP_LEVEL,  // n0 level now, n1 target: dose back to the target
  LZQ_BECAUSE_TOO_HIGH,      // n0 level, n1 target, n2 litres: a change brings it down
  LZQ_BECAUSE_HARM,          // n0 level, n1 harm edge: change water now
  LZQ_BECAUSE_TEST_RHYTHM,   // n0 minute by which the count stops, n1 analyte
  LZQ_BECAUSE_TEST_CONFIRMS, // n0 analyte: confirms a dose or a step
  LZQ_BECAUSE_TEST_ENDS_PHASE,    // n0 analyte: makes the end firm
  LZQ_BECAUSE_TEST_BEFORE_CHANGE, // n0 litres
  LZQ_BECAUSE_TEST_REPEAT,        // n0 analyte, n1 suspect value, n2 harm edge that it reaches (0 =
                                  // none), n3 litres to change if it is confirmed (NAN)
  LZQ_BECAUSE_OPEN_DOSE,          // n0 minute given, n1 mg, n2 minute from which a reading unlocks
  LZQ_BECAUSE_MOVE_READY,         // n0 destination system
  LZQ_BECAUSE_MOVE_NOT_MATCHED,   // n0 analyte, n1 here, n2 there, n3 tolerance
  LZQ_BECAUSE_MOVE_NO_ROOM,       // n0 role or LZQ_ASKS_CLEAN: no such system can take it
  LZQ_BECAUSE_MOVE_NOT_FIRM,      // waits for the confirming test
  LZQ_BECAUSE_MOVE_APART,         // n0 destination: it is in isolation, and goes back when fit
  LZQ_BECAUSE_GEAR,               // n0 gear, n1 1 = on: must be switched before the dose
  LZQ_BECAUSE_NO_COMMON_BAND,     // n0 other lot, n1 analyte: no water serves both
  LZQ_BECAUSE_SIGHTING,           // n0 minute, n1 system: back to day one
  LZQ_BECAUSE_LAPSED,             // n0 minute
  LZQ_BECAUSE_SHORT,          // n0 minutes short (0 = not proven), n1 phase (snapshot.phases): left
                              // before its time
  LZQ_BECAUSE_HELD_BY,        // n0 lot: last-in rule
  LZQ_BECAUSE_HELD_NO_COURSE, // n0 lot without a course in that water
  LZQ_BECAUSE_SERVED,         // n0 minute
  LZQ_BECAUSE_RELEASED,       // n0 minute
  LZQ_BECAUSE_SPECIES,        // n0 trait: must not meet this treatment
  LZQ_BECAUSE_SPECIES_NO_DATA, // n0 trait
  LZQ_BECAUSE_NO_BOTTLE,       // n0 analyte, n1 form: nothing on the shelf holds it
  LZQ_BECAUSE_CANNOT_HOLD,     // n0 analyte: cannot be held with these slots
  LZQ_BECAUSE_NO_COURSE,       // n0 1 = it was under one before
  LZQ_BECAUSE_LEVEL_UNKNOWN,   // n0 analyte: carbon or resin was in since the last reading: test
                               // first
  LZQ_BECAUSE_PHASE_ENDS,      // n0 minute at which the phase before ends, n1 destination system
  LZQ_BECAUSE_TRANSFER_LATE,   // n0 minute from which the transfer was late, or with n1 = 1 the
                               // dose; n1 = 2: at which lots merged none of whose next transfers
                               // or doses can be in time for all: back to the first one
  LZQ_BECAUSE_TURN_ROUND, // n0 minute from which it is empty, n1 minute of the move into it, n2
                          // min that it takes, n3 lot that will come
  LZQ_BECAUSE_TURN_DONE,  // n0 minute at which disinfection began, n1 minute from which it is dry
  LZQ_BECAUSE_TEST_FIRST, // n0 analyte: never read here, nothing counts before
  LZQ_BECAUSE_MEDICATE,   // n0 analyte, n1 level before, n2 after (NAN = not known), n3 dose
  LZQ_BECAUSE_BATH, // n0 analyte, n1 level, n2 mL in 100 L of bath (NAN = not known), n3 °C or NAN
  LZQ_BECAUSE_WARMTH, // n0 °C last read (NAN = never), n1, n2 °C between which the times hold, NAN
                      // = open
  LZQ_BECAUSE_EXPECTED,  // n0 level expected by then, n1 target, n2 loss per hour (NAN = not said),
                         // n3 1 = that loss is learnt, 0 = usually assumed
  LZQ_BECAUSE_LOOK,      // fish that are watched are looked at while they feed
  LZQ_BECAUSE_MERGED,    // n0 lot in which it goes on
  LZQ_BECAUSE_NO_FISH,   // none of its fish is left
  LZQ_BECAUSE_SLOT_GAP,  // n0 last test minute, n1 next one, n2 minutes between that earn nothing
  LZQ_BECAUSE_CHECK_DUE, // n0 minute of the last good check (LZQ_LONG_AGO = none), n1 days, n2 1 =
                         // it failed its last check
  LZQ_BECAUSE_WILL_LAPSE, // n0 minute from which nothing is earned, n1 next test, n2 minutes lost,
                          // n3 allowed: nobody tests, and the count begins again
  LZQ_BECAUSE_NO_COURSE_IN_COPPER, // n0 level (NAN = not known), n1 litres of copper-free water
                                   // that would take it out (NAN = not known), n2 level that counts
                                   // as free, n3 1 = its course was stopped
  LZQ_N_BECAUSE
} lzq_because_code;

#define LZQ_ASKS_CLEAN (-2) // in place of a role: the next clean tank

typedef struct {
  lzq_because_code code;
  double n[4];
} lzq_because;

// A stretch of a lot's way ahead (or behind): one phase in one system.
typedef struct {
  uint32_t lot, protocol, phase, system, tank; // system LZQ_NONE = not yet decided
  lzq_minute start, end;                       // end LZQ_NEVER = cannot be said
  bool past, firm;                             // past: from the record
  lzq_because because;
} lzq_segment;

typedef enum {
  LZQ_UNIT_NONE,
  LZQ_UNIT_ML,
  LZQ_UNIT_L,
  LZQ_UNIT_G,
  LZQ_UNIT_KG,
  LZQ_UNIT_HEADS,
  LZQ_UNIT_MIN
} lzq_unit;

typedef struct {
  lzq_task_kind kind;
  lzq_task_state state;
  uint32_t system, tank, lot, bottle, to_system, gear, instrument;
  uint8_t analyte;
  lzq_minute at;       // its slot, or the earliest sensible minute
  lzq_minute deadline; // after it credit is lost or harm done; LZQ_NEVER = none
  double amount;       // exact, in `unit`
  lzq_unit unit;
  double level_before, level_after; // of `analyte`, expected; NAN = not said
  double dose_mg;                   // metal
  double with_change_l; // a dose that goes into this much new water beforehand; 0 = into the system
  double new_salinity;  // of the new water of a CHANGE; NAN = as the system
  int32_t walk;         // position in the walk, clean to suspicious; -1 = before it
  lzq_because because;
} lzq_task;

typedef struct {
  lzq_minute release_earliest, release_likely, release_late; // LZQ_NEVER = cannot be said
  lzq_minute served; // end of the last phase, planned or real
  bool served_firm;
  lzq_because because; // what decides the date: the last-in rule if it does, else the first thing
                       // in the way
  const lzq_segment *segments;
  uint32_t n_segments;
  const lzq_because *waits; // everything in the way, first things first
  uint32_t n_waits;
} lzq_lot_plan;

// Target curve of one analyte of one water: points joined by straight lines or steps.
typedef struct {
  lzq_minute at;
  double level;
} lzq_point;

// What one water holds and needs. Bands are the intersection of what its lots need now.
typedef struct {
  bool has_band[2]; // copper, salinity
  lzq_band band[2];
  uint32_t conflict_a, conflict_b; // lots that no water serves both; LZQ_NONE
  lzq_analyte conflict_analyte;    // of which: its band is then the first lot's alone
  double level[2];                 // carried from the last reading, NAN = never read or unknown
  lzq_minute read_at[2];           // LZQ_LONG_AGO = never
  lzq_minute open_dose_at;         // copper dose that no reading has closed, LZQ_LONG_AGO = none
  double open_dose_mg;
  const lzq_point *target[2];
  uint32_t n_target[2];
} lzq_water_plan;

typedef struct {
  lzq_minute now;
  const lzq_credit *credit;
  const lzq_lot_plan *lots;     // n_lots
  const lzq_water_plan *waters; // n_systems
  const lzq_task *tasks; // by slot; in one, the change away from harm first, then LATE and BLOCKED,
                         // then in walking order
  uint32_t n_tasks;
  const lzq_short *shorts; // phases found short, by lot
  size_t n_shorts;
  const int32_t *walk; // n_systems: place of each water in the walk, clean to suspicious
} lzq_plan;

// What ended or spoilt a stay, where it was not its own conditions: a sighting, a lapse, something
// late; LZQ_BECAUSE_NONE.
lzq_because lzq_because_left(const lzq_snapshot *snapshot, const lzq_visit *visit);

// Plans from `now`. Same input, same bytes out. Errors as lzq_credit_run.
lzq_status lzq_plan_make(const lzq_snapshot *snapshot, lzq_minute now, lzq_arena *arena,
                         const lzq_plan **out, lzq_fault *fault);

// The same with a book that follows the snapshot first (NULL: one for this call). O(lots + waters)
// beside the credit (lzq_credit_of_book). Same bytes whatever book.
lzq_status lzq_plan_of_book(lzq_book *book, const lzq_snapshot *snapshot, lzq_minute now,
                            lzq_arena *arena, const lzq_plan **out, lzq_fault *fault);

// The same with the credit of that snapshot at that minute, where it was made before: slots say
// nothing of it. It must live as long as the plan.
lzq_status lzq_plan_of_credit(lzq_book *book, const lzq_snapshot *snapshot,
                              const lzq_credit *credit, lzq_minute now, lzq_arena *arena,
                              const lzq_plan **out, lzq_fault *fault);

// What a water is expected to need at a coming test: not of the record, but of an estimate that has
// learnt what is lost between the tests (lzq_estimate.h).
typedef struct {
  uint32_t system, bottle; // bottle LZQ_NONE = none holds it
  uint8_t analyte;
  lzq_minute at;       // the test at which it is given, if the test reads as expected
  lzq_minute deadline; // the chance of having left the band unseen reaches the station's limit
  double expected, target, mg;
  double loss_per_h; // NAN = not said
  bool loss_learnt;  // of this water's readings; else usually assumed
} lzq_expected;

// The plan with a dose for each of these whose water it does not dose itself, now or later; `plan`
// itself where there is none. A dose of an estimate WAITS for its test. Dates stay those of the
// record. Valid as long as both the plan and the arena. LZQ_NO_MEMORY. Cost O(tasks log tasks).
lzq_status lzq_plan_expect(const lzq_snapshot *snapshot, const lzq_plan *plan,
                           const lzq_expected *expected, uint32_t n, lzq_arena *arena,
                           const lzq_plan **out);

// Whether lots in a water ask for levels of this analyte that exclude each other: there is no band
// then. `system` below the snapshot's n_systems; plan NULL = no.
bool lzq_plan_torn(const lzq_plan *plan, uint32_t system, lzq_analyte analyte);

#endif
