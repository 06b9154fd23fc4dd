// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: the state of every lot while the record is replayed, act by act. Lots move
// on lazily: each is walked to a minute only when an act of that minute concerns it.
//   lzq_walk.c   minutes: earns, lapses, phase ends        lzq_visit.c  stays in phases, firmness
//   lzq_acts.c   what a record does to a lot               lzq_place.c  where it stands
//   lzq_feeds.c  what a lot ate                             lzq_lastin.c who may go
#ifndef LZQ_WALK_H
#define LZQ_WALK_H

#include "lzq_book_work.h"

// A sign; newest first, shared by the parts of a split lot.
typedef struct lzq_note {
  const struct lzq_note *older;
  const lzq_record *record;
  bool meant; // the lot was in the phase that it names
} lzq_note;

// A feed, likewise.
typedef struct lzq_meal {
  const struct lzq_meal *older;
  const lzq_feed *feed;
} lzq_meal;

// A time in one water, minutes from .. to-1 (it may end in the minute in which it began); newest
// first, shared by the parts of a split lot.
typedef struct lzq_stay {
  struct lzq_stay *older;
  struct lzq_stay *origin; // itself, or the stay of another lot that it is a copy of
  uint32_t mark;
  lzq_minute from, to;
  lzq_minute since; // it counts for the lot from here on: a merged lot's stays, from the merge
  uint32_t system;
} lzq_stay;

// Of a lot that has served: another that had served merged into it at `at`, and had entered its
// last phase at `from`, earlier than any before: who shared water from then on counts, from `at`
// on.
typedef struct lzq_earlier {
  const struct lzq_earlier *older; // with a later `from` and an earlier `at`
  lzq_minute from, at;
} lzq_earlier;

// A time in which a lot held others under the last-in rule, minutes from .. to-1; newest first.
typedef struct lzq_held {
  const struct lzq_held *older;
  lzq_minute from, to;
} lzq_held;

// What a lot has in its present phase. `firm` values are minutes: when the last of it was
// confirmed.
typedef struct {
  uint32_t protocol, phase;
  uint32_t began_in; // water in which it stood when the phase began
  lzq_minute start, course_from, placed_at, credit_from, given_at;
  lzq_minute look_from; // brought by merges, until a set-back: see lzq_place_looks_back_to
  // Clocks of lots that merged, LZQ_NEVER = none: by when what the phase owes must be there at the
  // latest (lzq_owed_by), and the same of the next phase that owes something.
  lzq_minute due, next_due;
  int64_t credit_min, open_min, accepted_min, run_min;
  lzq_minute first_lapse, last_lapse;
  uint32_t lapses;
  bool run_lapsed; // the present run without credit has lapsed already
  bool signed_person, signed_vet;
  int32_t eaten_days;
  int32_t bathed; // of the fish that a bath must reach, at least so many; all: given_at
  lzq_minute
      firm; // of the firm credit up to last_firm's binding; LZQ_LONG_AGO = none, LZQ_NEVER = waits
  lzq_minute last_firm; // last firm minute not yet in `firm`; LZQ_LONG_AGO = none
} lzq_stage;

typedef struct {
  bool counted, released, merged, dead, has_course, served;
  uint32_t merged_into;  // where merged
  uint32_t system, tank; // LZQ_NONE = nowhere
  int32_t heads;
  lzq_minute received_at, released_at, last_sighting;
  lzq_minute listed_at;  // last sighting that met it without a course
  lzq_minute last_given; // of its stays that are over, and of lots that merged in; LZQ_LONG_AGO
  lzq_minute served_at, served_firm, last_phase_start;
  const lzq_earlier *earlier; // beginnings of last phases that merged lots brought, newest first
  lzq_stage stage;
  const lzq_note *signs;
  const lzq_meal *meals;
  size_t fed,
      noted; // of its own list of feeds: that have acted; that are among the meals, or not his
  lzq_minute
      *ends; // by phase: when its last end became firm; LZQ_LONG_AGO = none, LZQ_NEVER = waits
  // where the walk is: minutes before `cursor` are counted, records of that minute are acting
  lzq_minute cursor, settled_at;
  const lzq_sweep *sweeps[LZQ_MAX_BANDS];
  size_t runs[LZQ_MAX_BANDS];
  bool bound;
  // under the last-in rule it holds nobody from `clear_since` on (LZQ_NEVER = it holds)
  lzq_minute clear_since, was_clear_since, unclear_at;
  const lzq_held *held; // times that are over
  // it has served and that is firm from `free_since` on
  lzq_minute free_since;
  lzq_minute stay_from;
  lzq_stay *stays;
  uint32_t next, previous;                            // among the lots of its water
  uint32_t visit, span;                               // its last, in the pools
  uint32_t n_visits, accepted_visits, accepted_spans; // accepted: nothing before these is open
} lzq_lot_walk;

