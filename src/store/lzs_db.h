// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: the connection behind an lzs_store, its prepared statements, and SQLite's answers as
// statuses. The only header that names SQLite's types.
#ifndef LZS_DB_H
#define LZS_DB_H

#include "lzs_fail.h"
#include "lzs_store.h"
#include "lzs_told.h"

#include <sqlite3.h>

// Statements that are prepared once and kept. Their text stands in lzs_db.c.
typedef enum {
  LZS_Q_BEGIN,
  LZS_Q_BEGIN_READ,
  LZS_Q_COMMIT,
  LZS_Q_ROLLBACK,
  LZS_Q_DATA_VERSION,
  LZS_Q_LAST,
  LZS_Q_SEEN,
  LZS_Q_PC_FIND,
  LZS_Q_PC_ADD,
  LZS_Q_PC_LAST,
  LZS_Q_ENTRY_ADD,
  LZS_Q_ENTRY_SCAN,
  LZS_Q_ENTRY_ONE,
  LZS_Q_N
} lzs_q;

// What a reference must know of the entry it names. Entries never change, so this can be kept.
typedef struct {
  int64_t id; // 0 = empty slot
  lzs_kind kind;
  int64_t corrects, entity;
} lzs_seen;

#define LZS_SEEN_SLOTS 4096

struct lzs_store {
  sqlite3 *db;
  char *path;
  char *pc_folder;
  int64_t (*clock_ms)(void *ctx);
  void *clock_ctx;
  bool read_only;
  bool reading; // a callback is running: no other call may begin
  bool have_pc;
  uint8_t pc[16];
  int64_t commits;      // own commits, which SQLite's data_version does not count
  int64_t clock_lag_ms; // by how much the clock stood behind the last entry
  sqlite3_stmt *q[LZS_Q_N];
  sqlite3_stmt *add[LZS_N_KINDS];  // INSERT into the kind's table
  sqlite3_stmt *scan[LZS_N_KINDS]; // its rows with id >= ?1, in order of id
  lzs_told told;
  lzs_seen seen[LZS_SEEN_SLOTS];
};

// The status for SQLite's last answer on this connection; fills error from it.
lzs_status lzs_db_fail(sqlite3 *db, int code, const char *what, lzs_error *error);

// What the call that just failed on this connection means; for callers that got NULL.
lzs_status lzs_db_status(lzs_store *store);

// Runs one or more statements that return nothing of interest.
lzs_status lzs_db_exec(sqlite3 *db, const char *sql, lzs_error *error);
// The first column of the first row as a whole number.
lzs_status lzs_db_int(sqlite3 *db, const char *sql, int64_t *out, lzs_error *error);

// A kept statement, reset and ready to be bound; NULL after a failure.
sqlite3_stmt *lzs_db_q(lzs_store *store, lzs_q q, lzs_error *error);
sqlite3_stmt *lzs_db_add(lzs_store *store, lzs_kind kind, lzs_error *error);
sqlite3_stmt *lzs_db_scan(lzs_store *store, lzs_kind kind, lzs_error *error);
// A statement for one use: the caller finalizes it.
sqlite3_stmt *lzs_db_prepare(lzs_store *store, const char *sql, lzs_error *error);
void lzs_db_finalize_all(lzs_store *store);

// Steps a statement that returns no row, and resets it.
lzs_status lzs_db_run(lzs_store *store, sqlite3_stmt *stmt, const char *what, lzs_error *error);

// Makes ready what must not need memory when memory has run out: how a transaction ends.
lzs_status lzs_db_ready(lzs_store *store, lzs_error *error);
// Ends whatever transaction is open, without writing.
void lzs_db_rollback(lzs_store *store);

// A write transaction (BEGIN IMMEDIATE). LZS_READ_ONLY on a store opened for reading.
lzs_status lzs_db_begin(lzs_store *store, lzs_error *error);
// Commits when status is LZS_OK, otherwise rolls back; answers what came of it. Error is kept.
lzs_status lzs_db_end(lzs_store *store, lzs_status status, lzs_error *error);

// file:PATH?immutable=1 with the path's special characters escaped: a file read as it lies, nothing
// made beside it. From malloc; NULL without memory.
char *lzs_db_immutable_uri(const char *path);

#endif
