// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: goes through the ledger in order of entry. Common rows and the kinds' own rows come in
// the same order, so each table is read once from front to back, side by side.
#ifndef LZS_WALK_H
#define LZS_WALK_H

#include "lzs_db.h"

// What a row was found to be. Anything but SOUND cannot come from this program.
typedef enum {
  LZS_ROW_SOUND = 0,
  LZS_ROW_NO_KIND,   // a kind that is not known
  LZS_ROW_NO_VALUES, // its row in the kind's table is missing
  LZS_ROW_STRAY,     // the kind's table holds a row that no entry owns
  LZS_ROW_SHAPE,     // a text with a NUL inside, a hash or PC of another length, a missing number
} lzs_row;

typedef struct {
  lzs_store *store;
  lzs_entry entry; // strings live until the next step
  lzs_row row;     // of the entry just read
  int64_t stray;   // with LZS_ROW_STRAY: id of the row without an owner
  sqlite3_stmt *common;
  sqlite3_stmt *values[LZS_N_KINDS]; // opened at the kind's first entry
  int64_t at[LZS_N_KINDS];           // id of the row under values[], 0 = past the end
  int64_t from;
  const lzs_kind_spec *last; // kinds come in runs
} lzs_walk;

// Inside a read transaction. Only one walk at a time per store.
lzs_status lzs_walk_begin(lzs_walk *walk, lzs_store *store, int64_t from, lzs_error *error);
// Goes on to the next entry; *more is false after the last.
lzs_status lzs_walk_next(lzs_walk *walk, bool *more, lzs_error *error);
// Resets every statement; harmless after a failure.
void lzs_walk_end(lzs_walk *walk);

// Reads one row of common columns (the order of lzs_db.c) into entry; not the values.
lzs_row lzs_walk_common(sqlite3_stmt *stmt, lzs_entry *entry, const lzs_kind_spec **last);
// Reads the values of a kind's row.
lzs_row lzs_walk_values(sqlite3_stmt *stmt, lzs_entry *entry);

#endif
