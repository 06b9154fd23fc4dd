// SPDX-License-Identifier: GPL-3.0-or-later
// What-if: the plan of a changed station, and what it changes for every lot, before anybody
// confirms.
#ifndef LZQ_DIFF_H
#define LZQ_DIFF_H

#include "lzq_plan.h"

// What would be entered: records (in the order of entry, with ids above those on record) and lots
// that are new. Nothing is stored.
typedef struct {
  const lzq_record *records;
  const lzq_lot *lots;
  size_t n_records;
  uint32_t n_lots;
} lzq_whatif;

// The plan from `now` as if the whatif were on record. New lots follow those of the snapshot.
// Records later than `now` do not act yet. Errors as lzq_plan_make.
lzq_status lzq_plan_whatif(const lzq_snapshot *snapshot, const lzq_whatif *whatif, lzq_minute now,
                           lzq_arena *arena, const lzq_plan **out, lzq_fault *fault);

// One lot whose release moves, or that is new, or that no longer has a date.
typedef struct {
  uint32_t lot;
  lzq_minute before, after; // earliest release; LZQ_NEVER = cannot be said
  int64_t later_min;        // after - before; 0 where one of them cannot be said
  int32_t heads;
  double fish_days;    // later days times fish; negative = sooner
  bool added;          // not in the plan before
  lzq_because because; // why, as the plan after says
} lzq_diff_lot;

typedef struct {
  const lzq_diff_lot *lots; // only those that move or are new, in the order of lots
  uint32_t n_lots;
  double fish_days;          // of all that were there before
  const uint32_t *conflicts; // systems that no level serves any more, and did before
  uint32_t n_conflicts;
} lzq_diff;

// Compares two plans of one station; `after` may have more lots. O(lots + systems).
lzq_status lzq_diff_make(const lzq_plan *before, const lzq_plan *after, uint32_t n_systems,
                         lzq_arena *arena, const lzq_diff **out);

#endif
