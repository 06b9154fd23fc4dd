// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: the inside of the book. Every record that holds is in one list: the facts
// of its water, the checks of instruments, what a lot was fed, or the deeds (what else is done to
// lots, and sightings). What is made of a water's facts lies in an arena of that water and is
// thrown away with it.
//   lzq_book.c       what a new record changes      lzq_book_list.c   lists in the order of acting
//   lzq_book_keep.c  set-up, beginning and end      lzq_book_water.c  what is made of one water
//   lzq_book_lend.c  as bytes, and over bytes
//
// What is made of a water's facts up to a cut, some weeks before its newest fact, stays as long as
// nothing acts before the cut that did not; what acts behind it is made from the cut on. So an
// entry costs the last weeks of its water.
#ifndef LZQ_BOOK_WORK_H
#define LZQ_BOOK_WORK_H

#include "lzq_book.h"
#include "lzq_new_water.h"
#include "lzq_shorts.h"
#include "lzq_sweep.h"
#include "lzq_water_state.h"

// Where a fact stands in the order of acting, and which record says so.
typedef struct {
  lzq_minute at;
  uint32_t first;  // index of its first entry: its place in the order of entry
  uint32_t holder; // index of the record that holds for it
  uint8_t kind, analyte;
  uint8_t which; // form of a dose, gear, state
  uint8_t flags; // LZQ_FACT_*
  uint32_t instrument;
} lzq_mark;

// WAITS is set and cleared by lzq_acting while a water's facts are walked, and says nothing after.
enum { LZQ_FACT_SUSPECT = 1, LZQ_FACT_OK = 2, LZQ_FACT_DRIP = 4, LZQ_FACT_WAITS = 8 };

// A record of a water, or a check, without what nobody asks later.
typedef struct {
  lzq_mark mark;
  double amount; // value of a reading
  double extra;  // error of a reading, copper of new water
  union {
    double new_salinity; // of new water
    uint64_t id;         // of a reading: of its first entry
  };
} lzq_fact;

// What a lot was fed, and how much of it was eaten. Most of what is done to lots is this.
typedef struct {
  lzq_mark mark;
  double amount; // share eaten
  int32_t day;
} lzq_feed;

// Another record about a lot, or a sighting, whole.
typedef struct {
  lzq_mark mark;
  lzq_record record;
} lzq_deed;

// Items that begin with a lzq_mark: sorted up to n_sorted, the rest as they came.
typedef struct {
  unsigned char *items;
  size_t size, n, n_sorted, capacity, coming;
  bool has_dead; // items whose record no longer holds
} lzq_list;

// A water's facts before a cut, taken. All before it act in earlier minutes than those behind it,
// and no dose waits.
typedef struct {
  size_t n;      // facts before it; 0 = there is none
  lzq_minute at; // of the first behind it
  uint8_t form;  // of the last copper dose before it; LZQ_NO_FORM
  lzq_new_water waits;
  lzq_taker taker;
  lzq_water_state state;
} lzq_cut;

// A sweep that stays, in arrays of the book.
typedef struct {
  lzq_sweep sweep;
  size_t runs_capacity, spoken_capacity;
  bool made;
  lzq_minute stale_from; // of facts that act from then on it is not made as they are; LZQ_NEVER
} lzq_kept_sweep;

// A reading that repeats a suspect one and agrees with it.
typedef struct {
  lzq_mark mark;
  uint64_t id; // of the first entry that it confirms
} lzq_tie;

// Of a first entry: which record holds for it (LZQ_NONE = none). Of a correction: what held before,
// and the first entry.
typedef struct {
  uint32_t holder, first;
} lzq_entry;

typedef struct {
  lzq_list facts;
  lzq_minute first_stay; // first minute at which fish are put into it, LZQ_NEVER = none
  lzq_minute stale_from; // facts that act from then on changed since it was asked for; LZQ_NEVER
  lzq_arena own;
  lzq_arena *arena; // of the track: its own, or the caller's
  bool track_made, track_whole;
  lzq_track_system track; // readings and events, all or those behind the cut; not kept for long
  lzq_cut cut;
  lzq_kept_sweep *sweeps; // by band; NULL before the first is asked for
  lzq_minute swept_stay;  // first_stay that they were made with
  bool state_made;
  lzq_water_state state;
} lzq_book_water;

typedef struct {
  lzq_minute at;
  bool ok;
} lzq_check;

struct lzq_book {
  lzq_allocator allocator;
  lzq_arena *shared; // everything lives there; NULL = the book owns its memory
  // what it was borrowed from, NULL = nothing; and who allocates besides
  const unsigned char *lent;
  size_t lent_size;
  lzq_allocator given;
  lzq_minute until;   // facts after it are left out
  lzq_minute cut_min; // a cut is made so long before a water's newest fact
  // the set-up that it was made for
  lzq_snapshot setup;
  uint32_t *band_id; // by phase and band: equal bands share one, counted from 0
  uint32_t n_bands;
  // the record
  lzq_entry *entries; // by record
  size_t n, entry_capacity;
  lzq_minute last_at; // of all facts
  lzq_record tail[LZQ_BOOK_TAIL];
  lzq_list deeds, checks, ties;
  lzq_book_water *waters; // n_systems
  lzq_list *feeds;        // by lot
  uint32_t n_feeds;       // lots that have such a list
  bool lifted;            // a fact was taken off since last_at and first_stay were looked up
  bool checks_made, tied_made;
  uint64_t *tied;         // open-addressed set of the ids that ties name; 0 = free
  size_t tied_size;       // a power of two
  lzq_check *check_items; // by instrument and time
  size_t *check_first;    // n_instruments + 1
  size_t *check_next;     // scratch of one water
};

