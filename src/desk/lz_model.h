// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the ledger in memory, what people call things, and the engine's snapshot of it.
// Every entry is applied in the order of entry; applying one more in place and applying all anew
// give the same.
//
// What a set-up entry corrects or describes anew changes the past, so those rebuild the whole;
// everything else is appended. Engine record ids are entry id * LZ_RECORDS_PER_ENTRY + k, since a
// split moves too.
//
// Of a large file the plain entries (lz_model_is_plain) before the newest ones are left in it once
// they are applied: their records stay, the entry is read again when somebody asks for it.
#ifndef LZ_MODEL_H
#define LZ_MODEL_H

#include <lz_engine.h>

#include "lz_entry_private.h"
#include "lz_record_array.h"
#include "lz_zone.h"

#define LZ_RECORDS_PER_ENTRY 8
#define LZ_LATEST_OF         1024

// A thing with an id: what set-up entries describe, and lots made by splits.
typedef struct {
  int64_t id;     // of the entry that made it; first, so that it can be a hash key
  lzs_kind kind;  // LZS_LOT for a split's child
  uint32_t index; // in the engine's array of its kind, else in by_kind
  LzEntry *first; // as corrected
  LzEntry *now;   // the last description; a split entry for its child
  char *label;    // what people call it, "" if nothing
} LzEntity;

typedef struct {
  int64_t id;
  char *name, *initials, *contact; // "" when erased
} LzPerson;

// Reads up to n entries with id > after; NULL = they cannot be read. Container and entries are the
// caller's.
typedef GPtrArray *(*LzFetch)(gpointer data, int64_t after, guint n);

typedef struct {
  GPtrArray *entries; // in the order of entry: LzEntry, or where one lies (lz_model_at)
  guint left;         // how many places of `entries` were left in the file
  guint leave_from;   // places before it were looked at by lz_model_leave
  LzFetch fetch;      // how to get them again; NULL = none is left there
  gpointer fetch_data;
  guint fetch_block;               // entries read at a time
  GPtrArray *of_kind[LZS_N_KINDS]; // of these, by kind; NULL = kinds of which most are plain
  GPtrArray *medicated;  // feeds that name a bottle, corrections of feeds and what they correct
  int64_t ahead_min;     // the most that an entry's time lies after the minute of its writing
  gboolean disordered;   // a time of writing stands before an earlier one: a salvaged file's
  GHashTable *corrected; // &entry->corrects -> LzEntry, the last correction of that first entry
  GHashTable *entities;  // &entity->id -> LzEntity (owned)
  GPtrArray *by_kind[LZS_N_KINDS];
  GHashTable *names;  // "kind:label", folded -> LzEntity
  GHashTable *people; // &person->id -> LzPerson (owned)
  LzZone *zone;
  LzEntity *station; // NULL until it is set up
  gboolean practice;
  guint courses;    // entries of that kind
  guint generation; // rises when entries are taken off, or all are applied anew
  guint rebuilds;   // of these, the times that all were
  guint others;     // of these, the times that records before the last became others
  // the engine's arrays
  lzq_station rules;
  double unseen_exit;  // largest chance that a level has left its band unseen by the next test
  double pressure_atm; // of the air here, for oxygen
  GArray *systems, *tanks, *instruments, *bottles, *phases, *protocols, *lots, *slots;
  LzRecordArray *records;
  GPtrArray *of_water;  // per system: GArray of uint32_t, indices of records that touch its water
  GPtrArray *of_lot;    // the same per lot: what says where it stands, how many and on what course
  GArray *checks;       // uint32_t, indices of records of instrument checks
  GArray *sightings;    // the same of sightings
  GArray *volumes;      // the same of net volumes
  GArray *states;       // the same of what a water is said to be
  GArray *stands;       // the same of what brings lots to a water or under a protocol, and splits
  GHashTable *nets;     // folded name of a net set -> its number
  GHashTable *held;     // record id of a first entry -> index + 1 of its last correction
  GByteArray *replaced; // per record: 1 = a later one stands for it
  GArray *latest;       // lzq_minute, of each LZ_LATEST_OF records no later than that
  lzq_snapshot view;
  struct _LzTrust *trust; // see lz_trust_now; NULL = none yet
  guint trust_generation, trust_records;
  lzq_minute trust_until;
  GArray *stays; // see lz_stays; NULL = none yet
  guint stays_generation, stays_records;
  lzq_minute stays_until, stays_next; // the first act after it that is on record already
} LzModel;

