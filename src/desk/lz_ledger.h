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

// Looks for them from the newest on, in as many turns as its caller likes: a ledger of ten years is
// not gone through while somebody waits for the next key.
typedef struct LzLedgerSearch LzLedgerSearch;
// NULL with error: there is nothing of that name. At most `most` lines are made.
LzLedgerSearch *lz_ledger_search_new(LzDesk *desk, const LzLedgerFilter *filter, guint most,
                                     GError **error);
// Goes on until the monotonic time until_us, 0 = to the end. FALSE = it has come to it.
gboolean lz_ledger_search_go(LzLedgerSearch *search, gint64 until_us);
// What was found so far: LzLedgerLine elements, newest first, and how many fit at all.
const GPtrArray *lz_ledger_search_lines(const LzLedgerSearch *search);
guint lz_ledger_search_fitting(const LzLedgerSearch *search);
double lz_ledger_search_share(const LzLedgerSearch *search); // gone through, 0 to 1
void lz_ledger_search_free(LzLedgerSearch *search);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzLedgerSearch, lz_ledger_search_free)

// The whole ledger as CSV, and beside it a manifest: what the table is of, its SHA-256, the last
// hash of every chain and the head over them, and the type of every field. With these two files and
// docs/store/chain.md anybody can take every hash again.
gboolean lz_ledger_export(LzDesk *desk, const char *csv_path, const char *manifest_path,
                          GError **error);

#endif
