// SPDX-License-Identifier: GPL-3.0-or-later
// The record as it is known: corrections applied, sorted by when things happened.
#ifndef LZQ_HISTORY_H
#define LZQ_HISTORY_H

#include "lzq_arena.h"
#include "lzq_model.h"

// Pointers into snapshot.records, in the order in which they act: minute, kind, order of entry.
// Left out: corrections of others, voided and replaced records, records after `until` (by the time
// at which the effective record happened), and records entered after known_id.
typedef struct {
  const lzq_record **items;
  uint64_t
      *order; // for items[i]: id of the first entry, which gives its place in the order of entry
  size_t n;
} lzq_history;

// What was known when entry known_id had just been made (UINT64_MAX = all that is known now).
// O(n log n); O(n) when the records already come in the order in which they act.
lzq_status lzq_history_make(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until,
                            lzq_arena *arena, lzq_history *out);

#endif
