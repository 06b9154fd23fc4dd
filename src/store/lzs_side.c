// SPDX-License-Identifier: GPL-3.0-or-later
// What stands outside the chain because it may change or go: names of people, half-typed input, and
// what can be worked out again.
#include "lzs_side.h"

#include "lzs_check.h"
#include "lzs_pc.h"
#include "lzs_read.h"
#include "lzs_text.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>

static sqlite3_stmt *
prepare_bound(lzs_store *store, const char *sql, const lzs_bind *binds, int n, lzs_error *error)
{
  sqlite3_stmt *stmt = lzs_db_prepare(store, sql, error);
  for (int i = 0; stmt != NULL && i < n; i++) {
    const lzs_bind *b = &binds[i];
    int code = b->type == 'i' ? sqlite3_bind_int64(stmt, i + 1, b->i)
               : b->type == 't'
                   ? sqlite3_bind_text(stmt, i + 1, b->text, -1, SQLITE_STATIC)
                   : sqlite3_bind_blob64(stmt, i + 1, b->bytes, b->size, SQLITE_STATIC);
    if (code != SQLITE_OK) {
      lzs_db_fail(store->db, code, "bind", error);
      sqlite3_finalize(stmt);
      return NULL;
    }
  }
  return stmt;
}

lzs_status
lzs_side_run(lzs_store *store, const char *sql, const lzs_bind *binds, int n, lzs_error *error)
{
  lzs_status status = lzs_db_begin(store, error);
  if (status != LZS_OK)
    return status;
  sqlite3_stmt *stmt = prepare_bound(store, sql, binds, n, error);
  status = stmt != NULL ? lzs_db_run(store, stmt, "write", error) : lzs_db_status(store);
  sqlite3_finalize(stmt);
  return lzs_db_end(store, status, error);
}

lzs_status
lzs_side_query(lzs_store *store, const char *sql, const lzs_bind *binds, int n, lzs_side_row row,
               void *ctx, lzs_error *error)
{
  lzs_status status = lzs_read_begin(store, error);
  if (status != LZS_OK)
    return status;
  sqlite3_stmt *stmt = prepare_bound(store, sql, binds, n, error);
  int code = SQLITE_DONE;
  if (stmt == NULL) {
    status = lzs_db_status(store);
  } else {
    while ((code = sqlite3_step(stmt)) == SQLITE_ROW && row(ctx, stmt)) {
    }
    if (code != SQLITE_ROW && code != SQLITE_DONE)
      status = lzs_db_fail(store->db, code, "read", error);
  }
  sqlite3_finalize(stmt);
  lzs_read_end(store);
  return status;
}

static lzs_status
check_text(const char *field, const char *text, lzs_error *error)
{
  if (text == NULL || lzs_text_valid(text))
    return LZS_OK;
  return lzs_fail(error, LZS_BAD_INPUT, field, NULL, "not UTF-8");
}

lzs_status
lzs_name_set(lzs_store *store, int64_t person, const lzs_identity *identity, lzs_error *error)
{
  const lzs_identity none = {0}, *to = identity ? identity : &none;
  lzs_status status = lzs_check_reference(store, "person", person, LZS_PERSON, error);
  if (status == LZS_OK)
    status = check_text("name", to->name, error);
  if (status == LZS_OK)
    status = check_text("initials", to->initials, error);
  if (status == LZS_OK)
    status = check_text("contact", to->contact, error);
  if (status != LZS_OK)
    return status;
  const lzs_bind binds[] = {{.type = 'i', .i = person},
                            {.type = 't', .text = to->name},
                            {.type = 't', .text = to->initials},
                            {.type = 't', .text = to->contact}};
  if (to->name != NULL)
    return lzs_side_run(store,
                        "INSERT OR REPLACE INTO identity (person, name, initials, contact, sum) "
                        "VALUES (?1, ?2, ?3, ?4, lzs_sum(?1, ?2, ?3, ?4))",
                        binds, 4, error);
  status = lzs_side_run(store, "DELETE FROM identity WHERE person = ?1", binds, 1, error);
  // Erased means erased: deleted bytes are overwritten (secure_delete), and the log that still
  // holds them is folded in. Another reader may keep it a while longer; the last to close folds it
  // in.
  if (status == LZS_OK)
    sqlite3_exec(store->db, "PRAGMA wal_checkpoint(TRUNCATE)", NULL, NULL, NULL);
  return status;
}

typedef struct {
  lzs_each_name name;
  lzs_each_draft draft;
  lzs_cached cached;
  const char *key;
  uint8_t own[LZS_PC_KEY];
  void *ctx;
  bool any;
} rows;

static const char *
text_at(sqlite3_stmt *stmt, int at)
{
  return (const char *)sqlite3_column_text(stmt, at);
}

static bool
name_row(void *ctx, sqlite3_stmt *stmt)
{
  rows *r = ctx;
  const lzs_identity identity = {text_at(stmt, 1), text_at(stmt, 2), text_at(stmt, 3)};
  return r->name(r->ctx, sqlite3_column_int64(stmt, 0), &identity);
}

