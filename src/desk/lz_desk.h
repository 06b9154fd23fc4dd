// SPDX-License-Identifier: GPL-3.0-or-later
// The running state of one PC: one open station file, the snapshot kept in place from its ledger,
// the plan made of it, and the models that screens show. Commands go in, rows and the plan come
// out; the only owner of truth is the ledger. One thread at a time, the main one once it watches or
// rows of it are shown.
//
// Signals:
//   "changed" ()          after every own or foreign entry and every minute: snapshot, plan and
//   rows are new "foreign" (guint n)   another program wrote n entries (emitted before "changed")
// Properties (read only unless said): path, station-name, practice, read-only, now (int64 minutes),
//   actor (int64 person id, writable; notify when it changes).
#ifndef LZ_DESK_H
#define LZ_DESK_H

#include <gio/gio.h>
#include <lz_engine.h>

#include "lz_clock.h"
#include "lz_command.h"
#include "lz_entry.h"
#include "lz_zone.h"

#define LZ_TYPE_DESK (lz_desk_get_type())
G_DECLARE_FINAL_TYPE(LzDesk, lz_desk, LZ, DESK, GObject)

// Hears how far it has come, 0 to 1, in the thread that asked; FALSE stops it
// (LZ_DESK_ERROR_STOPPED).
typedef gboolean (*LzProgress)(gpointer data, double share);

typedef struct {
  LzClock *clock;        // NULL = the real one; not owned (the desk takes a reference)
  const char *pc_folder; // keeps this PC's id; NULL = the user data folder /lazaret
  gboolean read_only;    // for reading verbs: never writes, a clock handed in leaves no mark
  gboolean watch;        // notice other writers and the passing minutes by the main loop
  gboolean no_plan;      // bulk import: plan only when asked
  gboolean file_only;    // for verification and copies: nothing of its entries is known
  LzProgress progress;   // of the opening, which reads a large file whole now and then; NULL
  gpointer hearer;
  // For tests. A file of at least leave_from entries (0 = 200,000) keeps plain old ones on the
  // disk, all but the newest keep_newest (0 = 20,000) of all entries. What is shown does not depend
  // on it.
  guint leave_from, keep_newest;
} LzDeskOptions;

// options NULL = all defaults, watching. NULL with error set on failure.
LzDesk *lz_desk_open(const char *path, const LzDeskOptions *options, GError **error);
// Makes the file; LZ_DESK_ERROR_EXISTS if it is there. An empty station: see lz_setup.h.
LzDesk *lz_desk_create(const char *path, const LzDeskOptions *options, GError **error);
// Folds the log in and lets go of the file now (dispose does it too).
void lz_desk_close(LzDesk *desk);
// Begins to watch, if options did not say so: of a desk that another thread opened.
void lz_desk_watch(LzDesk *desk);
// Whether closing takes seconds, as this PC's copy of a large station is written. Then another
// thread may close it, after lz_desk_leave has stopped what goes on in this one.
gboolean lz_desk_closes_slowly(LzDesk *desk);
// Whether a large file was read whole and lies in memory so: closed, which writes the copy, and
// opened again it needs a tenth of that.
gboolean lz_desk_is_heavy(LzDesk *desk);
void lz_desk_leave(LzDesk *desk);
// NAME.lazaret in the user data folder; newly allocated.
char *lz_desk_default_path(void);

const char *lz_desk_path(LzDesk *desk);
const char *lz_desk_pc_folder(LzDesk *desk); // keeps this PC's id
gboolean lz_desk_is_practice(LzDesk *desk);
gboolean lz_desk_is_read_only(LzDesk *desk);
// Why a file that should be written to is open for reading only; NULL if it is not, or was so
// wanted. Newly allocated.
char *lz_desk_why_read_only(LzDesk *desk);
gboolean lz_desk_is_set_up(LzDesk *desk); // has a station entry
LzZone *lz_desk_zone(LzDesk *desk);       // UTC until the station says otherwise
LzClock *lz_desk_clock(LzDesk *desk);
lzq_minute lz_desk_now(LzDesk *desk); // the minute of the present plan
const char *lz_desk_station_name(LzDesk *desk);

// TRUE while nothing real has been entered: cases may then be played ahead of the clock
// (lz_command_set_ahead), which makes the file practice for good.
gboolean lz_desk_may_look_ahead(LzDesk *desk);

