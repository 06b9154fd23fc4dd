// SPDX-License-Identifier: GPL-3.0-or-later
// Appending: all entries of one call in one transaction, each hashed onto its PC's chain, durable
// before the call answers.
#include "lzs_check.h"
#include "lzs_pc.h"
#include "lzs_told.h"
#include "lzs_write.h"

#include <string.h>

// Where the ledger stands when the transaction begins, carried along entry by entry.
typedef struct {
  int64_t before;      // last id before this call
  int64_t last_new;    // last id of this call
  int64_t recorded_ms; // of the entry before
  int64_t pc;          // this file's number for the PC
  int64_t pc_seq;      // last running number
  uint8_t hash[32];    // last hash of the PC's chain
} tail;

static lzs_status
read_last(lzs_store *store, tail *t, lzs_error *error)
{
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_LAST, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  int code = sqlite3_step(stmt);
  if (code == SQLITE_ROW) {
    t->before = sqlite3_column_int64(stmt, 0);
    t->recorded_ms = sqlite3_column_int64(stmt, 1);
  }
  lzs_status status = code == SQLITE_ROW || code == SQLITE_DONE
                          ? LZS_OK
                          : lzs_db_fail(store->db, code, "read the last entry", error);
  sqlite3_reset(stmt);
  return status;
}

static lzs_status
read_chain(lzs_store *store, tail *t, lzs_error *error)
{
  lzs_status status = lzs_write_pc(store, store->pc, &t->pc, error);
  sqlite3_stmt *stmt = status == LZS_OK ? lzs_db_q(store, LZS_Q_PC_LAST, error) : NULL;
  if (stmt == NULL)
    return status == LZS_OK ? lzs_db_status(store) : status;
  sqlite3_bind_int64(stmt, 1, t->pc);
  int code = sqlite3_step(stmt);
  if (code == SQLITE_ROW && sqlite3_column_bytes(stmt, 1) == (int)sizeof t->hash) {
    t->pc_seq = sqlite3_column_int64(stmt, 0);
    memcpy(t->hash, sqlite3_column_blob(stmt, 1), sizeof t->hash);
  } else if (code != SQLITE_DONE) {
    status = code == SQLITE_ROW ? lzs_fail(error, LZS_CORRUPT, "hash", NULL, "not 32 bytes")
                                : lzs_db_fail(store->db, code, "read the chain's end", error);
  }
  sqlite3_reset(stmt);
  return status;
}

// -1 is the first entry of the call. Entries may name earlier ones; who and witness any of them.
static lzs_status
resolve_one(const char *field, int64_t *id, const tail *t, int64_t limit, lzs_error *error)
{
  if (*id >= 0)
    return LZS_OK;
  if (*id < -(limit - t->before))
    return lzs_fail_int(error, LZS_BAD_INPUT, field, *id, "names no earlier entry of this call");
  *id = t->before - *id;
  return LZS_OK;
}

static lzs_status
resolve(lzs_entry *entry, const tail *t, lzs_error *error)
{
  lzs_status status = resolve_one("who", &entry->who, t, t->last_new, error);
  if (status == LZS_OK)
    status = resolve_one("witness", &entry->witness, t, t->last_new, error);
  if (status == LZS_OK)
    status = resolve_one("corrects", &entry->corrects, t, entry->id - 1, error);
  if (status == LZS_OK)
    status = resolve_one("entity", &entry->entity, t, entry->id - 1, error);
  if (status != LZS_OK || (int)entry->kind < 0 || entry->kind >= LZS_N_KINDS)
    return status; // an unknown kind is refused by the check that follows
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  for (size_t i = 0; i < spec->n_fields && status == LZS_OK; i++)
    if (spec->fields[i].type == LZS_T_REF && !entry->v[i].null)
      status = resolve_one(spec->fields[i].name, &entry->v[i].i, t, entry->id - 1, error);
  return status;
}

static void
stamp(lzs_store *store, lzs_entry *entry, tail *t)
{
  int64_t now = store->clock_ms(store->clock_ctx);
  store->clock_lag_ms = now < t->recorded_ms ? t->recorded_ms - now : 0;
  if (now > t->recorded_ms)
    t->recorded_ms = now;
  entry->recorded_ms = t->recorded_ms;
  entry->pc_seq = ++t->pc_seq;
  memcpy(entry->pc, store->pc, sizeof entry->pc);
  lzs_hash(entry, t->hash, entry->hash);
  memcpy(t->hash, entry->hash, sizeof t->hash);
}

static lzs_status
append_one(lzs_store *store, lzs_entry *entry, tail *t, lzs_error *error)
{
  lzs_status status = resolve(entry, t, error);
  if (status == LZS_OK)
    status = lzs_check_entry(store, entry, t->last_new, error);
  if (status != LZS_OK)
    return status;
  stamp(store, entry, t);
  status = lzs_write_entry(store, entry, t->pc, error);
  if (status == LZS_OK)
    lzs_check_remember(store, entry);
  return status;
}

// The entries of a call, one after the other.
typedef struct {
  size_t n;
  lzs_give give;
  lzs_took took;
  void *ctx;
} source;

static lzs_status
append_all(lzs_store *store, const source *from, lzs_error *error)
{
  tail t = {0};
  lzs_status status = read_last(store, &t, error);
  if (status == LZS_OK)
    status = read_chain(store, &t, error);
  t.last_new = t.before + (int64_t)from->n;
  for (size_t i = 0; status == LZS_OK && i < from->n; i++) {
    lzs_entry entry;
    from->give(from->ctx, i, &entry);
    entry.id = t.before + (int64_t)i + 1;
    status = append_one(store, &entry, &t, error);
    if (status != LZS_OK && error != NULL)
      error->entry = -(int64_t)i - 1;
    if (status == LZS_OK)
      from->took(from->ctx, i, &entry);
    if (status == LZS_OK && !lzs_told_step(&store->told, (double)(i + 1) / (double)from->n))
      status = lzs_told_stopped(error);
  }
  return status;
}

lzs_status
lzs_append_each(lzs_store *store, size_t n, lzs_give give, lzs_took took, void *ctx,
                lzs_error *error)
{
  const source from = {n, give, took, ctx};
  if (n == 0)
    return LZS_OK;
  lzs_told_part(&store->told, 0, 1);
  lzs_status status = store->read_only ? LZS_OK : lzs_pc_ensure(store, error);
  if (status == LZS_OK)
    status = lzs_db_begin(store, error);
  if (status != LZS_OK)
    return status;
  return lzs_db_end(store, append_all(store, &from, error), error);
}

// --- of an array

static void
give_item(void *entries, size_t i, lzs_entry *entry)
{
  *entry = ((lzs_entry *)entries)[i];
}

static void
took_item(void *entries, size_t i, const lzs_entry *entry)
{
  ((lzs_entry *)entries)[i] = *entry;
}

// What the store fills in is cleared, so that nobody takes a refused entry for a written one.
static void
clear(lzs_entry *entries, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    entries[i].id = entries[i].recorded_ms = entries[i].pc_seq = 0;
    memset(entries[i].pc, 0, sizeof entries[i].pc);
    memset(entries[i].hash, 0, sizeof entries[i].hash);
  }
}

lzs_status
lzs_append(lzs_store *store, lzs_entry *entries, size_t n, lzs_error *error)
{
  lzs_status status = lzs_append_each(store, n, give_item, took_item, entries, error);
  if (status != LZS_OK)
    clear(entries, n);
  return status;
}
