// SPDX-License-Identifier: GPL-3.0-or-later
// Memory of one engine call: grown in blocks from an allocator that the caller hands in, freed at
// once. Results of lzq_credit_run, lzq_plan_make and the like live in the arena that was passed and
// are valid until lzq_arena_free (or _reset). Single-threaded; use one arena per call in flight.
#ifndef LZQ_ARENA_H
#define LZQ_ARENA_H

#include <stdbool.h>
#include <stddef.h>

// resize(ctx, NULL, n) allocates, resize(ctx, p, 0) frees and returns NULL; NULL for n > 0 = no
// memory.
typedef struct {
  void *(*resize)(void *ctx, void *block, size_t size);
  void *ctx;
} lzq_allocator;

typedef struct lzq_arena_block lzq_arena_block;

typedef struct {
  lzq_allocator allocator;
  lzq_arena_block *head;
  size_t used;  // bytes handed out since init or reset
  size_t limit; // refuse beyond this many bytes (0 = no limit): no input may allocate without bound
  bool failed;  // an allocation was refused; stays true until reset
} lzq_arena;

// The allocator of libc (realloc and free).
lzq_allocator lzq_allocator_libc(void);

void lzq_arena_init(lzq_arena *arena, lzq_allocator allocator, size_t limit);

// Zeroed memory for count items of size bytes, aligned for any type; NULL if refused (also on
// overflow of count * size). A count of 0 gives a valid pointer that must not be read.
void *lzq_arena_alloc(lzq_arena *arena, size_t count, size_t size);

// Gives everything back to be used again, keeps the blocks. O(blocks).
void lzq_arena_reset(lzq_arena *arena);

// Gives everything back to the allocator. Harmless twice, and on a zeroed arena.
void lzq_arena_free(lzq_arena *arena);

#define LZQ_NEW(arena, type, count) ((type *)lzq_arena_alloc((arena), (count), sizeof(type)))

#endif
