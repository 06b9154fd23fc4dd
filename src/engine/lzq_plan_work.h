// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the planner only: the state of the waters at `now`, what phases ask of a water, and the
// programme of visits that brings a water there. Nothing here leaves the engine.
//
// Level index: MED is the medicine that the goal doses (copper unless the phase holds another),
// SAL is salinity. Times are minutes, LZQ_NEVER = cannot be said; sums saturate (lzq_later).
#ifndef LZQ_PLAN_WORK_H
#define LZQ_PLAN_WORK_H

#include "lzq_book_work.h"
#include "lzq_goal.h"
#include "lzq_new_water.h"
#include "lzq_plan.h"

#define LZQ_HORIZON_MIN (2 * LZQ_DAY)      // routine tests beyond it are not listed
#define LZQ_PREPARE_MIN (5 * LZQ_DAY)      // a destination is prepared this long before its move
#define LZQ_LOOK_MIN    (14 * LZQ_DAY)     // doses, moves and releases beyond it are not listed
#define LZQ_TURN_MIN    (2 * LZQ_DAY)      // a system between fish: disinfected, then dry
#define LZQ_FAR_MIN     (3650LL * LZQ_DAY) // a date further away cannot be said

// One visit to a water: change, salt and dose together are one step.
typedef struct {
  lzq_minute at, test_at;
  double change_l, new_salinity, salt_g, dose_mg;
  double before[2], changed[2], after[2];
  bool beforehand;        // the dose goes into the new water
  lzq_because because[2]; // of the medicine, of the salinity
} lzq_act;

typedef struct {
  lzq_act steps[LZQ_MAX_ACTS];
  uint32_t n;
  lzq_minute effective_at; // the planned reading from which every band is effective
  bool untested;           // no visit needed, only a reading
  bool unread[2];          // moved on record, and no reading since has confirmed it
  lzq_minute ready_at;     // when that reading is planned
  double level[2];         // after the last visit
  lzq_because because;     // of what cannot be done; NONE
} lzq_programme;

// One phase of a way as the planned tests bear on it, for the late release (lzq_plan_late.c).
typedef struct {
  const lzq_phase *phase;
  lzq_minute t, placed, quiet_from; // as walked; later legs move with their start
  lzq_minute effective, end;
  lzq_minute move_from; // of a leg that moves: not before; LZQ_LONG_AGO = no move
  bool waits_firm;
  uint32_t n_visits;
  lzq_minute visit_at[LZQ_MAX_ACTS], last_test;
  bool waits_test; // effective only from a reading that is still to come
  lzq_minute covered_to;
  int64_t need;
  bool current;
} lzq_leg;

// A lot's way ahead, while it is walked.
typedef struct {
  uint32_t lot, system, tank, protocol, phase;
  lzq_minute t; // now, or the end of the phase before
  lzq_minute start, last_sighting;
  lzq_minute placed_at;     // from when it stands in the place to stay; LZQ_NEVER = it has to move
  lzq_minute stood_at;      // when it first stood there: elapsed time counts from then
  lzq_minute given_at;      // lzq_phase_gives: when; LZQ_NEVER = not yet
  lzq_minute due, next_due; // of a lot that merged, as in lzq_visit
  int64_t credit_min, run_min;
  int32_t eaten;
  bool current;          // the phase in which the record stands
  uint32_t origin;       // system in which the lot stood when the phase began
  uint32_t home;         // of one that was taken out of its place: where it stood last; or LZQ_NONE
  lzq_minute firm_at;    // minute from which the end before is firm
  lzq_minute first_firm; // the same for the first leg; LZQ_LONG_AGO = firm already
  lzq_leg *leg;
  uint32_t first_move; // its moves are from here on
} lzq_walker;

// How a phase ends.
typedef struct {
  lzq_minute effective, end;
  lzq_because because;
} lzq_outcome;

