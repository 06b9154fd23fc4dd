// SPDX-License-Identifier: GPL-3.0-or-later
// The connection: kept statements, transactions, and SQLite's answers as statuses.
#include "lzs_db.h"

#include "lzs_there.h"

#include <stdio.h>
#include <string.h>

#define ENTRY_COLUMNS                                                                              \
  "e.id, e.kind, e.happened_min, e.offset_min, e.recorded_ms, e.who, e.witness, e.reason, p.uid, " \
  "e.pc_seq, e.corrects, e.voided, e.entity, e.hash"

static const char *const q_text[LZS_Q_N] = {
    [LZS_Q_BEGIN] = "BEGIN IMMEDIATE",
    [LZS_Q_BEGIN_READ] = "BEGIN",
    [LZS_Q_COMMIT] = "COMMIT",
    [LZS_Q_ROLLBACK] = "ROLLBACK",
    [LZS_Q_DATA_VERSION] = "PRAGMA data_version",
    [LZS_Q_LAST] = "SELECT id, recorded_ms FROM entry ORDER BY id DESC LIMIT 1",
    [LZS_Q_SEEN] = "SELECT kind, corrects, entity FROM entry WHERE id = ?1",
    [LZS_Q_PC_FIND] = "SELECT id FROM pc WHERE uid = ?1",
    [LZS_Q_PC_ADD] = "INSERT INTO pc (uid) VALUES (?1)",
    [LZS_Q_PC_LAST] = "SELECT pc_seq, hash FROM entry WHERE pc = ?1 ORDER BY pc_seq DESC LIMIT 1",
    [LZS_Q_ENTRY_ADD] = "INSERT INTO entry (id, kind, happened_min, offset_min, recorded_ms, who, "
                        "witness, reason, pc, pc_seq, corrects, voided, entity, hash) "
                        "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
    [LZS_Q_ENTRY_SCAN] = "SELECT " ENTRY_COLUMNS " FROM entry e LEFT JOIN pc p ON p.id = e.pc "
                         "WHERE e.id >= ?1 ORDER BY e.id",
    [LZS_Q_ENTRY_ONE] =
        "SELECT " ENTRY_COLUMNS " FROM entry e LEFT JOIN pc p ON p.id = e.pc WHERE e.id = ?1",
};

static lzs_status
status_of(int code)
{
  switch (code & 0xFF) {
  case SQLITE_OK: return LZS_OK;
  case SQLITE_NOMEM: return LZS_NO_MEMORY;
  case SQLITE_READONLY:
  case SQLITE_PERM: return LZS_READ_ONLY;
  case SQLITE_BUSY:
  case SQLITE_LOCKED: return LZS_BUSY;
  case SQLITE_FULL: return LZS_FULL;
  case SQLITE_IOERR:
  case SQLITE_CANTOPEN:
  case SQLITE_NOLFS:
  case SQLITE_PROTOCOL: return LZS_IO;
  case SQLITE_CORRUPT: return LZS_CORRUPT;
  case SQLITE_NOTADB: return LZS_NOT_STATION;
  case SQLITE_CONSTRAINT: return LZS_REFUSED;
  case SQLITE_INTERRUPT: return LZS_STOPPED;
  default: return LZS_INTERNAL;
  }
}

lzs_status
lzs_db_fail(sqlite3 *db, int code, const char *what, lzs_error *error)
{
  char detail[200];
  int extended = db != NULL ? sqlite3_extended_errcode(db) : code;
  if ((extended & 0xFF) != (code & 0xFF))
    extended = code;
  snprintf(detail, sizeof detail, "%s: %s", what,
           db != NULL && extended == sqlite3_extended_errcode(db) ? sqlite3_errmsg(db)
                                                                  : sqlite3_errstr(code));
  lzs_status status = extended == SQLITE_IOERR_NOMEM ? LZS_NO_MEMORY : status_of(code);
  lzs_fail(error, status, "file", NULL, detail);
  if (error != NULL)
    error->sys_code = extended;
  return status;
}

lzs_status
lzs_db_status(lzs_store *store)
{
  lzs_status status = status_of(sqlite3_errcode(store->db));
  return status == LZS_OK ? LZS_INTERNAL : status;
}

lzs_status
lzs_db_exec(sqlite3 *db, const char *sql, lzs_error *error)
{
  int code = sqlite3_exec(db, sql, NULL, NULL, NULL);
  return code == SQLITE_OK ? LZS_OK : lzs_db_fail(db, code, "exec", error);
}

lzs_status
lzs_db_int(sqlite3 *db, const char *sql, int64_t *out, lzs_error *error)
{
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2(db, sql, -1, &stmt, NULL);
  if (code == SQLITE_OK)
    code = sqlite3_step(stmt);
  lzs_status status = LZS_OK;
  if (code == SQLITE_ROW)
    *out = sqlite3_column_int64(stmt, 0);
  else
    status = code == SQLITE_DONE ? lzs_fail(error, LZS_INTERNAL, NULL, sql, "no row")
                                 : lzs_db_fail(db, code, sql, error);
  sqlite3_finalize(stmt);
  return status;
}

