// SPDX-License-Identifier: GPL-3.0-or-later
// One entry is two rows: the common columns, and the values in the table of its kind.
#include "lzs_write.h"

static lzs_status
find_pc(lzs_store *store, const uint8_t uid[16], int64_t *out, lzs_error *error)
{
  *out = 0;
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_PC_FIND, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  sqlite3_bind_blob(stmt, 1, uid, 16, SQLITE_STATIC);
  int code = sqlite3_step(stmt);
  lzs_status status = LZS_OK;
  if (code == SQLITE_ROW)
    *out = sqlite3_column_int64(stmt, 0);
  else if (code != SQLITE_DONE)
    status = lzs_db_fail(store->db, code, "find the PC", error);
  sqlite3_reset(stmt);
  return status;
}

lzs_status
lzs_write_pc(lzs_store *store, const uint8_t uid[16], int64_t *out, lzs_error *error)
{
  lzs_status status = find_pc(store, uid, out, error);
  if (status != LZS_OK || *out != 0)
    return status;
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_PC_ADD, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  sqlite3_bind_blob(stmt, 1, uid, 16, SQLITE_STATIC);
  status = lzs_db_run(store, stmt, "add the PC", error);
  *out = sqlite3_last_insert_rowid(store->db);
  return status;
}

static void
bind_id(sqlite3_stmt *stmt, int at, int64_t id)
{
  if (id == 0)
    sqlite3_bind_null(stmt, at);
  else
    sqlite3_bind_int64(stmt, at, id);
}

static void
bind_text(sqlite3_stmt *stmt, int at, const char *text)
{
  sqlite3_bind_text(stmt, at, text, -1, SQLITE_STATIC); // NULL binds NULL
}

static lzs_status
write_common(lzs_store *store, const lzs_entry *entry, int64_t pc, lzs_error *error)
{
  sqlite3_stmt *stmt = lzs_db_q(store, LZS_Q_ENTRY_ADD, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  sqlite3_bind_int64(stmt, 1, entry->id);
  bind_text(stmt, 2, lzs_kind_get(entry->kind)->name);
  sqlite3_bind_int64(stmt, 3, entry->happened_min);
  sqlite3_bind_int64(stmt, 4, entry->offset_min);
  sqlite3_bind_int64(stmt, 5, entry->recorded_ms);
  bind_id(stmt, 6, entry->who);
  bind_id(stmt, 7, entry->witness);
  bind_text(stmt, 8, entry->reason);
  sqlite3_bind_int64(stmt, 9, pc);
  sqlite3_bind_int64(stmt, 10, entry->pc_seq);
  bind_id(stmt, 11, entry->corrects);
  sqlite3_bind_int64(stmt, 12, entry->voided);
  bind_id(stmt, 13, entry->entity);
  sqlite3_bind_blob(stmt, 14, entry->hash, sizeof entry->hash, SQLITE_STATIC);
  return lzs_db_run(store, stmt, "write the entry", error);
}

static lzs_status
write_values(lzs_store *store, const lzs_entry *entry, lzs_error *error)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  sqlite3_stmt *stmt = lzs_db_add(store, entry->kind, error);
  if (stmt == NULL)
    return lzs_db_status(store);
  sqlite3_bind_int64(stmt, 1, entry->id);
  for (size_t i = 0; i < spec->n_fields; i++) {
    const lzs_value *value = &entry->v[i];
    int at = (int)i + 2;
    lzs_type type = spec->fields[i].type;
    if (value->null)
      sqlite3_bind_null(stmt, at);
    else if (type == LZS_T_TEXT || type == LZS_T_WORD)
      bind_text(stmt, at, value->text);
    else if (type == LZS_T_REAL)
      sqlite3_bind_double(stmt, at, value->r);
    else
      sqlite3_bind_int64(stmt, at, value->i);
  }
  return lzs_db_run(store, stmt, "write the values", error);
}

lzs_status
lzs_write_entry(lzs_store *store, const lzs_entry *entry, int64_t pc, lzs_error *error)
{
  lzs_status status = write_common(store, entry, pc, error);
  return status == LZS_OK ? write_values(store, entry, error) : status;
}
