// SPDX-License-Identifier: GPL-3.0-or-later
// Memory of one engine call. Blocks are chained from the newest; a reset empties them all and the
// chain is filled again from its head, so a caller that replans often stops asking the allocator.
#include "lzq_arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK_MIN ((size_t)64 * 1024)
#define BLOCK_MAX ((size_t)16 * 1024 * 1024)

struct lzq_arena_block {
  lzq_arena_block *next;
  size_t size; // bytes behind this header
  size_t used; // of these
  alignas(max_align_t) unsigned char bytes[];
};

static void *
libc_resize(void *ctx, void *block, size_t size)
{
  (void)ctx;
  if (size == 0) {
    free(block);
    return NULL;
  }
  return realloc(block, size);
}

lzq_allocator
lzq_allocator_libc(void)
{
  return (lzq_allocator){.resize = libc_resize};
}

void
lzq_arena_init(lzq_arena *arena, lzq_allocator allocator, size_t limit)
{
  *arena = (lzq_arena){.allocator = allocator, .limit = limit};
}

// A block with room for `need` bytes, put in front of the chain. Blocks double, so that their
// number stays small, up to a size beyond which doubling would waste more than it saves.
static lzq_arena_block *
block_add(lzq_arena *arena, size_t need)
{
  size_t size = arena->head ? arena->head->size : BLOCK_MIN / 2;
  size = size < BLOCK_MAX / 2 ? size * 2 : BLOCK_MAX;
  if (size < need)
    size = need;
  if (size > SIZE_MAX - sizeof(lzq_arena_block))
    return NULL;
  lzq_arena_block *block =
      arena->allocator.resize(arena->allocator.ctx, NULL, sizeof(lzq_arena_block) + size);
  if (!block)
    return NULL;
  block->next = arena->head;
  block->size = size;
  block->used = 0;
  arena->head = block;
  return block;
}

// The first block of the chain with room, so that blocks kept by a reset are used again.
static lzq_arena_block *
block_with_room(const lzq_arena *arena, size_t need)
{
  lzq_arena_block *block = arena->head;
  while (block && block->size - block->used < need)
    block = block->next;
  return block;
}

void *
lzq_arena_alloc(lzq_arena *arena, size_t count, size_t size)
{
  const size_t unit = alignof(max_align_t);
  if (size && count > (SIZE_MAX - unit) / size)
    goto refused;
  size_t need = count * size;
  need = need ? (need + unit - 1) / unit * unit : unit;
  if (arena->limit && (arena->used > arena->limit || need > arena->limit - arena->used))
    goto refused;
  lzq_arena_block *block = block_with_room(arena, need);
  if (!block && arena->allocator.resize)
    block = block_add(arena, need);
  if (!block)
    goto refused;
  void *out = block->bytes + block->used;
  block->used += need;
  arena->used += need;
  return memset(out, 0, need);

refused:
  arena->failed = true;
  return NULL;
}

void
lzq_arena_reset(lzq_arena *arena)
{
  for (lzq_arena_block *block = arena->head; block; block = block->next)
    block->used = 0;
  arena->used = 0;
  arena->failed = false;
}

void
lzq_arena_free(lzq_arena *arena)
{
  lzq_arena_block *block = arena->head;
  while (block) {
    lzq_arena_block *next = block->next;
    arena->allocator.resize(arena->allocator.ctx, block, 0);
    block = next;
  }
  arena->head = NULL;
  arena->used = 0;
  arena->failed = false;
}
