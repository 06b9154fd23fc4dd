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

// The arena, as the sort sees it: cleared memory of that size, or none.
void *
lzq_arena_alloc(lzq_arena *arena, size_t count, size_t size)
{
  (void)arena;
  static lzq_key pool[16][MOST * 2];
  static unsigned next;
  if (any_int || next >= 16 || count * size > sizeof pool[0])
    return NULL;
  return memset(pool[next++], 0, sizeof pool[0]);
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
