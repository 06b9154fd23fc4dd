// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of a file in use: made page by page under a temporary name, opened and checked, and only
// then given their name, so that a back-up is whole or is not there.
#include "lzs_backup.h"

#include "lzs_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static lzs_status
copy_pages(sqlite3 *from, sqlite3 *to, lzs_error *error)
{
  sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
  if (backup == NULL)
    return lzs_db_fail(to, sqlite3_errcode(to), "backup", error);
  int code = sqlite3_backup_step(backup, -1); // at once: one instant, and nobody restarts it
  sqlite3_backup_finish(backup);
  if (code != SQLITE_DONE)
    return lzs_db_fail(to, code == SQLITE_OK ? SQLITE_BUSY : code, "backup", error);
  return LZS_OK;
}

// A copy must be one file that can be read from a folder that cannot be written: no log beside it.
static lzs_status
settle(sqlite3 *to, lzs_error *error)
{
  lzs_status status = lzs_db_exec(to, "PRAGMA journal_mode = DELETE", error);
  int64_t bad = 1;
  if (status == LZS_OK)
    status =
        lzs_db_int(to, "SELECT count(*) FROM pragma_integrity_check WHERE integrity_check <> 'ok'",
                   &bad, error);
  if (status == LZS_OK && bad > 0)
    return lzs_fail(error, LZS_CORRUPT, "integrity_check", NULL, "the copy is not sound");
  return status;
}

// Every hash of the copy, as anybody would find it who opens it later.
static lzs_status
verify_copy(const char *path, lzs_error *error)
{
  lzs_options options = {.read_only = true};
  lzs_store *copy = NULL;
  lzs_status status = lzs_open(path, &options, &copy, error);
  if (status != LZS_OK)
    return status;
  lzs_verify_result result;
  status = lzs_verify(copy, &result, error);
  lzs_close(copy);
  return status;
}

static lzs_status
make_copy(sqlite3 *db, const char *temp, lzs_error *error)
{
  sqlite3 *to = NULL;
  int code = sqlite3_open_v2(temp, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);
  lzs_status status = code == SQLITE_OK ? LZS_OK : lzs_db_fail(to, code, "open the copy", error);
  if (status == LZS_OK)
    status = copy_pages(db, to, error);
  if (status == LZS_OK)
    status = settle(to, error);
  sqlite3_close(to);
  return status;
}

lzs_status
lzs_backup_copy(sqlite3 *db, const char *to_path, lzs_backup_how how, lzs_error *error)
{
  bool replace = how == LZS_BACKUP_VERIFIED;
  if (!replace && access(to_path, F_OK) == 0)
    return lzs_fail(error, LZS_EXISTS, "file", to_path, NULL);
  char suffix[32];
  snprintf(suffix, sizeof suffix, ".part-%ld", (long)getpid());
  char *temp = lzs_file_beside(to_path, suffix);
  if (temp == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", to_path, NULL);
  lzs_file_discard(temp);
  lzs_status status = make_copy(db, temp, error);
  if (status == LZS_OK)
    status = lzs_file_own(temp, error);
  if (status == LZS_OK && how == LZS_BACKUP_VERIFIED)
    status = verify_copy(temp, error);
  if (status == LZS_OK)
    status = lzs_file_publish(temp, to_path, replace, error);
  if (status != LZS_OK) {
    lzs_file_discard(temp);
    if (error != NULL && (error->value[0] == '\0' || strcmp(error->value, temp) == 0))
      lzs_fail_value(error, to_path);
  }
  free(temp);
  return status;
}

lzs_status
lzs_backup(lzs_store *store, const char *to_path, lzs_error *error)
{
  return lzs_backup_copy(store->db, to_path, LZS_BACKUP_VERIFIED, error);
}