// --- in
// Checks all, then appends all in one transaction, then brings snapshot, plan and rows up to date.
// On failure nothing is written, and the message names the command where there are several. Ids:
// lz_command_id.
gboolean lz_desk_submit(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error);
gboolean lz_desk_submit_one(LzDesk *desk, LzCommand *command, GError **error);
// All of the above but the writing.
gboolean lz_desk_check(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error);

typedef struct {
  double value;  // canonical, NAN if not a number
  char echo[96]; // "68.4 mL", in canonical unit, decimal sign as set
} LzFieldCheck;
// One field while it is typed; `so_far` holds the other fields and is not changed. Text "" is
// accepted.
gboolean lz_desk_check_field(LzDesk *desk, const LzCommand *so_far, const char *field,
                             const char *text, LzFieldCheck *out, GError **error);

// What a reading would be against its prediction: TRUE = out of expectation, ask for a repeat.
gboolean lz_desk_reading_is_odd(LzDesk *desk, uint32_t system, lzq_analyte analyte, double value,
                                double *predicted);

// The dose of a medicine that the program computes for a water now, or after a change of change_l
// litres without it.
typedef struct {
  gboolean possible; // FALSE: `why` says what is missing
  gboolean of_phase; // the one dose of a phase, on top of what is left of earlier ones
  lzq_analyte analyte;
  uint32_t system, bottle;
  double level_before;  // carried level now, NAN
  double level_changed; // after the change, before the dose
  double level_after;   // after the dose
  double target;        // where it aims
  double mg, ml;
  double change_l;
  double plan_edge, harm_edge; // NAN = none
  double below_edge;           // most that lots which ask for little bear, NAN = none asks
  double day_edge;             // most that a day's rise comes to, NAN = no rate
  double doubted;  // what is there if the highest reading in doubt is right; NAN = none is
  gboolean rises;  // in steps
  lzq_form form;   // of copper that the lots there ask for, LZQ_FORM_NONE = any
  const char *why; // static msgid-free sentence owned by the desk until the next call; NULL
} LzDoseAdvice;
LzDoseAdvice lz_desk_advise_dose(LzDesk *desk, uint32_t system, lzq_analyte analyte,
                                 double change_l);

// Who acts. 0 = nobody chosen. PIN: FALSE without error = wrong PIN.
void lz_desk_set_actor(LzDesk *desk, int64_t person);
int64_t lz_desk_actor(LzDesk *desk);
gboolean lz_desk_check_pin(LzDesk *desk, int64_t person, const char *pin, GError **error);
gboolean lz_desk_set_person(LzDesk *desk, int64_t person, const char *name, const char *initials,
                            const char *contact, GError **error); // name NULL erases
gboolean lz_desk_set_pin(LzDesk *desk, int64_t person, const char *pin, GError **error);

// Reads what other programs wrote since, which a watching desk does by itself twice a second.
// FALSE: it could not now, and nothing changed.
gboolean lz_desk_take_in(LzDesk *desk, GError **error);

// --- out: engine's view. Pointers are valid until the next "changed".
const lzq_snapshot *lz_desk_snapshot(LzDesk *desk);
const lzq_plan *lz_desk_plan(LzDesk *desk); // NULL if the engine refused: lz_desk_plan_error
const char *lz_desk_plan_error(LzDesk *desk);
// FALSE once an entry that was left in the file could not be read again: no plan is made and
// nothing submitted any more, and what was made of lists and facts meanwhile may lack it.
gboolean lz_desk_readable(LzDesk *desk, GError **error);
void lz_desk_replan(LzDesk *desk); // now = the clock's; emits "changed"
// A plan of the same record at another minute, without what estimates expect; free with
// lzq_arena_free(arena).
const lzq_plan *lz_desk_plan_at(LzDesk *desk, lzq_minute at, lzq_arena *arena, GError **error);
// The plan as if somebody stood at the tanks now and at every minute after it: what may be given or
// changed now is due now, whatever the next round is. Free with lzq_arena_free(arena) before the
// next change: it stands on the credit of lz_desk_plan.
const lzq_plan *lz_desk_plan_at_once(LzDesk *desk, lzq_arena *arena, GError **error);

