// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the file still says what was written into it: every hash is taken again from the values,
// along the chain of each PC; then SQLite's own checks.
#include "lzs_chain.h"
#include "lzs_migrate.h"
#include "lzs_read.h"
#include "lzs_walk.h"

#include <string.h>

#define WALK_SHARE 0.8 // of the time of a verification; the rest is SQLite's own checks

static void
count_bad(lzs_verify_result *out, int64_t id, const char *field, const char *detail,
          lzs_error *error)
{
  if (out->bad++ == 0) {
    lzs_fail_int(error, LZS_CORRUPT, field, id, detail);
    if (error != NULL)
      error->entry = id;
  }
}

static lzs_status
verify_entry(lzs_walk *walk, lzs_chains *chains, int64_t *recorded_ms, lzs_verify_result *out,
             lzs_error *error)
{
  const lzs_entry *entry = &walk->entry;
  const char *wrong = NULL;
  out->entries++;
  if (walk->row == LZS_ROW_NO_KIND) {
    count_bad(out, entry->id, "kind", "an unknown kind", error);
    return LZS_OK;
  }
  lzs_status status = lzs_chains_check(chains, entry, &wrong, error);
  if (status != LZS_OK)
    return status;
  if (walk->row == LZS_ROW_STRAY)
    count_bad(out, walk->stray, "entry", "values without an entry", error);
  else if (walk->row == LZS_ROW_NO_VALUES)
    count_bad(out, entry->id, "entry", "its values are missing", error);
  else if (walk->row == LZS_ROW_SHAPE)
    count_bad(out, entry->id, "entry", "a value of the wrong shape", error);
  else if (wrong != NULL)
    count_bad(out, entry->id, "hash", wrong, error);
  else if (lzs_chains_doubtful(chains, entry))
    return LZS_OK; // its time is no measure for the next
  else if (entry->recorded_ms < *recorded_ms)
    count_bad(out, entry->id, "recorded_ms", "before the entry before it", error);
  *recorded_ms = entry->recorded_ms;
  return LZS_OK;
}

// Rows left in the kinds' tables after the last entry, or of kinds without any entry.
static lzs_status
verify_rest(lzs_store *store, lzs_verify_result *out, lzs_error *error)
{
  for (int k = 0; k < LZS_N_KINDS; k++) {
    char sql[200];
    int64_t stray = 0;
    const char *name = lzs_kind_get((lzs_kind)k)->name;
    sqlite3_snprintf(sizeof sql, sql,
                     "SELECT coalesce(min(v.id), 0) FROM \"%w\" v LEFT JOIN entry e "
                     "ON e.id = v.id AND e.kind = %Q WHERE e.id IS NULL",
                     name, name);
    lzs_status status = lzs_db_int(store->db, sql, &stray, error);
    if (status != LZS_OK)
      return status;
    if (stray != 0)
      count_bad(out, stray, "entry", "values without an entry", error);
  }
  return LZS_OK;
}

static lzs_status
verify_pages(lzs_store *store, lzs_verify_result *out, lzs_error *error)
{
  static const struct {
    const char *field, *sql;
  } checks[] = {
      {"integrity_check",
       "SELECT count(*) FROM pragma_integrity_check WHERE integrity_check <> 'ok'"},
      {"foreign_key_check", "SELECT count(*) FROM pragma_foreign_key_check"},
  };
  for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) {
    int64_t found = 0;
    lzs_status status = lzs_db_int(store->db, checks[i].sql, &found, error);
    if (status != LZS_OK)
      return status;
    if (found > 0) {
      if (out->bad++ == 0)
        lzs_fail_int(error, LZS_CORRUPT, checks[i].field, found, "found by SQLite");
    }
  }
  return LZS_OK;
}

// What stands outside the chain carries a sum.
static lzs_status
verify_sides(lzs_store *store, lzs_verify_result *out, lzs_error *error)
{
  static const struct {
    const char *table, *columns;
  } sides[] = {
      {"identity", "person, name, initials, contact"},
      {"pin", "person, hash"},
      {"draft", "key, value, at_ms"},
      {"cache", "key, entry, value"},
      {"salvaged", "pc, pc_seq, before, doubtful"},
  };
  for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
    char sql[200];
    int64_t bad = 0;
    sqlite3_snprintf(sizeof sql, sql, "SELECT count(*) FROM %s WHERE sum IS NOT lzs_sum(%s)",
                     sides[i].table, sides[i].columns);
    lzs_status status = lzs_db_int(store->db, sql, &bad, error);
    if (status != LZS_OK)
      return status;
    if (bad > 0 && out->bad++ == 0)
      lzs_fail_int(error, LZS_CORRUPT, sides[i].table, bad, "rows whose sum does not fit");
  }
  return LZS_OK;
}

