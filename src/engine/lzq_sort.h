// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: the one stable sort, the one growing array and the one hash.
#ifndef LZQ_SORT_H
#define LZQ_SORT_H

#include "lzq_arena.h"
#include "lzq_status.h"

typedef struct {
  int64_t key;
  size_t index; // of what is being sorted
} lzq_key;

// Sorts by key; equal keys keep their order. A natural merge sort: O(n log r) for r runs that
// already rise, no recursion. *keys may be replaced by another array of the arena. LZQ_NO_MEMORY:
// unchanged.
lzq_status lzq_sort_keys(lzq_key **keys, size_t n, lzq_arena *arena);

// Room for one item more behind n: the array itself, or a copy of at least twice its size in the
// arena. NULL if refused; the old array is still good.
void *lzq_grow(lzq_arena *arena, void *items, size_t n, size_t *capacity, size_t size);

// Spreads the bits of a key over all bits (the finalizer of SplitMix64, Steele et al. 2014).
static inline uint64_t
lzq_hash(uint64_t key)
{
  key = (key ^ (key >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
  key = (key ^ (key >> 27)) * UINT64_C(0x94d049bb133111eb);
  return key ^ (key >> 31);
}

#endif
