// SPDX-License-Identifier: GPL-3.0-or-later
// Reading entries, each call at one instant of the file.
#include "lzs_read.h"

#include "lzs_walk.h"

#include <stdlib.h>

lzs_status
lzs_read_begin(lzs_store *store, lzs_error *error)
{
  if (store->reading)
    return lzs_fail(error, LZS_INTERNAL, NULL, NULL, "the store was called from a read's callback");
  sqlite3_stmt *begin = lzs_db_q(store, LZS_Q_BEGIN_READ, error);
  if (begin == NULL)
    return lzs_db_status(store);
  lzs_status status = lzs_db_run(store, begin, "begin to read", error);
  store->reading = status == LZS_OK;
  return status;
}

void
lzs_read_end(lzs_store *store)
{
  store->reading = false;
  lzs_db_rollback(store);
}

// A read hands on nothing that is not whole: it says where and leaves the rest to lzs_verify.
static lzs_status
fail_row(lzs_row row, int64_t id, lzs_error *error)
{
  static const char *const what[] = {
      [LZS_ROW_NO_KIND] = "an unknown kind",
      [LZS_ROW_NO_VALUES] = "its values are missing",
      [LZS_ROW_STRAY] = "values without an entry",
      [LZS_ROW_SHAPE] = "a value of the wrong shape",
  };
  lzs_fail_int(error, LZS_CORRUPT, "entry", id, what[row]);
  if (error != NULL)
    error->entry = id;
  return LZS_CORRUPT;
}

lzs_status
lzs_read(lzs_store *store, int64_t after, lzs_each each, void *ctx, lzs_error *error)
{
  lzs_status status = lzs_read_begin(store, error);
  if (status != LZS_OK)
    return status;
  lzs_walk walk;
  status = lzs_walk_begin(&walk, store, after + 1, error);
  bool more = status == LZS_OK;
  while (more) {
    status = lzs_walk_next(&walk, &more, error);
    if (!more)
      break;
    if (status == LZS_OK && walk.row != LZS_ROW_SOUND)
      status = fail_row(walk.row, walk.row == LZS_ROW_STRAY ? walk.stray : walk.entry.id, error);
    if (status != LZS_OK || !each(ctx, &walk.entry))
      break;
  }
  lzs_walk_end(&walk);
  lzs_read_end(store);
  return status;
}

// The common row of an entry whose id is known.
static lzs_status
read_common(lzs_store *store, int64_t id, lzs_entry *entry, bool *found, sqlite3_stmt **stmt,
            lzs_error *error)
{
  const lzs_kind_spec *last = NULL;
  *found = false;
  *stmt = lzs_db_q(store, LZS_Q_ENTRY_ONE, error);
  if (*stmt == NULL)
    return lzs_db_status(store);
  sqlite3_bind_int64(*stmt, 1, id);
  int code = sqlite3_step(*stmt);
  if (code == SQLITE_DONE)
    return LZS_OK;
  if (code != SQLITE_ROW)
    return lzs_db_fail(store->db, code, "read an entry", error);
  *found = true;
  lzs_row row = lzs_walk_common(*stmt, entry, &last);
  return row == LZS_ROW_SOUND ? LZS_OK : fail_row(row, id, error);
}

// Goes through the kind's own table, `limit` rows at most (0 = all).
static lzs_status
read_rows(lzs_store *store, lzs_kind kind, int64_t from, int64_t limit, lzs_each each, void *ctx,
          lzs_error *error)
{
  sqlite3_stmt *values = lzs_db_scan(store, kind, error), *common = NULL;
  if (values == NULL)
    return lzs_db_status(store);
  lzs_status status = LZS_OK;
  int code = SQLITE_DONE;
  sqlite3_bind_int64(values, 1, from);
  for (int64_t n = 0; (limit == 0 || n < limit) && (code = sqlite3_step(values)) == SQLITE_ROW;
       n++) {
    lzs_entry entry = {0};
    int64_t id = sqlite3_column_int64(values, 0);
    bool found;
    status = read_common(store, id, &entry, &found, &common, error);
    if (status == LZS_OK && (!found || entry.kind != kind))
      status = fail_row(LZS_ROW_STRAY, id, error);
    if (status == LZS_OK && lzs_walk_values(values, &entry) != LZS_ROW_SOUND)
      status = fail_row(LZS_ROW_SHAPE, id, error);
    if (status != LZS_OK || !each(ctx, &entry))
      break;
  }
  if (status == LZS_OK && code != SQLITE_ROW && code != SQLITE_DONE)
    status = lzs_db_fail(store->db, code, "read a kind", error);
  sqlite3_reset(values);
  if (common != NULL)
    sqlite3_reset(common);
  return status;
}

lzs_status
lzs_read_kind(lzs_store *store, lzs_kind kind, int64_t after, lzs_each each, void *ctx,
              lzs_error *error)
{
  lzs_status status = lzs_read_begin(store, error);
  if (status != LZS_OK)
    return status;
  status = read_rows(store, kind, after + 1, 0, each, ctx, error);
  lzs_read_end(store);
  return status;
}

static lzs_status
read_one(lzs_store *store, int64_t id, lzs_each each, void *ctx, lzs_error *error)
{
  lzs_entry entry = {0};
  sqlite3_stmt *common;
  bool found;
  lzs_status status = read_common(store, id, &entry, &found, &common, error);
  if (common != NULL)
    sqlite3_reset(common);
  if (status != LZS_OK)
    return status;
  if (!found) {
    lzs_fail_int(error, LZS_NOT_FOUND, "entry", id, "no such entry");
    if (error != NULL)
      error->entry = id;
    return LZS_NOT_FOUND;
  }
  return read_rows(store, entry.kind, id, 1, each, ctx, error);
}

lzs_status
lzs_read_one(lzs_store *store, int64_t id, lzs_each each, void *ctx, lzs_error *error)
{
  lzs_status status = lzs_read_begin(store, error);
  if (status != LZS_OK)
    return status;
  status = read_one(store, id, each, ctx, error);
  lzs_read_end(store);
  return status;
}

lzs_status
lzs_last_id(lzs_store *store, int64_t *out, lzs_error *error)
{
  *out = 0;
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_LAST, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  int code = sqlite3_step(stmt);
  lzs_status status = LZS_OK;
  if (code == SQLITE_ROW)
    *out = sqlite3_column_int64(stmt, 0);
  else if (code != SQLITE_DONE)
    status = lzs_db_fail(store->db, code, "read the last entry", error);
  sqlite3_reset(stmt);
  return status;
}
