// SPDX-License-Identifier: GPL-3.0-or-later
// The record as it is known: which entry holds for each fact, and in what order the facts act.
// Linear on records that already come in order, as the desk keeps them.
#include "lzq_history.h"

#include "lzq_model_check.h"
#include "lzq_sort.h"

_Static_assert(LZQ_N_RECORD_KINDS <= 32, "a kind has five bits of the sorting key");

// holds[i]: the entry that holds for the fact first entered as record i; NULL = there is none (a
// correction is no fact of its own; a voided fact is gone). A later entry overrides an earlier one.
static void
resolve_corrections(const lzq_record *records, size_t n, const lzq_record **holds)
{
  for (size_t i = 0; i < n; i++) {
    const lzq_record *record = &records[i];
    holds[i] = record->corrects || record->voided ? NULL : record;
    if (!record->corrects)
      continue;
    size_t first = lzq_record_find(records, i, record->corrects);
    if (first < i && records[first].corrects == 0)
      holds[first] = record->voided ? NULL : record;
  }
}

static bool
in_order(const lzq_history *history)
{
  for (size_t i = 1; i < history->n; i++) {
    const lzq_record *a = history->items[i - 1], *b = history->items[i];
    if (a->at > b->at || (a->at == b->at && a->kind > b->kind))
      return false; // the order of entry is given: ids rise
  }
  return true;
}

// A stable sort by minute and kind: the facts come in the order of entry, and equal ones keep it.
static lzq_status
sort_history(lzq_history *history, lzq_arena *arena)
{
  const size_t n = history->n;
  lzq_key *keys = LZQ_NEW(arena, lzq_key, n);
  const lzq_record **items = LZQ_NEW(arena, const lzq_record *, n);
  uint64_t *order = LZQ_NEW(arena, uint64_t, n);
  if (!keys || !items || !order)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    keys[i] = (lzq_key){history->items[i]->at * 32 + history->items[i]->kind, i};
  if (lzq_sort_keys(&keys, n, arena) != LZQ_OK)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < n; i++) {
    items[i] = history->items[keys[i].index];
    order[i] = history->order[keys[i].index];
  }
  history->items = items;
  history->order = order;
  return LZQ_OK;
}

lzq_status
lzq_history_make(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until,
                 lzq_arena *arena, lzq_history *out)
{
  *out = (lzq_history){0};
  const lzq_record *records = snapshot->records;
  size_t n = snapshot->n_records;
  while (n && records[n - 1].id > known_id)
    n--;
  const lzq_record **items = LZQ_NEW(arena, const lzq_record *, n);
  uint64_t *order = LZQ_NEW(arena, uint64_t, n);
  if (!items || !order)
    return LZQ_NO_MEMORY;
  resolve_corrections(records, n, items);
  lzq_history history = {.items = items, .order = order};
  for (size_t i = 0; i < n; i++) {
    if (!items[i] || items[i]->at > until)
      continue;
    items[history.n] = items[i];
    order[history.n++] = records[i].id;
  }
  if (!in_order(&history)) {
    lzq_status status = sort_history(&history, arena);
    if (status != LZQ_OK)
      return status;
  }
  *out = history;
  return LZQ_OK;
}