lzs_status
lzs_names(lzs_store *store, lzs_each_name each, void *ctx, lzs_error *error)
{
  rows r = {.name = each, .ctx = ctx};
  return lzs_side_query(store,
                        "SELECT person, name, initials, contact FROM identity ORDER BY person",
                        NULL, 0, name_row, &r, error);
}

lzs_status
lzs_draft_set(lzs_store *store, const char *key, const char *value, int64_t at_ms, lzs_error *error)
{
  lzs_status status = check_text("key", key, error);
  if (status == LZS_OK)
    status = check_text("value", value, error);
  if (status != LZS_OK)
    return status;
  const lzs_bind binds[] = {
      {.type = 't', .text = key}, {.type = 't', .text = value}, {.type = 'i', .i = at_ms}};
  if (value == NULL)
    return lzs_side_run(store, "DELETE FROM draft WHERE key = ?1", binds, 1, error);
  return lzs_side_run(store,
                      "INSERT OR REPLACE INTO draft (key, value, at_ms, sum) "
                      "VALUES (?1, ?2, ?3, lzs_sum(?1, ?2, ?3))",
                      binds, 3, error);
}

static bool
draft_row(void *ctx, sqlite3_stmt *stmt)
{
  rows *r = ctx;
  return r->draft(r->ctx, text_at(stmt, 0), text_at(stmt, 1), sqlite3_column_int64(stmt, 2));
}

lzs_status
lzs_drafts(lzs_store *store, lzs_each_draft each, void *ctx, lzs_error *error)
{
  rows r = {.draft = each, .ctx = ctx};
  return lzs_side_query(store, "SELECT key, value, at_ms FROM draft ORDER BY key", NULL, 0,
                        draft_row, &r, error);
}

// --- the cache: nobody checks it against the ledger, so a PC believes only what it wrote itself

#define SEAL crypto_generichash_BYTES

// BLAKE2b-256 with the PC's key over what the bytes are for, their entry and the bytes.
static void
seal(const uint8_t key[LZS_PC_KEY], const char *name, int64_t entry, const void *bytes, size_t size,
     uint8_t out[SEAL])
{
  crypto_generichash_state state;
  crypto_generichash_init(&state, key, LZS_PC_KEY, SEAL);
  crypto_generichash_update(&state, (const uint8_t *)name, strlen(name) + 1);
  crypto_generichash_update(&state, (const uint8_t *)&entry, sizeof entry);
  crypto_generichash_update(&state, bytes, size);
  crypto_generichash_final(&state, out, SEAL);
}

lzs_status
lzs_cache_set(lzs_store *store, const char *key, int64_t entry, const void *bytes, size_t size,
              lzs_error *error)
{
  lzs_bind binds[] = {{.type = 't', .text = key}, {.type = 'i', .i = entry}, {.type = 'b'}};
  if (size == 0)
    return lzs_side_run(store, "DELETE FROM cache WHERE key = ?1", binds, 1, error);
  uint8_t own[LZS_PC_KEY];
  lzs_status status = lzs_pc_key(store, true, own, error);
  if (status != LZS_OK)
    return status;
  uint8_t *sealed = malloc(SEAL + size);
  if (sealed == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "key", key, NULL);
  seal(own, key, entry, bytes, size, sealed);
  memcpy(sealed + SEAL, bytes, size);
  binds[2].bytes = sealed;
  binds[2].size = SEAL + size;
  status = lzs_side_run(store,
                        "INSERT OR REPLACE INTO cache (key, entry, value, sum) "
                        "VALUES (?1, ?2, ?3, lzs_sum(?1, ?2, ?3))",
                        binds, 3, error);
  free(sealed);
  return status;
}

static bool
cache_row(void *ctx, sqlite3_stmt *stmt)
{
  rows *r = ctx;
  const int64_t entry = sqlite3_column_int64(stmt, 0);
  const uint8_t *sealed = sqlite3_column_blob(stmt, 1);
  const size_t size = (size_t)sqlite3_column_bytes(stmt, 1);
  uint8_t expected[SEAL];
  if (sealed == NULL || size <= SEAL)
    return false;
  seal(r->own, r->key, entry, sealed + SEAL, size - SEAL, expected);
  if (sodium_memcmp(expected, sealed, SEAL) != 0)
    return false;
  r->any = true;
  r->cached(r->ctx, entry, sealed + SEAL, size - SEAL);
  return false;
}

lzs_status
lzs_cache_get(lzs_store *store, const char *key, lzs_cached found, void *ctx, lzs_error *error)
{
  rows r = {.cached = found, .ctx = ctx, .key = key};
  const lzs_bind bind = {.type = 't', .text = key};
  lzs_status status = lzs_pc_key(store, false, r.own, error);
  if (status != LZS_OK)
    return status;
  status = lzs_side_query(store,
                          "SELECT entry, value FROM cache WHERE key = ?1 AND sum = "
                          "lzs_sum(key, entry, value)",
                          &bind, 1, cache_row, &r, error);
  if (status == LZS_OK && !r.any)
    return lzs_fail(error, LZS_NOT_FOUND, "key", key, "nothing kept under that key");
  return status;
}