// A planned or needed move of a lot.
typedef struct {
  uint32_t lot, from, to, tank, phase;
  lzq_minute at, ready_at; // when it is planned; from when the destination matches
  lzq_minute clean_at;     // from when it is a clean tank; LZQ_LONG_AGO = it is, or need not be
  lzq_minute deadline;     // after it the transfer is late; LZQ_NEVER
  double here[2];          // copper and salinity of the water that the lot will come from
  lzq_task_state state;
  lzq_because because;
} lzq_move;

// Lots that are on their way into a system, in the days in which a destination is prepared.
typedef struct {
  lzq_goal goal;  // of the phases that they will be in
  uint32_t first; // of its moves the earliest, for which its water is prepared; LZQ_NONE = nobody
} lzq_coming;

typedef struct {
  const lzq_snapshot *snap;
  lzq_minute now;
  lzq_arena *arena;
  lzq_book *book;
  const lzq_credit *credit;
  lzq_water_state *waters;        // n_systems
  lzq_goal *goals;                // n_systems, of the lots there now
  lzq_programme *programmes;      // n_systems
  uint32_t *first_lot, *next_lot; // lots standing in each system
  uint32_t *where;                // n_lots: system of each lot, as far as the record was taken
  uint32_t *reserved_for; // n_systems: whose lots will take it as a clean tank: the system that
                          // they stand in now, LZQ_NONE
  lzq_coming *coming;     // n_systems, of the moves planned so far
  int32_t *walk;          // n_systems
  int32_t *eaten;         // n_lots, days eaten in the current phase
  size_t *fed;            // n_lots, of its feeds, as far as the record was taken
  int32_t *fed_on;        // n_lots, station day of the last feed, INT32_MIN = never
  bool *signed_off;       // n_lots
  lzq_minute *scraped_at; // n_lots, the last one, LZQ_LONG_AGO = none
  lzq_shorts shorts;
  const lzq_short **short_of; // n_lots, NULL = none
  lzq_lot_plan *lots;
  lzq_water_plan *water_plans;
  lzq_move *moves;
  uint32_t n_moves, cap_moves;
  lzq_task *tasks;
  uint32_t n_tasks, cap_tasks;
  lzq_leg *legs;           // scratch, one a phase of the longest protocol
  void *late;              // scratch of lzq_plan_late.c, made once
  bool failed;             // no memory
  const lzq_slot *pattern; // the last slots handed in: a week, or a day if there is no week
  uint32_t n_pattern;
  int64_t period; // min after which they repeat
  lzq_minute slots_end;
  int32_t test_gap_min; // longest distance between neighbouring test slots
  int32_t slot_gap_min; // shortest distance between neighbouring slots
} lzq_work;

// A task with nothing said but these; walk: its water's place.
lzq_task lzq_task_of(lzq_task_kind kind, uint32_t system, lzq_minute at, int32_t walk);
// In the order of lzq_plan.h.
void lzq_tasks_sort(lzq_task *tasks, uint32_t n);

// --- lzq_plan_slots.c
void lzq_slots_prepare(lzq_work *work);
lzq_minute lzq_slot_next(const lzq_work *work, lzq_minute t, bool test);
// The next minute at which somebody can act: t itself while people are still at the tanks.
lzq_minute lzq_visit_next(const lzq_work *work, lzq_minute t, bool test);
lzq_minute lzq_later(lzq_minute t, int64_t by);
// When the lot is fed next: once a station day.
lzq_minute lzq_feed_next(const lzq_work *work, uint32_t lot);
// The first slot of a station day at or after t; t itself while people are at that slot's work.
lzq_minute lzq_morning_next(const lzq_work *work, lzq_minute t);
// When somebody can make a move that is free to wait: at a slot, at a morning's where the phase
// asks for it.
lzq_minute lzq_move_next(const lzq_work *work, const lzq_phase *phase, lzq_minute t);
// The first slot of the nth station day that has a slot at or after t.
lzq_minute lzq_day_nth(const lzq_work *work, lzq_minute t, int32_t n);

