// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle's lots: their state while the replay walks through the minutes.
#ifndef LZT_ORACLE_LOT_H
#define LZT_ORACLE_LOT_H

#include "oracle.h"
#include "oracle_parts.h"

#define LZT_MAX_PHASES 64

typedef struct {
  lzq_minute at;
  int32_t day;
  double share;
} lzt_meal;

typedef struct {
  lzq_minute at;
  uint32_t phase;
  bool vet;
  bool early; // the lot was not in that phase: serves only if it begins in the same minute
} lzt_signature;

// A visit and what only the replay needs of it.
typedef struct {
  lzq_visit v;
  lzq_minute need;     // the last minute at which one of its credited minutes becomes firm
  uint32_t began_in;   // system in which the lot stood when it began
  lzq_minute began_at; // v.start may be older, carried over
  int64_t run;         // minutes in a row without credit
  bool lapsed;         // in this run
} lzt_stay;

// Of fish that merged into a lot: their own course, as far as time and acts alone move it on.
typedef struct {
  uint32_t protocol, phase;
  lzq_minute start, placed_at, given_at; // of that phase
} lzt_clock;

#define LZT_MAX_CLOCKS 32

typedef struct {
  uint32_t index;
  bool here; // received or split off
  bool gone; // released, merged or dead: nothing acts on it any more
  bool has_course, served, released, merged, dead;
  uint32_t protocol, phase, system, tank, merged_into;
  int32_t heads;
  lzq_minute received_at, released_at, served_at, last_sighting;
  lzq_minute last_phase_from; // of a lot that has served: since when who shares its water counts
  lzq_minute entered_at;      // the water in which it stands
  lzq_minute merged_given; // last dose given once to lots that merged in, or that it is a part of
  lzq_minute look_from;    // brought by merges: who shared its water from then on will count too
  bool held_at_release;    // under the last-in rule, in the minute in which it was released
  lzq_minute end_firm[LZT_MAX_PHASES]; // when the last end of each phase becomes firm
  lzt_clock clocks[LZT_MAX_CLOCKS];
  size_t n_clocks;
  bool clocks_wait; // the next transfer or dose that this phase owes is what the clocks wait for
  lzt_stay *stays;
  size_t n_stays, room_stays;
  lzt_meal *meals;
  lzt_signature *signs;
  size_t n_meals, n_signs;
  lzq_minute *shared;   // for each lot: the last minute in which both were in one water
  lzq_minute free_from; // first minute of the stretch in which it may go
  uint32_t held_by;
  lzt_cell *cells;
} lzt_lot;

typedef struct {
  const lzq_snapshot *snap;
  lzt_known known;
  lzq_minute from, until;
  lzt_lot *lots;
  lzt_water *waters; // [system][phase][band]
  bool *made;
} lzt_replay;

lzt_stay *lzt_stay_now(lzt_lot *lot); // NULL when no phase runs

const lzq_phase *lzt_phase_of(const lzt_replay *replay, const lzt_lot *lot);

// Distinct days with a meal of at least that share at or after start.
int32_t lzt_days_eaten(const lzt_lot *lot, lzq_minute start, double share);

// The word of the place and of every band on minute t for the phase that runs.
typedef struct {
  lzq_why why;
  uint8_t band;
  lzq_minute confirmed;
} lzt_verdict;
lzt_verdict lzt_lot_judge(lzt_replay *replay, lzt_lot *lot, lzq_minute t);

// --- oracle_clock.c: lots that merged, and what may be late for one of them
// Whether a phase of that index asks for a transfer or a dose that may be late.
bool lzt_owes(const lzq_phase *phase, uint32_t index);
// The lot's phase owes it and the lot has it by minute t, as it stands.
bool lzt_has_owed(const lzt_replay *replay, lzt_lot *lot, lzq_minute t);
// The lot's own course becomes one of the clocks of `other`, with the lot's own clocks.
void lzt_clocks_join(const lzt_replay *replay, lzt_lot *other, lzt_lot *lot, lzq_minute t);
// The phase is another one, or it is another's: do the clocks wait for what it owes?
void lzt_clocks_wait(const lzt_replay *replay, lzt_lot *lot, lzq_minute t);
// What the phase owes may have come.
void lzt_clocks_settle(const lzt_replay *replay, lzt_lot *lot, lzq_minute t);
// Whether the lot cannot be at its next transfer or dose before a clock runs out; *back: where it
// goes.
bool lzt_clocks_hopeless(const lzt_replay *replay, lzt_lot *lot, lzq_minute t, uint32_t *back);
// Minute t has come for every clock. Whether one of them is too late in the phase that the lot is
// in.
bool lzt_clocks_late(const lzt_replay *replay, lzt_lot *lot, lzq_minute t);

// Where the lot stands now would be the phase's place; the water was dosed with its medicine at t.
bool lzt_in_place(const lzt_replay *replay, lzt_lot *lot);
bool lzt_dosed_at(const lzt_replay *replay, const lzt_lot *lot, lzq_minute t);

// Records and phase ends.
void lzt_lot_begin(lzt_lot *lot, uint32_t phase, lzq_minute t);
void lzt_lot_leave(lzt_lot *lot, lzq_left left, lzq_minute t);
void lzt_lot_end_phases(lzt_replay *replay, lzt_lot *lot, lzq_minute t, bool all);
void lzt_replay_act(lzt_replay *replay, const lzt_event *event, size_t index);

// Whether the phase waits for its medicine: dosed once, or a bath.
bool lzt_waits_for_medicine(const lzq_phase *phase);
// Whether what was earned in the one phase would have been earned in the other.
bool lzt_may_keep(const lzq_phase *before, const lzq_phase *now);
// The last minute at which an earlier stay, or a lot that merged in, had a dose or bath.
lzq_minute lzt_last_given(const lzt_lot *lot);
// Writes down that the water in which the lot stands was dosed with it in minute t.
void lzt_note_dose(lzt_replay *replay, lzt_lot *lot, lzq_minute t);

#endif
