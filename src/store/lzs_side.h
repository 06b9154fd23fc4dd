// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: one statement in a transaction of its own, for the tables outside the ledger.
#ifndef LZS_SIDE_H
#define LZS_SIDE_H

#include "lzs_db.h"

// A value to bind; kind of value by the letter: 'i' number, 't' text (NULL = NULL), 'b' bytes.
typedef struct {
  char type;
  int64_t i;
  const char *text;
  const void *bytes;
  size_t size;
} lzs_bind;

// Begins, runs sql with ?1 ... bound, commits.
lzs_status lzs_side_run(lzs_store *store, const char *sql, const lzs_bind *binds, int n,
                        lzs_error *error);

// Calls row for each row of a query, at one instant of the file; row returns false to stop.
typedef bool (*lzs_side_row)(void *ctx, sqlite3_stmt *stmt);
lzs_status lzs_side_query(lzs_store *store, const char *sql, const lzs_bind *binds, int n,
                          lzs_side_row row, void *ctx, lzs_error *error);

#endif
