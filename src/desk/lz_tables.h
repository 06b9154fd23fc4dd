// SPDX-License-Identifier: GPL-3.0-or-later
// Every table in and out as CSV (RFC 4180, header, UTF-8, ISO 8601, point, no grouping). Columns
// are found by header name; new ones come last; a name is never reused. Text that a spreadsheet
// would run as a formula gets one leading apostrophe, which import takes off again.
//
// Columns of every table: id, happened, offset_min, recorded, who, witness, reason, pc, pc_seq,
// corrects, voided, entity, hash, then the kind's fields. REF columns and people hold names where
// they are unique, and "#id" otherwise.
#ifndef LZ_TABLES_H
#define LZ_TABLES_H

#include "lz_desk.h"

// kind by name or plural.
gboolean lz_table_export(LzDesk *desk, const char *kind, GOutputStream *out, GError **error);
// The whole ledger as one table ("entries"): what a restore needs.
gboolean lz_table_export_all(LzDesk *desk, GOutputStream *out, GError **error);

typedef struct {
  const char *who;   // in: initials for rows that name nobody; NULL = whoever the desk knows
  guint rows;        // out: read
  guint entries;     // made or restored
  gboolean practice; // the file is for practice since: a row lay ahead of the clock
  gboolean restored; // ids, times, PC and hash came from the file and verify
} LzImport;
// All or nothing. Errors name line, column, value and what is accepted, a line for each row that
// is wrong. Rows that this very file gave out are refused. dry_run checks only.
gboolean lz_table_import(LzDesk *desk, const char *kind, GInputStream *in, gboolean dry_run,
                         LzImport *out, GError **error);
// Header names that import understands, in export order (NULL-terminated, to be freed with
// g_strfreev).
char **lz_table_columns(const char *kind, GError **error);

// --- CSV itself
// One record as RFC 4180, ended by CRLF, appended to `out`; guard = apostrophe rule.
void lz_csv_append(GString *out, const char *const *cells, gsize n, gboolean guard);
// Parses a whole text; rows are lists of cells that end with NULL, each in one block with its
// cells, `lines` (may be NULL) the line each began on.
GPtrArray *lz_csv_parse(const char *text, gsize length, GArray **lines, GError **error);

#endif
