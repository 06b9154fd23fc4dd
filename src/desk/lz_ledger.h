// SPDX-License-Identifier: GPL-3.0-or-later
// Reading the whole ledger: finding entries in it, and handing it over so that it stands on its
// own.
#ifndef LZ_LEDGER_H
#define LZ_LEDGER_H

#include "lz_desk.h"

// What is looked for; a zeroed one finds everything.
typedef struct {
  // Each of them stands somewhere in the entry's line, case does not matter; "#17" alone is that
  // entry with its corrections.
  const char *words;
  const char *kind;       // "reading"; NULL = all
  int64_t person;         // who wrote or watched it; 0 = all
  const char *about;      // name of a system, tank or lot; NULL = all
  lzq_minute from, until; // when it happened, [from, until); until 0 = no end
} LzLedgerFilter;

// One entry as it was written, in words.
typedef struct {
  int64_t id, first; // first: the entry that it corrects, else itself
  lzq_minute at;
  char *when, *where, *what, *who, *witness, *recorded, *reason;
  int64_t late_min;           // minutes between what happened and its being entered
  gboolean corrected, voided; // by a later entry
} LzLedgerLine;

void lz_ledger_line_free(LzLedgerLine *line);

// Lines that fit, newest first, at most `most` of them; *n (may be NULL) counts all that fit. NULL
// with error: there is nothing of that name, or the file could not be read.
GPtrArray *lz_ledger_find(LzDesk *desk, const LzLedgerFilter *filter, guint most, guint *n,
                          GError **error);

// The whole ledger as CSV, and beside it a manifest: what the table is of, its SHA-256, the last
// hash of every chain and the head over them, and the type of every field. With these two files and
// docs/store/chain.md anybody can take every hash again.
gboolean lz_ledger_export(LzDesk *desk, const char *csv_path, const char *manifest_path,
                          GError **error);

#endif
