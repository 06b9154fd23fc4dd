// SPDX-License-Identifier: GPL-3.0-or-later
// Which lot moves by how much, and why, between two plans.
#include <string.h>

#include "lzq_diff.h"

static void *
joined(lzq_arena *arena, const void *first, size_t n_first, const void *more, size_t n_more,
       size_t size)
{
  if (n_more > SIZE_MAX - n_first)
    return NULL;
  char *all = lzq_arena_alloc(arena, n_first + n_more, size);
  if (all && n_first > 0)
    memcpy(all, first, n_first * size);
  if (all && n_more > 0)
    memcpy(all + n_first * size, more, n_more * size);
  return all;
}

lzq_status
lzq_plan_whatif(const lzq_snapshot *snapshot, const lzq_whatif *whatif, lzq_minute now,
                lzq_arena *arena, const lzq_plan **out, lzq_fault *fault)
{
  lzq_snapshot changed = *snapshot;
  lzq_snapshot *kept = LZQ_NEW(arena, lzq_snapshot, 1);
  *out = NULL;
  if (whatif->n_lots > UINT32_MAX - snapshot->n_lots)
    return LZQ_NO_MEMORY;
  changed.records = joined(arena, snapshot->records, snapshot->n_records, whatif->records,
                           whatif->n_records, sizeof *snapshot->records);
  changed.lots = joined(arena, snapshot->lots, snapshot->n_lots, whatif->lots, whatif->n_lots,
                        sizeof *snapshot->lots);
  if (!kept || !changed.records || !changed.lots)
    return LZQ_NO_MEMORY;
  changed.n_records += whatif->n_records;
  changed.n_lots += whatif->n_lots;
  *kept = changed;
  return lzq_plan_make(kept, now, arena, out, fault);
}

static bool
conflict_new(const lzq_plan *before, const lzq_plan *after, uint32_t system)
{
  return after->waters[system].conflict_b != LZQ_NONE &&
         before->waters[system].conflict_b == LZQ_NONE;
}

static lzq_because
reason(const lzq_plan *after, uint32_t lot)
{
  const lzq_lot_plan *plan = &after->lots[lot];
  for (uint32_t i = plan->n_waits; i-- > 0;) // what holds it on top of its own course comes last
    if (plan->waits[i].code == LZQ_BECAUSE_HELD_BY ||
        plan->waits[i].code == LZQ_BECAUSE_HELD_NO_COURSE ||
        plan->waits[i].code == LZQ_BECAUSE_NO_COMMON_BAND)
      return plan->waits[i];
  return plan->because;
}

// The lot in which the fish of a lot are after merges that come with the second plan: itself, or
// that into which it was merged.
static uint32_t
goes_on_in(const lzq_credit *before, const lzq_credit *credit, uint32_t lot)
{
  if (lot < before->n_lots && before->lots[lot].merged)
    return lot; // counted with the other already
  for (uint32_t i = 0; i < credit->n_lots && credit->lots[lot].merged; i++)
    lot = credit->lots[lot].merged_into;
  return lot;
}

// Of a lot that was there before, its own fish: those that merge into it are counted with the lot
// that they were, which has their date.
static lzq_diff_lot
compare(const lzq_plan *before, const lzq_plan *after, uint32_t lot)
{
  bool added = lot >= before->credit->n_lots || !before->credit->lots[lot].has_course;
  const uint32_t fish = goes_on_in(before->credit, after->credit, lot);
  const int32_t heads = after->credit->lots[fish].heads;
  const int32_t had = lot < before->credit->n_lots ? before->credit->lots[lot].heads : heads;
  lzq_diff_lot diff = {.lot = lot,
                       .before = lot < before->credit->n_lots ? before->lots[lot].release_earliest
                                                              : LZQ_NEVER,
                       .after = after->lots[fish].release_earliest,
                       .heads = had < heads ? had : heads,
                       .because = reason(after, lot)};
  diff.added = added && after->credit->lots[lot].has_course;
  if (diff.before != LZQ_NEVER && diff.after != LZQ_NEVER)
    diff.later_min = diff.after - diff.before;
  diff.fish_days = (double)diff.later_min / LZQ_DAY * diff.heads;
  return diff;
}

lzq_status
lzq_diff_make(const lzq_plan *before, const lzq_plan *after, uint32_t n_systems, lzq_arena *arena,
              const lzq_diff **out)
{
  uint32_t n_lots = after->credit->n_lots;
  lzq_diff *diff = LZQ_NEW(arena, lzq_diff, 1);
  lzq_diff_lot *lots = LZQ_NEW(arena, lzq_diff_lot, n_lots);
  uint32_t *conflicts = LZQ_NEW(arena, uint32_t, n_systems);
  *out = NULL;
  if (!diff || !lots || !conflicts)
    return LZQ_NO_MEMORY;
  for (uint32_t lot = 0; lot < n_lots; lot++) {
    lzq_diff_lot one = compare(before, after, lot);
    if (one.before == one.after && !one.added)
      continue;
    if (!one.added)
      diff->fish_days += one.fish_days;
    lots[diff->n_lots++] = one;
  }
  for (uint32_t i = 0; i < n_systems; i++)
    if (conflict_new(before, after, i))
      conflicts[diff->n_conflicts++] = i;
  diff->lots = lots;
  diff->conflicts = conflicts;
  *out = diff;
  return LZQ_OK;
}