typedef struct {
  lzq_visit visit;
  uint32_t lot, older, index; // index among the lot's visits
} lzq_visit_slot;

typedef struct {
  lzq_span span;
  uint32_t lot, older;
} lzq_span_slot;

typedef struct {
  const lzq_snapshot *snapshot;
  lzq_book *book;
  lzq_sweep_scratch scratch;
  lzq_arena *arena;
  lzq_lot_walk *lots;
  uint32_t *first_in;     // by system: a lot in it, LZQ_NONE
  lzq_minute *sighted_at; // by system
  lzq_visit_slot *visits;
  lzq_span_slot *spans;
  size_t n_visits, n_spans, visit_capacity, span_capacity;
  lzq_uncoursed *uncoursed;
  lzq_ignored *ignored;
  size_t n_uncoursed, uncoursed_capacity, n_ignored, ignored_capacity;
  uint32_t marks; // given to stays so far
  bool no_memory;
} lzq_walk;

// The answer for one minute, and up to where it holds.
typedef struct {
  lzq_minute to;
  uint8_t why, band;
  bool firm;
} lzq_answer;

static inline const lzq_phase *
lzq_walk_phase(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  const lzq_protocol *protocol = &walk->snapshot->protocols[lot->stage.protocol];
  return &walk->snapshot->phases[protocol->first_phase + lot->stage.phase];
}

// It stands in some water.
static inline bool
lzq_walk_present(const lzq_lot_walk *lot)
{
  return lot->system != LZQ_NONE && !lot->released && !lot->merged && !lot->dead;
}

// It is in a phase: its minutes are counted.
static inline bool
lzq_walk_active(const lzq_lot_walk *lot)
{
  return lot->has_course && !lot->served && !lot->released && !lot->merged && !lot->dead;
}

// Before it was received, or after its way ended, nothing can be done with a lot.
static inline bool
lzq_walk_may_act(const lzq_lot_walk *lot, uint8_t kind)
{
  if (lot->released || lot->merged)
    return false;
  if (lot->dead)
    return kind == LZQ_REC_COUNT;
  return lot->received_at != LZQ_NEVER || kind == LZQ_REC_RECEIVE;
}

// --- lzq_walk.c
// Counts the minutes up to `to`-1 and ends phases at minutes before `to`.
void lzq_walk_to(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute to);
// Ends phases at the minute at which the walk is, as far as its records have acted. whole: all of
// them have, so that a transfer that is late at that minute sets the lot back.
void lzq_walk_settle(lzq_walk *walk, lzq_lot_walk *lot, bool whole);
// When it first stood in its place, if that was at or before the cursor.
lzq_minute lzq_walk_placed(const lzq_walk *walk, const lzq_lot_walk *lot);
// When its phase's medicine was first given, if that was at or before the cursor.
lzq_minute lzq_walk_given(const lzq_walk *walk, const lzq_lot_walk *lot);
// A transfer or dose is too late: phase `back` of the course begins anew at minute `at`.
void lzq_walk_set_back(lzq_walk *walk, lzq_lot_walk *lot, lzq_left why, uint32_t back,
                       lzq_minute at);
// The answer for minute t, at or after the cursor.
lzq_answer lzq_walk_answer(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute t);

// --- lzq_visit.c
// A fresh stage: the phase begins at `start`, as day one.
void lzq_visit_begin(lzq_walk *walk, lzq_lot_walk *lot, uint32_t protocol, uint32_t phase,
                     lzq_minute start);