sqlite3_stmt *
lzs_db_prepare(lzs_store *store, const char *sql, lzs_error *error)
{
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2(store->db, sql, -1, &stmt, NULL);
  if (code != SQLITE_OK)
    lzs_db_fail(store->db, code, "prepare", error);
  return stmt;
}

static sqlite3_stmt *
keep(lzs_store *store, sqlite3_stmt **slot, const char *sql, lzs_error *error)
{
  if (*slot != NULL) {
    sqlite3_reset(*slot);
    return *slot;
  }
  int code = sqlite3_prepare_v3(store->db, sql, -1, SQLITE_PREPARE_PERSISTENT, slot, NULL);
  if (code != SQLITE_OK)
    lzs_db_fail(store->db, code, "prepare", error);
  return *slot;
}

sqlite3_stmt *
lzs_db_q(lzs_store *store, lzs_q q, lzs_error *error)
{
  return keep(store, &store->q[q], q_text[q], error);
}

// Room for the names of the fields of the widest kind.
#define SQL_MAX 4096

static void
append_fields(char sql[SQL_MAX], const lzs_kind_spec *spec)
{
  for (size_t i = 0; i < spec->n_fields; i++) {
    size_t n = strlen(sql);
    snprintf(sql + n, SQL_MAX - n, ", \"%s\"", spec->fields[i].name);
  }
}

sqlite3_stmt *
lzs_db_add(lzs_store *store, lzs_kind kind, lzs_error *error)
{
  if (store->add[kind] != NULL)
    return keep(store, &store->add[kind], NULL, error);
  const lzs_kind_spec *spec = lzs_kind_get(kind);
  char sql[SQL_MAX];
  snprintf(sql, sizeof sql, "INSERT INTO \"%s\" (id", spec->name);
  append_fields(sql, spec);
  strncat(sql, ") VALUES (?", sizeof sql - strlen(sql) - 1);
  for (size_t i = 0; i < spec->n_fields; i++)
    strncat(sql, ", ?", sizeof sql - strlen(sql) - 1);
  strncat(sql, ")", sizeof sql - strlen(sql) - 1);
  return keep(store, &store->add[kind], sql, error);
}

sqlite3_stmt *
lzs_db_scan(lzs_store *store, lzs_kind kind, lzs_error *error)
{
  if (store->scan[kind] != NULL)
    return keep(store, &store->scan[kind], NULL, error);
  const lzs_kind_spec *spec = lzs_kind_get(kind);
  char sql[SQL_MAX] = "SELECT id";
  append_fields(sql, spec);
  size_t n = strlen(sql);
  snprintf(sql + n, sizeof sql - n, " FROM \"%s\" WHERE id >= ?1 ORDER BY id", spec->name);
  return keep(store, &store->scan[kind], sql, error);
}

void
lzs_db_finalize_all(lzs_store *store)
{
  for (int i = 0; i < LZS_Q_N; i++)
    sqlite3_finalize(store->q[i]);
  for (int k = 0; k < LZS_N_KINDS; k++) {
    sqlite3_finalize(store->add[k]);
    sqlite3_finalize(store->scan[k]);
  }
}

lzs_status
lzs_db_run(lzs_store *store, sqlite3_stmt *stmt, const char *what, lzs_error *error)
{
  int code = sqlite3_step(stmt);
  lzs_status status = LZS_OK;
  if (code != SQLITE_DONE && code != SQLITE_ROW)
    status = lzs_db_fail(store->db, code, what, error);
  sqlite3_reset(stmt);
  return status;
}

lzs_status
lzs_db_ready(lzs_store *store, lzs_error *error)
{
  if (lzs_db_q(store, LZS_Q_COMMIT, error) == NULL ||
      lzs_db_q(store, LZS_Q_ROLLBACK, error) == NULL)
    return lzs_db_status(store);
  return LZS_OK;
}

void
lzs_db_rollback(lzs_store *store)
{
  if (!sqlite3_get_autocommit(store->db)) // SQLite itself rolls back when the disk is full
    lzs_db_run(store, lzs_db_q(store, LZS_Q_ROLLBACK, NULL), "rollback", NULL);
}

lzs_status
lzs_db_begin(lzs_store *store, lzs_error *error)
{
  if (store->read_only)
    return lzs_fail(error, LZS_READ_ONLY, "file", store->path, "the file is opened for reading");
  if (store->reading)
    return lzs_fail(error, LZS_INTERNAL, NULL, NULL, "the store was called from a read's callback");
  sqlite3_stmt *begin = lzs_db_q(store, LZS_Q_BEGIN, error);
  if (begin == NULL)
    return lzs_db_status(store);
  return lzs_db_run(store, begin, "begin", error);
}

lzs_status
lzs_db_end(lzs_store *store, lzs_status status, lzs_error *error)
{
  if (status == LZS_OK)
    status = lzs_there_check(store, error);
  if (status == LZS_OK) {
    sqlite3_stmt *commit = lzs_db_q(store, LZS_Q_COMMIT, error);
    status = commit != NULL ? lzs_db_run(store, commit, "commit", error) : lzs_db_status(store);
    if (status == LZS_OK) {
      store->commits++;
      lzs_there_keep(store);
      return LZS_OK;
    }
  }
  // What was kept about entries of this transaction is no longer true.
  memset(store->seen, 0, sizeof store->seen);
  lzs_db_rollback(store);
  return status;
}
