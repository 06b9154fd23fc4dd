// SPDX-License-Identifier: GPL-3.0-or-later
// How far long work has come: parts of a whole, told in hundredths, and a way to stop it.
#include "lzs_told.h"

#include "lzs_db.h"

#define OPS_BETWEEN                                                                                \
  1000000 // of SQLite's machine between two questions: some hundredths of a second

void
lzs_set_progress(lzs_store *store, lzs_progress progress, void *ctx)
{
  store->told = (lzs_told){.progress = progress, .ctx = ctx};
}

void
lzs_told_part(lzs_told *told, double from, double to)
{
  told->from = from;
  told->to = to;
  if (from <= 0)
    told->last = 0;
}

bool
lzs_told_step(lzs_told *told, double share)
{
  if (told == NULL || told->progress == NULL)
    return true;
  double whole = told->from + (told->to - told->from) * (share < 1 ? share : 1);
  if (whole < told->last + 0.01 && whole < 1)
    return true;
  told->last = whole;
  return told->progress(told->ctx, whole);
}

lzs_status
lzs_told_stopped(lzs_error *error)
{
  return lzs_fail(error, LZS_STOPPED, NULL, NULL, "as asked");
}

static int
ask(void *ctx)
{
  lzs_told *told = ctx;
  return !told->progress(told->ctx, told->last);
}

void
lzs_told_watch(lzs_told *told, sqlite3 *db)
{
  if (told != NULL && told->progress != NULL)
    sqlite3_progress_handler(db, OPS_BETWEEN, ask, told);
}

void
lzs_told_unwatch(sqlite3 *db)
{
  sqlite3_progress_handler(db, 0, NULL, NULL);
}