// The stage as it is becomes a visit of its own (a carried course, a split).
void lzq_visit_open(lzq_walk *walk, lzq_lot_walk *lot);
// The last stay of a lot that has served becomes a stay of its part as well.
void lzq_visit_copy(lzq_walk *walk, const lzq_lot_walk *from, lzq_lot_walk *to);
void lzq_visit_close(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at, lzq_left left);
// The phase has ended at minute `at`; the next one begins, or the lot has served.
void lzq_visit_end_phase(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at);
// Credit open before `at` is firm at `at`.
void lzq_visit_accept_open(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at);
void lzq_visit_bath(const lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record);
// --- lzq_visit_parts.c
// `heads` fish of a lot, before they leave it, become a part: each has as many of the bathed as it
// must.
void lzq_visit_share_bath(lzq_lot_walk *lot, lzq_lot_walk *part, int32_t heads);
// Both in one phase: `other` gets the worse of each.
void lzq_visit_worsen(lzq_walk *walk, lzq_lot_walk *lot, lzq_lot_walk *other);
// Whether what the phase owes, a transfer and a dose, was there at `by`.
bool lzq_has_got(const lzq_phase *phase, lzq_minute placed_at, lzq_minute given_at, lzq_minute by);
// By when the lot needs its next transfer or dose that may be late, as far as its own clock alone
// tells; LZQ_NEVER = never, or that cannot be told before other conditions have ended a phase.
lzq_minute lzq_visit_next_due(const lzq_walk *walk, const lzq_lot_walk *lot);
// What the clocks of lots that it is merged of say, and have not got.
lzq_minute lzq_visit_due(const lzq_walk *walk, const lzq_lot_walk *lot);
// `lot` is merged of fish the first of which need the next of these by `due`.
void lzq_visit_owe(const lzq_walk *walk, lzq_lot_walk *lot, lzq_minute due);
// The phase begins with a dose that came early: the next one is due counted from that.
void lzq_visit_clock_early(const lzq_walk *walk, lzq_lot_walk *lot);
// If nothing but time leads to the next phase that owes one, and that begins later than it is due,
// the lot goes back now.
void lzq_visit_give_up(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at);
void lzq_visit_sign(lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record);
// Days of eating and signs since the stage's start, for the phase that it is in.
void lzq_visit_recall(const lzq_walk *walk, lzq_lot_walk *lot);
// Minute at which the end of the phase would be firm if it were now; LZQ_NEVER = it waits.
lzq_minute lzq_visit_firm(lzq_lot_walk *lot, lzq_minute at);
// When the ends of the phases before this one became firm.
lzq_minute lzq_visit_ends(const lzq_lot_walk *lot);
// Two that are in one phase merge: `other` keeps the signs that both have.
void lzq_visit_common_signs(lzq_walk *walk, const lzq_lot_walk *lot, lzq_lot_walk *other);
// Before the water, the bands or the phase change: when the firm minutes so far were confirmed.
void lzq_visit_fold(lzq_lot_walk *lot);
// Lengthens `last` by `next` if that goes on with the same answer.
bool lzq_visit_join(lzq_span *last, const lzq_span *next);
void lzq_visit_span(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute to, const lzq_answer *answer);

// --- lzq_feeds.c
// Feeds of the lot that act before `mark` (NULL = all) act now. Only where its course asks for days
// of eating is the lot walked from one to the next.
void lzq_feeds_act(lzq_walk *walk, lzq_lot_walk *lot, const lzq_mark *mark);
// The meals are those of all feeds that have acted: to be called before they are looked at or
// handed on, and before the lot gets a course that may ask for what it ate before.
void lzq_feeds_note(lzq_walk *walk, lzq_lot_walk *lot);
// Days of eating since the phase began, also beyond what it asks for.
int32_t lzq_feeds_eaten(const lzq_walk *walk, const lzq_lot_walk *lot);
// The same for its own phase anew: it begins later than it did.
void lzq_feeds_recount(const lzq_walk *walk, lzq_lot_walk *lot);

// --- lzq_acts.c
// Acts i .. of one minute and one kind group; returns the index of the next.
size_t lzq_acts_apply(lzq_walk *walk, size_t i);
// Lists an act that changed nothing.
void lzq_acts_ignore(lzq_walk *walk, const lzq_record *record, lzq_ignored_why why);

// --- lzq_place.c
// To a tank; LZQ_NONE = not yet in any. Within one water the stay goes on.
void lzq_place_put(lzq_walk *walk, lzq_lot_walk *lot, uint32_t tank, lzq_minute at);
// The lot's way ends here: out of the water, and it holds nobody.
void lzq_place_depart(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at, lzq_left left);
// No fish left = dead; fish counted again = back, without a course.
void lzq_place_heads(lzq_walk *walk, lzq_lot_walk *lot, int64_t heads, lzq_minute at);
void lzq_place_add_stay(lzq_walk *walk, lzq_lot_walk *lot, uint32_t system, lzq_minute from,
                        lzq_minute to);
// Since when sharing its water counts under the last-in rule, as its course stands: since it
// entered its last phase, or one that merged into it did. LZQ_NEVER = not yet.
lzq_minute lzq_place_looks_back_to(const lzq_walk *walk, const lzq_lot_walk *lot);
void lzq_place_inherit(lzq_walk *walk, const lzq_lot_walk *lot, lzq_lot_walk *other, lzq_minute at);
// `lot`, that has served, merges into `other`, that has served too: the earlier last phase counts.
void lzq_place_look_back(lzq_walk *walk, const lzq_lot_walk *lot, lzq_lot_walk *other,
                         lzq_minute at);
// Whether it holds others under the last-in rule.
void lzq_place_clear(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at, bool clear);

// --- lzq_lastin.c
// Sets what the last-in rule says of lots: releasable_at, who holds, since when. out: n_lots.
lzq_status lzq_lastin_judge(const lzq_walk *walk, lzq_lot_credit *out);

#endif
