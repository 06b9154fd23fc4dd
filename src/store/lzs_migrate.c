// SPDX-License-Identifier: GPL-3.0-or-later
// Versions of the schema. The version is changed inside the transaction that changes the tables, so
// that a process killed half-way leaves the old file, and a file of a newer program is left alone.
#include "lzs_migrate.h"

#include "lzs_backup.h"
#include "lzs_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

lzs_status
lzs_migrate_version(sqlite3 *db, int64_t *version, lzs_error *error)
{
  int64_t application = 0;
  lzs_status status = lzs_db_int(db, "PRAGMA application_id", &application, error);
  if (status == LZS_OK && application != LZS_APPLICATION_ID)
    return lzs_fail_int(error, LZS_NOT_STATION, "application_id", application,
                        "the file is not a station's");
  if (status == LZS_OK)
    status = lzs_db_int(db, "PRAGMA user_version", version, error);
  if (status == LZS_OK && *version > lzs_schema_n)
    return lzs_fail_int(error, LZS_TOO_NEW, "user_version", *version,
                        "the file was written by a newer program");
  return status;
}

static lzs_status
set_version(sqlite3 *db, int version, lzs_error *error)
{
  char sql[120];
  snprintf(sql, sizeof sql, "PRAGMA application_id = %d; PRAGMA user_version = %d",
           LZS_APPLICATION_ID, version);
  return lzs_db_exec(db, sql, error);
}

// Inside the transaction.
static lzs_status
run_steps(sqlite3 *db, const char *const *steps, int n, lzs_error *error)
{
  int64_t version = 0, broken = 0;
  lzs_status status = lzs_db_int(db, "PRAGMA user_version", &version, error);
  for (int i = (int)version; status == LZS_OK && i < n; i++) {
    status = lzs_db_exec(db, steps[i], error);
    if (status == LZS_OK)
      status = set_version(db, i + 1, error);
  }
  if (status == LZS_OK)
    status = lzs_db_int(db, "SELECT count(*) FROM pragma_foreign_key_check", &broken, error);
  if (status == LZS_OK && broken > 0)
    return lzs_fail_int(error, LZS_CORRUPT, "foreign_key_check", broken,
                        "the migration would break references");
  return status;
}

lzs_status
lzs_migrate_run(sqlite3 *db, const char *const *steps, int n, lzs_error *error)
{
  // A step may rebuild a table that others refer to; the check at its end takes the keys' place.
  lzs_status status = lzs_db_exec(db, "PRAGMA foreign_keys = OFF; BEGIN IMMEDIATE", error);
  if (status != LZS_OK)
    return status;
  status = run_steps(db, steps, n, error);
  if (status == LZS_OK)
    status = lzs_db_exec(db, "COMMIT", error);
  if (!sqlite3_get_autocommit(db))
    sqlite3_exec(db, "ROLLBACK", NULL, NULL, NULL);
  if (status == LZS_OK)
    status = lzs_db_exec(db, "PRAGMA foreign_keys = ON", error);
  return status;
}

// All of sqlite_schema as one text, from malloc.
static lzs_status
schema_text(sqlite3 *db, char **out, lzs_error *error)
{
  static const char sql[] =
      "SELECT group_concat(s, char(10)) FROM (SELECT type || ' ' || name || ' ' || tbl_name || ' ' "
      "|| coalesce(sql, '') AS s FROM sqlite_schema ORDER BY type, name)";
  sqlite3_stmt *stmt = NULL;
  *out = NULL;
  int code = sqlite3_prepare_v2(db, sql, -1, &stmt, NULL);
  if (code == SQLITE_OK)
    code = sqlite3_step(stmt);
  const char *text = code == SQLITE_ROW ? (const char *)sqlite3_column_text(stmt, 0) : NULL;
  lzs_status status = code == SQLITE_ROW ? LZS_OK : lzs_db_fail(db, code, "read the schema", error);
  if (status == LZS_OK) {
    *out = strdup(text != NULL ? text : "");
    status = *out != NULL ? LZS_OK : lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "schema");
  }
  sqlite3_finalize(stmt);
  return status;
}

lzs_status
lzs_migrate_schema_is_new(sqlite3 *db, bool *same, lzs_error *error)
{
  sqlite3 *fresh = NULL;
  char *mine = NULL, *its = NULL;
  int code = sqlite3_open_v2(":memory:", &fresh, SQLITE_OPEN_READWRITE, NULL);
  lzs_status status = code == SQLITE_OK ? LZS_OK : lzs_db_fail(fresh, code, "memory", error);
  if (status == LZS_OK)
    status = lzs_migrate_run(fresh, lzs_schema, lzs_schema_n, error);
  if (status == LZS_OK)
    status = schema_text(fresh, &mine, error);
  if (status == LZS_OK)
    status = schema_text(db, &its, error);
  *same = status == LZS_OK && strcmp(mine, its) == 0;
  free(mine);
  free(its);
  sqlite3_close(fresh);
  return status;
}

lzs_status
lzs_migrate_copy(sqlite3 *db, const char *path, int64_t version, lzs_error *error)
{
  for (int try = 0; try < 1000; try++) {
    char suffix[48];
    snprintf(suffix, sizeof suffix, try == 0 ? ".schema-%lld" : ".schema-%lld-%d",
             (long long)version, try + 1);
    char *copy = lzs_file_beside(path, suffix);
    if (copy == NULL)
      return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
    lzs_status status = lzs_backup_copy(db, copy, LZS_BACKUP_OLDER, NULL, error);
    free(copy);
    if (status != LZS_EXISTS)
      return status;
  }
  return lzs_fail(error, LZS_EXISTS, "file", path, "no free name for a copy before the migration");
}