LzModel *lz_model_new(void);
void lz_model_free(LzModel *model);

// Appends (takes) one entry; its id is above all before it.
void lz_model_apply(LzModel *model, LzEntry *entry);
// The same of some, in their order, but at most one rebuild; they stay the caller's as well.
void lz_model_apply_some(LzModel *model, const GPtrArray *entries);
// The last n entries got their time of writing.
void lz_model_stamped(LzModel *model, guint n);
// The facts of a kind (LZS_N_KINDS = all) that hold and happened in from <= at < until, not sorted.
// A recent `from` costs what was entered since, not the years before.
typedef void (*LzFactFound)(gpointer data, LzEntry *entry);
void lz_model_facts(LzModel *model, lzs_kind kind, lzq_minute from, lzq_minute until,
                    LzFactFound found, gpointer data);
// Whether applying it rebuilds the whole.
gboolean lz_model_changes_past(const LzEntry *entry);
// Takes the last n entries off again: what was tried, or could not be written.
void lz_model_drop(LzModel *model, guint n);
// The engine's view; valid until the next apply, drop or rebuild.
const lzq_snapshot *lz_model_view(LzModel *model);

int64_t lz_model_last_id(const LzModel *model);
LzEntry *lz_model_entry(const LzModel *model, int64_t id); // NULL = none
// --- entries by their place, 0 = the oldest (lz_model_left.c)
int64_t lz_model_id_at(const LzModel *model, guint place);
// From the file, with its neighbours, if it was left there. NULL = it cannot be read now.
LzEntry *lz_model_at(const LzModel *model, guint place);
// The same for whoever walks over all of them, in either direction: what was left in the file is
// read for the walk alone, a block at a time, so that no memory grows by looking. What it gives
// lives until the next call. A zeroed walk begins; clear it at the end.
typedef struct {
  GPtrArray *block;
  guint first;
} LzModelWalk;
LzEntry *lz_model_walk(LzModelWalk *walk, const LzModel *model, guint place);
void lz_model_walk_clear(LzModelWalk *walk);
// NULL = it was left in the file, so it is a plain one, and not a correction.
LzEntry *lz_model_kept(const LzModel *model, guint place);
// The first place whose entry has that id or a later one; the number of entries if none has.
guint lz_model_place(const LzModel *model, int64_t id);
// What kind of entry it is, without reading it again where it was left in the file. NULL = none.
const lzs_kind_spec *lz_model_kind_of(const LzModel *model, int64_t id);
// A reading, change, top-up or feed that corrects nothing and names no bottle: it makes one record,
// and of all else only the places of its water, instrument and lot say what is in it.
gboolean lz_model_is_plain(const LzEntry *entry);
// Leaves plain entries in the file, but for the newest `newest` of all. Whoever looks at them
// without a reference of his own loses them.
void lz_model_leave(LzModel *model, guint newest);
// Whether the records of what was left stay as they are when all is applied anew with the last n
// entries, or without them.
gboolean lz_model_left_stays(const LzModel *model, guint n);
// Gets back all that was left. FALSE = some cannot be read.
gboolean lz_model_fetch_all(LzModel *model);
// The list of a kind that names bottles.
const GPtrArray *lz_model_naming_bottles(const LzModel *model, lzs_kind kind);
// The entry that holds for a first entry: itself, its last correction, or NULL when voided.
LzEntry *lz_model_in_force(const LzModel *model, LzEntry *first);
LzEntity *lz_model_entity(const LzModel *model, int64_t id);
LzEntity *lz_model_entity_at(const LzModel *model, lzs_kind kind, uint32_t index);
// Index of an entity in the engine's array of that kind; LZQ_NONE.
uint32_t lz_model_index(const LzModel *model, lzs_kind kind, int64_t id);
// By label, case does not matter; also "#id". NULL = none.
LzEntity *lz_model_find(const LzModel *model, lzs_kind kind, const char *name);
// The newest version of a protocol of that bare name.
LzEntity *lz_model_newest_protocol(const LzModel *model, const char *name);
// The species of a lot, a part of a split one too; NULL = nobody said.
const LzEntry *lz_model_species(const LzModel *model, const LzEntity *lot);
LzPerson *lz_model_person(const LzModel *model, int64_t id); // NULL = unknown
LzEntity *lz_model_person_by_initials(const LzModel *model, const char *initials);
void lz_model_name_person(LzModel *model, int64_t id, const char *name, const char *initials,
                          const char *contact);
