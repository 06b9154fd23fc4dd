// SPDX-License-Identifier: GPL-3.0-or-later
// What the station need not keep any longer. The list is for people to act on: nothing is deleted
// by itself, and the ledger is never shortened; only a name can be erased, by `person erase=yes`.
#ifndef LZ_RETENTION_H
#define LZ_RETENTION_H

#include "lz_desk.h"

typedef enum {
  LZ_PAST_LOT,    // no fish of it are left, and nothing was written about it since
  LZ_PAST_PERSON, // works here no more, wrote and watched nothing since, and still has a name
} LzPastKind;

typedef struct {
  LzPastKind kind;
  int64_t id;       // of the lot or person in the ledger
  const char *name; // the desk's: number of the lot, initials
  lzq_minute last;  // when the last of its entries happened or was written, the later of both
  guint entries;
} LzPast;

// The station's `retention_years`, else five: the longest of the rules that docs/paper.md names.
int lz_retention_years(LzDesk *desk);
// What happened and was written before this minute is past: the same day of the year, so many
// years ago (29 February: the first of March).
lzq_minute lz_retention_limit(LzDesk *desk);
// LzPast elements, lots before people, each the oldest first; *entries counts all that the ledger
// has from before the limit, also of lots that are still to be kept.
GArray *lz_retention_past(LzDesk *desk, guint *entries);

// The same in as many turns as its caller likes, as lz_ledger_search_go.
typedef struct LzRetention LzRetention;
LzRetention *lz_retention_new(LzDesk *desk);
gboolean lz_retention_go(LzRetention *work, gint64 until_us);
double lz_retention_share(const LzRetention *work);
GArray *lz_retention_end(LzRetention *work, guint *entries); // once it has come to the end
void lz_retention_free(LzRetention *work);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzRetention, lz_retention_free)

#endif
