// SPDX-License-Identifier: GPL-3.0-or-later
// Making, opening and closing a station file: how every connection is set up, and where its journal
// lives. Local disks get a write-ahead log; a network drive, where shared memory does not work, a
// rollback journal and the file to itself; a file that cannot be written is read as it lies.
#include "lzs_db.h"
#include "lzs_file.h"
#include "lzs_locks.h"
#include "lzs_migrate.h"
#include "lzs_sum.h"

#include <sodium.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define BUSY_MS 5000

// Set on every connection. Full synchronisation makes an acknowledged commit outlive a power cut.
#define SET_UP                                                                                     \
  "PRAGMA recursive_triggers = ON; PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL;"           \
  "PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON; PRAGMA secure_delete = ON;"           \
  "PRAGMA temp_store = MEMORY; PRAGMA cache_size = -16000; PRAGMA journal_size_limit = 16777216"

static int64_t
real_clock_ms(void *ctx)
{
  struct timespec now;
  clock_gettime(CLOCK_REALTIME, &now);
  return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static lzs_store *
store_new(const char *path, const lzs_options *options)
{
  lzs_store *store = calloc(1, sizeof *store);
  if (store == NULL)
    return NULL;
  store->path = strdup(path);
  store->clock_ms = real_clock_ms;
  if (options != NULL) {
    store->read_only = options->read_only;
    if (options->pc_folder != NULL)
      store->pc_folder = strdup(options->pc_folder);
    if (options->clock_ms != NULL) {
      store->clock_ms = options->clock_ms;
      store->clock_ctx = options->clock_ctx;
    }
  }
  if (store->path == NULL ||
      (options != NULL && options->pc_folder != NULL && store->pc_folder == NULL)) {
    lzs_close(store);
    return NULL;
  }
  return store;
}

static lzs_status
set_up(sqlite3 *db, const lzs_options *options, lzs_error *error)
{
  sqlite3_extended_result_codes(db, 1);
  sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
  sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
  int busy = options != NULL && options->busy_ms != 0 ? options->busy_ms : BUSY_MS;
  sqlite3_busy_timeout(db, busy > 0 ? busy : 0);
  lzs_status status = lzs_sum_register(db, error);
  return status == LZS_OK ? lzs_db_exec(db, SET_UP, error) : status;
}

char *
lzs_db_immutable_uri(const char *path)
{
  static const char query[] = "?immutable=1";
  char *uri = malloc(5 + 3 * strlen(path) + sizeof query);
  if (uri == NULL)
    return NULL;
  char *to = uri + sprintf(uri, "file:");
  for (const char *c = path; *c != '\0'; c++) {
    if (strchr("%?#", *c) != NULL)
      to += sprintf(to, "%%%02X", (unsigned char)*c);
    else
      *to++ = *c;
  }
  memcpy(to, query, strlen(query) + 1);
  return uri;
}

// Somebody has the file open, or a log beside it holds commits that are not in it yet: then it may
// not be read as if nothing ever changed.
static bool
in_use(const char *path)
{
  char *log = lzs_file_beside(path, "-wal"), *index = lzs_file_beside(path, "-shm");
  struct stat st;
  bool used = log == NULL || index == NULL || (stat(log, &st) == 0 && st.st_size > 0) ||
              stat(index, &st) == 0;
  free(log);
  free(index);
  return used;
}

static lzs_status
connect_file(lzs_store *store, lzs_error *error)
{
  int flags =
      SQLITE_OPEN_NOMUTEX | (store->read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE);
  int code;
  if (store->read_only && !in_use(store->path) && !lzs_file_writable(store->path)) {
    char *uri = lzs_db_immutable_uri(store->path);
    if (uri == NULL)
      return lzs_fail(error, LZS_NO_MEMORY, "file", store->path, NULL);
    code = sqlite3_open_v2(uri, &store->db, flags | SQLITE_OPEN_URI, NULL);
    free(uri);
  } else {
    code = sqlite3_open_v2(store->path, &store->db, flags, NULL);
  }
  return code == SQLITE_OK ? LZS_OK : lzs_db_fail(store->db, code, "open", error);
}

static lzs_status
choose_journal(lzs_store *store, lzs_place place, lzs_error *error)
{
  if (store->read_only)
    return LZS_OK;
  bool network =
      place == LZS_PLACE_NETWORK || (place == LZS_PLACE_AUTO && lzs_file_on_network(store->path));
  return lzs_db_exec(store->db,
                     network ? "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = DELETE"
                             : "PRAGMA journal_mode = WAL",
                     error);
}

static lzs_status
bring_up_to_date(lzs_store *store, int64_t version, lzs_error *error)
{
  if (version == lzs_schema_n)
    return LZS_OK;
  int64_t tables = 0;
  lzs_status status = lzs_db_int(
      store->db, "SELECT count(*) FROM sqlite_schema WHERE name = 'entry'", &tables, error);
  if (status == LZS_OK && (version < 0 || (version == 0 && tables > 0)))
    return lzs_fail_int(error, LZS_CORRUPT, "user_version", version,
                        "the file's version does not fit its tables");
  if (status != LZS_OK)
    return status;
  if (store->read_only)
    return lzs_fail_int(error, LZS_READ_ONLY, "user_version", version,
                        "an older file must be brought up to date first, which needs writing");
  status = lzs_migrate_copy(store->db, store->path, version, error);
  return status == LZS_OK ? lzs_migrate_run(store->db, lzs_schema, lzs_schema_n, error) : status;
}

static lzs_status
open_steps(lzs_store *store, const lzs_options *options, lzs_error *error)
{
  int64_t version = 0;
  lzs_status status = connect_file(store, error);
  if (status == LZS_OK)
    status = set_up(store->db, options, error);
  if (status == LZS_OK)
    status = lzs_migrate_version(store->db, &version, error);
  if (status == LZS_OK)
    status = choose_journal(store, options != NULL ? options->place : LZS_PLACE_AUTO, error);
  if (status == LZS_OK)
    status = bring_up_to_date(store, version, error);
  if (status == LZS_OK)
    status = lzs_db_ready(store, error);
  return status;
}

lzs_status
lzs_open(const char *path, const lzs_options *options, lzs_store **out, lzs_error *error)
{
  *out = NULL;
  struct stat st;
  if (sodium_init() < 0)
    return lzs_fail(error, LZS_INTERNAL, NULL, NULL, "libsodium does not start");
  lzs_locks_hold();
  if (stat(path, &st) != 0)
    return lzs_fail_errno(error, errno, path, "no such file");
  if (!S_ISREG(st.st_mode))
    return lzs_fail(error, LZS_NOT_STATION, "file", path, "not a file");
  lzs_store *store = store_new(path, options);
  if (store == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  if (!lzs_file_writable(path))
    store->read_only = true;
  lzs_status status = open_steps(store, options, error);
  if (status != LZS_OK) {
    if (error != NULL && error->value[0] == '\0')
      lzs_fail_value(error, path);
    lzs_close(store);
    return status;
  }
  *out = store;
  return LZS_OK;
}

// The schema under a temporary name: a process killed here leaves no half-made station.
static lzs_status
make_file(const char *temp, const lzs_options *options, lzs_error *error)
{
  sqlite3 *db = NULL;
  int code = sqlite3_open_v2(temp, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL);
  lzs_status status = code == SQLITE_OK ? LZS_OK : lzs_db_fail(db, code, "create", error);
  if (status == LZS_OK)
    status = set_up(db, options, error);
  if (status == LZS_OK)
    status = lzs_migrate_run(db, lzs_schema, lzs_schema_n, error);
  if (status == LZS_OK && (options == NULL || options->place != LZS_PLACE_NETWORK) &&
      !lzs_file_on_network(temp))
    status = lzs_db_exec(db, "PRAGMA journal_mode = WAL", error);
  sqlite3_close(db);
  return status;
}

lzs_status
lzs_create(const char *path, const lzs_options *options, lzs_store **out, lzs_error *error)
{
  *out = NULL;
  struct stat st;
  if (lstat(path, &st) == 0)
    return lzs_fail(error, LZS_EXISTS, "file", path, NULL);
  lzs_locks_hold();
  char suffix[32];
  snprintf(suffix, sizeof suffix, ".new-%ld", (long)getpid());
  char *temp = lzs_file_beside(path, suffix);
  if (temp == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  lzs_file_discard(temp);
  lzs_status status = make_file(temp, options, error);
  if (status == LZS_OK)
    status = lzs_file_own(temp, error);
  if (status == LZS_OK)
    status = lzs_file_publish(temp, path, false, error);
  else if (error != NULL)
    lzs_fail_value(error, path);
  if (status != LZS_OK)
    lzs_file_discard(temp);
  free(temp);
  return status == LZS_OK ? lzs_open(path, options, out, error) : status;
}

void
lzs_close(lzs_store *store)
{
  if (store == NULL)
    return;
  lzs_db_finalize_all(store);
  // SQLite folds the log in and takes it away when the last connection closes.
  sqlite3_close(store->db);
  free(store->pc_folder);
  free(store->path);
  free(store);
}

bool
lzs_is_read_only(const lzs_store *store)
{
  return store->read_only;
}

int64_t
lzs_data_version(lzs_store *store)
{
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_DATA_VERSION, NULL);
  int64_t others =
      stmt != NULL && sqlite3_step(stmt) == SQLITE_ROW ? sqlite3_column_int64(stmt, 0) : 0;
  if (stmt != NULL)
    sqlite3_reset(stmt);
  return others * INT64_C(4294967296) + store->commits;
}

int64_t
lzs_clock_lag_ms(const lzs_store *store)
{
  return store->clock_lag_ms;
}
