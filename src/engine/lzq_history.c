// SPDX-License-Identifier: GPL-3.0-or-later
// The record as it is known: which entry holds for each fact, and in what order the facts act.
// A natural merge sort: linear on records that already come in order, as the desk keeps them.
#include "lzq_history.h"

// What decides the place of a record, close together so that sorting does not touch the records.
typedef struct {
  lzq_minute at;
  uint64_t order;
  const lzq_record *record;
  uint8_t kind;
} place;

// Index of the record with this id, or n. Ids rise (lzq_snapshot_check).
static size_t
find_id(const lzq_record *records, size_t n, uint64_t id)
{
  size_t low = 0, high = n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (records[middle].id < id)
      low = middle + 1;
    else
      high = middle;
  }
  return low < n && records[low].id == id ? low : n;
}

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
    size_t first = find_id(records, i, record->corrects);
    if (first < i && records[first].corrects == 0)
      holds[first] = record->voided ? NULL : record;
  }
}

static bool
acts_before(const place *a, const place *b)
{
  if (a->at != b->at)
    return a->at < b->at;
  if (a->kind != b->kind)
    return a->kind < b->kind;
  return a->order < b->order;
}

// Merges from[0..middle) and from[middle..end) into to[0..end).
static void
merge(const place *from, size_t middle, size_t end, place *to)
{
  size_t left = 0, right = middle;
  for (size_t i = 0; i < end; i++) {
    bool take_right = left == middle || (right < end && acts_before(&from[right], &from[left]));
    to[i] = take_right ? from[right++] : from[left++];
  }
}

// Ends of the runs that already rise; returns their number. run_end has room for n.
static size_t
find_runs(const place *places, size_t n, size_t *run_end)
{
  size_t runs = 0;
  for (size_t i = 1; i < n; i++)
    if (acts_before(&places[i], &places[i - 1]))
      run_end[runs++] = i;
  if (n)
    run_end[runs++] = n;
  return runs;
}

// Merges neighbouring runs until one is left. The answer is in *places or in *spare, swapped to
// fit.
static void
merge_runs(place **places, place **spare, size_t *run_end, size_t runs)
{
  while (runs > 1) {
    size_t start = 0, kept = 0;
    for (size_t i = 0; i < runs; i += 2) {
      size_t middle = run_end[i];
      size_t end = i + 1 < runs ? run_end[i + 1] : middle;
      merge(*places + start, middle - start, end - start, *spare + start);
      run_end[kept++] = end;
      start = end;
    }
    runs = kept;
    place *swap = *places;
    *places = *spare;
    *spare = swap;
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

static lzq_status
sort_history(lzq_history *history, lzq_arena *arena)
{
  size_t n = history->n;
  place *places = LZQ_NEW(arena, place, n);
  place *spare = LZQ_NEW(arena, place, n);
  size_t *run_end = LZQ_NEW(arena, size_t, n);
  if (!places || !spare || !run_end)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < n; i++)
    places[i] = (place){.at = history->items[i]->at,
                        .order = history->order[i],
                        .record = history->items[i],
                        .kind = history->items[i]->kind};
  merge_runs(&places, &spare, run_end, find_runs(places, n, run_end));
  for (size_t i = 0; i < n; i++) {
    history->items[i] = places[i].record;
    history->order[i] = places[i].order;
  }
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