// Whether a record holds (neither replaced nor taken away), and the id that gives its place in
// order.
gboolean lz_model_record_holds(const LzModel *model, uint32_t index);
// The first record from `index` on that may act at or after that minute, by blocks: whoever asks
// for what happened of late need not look at the years before. The number of records if none may.
guint lz_model_record_since(const LzModel *model, guint index, lzq_minute from);
// The same in a rising list of such indices: the place of the first of them.
guint lz_model_first_since(const LzModel *model, const GArray *indices, lzq_minute from);
// Compares two indices of records by when they act: minute, kind, order of entry (lzq_history.h).
int lz_model_by_acting(gconstpointer a, gconstpointer b, gpointer model);
// What a label would be for a description, newly allocated ("" for kinds without).
char *lz_model_label(const LzModel *model, const LzEntry *entry);

// --- parts, each in its own file
// lz_model_take.c
// What was kept of a model beside its records, so that these need not be looked at.
#define LZ_MODEL_LISTS 5

typedef struct {
  int64_t first, n;
} LzIdRun;

typedef struct {
  int64_t first; // of the model's `held`
  uint64_t place;
} LzHeld;

typedef struct {
  const void *items;
  gsize n;
} LzLyingList;

typedef struct {
  LzLyingList runs;                  // LzIdRun, of the ids of all entries
  LzLyingList latest;                // lzq_minute
  LzLyingList replaced;              // uint32_t, indices of records
  LzLyingList held;                  // LzHeld
  LzLyingList lists[LZ_MODEL_LISTS]; // uint32_t, as lz_model_lists has them
  LzLyingList *of_water, *of_lot;    // uint32_t
  gsize n_waters, n_lots;
} LzLying;

// Fills an empty model: entries that are kept, in the order of entry, and the records of these and
// of what is left in the file, which become the model's own where they lie (taken; the first
// `lying`). FALSE = they do not fit; the model is then good for nothing. The caller says ahead_min
// and disordered.
gboolean lz_model_take(LzModel *model, GPtrArray *kept, LzRecordArray *records,
                       const LzLying *lying);
// Of a model, as they are kept; the lists stay its own.
GArray *lz_model_runs(const LzModel *model);
GArray *lz_model_replaced(const LzModel *model);
GArray *lz_model_held(const LzModel *model);
void lz_model_lists(const LzModel *model, GArray *lists[LZ_MODEL_LISTS]);
// lz_model.c: all that is made of entries, but these and their lists
void lz_model_clear(LzModel *model);
// All of it made anew.
void lz_model_apply_anew(LzModel *model);
// One entry whose place, list and correction are known; and the same without its records.
void lz_model_apply_one(LzModel *model, LzEntry *entry);
void lz_model_apply_set_up(LzModel *model, LzEntry *entry);
// That an entry corrects another.
void lz_model_note_correction(LzModel *model, LzEntry *entry);
// `medicated`, in the order of entry, so that sums over it are the same to the last bit however it
// was made.
void lz_model_note_feed(LzModel *model, LzEntry *entry);
// lz_model_setup.c: the engine's arrays from descriptions
void lz_model_put_entity(LzModel *model, LzEntity *entity);
void lz_model_put_protocols(LzModel *model);
void lz_model_put_station(LzModel *model);
// Bits LZQ_TRAIT_ of a species; 0 for NULL.
uint32_t lz_model_traits(const LzEntry *species);
// Strength in mg of metal per mL.
double lz_model_strength(const LzEntry *bottle);
// lz_model_record.c: records from facts
void lz_model_put_records(LzModel *model, LzEntry *entry);
// The first record of an entry; NULL = it has none.
const lzq_record *lz_model_record_of(const LzModel *model, int64_t entry);
// One that was made before.
void lz_model_put_record(LzModel *model, const lzq_record *record);
// lz_model_left.c: of a place of `entries`
void lz_model_place_free(gpointer place);
gpointer lz_model_left_as(int64_t id);

#endif