// --- lzq_plan_state.c
lzq_status lzq_state_make(lzq_work *work);

// --- lzq_asks.c
const lzq_visit *lzq_visit_now(const lzq_lot_credit *credit); // NULL = in no phase
// The last end of a phase on its way is confirmed, or it has none.
bool lzq_end_before_is_firm(const lzq_lot_credit *credit);

// --- lzq_plan_goal.c
lzq_goal lzq_goal_of_phase(const lzq_phase *phase, uint32_t lot);
// A level on the right side of the works edge, the error inside it where asked.
bool lzq_band_serves(const lzq_band *band, double value, double error);
// Whether minute t would earn credit in this water, by its last readings and carried levels.
bool lzq_water_serves(const lzq_work *work, const lzq_water_state *water, const lzq_phase *phase,
                      lzq_minute t, lzq_because *why);

// --- lzq_plan_programme.c
void lzq_programme_make(const lzq_work *work, uint32_t system, const lzq_water_state *water,
                        const lzq_goal *goal, lzq_minute from, lzq_programme *out);
// lzq_bottle_pick of the station, now.
uint32_t lzq_bottle_for(const lzq_work *work, lzq_analyte analyte, lzq_form form);
// The water after the programme: levels moved, readings made.
void lzq_programme_apply(lzq_water_state *water, const lzq_goal *goal,
                         const lzq_programme *programme);

// --- lzq_plan_lot.c, lzq_plan_place.c, lzq_plan_late.c
void lzq_lots_walk(lzq_work *work);
uint32_t lzq_lot_asks(const lzq_work *work, uint32_t lot); // lzq_phase_asked
// It asks for its current phase, and stands where that is served: not apart.
bool lzq_lot_served_here(const lzq_work *work, uint32_t lot);
// --- lzq_plan_past.c
lzq_because lzq_because_short(const lzq_work *work, const lzq_short *left);
void lzq_segment_add(lzq_lot_plan *plan, lzq_segment segment); // one of no minute is left out
void lzq_segments_past(lzq_work *work, uint32_t lot);
// --- lzq_plan_phase.c
lzq_outcome lzq_phase_end(lzq_work *work, lzq_walker *walker, const lzq_phase *phase,
                          lzq_water_state *water);
// Another lot of its water whose level of the medicine that both wait for is not for its fish, so
// that nothing is dosed; LZQ_NONE = none.
uint32_t lzq_once_torn(const lzq_work *work, uint32_t lot);
// The dose of a phase that begins at `start`, if it was given before that (lzq_early_min) to the
// lot where it stands; LZQ_NEVER = not.
lzq_minute lzq_given_early(const lzq_work *work, uint32_t lot, uint32_t system,
                           const lzq_phase *phase, lzq_minute start);
// When the medicine of a phase that gives it can next be given, at or after t: at a visit, and
// never sooner after the water's last dose of it than the phase lasts, whoever that dose was for.
lzq_minute lzq_given_next(const lzq_work *work, const lzq_water_state *water,
                          const lzq_phase *phase, lzq_minute t);
void lzq_phase_sign_off(lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                        lzq_outcome *out);
bool lzq_waits_for_firm(const lzq_phase *phase);

bool lzq_place_holds(const lzq_work *work, const lzq_phase *phase, uint32_t system,
                     uint32_t origin);
