// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of a file in use: made page by page under a temporary name, opened and checked, and only
// then given their name, so that a back-up is whole or is not there.
#include "lzs_backup.h"

#include "lzs_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define COPIED  0.3 // shares of the time of a back-up: pages copied,
#define SETTLED 0.5 // the copy's pages checked, and then its hashes
#define PAGES   2048

// One instant of the file, and nobody begins anew because of what others write meanwhile: a reading
// transaction is held from the first page to the last.
static int
step_pages(sqlite3_backup *backup, lzs_told *told)
{
  int code = SQLITE_OK;
  while (code == SQLITE_OK) {
    code = sqlite3_backup_step(backup, told != NULL ? PAGES : -1);
    double all = sqlite3_backup_pagecount(backup), left = sqlite3_backup_remaining(backup);
    if (code == SQLITE_OK && !lzs_told_step(told, all > 0 ? 1 - left / all : 0))
      code = SQLITE_INTERRUPT;
    if (told == NULL)
      break;
  }
  return code;
}

static lzs_status
copy_pages(sqlite3 *from, sqlite3 *to, lzs_told *told, lzs_error *error)
{
  sqlite3_backup *backup = sqlite3_backup_init(to, "main", from, "main");
  if (backup == NULL)
    return lzs_db_fail(to, sqlite3_errcode(to), "backup", error);
  lzs_status status = LZS_OK;
  bool hold = told != NULL && sqlite3_get_autocommit(from);
  int64_t tables;
  if (hold)
    status = lzs_db_exec(from, "BEGIN", error);
  if (hold && status == LZS_OK) // the transaction begins with the first look
    status = lzs_db_int(from, "SELECT count(*) FROM sqlite_schema", &tables, error);
  int code = status == LZS_OK ? step_pages(backup, told) : SQLITE_DONE;
  sqlite3_backup_finish(backup);
  if (hold && !sqlite3_get_autocommit(from))
    lzs_db_exec(from, "ROLLBACK", NULL);
  if (code == SQLITE_INTERRUPT)
    return lzs_told_stopped(error);
  if (code != SQLITE_DONE)
    return lzs_db_fail(to, code == SQLITE_OK ? SQLITE_BUSY : code, "backup", error);
  return status;
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
verify_copy(const char *path, lzs_told *told, lzs_error *error)
{
  lzs_options options = {.read_only = true};
  lzs_store *copy = NULL;
  lzs_status status = lzs_open(path, &options, &copy, error);
  if (status != LZS_OK)
    return status;
  lzs_verify_result result;
  if (told != NULL)
    copy->told = *told;
  status = lzs_verify(copy, &result, error);
  lzs_close(copy);
  return status;
}

static lzs_status
make_copy(sqlite3 *db, const char *temp, lzs_told *told, lzs_error *error)
{
  sqlite3 *to = NULL;
  int code = sqlite3_open_v2(temp, &to, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);
  lzs_status status = code == SQLITE_OK ? LZS_OK : lzs_db_fail(to, code, "open the copy", error);
  if (status == LZS_OK)
    status = copy_pages(db, to, told, error);
  lzs_told_watch(told, to);
  if (told != NULL)
    lzs_told_part(told, COPIED, SETTLED);
  if (status == LZS_OK)
    status = settle(to, error);
  sqlite3_close(to);
  return status;
}

lzs_status
lzs_backup_copy(sqlite3 *db, const char *to_path, lzs_backup_how how, lzs_told *told,
                lzs_error *error)
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
  if (told != NULL)
    lzs_told_part(told, 0, COPIED);
  lzs_status status = make_copy(db, temp, told, error);
  if (status == LZS_OK)
    status = lzs_file_own(temp, error);
  if (told != NULL)
    lzs_told_part(told, SETTLED, 1);
  if (status == LZS_OK && how == LZS_BACKUP_VERIFIED)
    status = verify_copy(temp, told, error);
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

// The first entry's hash; zeros where there is none.
static bool
first_hash(sqlite3 *db, uint8_t out[32])
{
  sqlite3_stmt *stmt = NULL;
  memset(out, 0, 32);
  int code = sqlite3_prepare_v2(db, "SELECT hash FROM entry ORDER BY id LIMIT 1", -1, &stmt, NULL);
  if (code == SQLITE_OK)
    code = sqlite3_step(stmt);
  if (code == SQLITE_ROW && sqlite3_column_bytes(stmt, 0) == 32)
    memcpy(out, sqlite3_column_blob(stmt, 0), 32);
  sqlite3_finalize(stmt);
  return code == SQLITE_ROW || code == SQLITE_DONE;
}

static bool
begins_alike(sqlite3 *db, const char *path)
{
  uint8_t ours[32], theirs[32];
  char *uri = lzs_db_immutable_uri(path);
  sqlite3 *other = NULL;
  bool alike =
      uri != NULL &&
      sqlite3_open_v2(uri, &other, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL) == SQLITE_OK &&
      first_hash(db, ours) && first_hash(other, theirs) && memcmp(ours, theirs, 32) == 0;
  sqlite3_close(other);
  free(uri);
  return alike;
}

// A copy takes the place of an older copy of the same station, and of nothing else: not of the
// station itself, which somebody may be writing to, and not of another one.
static lzs_status
may_replace(lzs_store *store, const char *to_path, lzs_error *error)
{
  struct stat own, other;
  if (stat(to_path, &other) != 0)
    return LZS_OK;
  bool same =
      stat(store->path, &own) == 0 && own.st_ino == other.st_ino && own.st_dev == other.st_dev;
  bool copy = !same && begins_alike(store->db, to_path);
  return copy ? LZS_OK : lzs_fail(error, LZS_EXISTS, "file", to_path, "not a copy of this station");
}

lzs_status
lzs_backup(lzs_store *store, const char *to_path, lzs_error *error)
{
  lzs_told *told = store->told.progress != NULL ? &store->told : NULL;
  lzs_status status = may_replace(store, to_path, error);
  if (status != LZS_OK)
    return status;
  return lzs_backup_copy(store->db, to_path, LZS_BACKUP_VERIFIED, told, error);
}