#define LZQ_CUT_MIN (45 * LZQ_DAY) // what is entered late comes within that, nearly always

// --- lzq_book_list.c
static inline lzq_mark *
lzq_list_at(const lzq_list *list, size_t i)
{
  return (lzq_mark *)(void *)(list->items + i * list->size);
}
// Room for the items that are coming. False = no memory.
bool lzq_list_reserve(lzq_list *list, const lzq_allocator *allocator);
// The caller fills the item, whose mark is given; NULL = no memory.
void *lzq_list_push(lzq_list *list, const lzq_mark *mark, const lzq_allocator *allocator);
// Takes out what no longer holds and puts the rest in order: O(n) in the worst case but for the
// sorting of what came out of order.
bool lzq_list_settle(lzq_list *list, const lzq_entry *entries, const lzq_allocator *allocator);
void lzq_list_free(lzq_list *list, const lzq_allocator *allocator);
// How many items of a settled list act before the mark, at least `from`; NULL = all.
size_t lzq_list_before(const lzq_list *list, size_t from, const lzq_mark *mark);

// --- lzq_book_keep.c
// True if the set-up that credit and waters rest on is that of the snapshot.
bool lzq_book_fits(const lzq_book *book, const lzq_snapshot *snapshot);
// Begins anew for the set-up of the snapshot. False = no memory.
bool lzq_book_begin(lzq_book *book, const lzq_snapshot *snapshot);
// Indexes of equal bands. False = no memory.
bool lzq_book_name_bands(lzq_book *book);
// A list of feeds for each of n lots. False = no memory.
bool lzq_book_lots(lzq_book *book, uint32_t n);
// An array of the book; NULL = no memory. It goes with lzq_book_drop.
void *lzq_book_alloc(lzq_book *book, size_t count, size_t size);
void lzq_book_drop(lzq_book *book, void *items);
// An array of the book with room for `wanted` items: itself, or grown. NULL = no memory, and it
// stays.
void *lzq_book_room(lzq_book *book, void *items, size_t wanted, size_t *capacity, size_t size);

// The book to ask for a credit up to `until`: `kept` after it has followed the snapshot; where it
// knows of facts after `until`, or there is none, one in the arena. The snapshot is checked.
lzq_status lzq_book_for(lzq_book *kept, const lzq_snapshot *snapshot, lzq_minute until,
                        lzq_arena *arena, lzq_book **out, lzq_fault *fault);

// --- lzq_acting.c
// The facts of a water in the order in which they act on it: doses in new water where they come in.
typedef struct {
  const lzq_list *facts;
  lzq_new_water waits;
  size_t next;          // fact
  size_t n_held, first; // doses that wait; none of them stands before `first`
  // those that come in now: facts cursor .. end-1 of one analyte, or all
  bool letting_in, last;
  uint8_t analyte;
  size_t cursor, end;
  lzq_minute at;
  const lzq_fact *with;
} lzq_acting;

typedef struct {
  const lzq_fact *fact;
  lzq_minute at;        // in which it acts
  const lzq_fact *with; // change that brings the dose in, NULL
  bool last;            // a dose that no change has brought in, and nothing on record acts after it
} lzq_acted;

// From the cut on; NULL = all of them.
void lzq_acting_begin(lzq_acting *acting, const lzq_list *facts, const lzq_cut *cut);
// False = there are no more.
bool lzq_acting_next(lzq_acting *acting, lzq_acted *out);
// What the dose adds to a system of that volume, mg.
double lzq_acted_mg(const lzq_acted *acted, double volume_l);

// --- lzq_water_state.c
// The water as all its facts leave it, with the levels of the last day before `now`. False = no
// memory.
bool lzq_book_state(lzq_book *book, uint32_t system, lzq_minute now, lzq_water_state *out);

// --- lzq_shorts.c
// As lzq_shorts_make, with the book that the credit was made with.
lzq_status lzq_shorts_of_book(lzq_book *book, const lzq_snapshot *snapshot,
                              const lzq_credit *credit, lzq_arena *arena, lzq_shorts *out);

// --- lzq_book_water.c
// Whether a reading that holds confirms the first entry with this id.
bool lzq_book_tied(const lzq_book *book, uint64_t id);
// The water, what is stale of it known; NULL = no memory.
lzq_book_water *lzq_book_water_of(lzq_book *book, uint32_t system);
// Makes the track of one that was just asked for, if it is not there: whole, or from the cut on, if
// no more is asked; track_whole says. False = no memory.
bool lzq_book_track(lzq_book *book, uint32_t system, bool whole);
// Whole tracks are given back: what was made of them stays.
void lzq_book_rest(lzq_book *book);
// First minute in from .. to-1 at which the water was dosed with that; LZQ_NEVER = in none of them.
// O(log(facts) + facts between).
lzq_minute lzq_book_dose(const lzq_book *book, uint32_t system, lzq_analyte analyte,
                         lzq_minute from, lzq_minute to);
// Puts the checks of instruments in order, if they are not. False = no memory.
bool lzq_book_checks(lzq_book *book);
// Sweep of a system for band `band` of phases[phase]. Right from the first minute at which fish
// are put into the system. The scratch and the arena are of the present call. NULL = no memory.
const lzq_sweep *lzq_book_sweep(lzq_book *book, uint32_t system, uint32_t phase, uint32_t band,
                                lzq_sweep_scratch *scratch, lzq_arena *arena);

#endif
