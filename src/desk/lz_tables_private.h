// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the columns that every table has, and what export and import share.
#ifndef LZ_TABLES_PRIVATE_H
#define LZ_TABLES_PRIVATE_H

#include <lzs_kind.h>

#include "lz_desk_private.h"
#include "lz_tables.h"

// Columns before the kind's own, in this order.
enum {
  LZ_COL_ID,
  LZ_COL_HAPPENED,
  LZ_COL_OFFSET,
  LZ_COL_RECORDED,
  LZ_COL_WHO,
  LZ_COL_WITNESS,
  LZ_COL_REASON,
  LZ_COL_PC,
  LZ_COL_PC_SEQ,
  LZ_COL_CORRECTS,
  LZ_COL_VOIDED,
  LZ_COL_ENTITY,
  LZ_COL_HASH,
  LZ_N_COLS
};
extern const char *const lz_table_common[LZ_N_COLS];

// A kind's own columns (people: name and initials last); for "entries" (spec NULL) every field of
// every kind, once.
GPtrArray *lz_table_own_columns(const lzs_kind_spec *spec);

// What is larger is refused: as rows and cells it takes about twenty times that in memory.
#define LZ_TABLE_MAX_BYTES (512 * 1024 * 1024)

// Rows of a parsed table under its header.
typedef struct {
  GPtrArray *rows;   // as lz_csv_parse makes them, row 0 is the header
  GArray *lines;     // guint, first line of each row
  GHashTable *index; // column name -> its place + 1
} LzTableText;
void lz_table_text_clear(LzTableText *text);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(LzTableText, lz_table_text_clear)
// Cell without its guarding apostrophe; NULL if empty or the column is not there.
const char *lz_table_cell(const LzTableText *text, guint row, const char *column);
guint lz_table_line(const LzTableText *text, guint row);

// lz_tables_restore.c: a whole ledger into an empty file.
gboolean lz_table_restore(LzDesk *desk, const LzTableText *text, gboolean dry_run, LzImport *out,
                          GError **error);

#endif