// Index (engine) <-> id (ledger) of "system", "tank", "instrument", "bottle", "protocol", "phase"
// or "lot". LZQ_NONE / 0 if there is none.
uint32_t lz_desk_index(LzDesk *desk, const char *kind, int64_t id);
int64_t lz_desk_id(LzDesk *desk, const char *kind, uint32_t index);
// By what people call it ("Blue-1/3"); 0 if there is none.
int64_t lz_desk_find(LzDesk *desk, const char *kind, const char *name);
// What people call it, owned by the desk; "?" if there is none. By index: system, tank
// ("Blue-1/3"), lot, protocol ("Name/2"), instrument, bottle, phase (its own name).
const char *lz_desk_name(LzDesk *desk, const char *kind, uint32_t index);
const char *lz_desk_name_of(LzDesk *desk, const char *kind, int64_t id);
const char *lz_desk_person_name(LzDesk *desk, int64_t person);     // "" when erased
const char *lz_desk_person_initials(LzDesk *desk, int64_t person); // "" when erased
const char *lz_desk_person_contact(LzDesk *desk, int64_t person);  // "" when erased or not given
// Present description of an entity (fields that the engine does not see); NULL if there is none.
LzEntry *lz_desk_entity(LzDesk *desk, const char *kind, int64_t id); // owned by the desk
// All entities of a kind in order of making, ids (int64_t).
GArray *lz_desk_entities(LzDesk *desk, const char *kind);
// Entries as they are in force (corrected ones as corrected, voided ones left out), in the order in
// which they happened; kind NULL = all. [from, until) in minutes. LzEntry elements.
GPtrArray *lz_desk_facts(LzDesk *desk, const char *kind, lzq_minute from, lzq_minute until);
int64_t lz_desk_last_id(LzDesk *desk); // of the newest entry, 0 = none
// Every entry as written, in the order of entry, id > after, at most limit (0 = all). LzEntry
// elements.
GPtrArray *lz_desk_entries(LzDesk *desk, const char *kind, int64_t after, guint limit,
                           GError **error);
LzEntry *lz_desk_entry(LzDesk *desk, int64_t id, GError **error);
// The last entry of a person that was not taken away (a correction counts), of a large station
// among the newest 20,000; NULL = none.
LzEntry *lz_desk_last_entry(LzDesk *desk, int64_t person);

// --- the file
typedef struct {
  int64_t entries, chains, bad; // bad = id of the first bad entry
  int64_t salvaged;             // places where the file's chain has a gap from a salvage
  int64_t photos;               // kept; each is hashed again
  int64_t photos_missing;       // that an entry names and the file does not hold
  char head[65];                // hex
} LzVerify;
// Of the next verifications, back-ups, imports and exports; what is stopped has written nothing.
// NULL = nobody hears.
void lz_desk_set_progress(LzDesk *desk, LzProgress progress, gpointer data);
gboolean lz_desk_verify(LzDesk *desk, LzVerify *out, GError **error); // REFUSED: bytes were changed
gboolean lz_desk_backup(LzDesk *desk, const char *to_path, GError **error);
// Half-typed input that survives a power cut. value NULL removes.
gboolean lz_desk_set_draft(LzDesk *desk, const char *key, const char *value, GError **error);
char *lz_desk_draft(LzDesk *desk, const char *key, int64_t *at_ms); // newly allocated or NULL

// --- out: models for screens; each GListModel of one row type of lz_rows.h, owned by the desk
GListModel *lz_desk_systems(LzDesk *desk);     // LzSystemRow, in walking order
GListModel *lz_desk_tanks(LzDesk *desk);       // LzTankRow
GListModel *lz_desk_lots(LzDesk *desk);        // LzLotRow, living first
GListModel *lz_desk_tasks(LzDesk *desk);       // LzTaskRow: the round, late and blocked first
GListModel *lz_desk_done(LzDesk *desk);        // LzDoneRow: of this shift, newest first
GListModel *lz_desk_ledger(LzDesk *desk);      // LzEntryRow, newest first
GListModel *lz_desk_people(LzDesk *desk);      // LzPersonRow
GListModel *lz_desk_instruments(LzDesk *desk); // LzInstrumentRow
GListModel *lz_desk_bottles(LzDesk *desk);     // LzBottleRow
GListModel *lz_desk_protocols(LzDesk *desk);   // LzProtocolRow
GListModel *lz_desk_matters(LzDesk *desk);     // LzMatterRow: releases found short and the like
GListModel *lz_desk_contacts(LzDesk *desk);    // LzContactRow, of sightings in the look-back

#endif