// The system that the lot goes to at `at` or later, LZQ_NONE = none.
uint32_t lzq_place_find(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                        const lzq_water_state *here, lzq_minute at, uint32_t *tank);
// What place a phase asks for: a role, or LZQ_ASKS_CLEAN.
double lzq_place_asked(const lzq_phase *phase);
// Why no system can take it: the water that it was taken out of does not match; else no room.
lzq_because lzq_place_none(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                           const lzq_water_state *here);
bool lzq_lot_away(const lzq_work *work, uint32_t lot);  // lzq_phase_away
bool lzq_lot_apart(const lzq_work *work, uint32_t lot); // lzq_phase_apart
// Of a lot that is away: the system in which it stood in its place last; LZQ_NONE = not known.
uint32_t lzq_lot_home(const lzq_work *work, uint32_t lot);
// That move, the last in work->moves, is planned: others that come meanwhile must fit it.
void lzq_place_take(lzq_work *work, const lzq_phase *phase);
// The last minute at which a transfer into the walker's phase is not late; LZQ_NEVER = any.
lzq_minute lzq_transfer_last(const lzq_walker *walker, const lzq_phase *phase);
bool lzq_place_matches(const lzq_work *work, const lzq_phase *phase, const lzq_water_state *here,
                       const lzq_water_state *there, lzq_because *why);
lzq_goal lzq_place_goal(const lzq_phase *phase, const lzq_water_state *here);
void lzq_hold_last_in(lzq_work *work);

// The 90 % quantile of the release if each planned test is missed, independently, with the
// station's share.
lzq_minute lzq_late_release(lzq_work *work, const lzq_leg *legs, uint32_t n, lzq_minute first_firm);

// --- lzq_plan_stopped.c
// For lots under no course that stand in copper: the choice, and the tests until it is made.
void lzq_stopped_tasks(lzq_work *work);

// --- lzq_plan_turn.c
// Of every deed that names a lot, in their order.
void lzq_turn_note(lzq_work *work, const lzq_record *record, const lzq_mark *mark);
// A lot's feeds before the mark, NULL = all.
void lzq_turn_fed(lzq_work *work, uint32_t lot, const lzq_mark *mark);
// From when a system is a clean tank for the lot: LZQ_LONG_AGO = it is, LZQ_NEVER = others have it.
lzq_minute lzq_turn_ready(const lzq_work *work, const lzq_walker *walker, uint32_t system);
// Disinfect what a move needs; fill what has been disinfected.
void lzq_turn_tasks(lzq_work *work);

// --- lzq_plan_lot.c
// Behind what a lot waits for already; nothing where it is NONE or eight stand there.
void lzq_wait_add(lzq_lot_plan *plan, lzq_because because);

// --- lzq_plan_gap.c
// Names the first stretch without a test that is longer than the lot's phase allows.
void lzq_slot_gap_note(lzq_work *work, uint32_t lot);

// --- lzq_plan_instruments.c
void lzq_checks_due(lzq_work *work);

// --- lzq_plan_water.c
void lzq_waters_plan(lzq_work *work);
void lzq_waters_curves(lzq_work *work);

// --- lzq_plan_tasks.c, lzq_plan_tests.c, lzq_plan_order.c
void lzq_tasks_of_waters(lzq_work *work);
void lzq_tasks_of_lots(lzq_work *work);
void lzq_once_tasks(lzq_work *work); // lzq_plan_once.c
// A task for each piece of gear that is not as the lots there ask, unless they are listed already;
// the first of them blocks doses until it is on record. NONE = all is as asked.
lzq_because lzq_gear_tasks(lzq_work *work, uint32_t system, lzq_minute at, bool listed);
// Tests of one analyte by the goal's test_gap_min, and the one of the last slot, `missed`, if it
// was not made.
lzq_task *lzq_test_add(lzq_work *work, uint32_t system, uint8_t analyte, lzq_minute at,
                       lzq_because because);
void lzq_tests_by_rhythm(lzq_work *work, uint32_t system, uint8_t analyte, lzq_minute missed);
// The repeat of a reading in doubt, of an analyte that no band asks for.
void lzq_test_repeat(lzq_work *work, uint32_t system, uint8_t analyte);
// The last test slot before t, LZQ_LONG_AGO = none.
lzq_minute lzq_test_slot_before(const lzq_work *work, lzq_minute t);
lzq_task *lzq_task_add(lzq_work *work, lzq_task_kind kind, uint32_t system, lzq_minute at);
void lzq_walk_order(lzq_work *work);
void lzq_tasks_order(lzq_work *work);

#endif
