// SPDX-License-Identifier: GPL-3.0-or-later
// A stable natural merge sort over keys, and arrays that grow in an arena.
#include "lzq_sort.h"

#include <string.h>

// Merges from[start..middle) and from[middle..end) into to[start..end).
static void
merge(const lzq_key *from, size_t start, size_t middle, size_t end, lzq_key *to)
{
  size_t left = start, right = middle;
  for (size_t i = start; i < end; i++) {
    bool take_left = left < middle;
    if (take_left && right < end)
      take_left = from[left].key <= from[right].key;
    const size_t next = take_left ? left++ : right++;
    if (next < end) // always; said for tests/eva
      to[i] = from[next];
  }
}

// Ends of the runs that already rise; returns their number.
static size_t
find_runs(const lzq_key *keys, size_t n, size_t *run_end)
{
  size_t runs = 0;
  for (size_t i = 1; i < n; i++)
    if (keys[i].key < keys[i - 1].key) {
      if (run_end)
        run_end[runs] = i;
      runs++;
    }
  if (run_end)
    run_end[runs] = n;
  return runs + 1;
}

lzq_status
lzq_sort_keys(lzq_key **keys, size_t n, lzq_arena *arena)
{
  size_t runs = n ? find_runs(*keys, n, NULL) : 0;
  if (runs <= 1)
    return LZQ_OK;
  size_t *run_end = LZQ_NEW(arena, size_t, runs);
  lzq_key *spare = LZQ_NEW(arena, lzq_key, n);
  if (!run_end || !spare)
    return LZQ_NO_MEMORY;
  find_runs(*keys, n, run_end);
  while (runs > 1) {
    size_t start = 0, kept = 0;
    for (size_t i = 0; i < runs; i += 2) {
      size_t middle = run_end[i];
      size_t end = i + 1 < runs ? run_end[i + 1] : middle;
      merge(*keys, start, middle, end, spare);
      run_end[kept++] = end;
      start = end;
    }
    runs = kept;
    lzq_key *swap = *keys;
    *keys = spare;
    spare = swap;
  }
  return LZQ_OK;
}

void *
lzq_grow(lzq_arena *arena, void *items, size_t n, size_t *capacity, size_t size)
{
  if (n < *capacity)
    return items;
  size_t wanted = *capacity ? *capacity * 2 : 64;
  void *grown = wanted > *capacity ? lzq_arena_alloc(arena, wanted, size) : NULL;
  if (!grown)
    return NULL;
  if (n)
    memcpy(grown, items, n * size);
  *capacity = wanted;
  return grown;
}