// Every picture is hashed again. One that an entry names and the file does not hold is counted, not
// bad: a ledger that came back from its table has none of them.
static lzs_status
verify_pictures(lzs_store *store, lzs_verify_result *out, lzs_error *error)
{
  static const char missing[] =
      "SELECT count(DISTINCT photo) FROM (SELECT photo FROM sighting UNION ALL SELECT photo FROM "
      "scrape) WHERE photo IS NOT NULL AND photo NOT IN (SELECT lower(hex(hash)) FROM picture)";
  int64_t bad = 0;
  lzs_status status = lzs_db_int(store->db, "SELECT count(*) FROM picture", &out->pictures, error);
  if (status == LZS_OK)
    status =
        lzs_db_int(store->db, "SELECT count(*) FROM picture WHERE hash IS NOT lzs_picture(bytes)",
                   &bad, error);
  if (status == LZS_OK && bad > 0 && out->bad++ == 0)
    lzs_fail_int(error, LZS_CORRUPT, "photo", bad, "pictures whose hash does not fit");
  return status == LZS_OK ? lzs_db_int(store->db, missing, &out->missing, error) : status;
}

// A changed table or trigger would let rows be changed later.
static lzs_status
verify_schema(lzs_store *store, lzs_verify_result *out, lzs_error *error)
{
  bool same = false;
  lzs_status status = lzs_migrate_schema_is_new(store->db, &same, error);
  if (status == LZS_OK && !same && out->bad++ == 0)
    lzs_fail(error, LZS_CORRUPT, "sqlite_schema", NULL, "tables or triggers are not as made");
  return status;
}

static lzs_status
verify_all(lzs_store *store, lzs_chains *chains, lzs_verify_result *out, lzs_error *error)
{
  lzs_walk walk;
  int64_t recorded_ms = 0;
  bool more = true;
  int64_t last_id = 0;
  lzs_status status = lzs_last_id(store, &last_id, error);
  if (status == LZS_OK)
    status = lzs_chains_marks(chains, store, error);
  out->salvaged = (int64_t)chains->n_marks;
  if (status != LZS_OK)
    return status;
  status = lzs_walk_begin(&walk, store, INT64_MIN, error);
  while (status == LZS_OK && more) {
    status = lzs_walk_next(&walk, &more, error);
    if (status == LZS_OK && more)
      status = verify_entry(&walk, chains, &recorded_ms, out, error);
    if (status == LZS_OK && more &&
        !lzs_told_step(&store->told, WALK_SHARE * (double)walk.entry.id / (double)last_id))
      status = lzs_told_stopped(error);
  }
  if (status == LZS_CORRUPT && error != NULL)
    error->entry = walk.entry.id; // the last that could be read
  lzs_walk_end(&walk);
  if (status != LZS_OK)
    return status;
  lzs_told_watch(&store->told, store->db);
  status = verify_rest(store, out, error);
  if (status == LZS_OK)
    status = verify_schema(store, out, error);
  if (status == LZS_OK)
    status = verify_sides(store, out, error);
  if (status == LZS_OK)
    status = verify_pictures(store, out, error);
  if (status == LZS_OK)
    status = verify_pages(store, out, error);
  lzs_told_unwatch(store->db);
  return status;
}

lzs_status
lzs_verify(lzs_store *store, lzs_verify_result *out, lzs_error *error)
{
  memset(out, 0, sizeof *out);
  lzs_chains chains = {0};
  if (store->told.from <= 0) // the whole, not the end of a back-up
    lzs_told_part(&store->told, 0, 1);
  lzs_status status = lzs_read_begin(store, error);
  if (status != LZS_OK)
    return status;
  status = verify_all(store, &chains, out, error);
  if (status == LZS_OK && !lzs_told_step(&store->told, 1))
    status = lzs_told_stopped(error);
  lzs_read_end(store);
  out->chains = (int64_t)chains.n;
  lzs_chains_head(&chains, out->head);
  lzs_chains_free(&chains);
  return status == LZS_OK && out->bad > 0 ? LZS_CORRUPT : status;
}
