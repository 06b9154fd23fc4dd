// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what LzDesk holds.
#ifndef LZ_DESK_PRIVATE_H
#define LZ_DESK_PRIVATE_H

#include "lz_banks.h"
#include "lz_desk.h"
#include "lz_medicine.h"
#include "lz_model.h"
#include "lz_row_list.h"

#define LZ_BEGUN_MIN 120 // a round begins at most so long before its slot (common practice)

// Of many commands: how much of the whole was done once they were read, and checked.
#define LZ_PART_READ    0.2
#define LZ_PART_CHECKED 0.6

struct _LzDesk {
  GObject parent_instance;
  char *path, *pc_folder;
  LzClock *clock;
  lzs_store *store;
  LzModel *model;
  LzBanks *banks; // estimators of the waters
  LzMedicineSums *medicine;
  int64_t actor;
  gboolean read_only, no_plan, watch;
  gboolean opened;    // whole: what is kept at closing may be
  LzProgress opening; // hears how far it is, NULL = nobody
  gpointer opening_data;
  guint leave_from;    // entries of a file from which plain ones are left there
  guint keep_newest;   // but for so many
  uint64_t records_of; // entries that the PC's copy of the records stands for, 0 = none
  char *unreadable;    // why what was left in the file could not be read; NULL = it could
  lzq_book *book;      // what the engine keeps of the model's records; NULL = no memory for one
  guint book_others;   // of the model whose records it has followed
  LzMapped *lent;      // what it was borrowed from, NULL = nothing; freed after it
  // the plan of this minute
  lzq_arena arena;
  const lzq_plan *plan;
  const lzq_credit *credit; // that it stands on; see lz_desk_credit_at
  guint credit_generation, credit_entries;
  lzq_minute credit_at;
  char *plan_error;
  lzq_minute now;
  lzq_minute slots_from; // what the model's slots were made for
  char *slots_for;
  gboolean missed_known; // the share of tests missed was counted for this station day
  int32_t missed_day;
  // other writers
  int64_t data_version;
  guint poll_source, minute_source;
  GFileMonitor *monitor;
  // models
  LzRowList *lists[LZ_N_LISTS];
  GArray *standing;       // LzStanding per lot, while rows are filled
  GArray *lots_made;      // what the rows of lots were made of; NULL before the first
  gboolean ledger_wanted; // somebody asked for the ledger's rows
  int64_t ledger_to;      // last entry that they say
  char ledger_decimal;    // decimal sign that they use
  LzProgress progress;    // NULL = nobody hears
  gpointer progress_data;
  double part_from, part_to; // of what takes long: the part that is under way
  char *advice;              // sentence of the last dose advice
  GBytes *photo;             // made of the picture file that was read last, until it is recorded
  char *photo_stamp;
};

// Fills the empty model from this PC's copy of the records. FALSE = there is none to believe.
gboolean lz_records_take(LzDesk *desk);
// Whether such a copy of a large station has to be kept, the last being too old; and keeps it.
gboolean lz_records_are_due(LzDesk *desk);
void lz_records_keep(LzDesk *desk);
// Whether whoever waits for the opening wants to go on.
gboolean lz_desk_goes_on(LzDesk *desk, double share);
// Turns a store's failure into a sentence.
void lz_desk_store_error(LzDesk *desk, const lzs_error *from, GError **error);
// The same about a file that no desk has open.
void lz_file_store_error(const char *path, const lzs_error *from, GError **error);
// The part of the whole of what takes long that is now under way; 0 to 1 unless said.
void lz_desk_part(LzDesk *desk, double from, double to);
// That i of n of it are done, said to whoever hears; FALSE with LZ_DESK_ERROR_STOPPED.
gboolean lz_desk_tell(LzDesk *desk, guint i, guint n, GError **error);
// Reads what others wrote since; the number of new entries, -1 on failure.
int lz_desk_pull(LzDesk *desk, GError **error);
// Checks all and applies them to the model only; how many, for lz_model_drop. -1 = refused, nothing
// applied.
int lz_desk_try(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error);
// The engine's book, empty if the model's records were made anew.
lzq_book *lz_desk_book(LzDesk *desk);
// Slots, missed share and plan for `at`, into an arena: of the record alone.
const lzq_plan *lz_desk_make_plan(LzDesk *desk, lzq_minute at, lzq_arena *arena, GError **error);
// The same with the top-ups that the estimates see coming: what a shift works by.
const lzq_plan *lz_desk_plan_ahead(LzDesk *desk, lzq_minute at, lzq_arena *arena, GError **error);
// The credit of a minute, where the plan has made it and nothing has come since; NULL = it has to
// be made.
const lzq_credit *lz_desk_credit_at(const LzDesk *desk, lzq_minute at);
// Whether living fish stand in that water when the plan begins.
gboolean lz_plan_holds_fish(const lzq_plan *plan, uint32_t system);
// Plan and rows anew, "changed" emitted.
void lz_desk_refresh(LzDesk *desk);
void lz_desk_foreign(LzDesk *desk, guint n); // emits "foreign"
// The share of tests missed, once a station day.
void lz_missed_refresh(LzDesk *desk, lzq_minute at);
void lz_desk_start_watch(LzDesk *desk);
void lz_desk_stop_watch(LzDesk *desk);

#endif
