// SPDX-License-Identifier: GPL-3.0-or-later
// Rows as entries. What is read is not trusted: a row that this program cannot have written is
// told apart, for a read to fail and for a verification to count.
#include "lzs_walk.h"

#include <string.h>

// NULL for NULL; *whole turns false if the text has a NUL inside, which would cut it.
static const char *
text_of(sqlite3_stmt *stmt, int at, bool *whole)
{
  const char *text = (const char *)sqlite3_column_text(stmt, at);
  if (text != NULL && strlen(text) != (size_t)sqlite3_column_bytes(stmt, at))
    *whole = false;
  return text;
}

static bool
copy_blob(sqlite3_stmt *stmt, int at, uint8_t *to, int size)
{
  const void *blob = sqlite3_column_blob(stmt, at);
  if (blob == NULL || sqlite3_column_bytes(stmt, at) != size)
    return false;
  memcpy(to, blob, (size_t)size);
  return true;
}

lzs_row
lzs_walk_common(sqlite3_stmt *stmt, lzs_entry *entry, const lzs_kind_spec **last)
{
  bool whole = true;
  const char *kind = text_of(stmt, 1, &whole);
  if (kind == NULL || *last == NULL || strcmp((*last)->name, kind) != 0) {
    *last = kind != NULL ? lzs_kind_find(kind) : NULL;
    if (*last != NULL && strcmp((*last)->name, kind) != 0)
      *last = NULL; // a plural is no kind's name in the file
  }
  entry->id = sqlite3_column_int64(stmt, 0);
  if (*last == NULL)
    return LZS_ROW_NO_KIND;
  entry->kind = (*last)->kind;
  entry->happened_min = sqlite3_column_int64(stmt, 2);
  entry->offset_min = sqlite3_column_int(stmt, 3);
  entry->recorded_ms = sqlite3_column_int64(stmt, 4);
  entry->who = sqlite3_column_int64(stmt, 5);
  entry->witness = sqlite3_column_int64(stmt, 6);
  entry->reason = text_of(stmt, 7, &whole);
  whole = copy_blob(stmt, 8, entry->pc, sizeof entry->pc) && whole;
  entry->pc_seq = sqlite3_column_int64(stmt, 9);
  entry->corrects = sqlite3_column_int64(stmt, 10);
  entry->voided = sqlite3_column_int(stmt, 11) != 0;
  entry->entity = sqlite3_column_int64(stmt, 12);
  whole = copy_blob(stmt, 13, entry->hash, sizeof entry->hash) && whole;
  // 0 and NULL read alike and would hash alike: an entry names none with NULL only.
  for (int at = 5; at <= 12; at++)
    if ((at <= 6 || at == 10 || at == 12) && sqlite3_column_type(stmt, at) != SQLITE_NULL &&
        sqlite3_column_int64(stmt, at) == 0)
      whole = false;
  return whole && sqlite3_column_int64(stmt, 3) == entry->offset_min ? LZS_ROW_SOUND
                                                                     : LZS_ROW_SHAPE;
}

lzs_row
lzs_walk_values(sqlite3_stmt *stmt, lzs_entry *entry)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  bool whole = true;
  for (size_t i = 0; i < spec->n_fields; i++) {
    lzs_value *value = &entry->v[i];
    int at = (int)i + 1;
    *value = (lzs_value){.null = sqlite3_column_type(stmt, at) == SQLITE_NULL};
    if (value->null)
      continue;
    switch (spec->fields[i].type) {
    case LZS_T_TEXT:
    case LZS_T_WORD: value->text = text_of(stmt, at, &whole); break;
    case LZS_T_REAL: value->r = sqlite3_column_double(stmt, at); break;
    case LZS_T_INT:
    case LZS_T_BOOL:
    case LZS_T_REF: value->i = sqlite3_column_int64(stmt, at); break;
    }
  }
  return whole ? LZS_ROW_SOUND : LZS_ROW_SHAPE;
}

lzs_status
lzs_walk_begin(lzs_walk *walk, lzs_store *store, int64_t from, lzs_error *error)
{
  memset(walk, 0, sizeof *walk);
  walk->store = store;
  walk->from = from;
  walk->common = lzs_db_q(store, LZS_Q_ENTRY_SCAN, error);
  if (walk->common == NULL)
    return lzs_db_status(store);
  sqlite3_bind_int64(walk->common, 1, from);
  return LZS_OK;
}

static lzs_status
step_values(lzs_walk *walk, lzs_kind kind, lzs_error *error)
{
  int code = sqlite3_step(walk->values[kind]);
  if (code != SQLITE_ROW && code != SQLITE_DONE)
    return lzs_db_fail(walk->store->db, code, "read values", error);
  walk->at[kind] = code == SQLITE_ROW ? sqlite3_column_int64(walk->values[kind], 0) : 0;
  return LZS_OK;
}

static lzs_status
open_values(lzs_walk *walk, lzs_kind kind, lzs_error *error)
{
  walk->values[kind] = lzs_db_scan(walk->store, kind, error);
  if (walk->values[kind] == NULL)
    return lzs_db_status(walk->store);
  sqlite3_bind_int64(walk->values[kind], 1, walk->from);
  return step_values(walk, kind, error);
}

// Moves the kind's own rows up to this entry and reads them.
static lzs_status
match_values(lzs_walk *walk, lzs_error *error)
{
  lzs_kind kind = walk->entry.kind;
  int64_t id = walk->entry.id;
  lzs_status status = LZS_OK;
  // The row of the entry before stayed under the cursor so that its strings lived.
  if (walk->values[kind] == NULL)
    status = open_values(walk, kind, error);
  else if (walk->at[kind] != 0 && walk->at[kind] < id)
    status = step_values(walk, kind, error);
  while (status == LZS_OK && walk->at[kind] != 0 && walk->at[kind] < id) {
    walk->row = LZS_ROW_STRAY;
    walk->stray = walk->at[kind];
    status = step_values(walk, kind, error);
  }
  if (status != LZS_OK)
    return status;
  lzs_row row = LZS_ROW_NO_VALUES;
  if (walk->at[kind] == id)
    row = lzs_walk_values(walk->values[kind], &walk->entry);
  else // nothing of the entry before may be taken for this one's
    for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
      walk->entry.v[i] = (lzs_value){.null = true};
  if (walk->row == LZS_ROW_SOUND)
    walk->row = row;
  return LZS_OK;
}

lzs_status
lzs_walk_next(lzs_walk *walk, bool *more, lzs_error *error)
{
  *more = false;
  int code = sqlite3_step(walk->common);
  if (code == SQLITE_DONE)
    return LZS_OK;
  if (code != SQLITE_ROW)
    return lzs_db_fail(walk->store->db, code, "read entries", error);
  *more = true;
  walk->row = lzs_walk_common(walk->common, &walk->entry, &walk->last);
  if (walk->row == LZS_ROW_NO_KIND)
    return LZS_OK;
  return match_values(walk, error);
}

void
lzs_walk_end(lzs_walk *walk)
{
  if (walk->common != NULL)
    sqlite3_reset(walk->common);
  for (int k = 0; k < LZS_N_KINDS; k++)
    if (walk->values[k] != NULL)
      sqlite3_reset(walk->values[k]);
}
