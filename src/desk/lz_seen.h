// SPDX-License-Identifier: GPL-3.0-or-later
// A sighting that nobody has answered yet. It stays open in its water until every lot there has
// gone on: a course or a stop since, or a scrape of that lot that found nothing. Until then moves
// in and out need a reason (house rule; common practice, no source).
#ifndef LZ_SEEN_H
#define LZ_SEEN_H

#include "lz_desk.h"

typedef struct {
  int64_t entry; // the newest sighting of that water
  uint32_t system;
  lzq_minute at;
  gboolean scraped;  // a lot of that water has been scraped since
  GArray *lots;      // uint32_t, that it set back or reached, wherever they are now
  GArray *undecided; // uint32_t, of those in that water now, without an answer
} LzSeen;

// NULL = none is open there.
LzSeen *lz_seen_open(LzDesk *desk, uint32_t system);
// The same at another minute, of which this is the credit; NULL credit: as if nobody stood there.
LzSeen *lz_seen_open_at(LzDesk *desk, uint32_t system, lzq_minute at, const lzq_credit *credit);
// Whether anything was seen in that water by then, within the station's look-back, answered or not.
gboolean lz_seen_any(LzDesk *desk, uint32_t system, lzq_minute at);
void lz_seen_free(LzSeen *seen);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzSeen, lz_seen_free)

#endif
