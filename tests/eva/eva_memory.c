// SPDX-License-Identifier: GPL-3.0-or-later
// Driver for Frama-C's Eva: the sort, the growing array and the hash on which every credit rests,
// with any keys of up to four items, and memory that is refused at any call.
#include "lzq_sort.h"

#include <stdint.h>
#include <string.h>

enum { MOST = 4 };

volatile int any_int;
volatile long long any_key;
volatile unsigned long long any_bits;

// The arena, as the sort sees it: cleared memory of that size, or none. Places and keys come from
// different blocks, or Eva would take the one for the other.
void *
lzq_arena_alloc(lzq_arena *arena, size_t count, size_t size)
{
  (void)arena;
  static lzq_key keys[8][MOST * 2];
  static size_t places[8][MOST * 2];
  static unsigned next_keys, next_places;
  if (any_int)
    return NULL;
  if (size == sizeof(lzq_key) && next_keys < 8 && count <= MOST * 2)
    return memset(keys[next_keys++], 0, sizeof keys[0]);
  if (size == sizeof(size_t) && next_places < 8 && count <= MOST * 2)
    return memset(places[next_places++], 0, sizeof places[0]);
  return NULL;
}

static void
sort_and_grow(size_t n)
{
  lzq_arena arena = {0};
  lzq_key keys[MOST];
  for (size_t i = 0; i < MOST; i++)
    keys[i] = (lzq_key){any_key, i};
  lzq_key *sorted = keys;
  lzq_sort_keys(&sorted, n, &arena);
  lzq_hash(any_bits);
  size_t capacity = MOST;
  lzq_key *grown = lzq_grow(&arena, keys, n, &capacity, sizeof(lzq_key));
  if (grown)
    grown[n] = (lzq_key){0};
}

void
main(void)
{
  for (size_t n = 0; n <= MOST; n++)
    sort_and_grow(n);
}
