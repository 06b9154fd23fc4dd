// SPDX-License-Identifier: GPL-3.0-or-later
// Beginning and end of a book: its memory, the set-up that it was made for, which bands are one,
// and the book that one call makes for itself in the arena of that call.
#include <string.h>

#include "lzq_book_work.h"
#include "lzq_model_check.h"
#include "lzq_sort.h"

// --- memory

// An arena as an allocator; a block remembers its size, and what is given back waits for the reset.
typedef union {
  size_t size;
  max_align_t align;
} block_head;

static void *
arena_resize(void *ctx, void *block, size_t size)
{
  if (size == 0)
    return NULL;
  if (size > SIZE_MAX - sizeof(block_head))
    return NULL;
  block_head *head = lzq_arena_alloc(ctx, 1, sizeof(block_head) + size);
  if (!head)
    return NULL;
  head->size = size;
  if (block) {
    const size_t old = ((block_head *)block - 1)->size;
    memcpy(head + 1, block, old < size ? old : size);
  }
  return head + 1;
}

void *
lzq_book_alloc(lzq_book *book, size_t count, size_t size)
{
  if (size && count > SIZE_MAX / 2 / size)
    return NULL;
  const size_t bytes = count && size ? count * size : 1;
  void *items = book->allocator.resize(book->allocator.ctx, NULL, bytes);
  return items ? memset(items, 0, bytes) : NULL;
}

void
lzq_book_drop(lzq_book *book, void *items)
{
  if (items)
    book->allocator.resize(book->allocator.ctx, items, 0);
}

void *
lzq_book_room(lzq_book *book, void *items, size_t wanted, size_t *capacity, size_t size)
{
  if (items && wanted <= *capacity)
    return items;
  if (wanted > SIZE_MAX / 2 / size)
    return NULL;
  // The first time exactly, later with room for what follows.
  const size_t room = *capacity ? wanted + wanted / 2 : wanted + !wanted;
  void *grown = book->allocator.resize(book->allocator.ctx, items, room * size);
  if (grown)
    *capacity = room;
  return grown;
}

// --- set-up

static void *
copy_of(lzq_book *book, const void *items, size_t n, size_t size)
{
  void *copy = lzq_book_alloc(book, n, size);
  if (copy && n)
    memcpy(copy, items, n * size);
  return copy;
}

static bool
same(const void *a, uint32_t n_a, const void *b, uint32_t n_b, size_t size)
{
  return n_a == n_b && (n_a == 0 || memcmp(a, b, n_a * size) == 0);
}

bool
lzq_book_fits(const lzq_book *book, const lzq_snapshot *s)
{
  const lzq_snapshot *own = &book->setup;
  return book->waters && s->n_lots >= own->n_lots && s->n_bottles >= own->n_bottles &&
         own->station.trust_unchecked == s->station.trust_unchecked &&
         same(own->systems, own->n_systems, s->systems, s->n_systems, sizeof *s->systems) &&
         same(own->tanks, own->n_tanks, s->tanks, s->n_tanks, sizeof *s->tanks) &&
         same(own->instruments, own->n_instruments, s->instruments, s->n_instruments,
              sizeof *s->instruments) &&
         same(own->phases, own->n_phases, s->phases, s->n_phases, sizeof *s->phases) &&
         same(own->protocols, own->n_protocols, s->protocols, s->n_protocols, sizeof *s->protocols);
}

static bool
begin_waters(lzq_book *book)
{
  const uint32_t n = book->setup.n_systems;
  book->waters = lzq_book_alloc(book, n, sizeof *book->waters);
  if (!book->waters)
    return false;
  for (uint32_t i = 0; i < n; i++) {
    lzq_book_water *water = &book->waters[i];
    water->facts.size = sizeof(lzq_fact);
    water->first_stay = water->swept_stay = LZQ_NEVER;
    water->stale_from = LZQ_LONG_AGO;
    lzq_arena_init(&water->own, book->allocator, 0);
    water->arena = book->shared ? book->shared : &water->own;
  }
  return true;
}

bool
lzq_book_begin(lzq_book *book, const lzq_snapshot *s)
{
  lzq_book_clear(book);
  lzq_snapshot *own = &book->setup;
  own->station = s->station;
  own->n_lots = s->n_lots;
  own->n_bottles = s->n_bottles;
  own->n_systems = s->n_systems;
  own->n_tanks = s->n_tanks;
  own->n_instruments = s->n_instruments;
  own->n_phases = s->n_phases;
  own->n_protocols = s->n_protocols;
  own->systems = copy_of(book, s->systems, s->n_systems, sizeof *s->systems);
  own->tanks = copy_of(book, s->tanks, s->n_tanks, sizeof *s->tanks);
  own->instruments = copy_of(book, s->instruments, s->n_instruments, sizeof *s->instruments);
  own->phases = copy_of(book, s->phases, s->n_phases, sizeof *s->phases);
  own->protocols = copy_of(book, s->protocols, s->n_protocols, sizeof *s->protocols);
  book->check_first = lzq_book_alloc(book, (size_t)s->n_instruments + 1, sizeof(size_t));
  book->check_next = lzq_book_alloc(book, s->n_instruments, sizeof(size_t));
  return own->systems && own->tanks && own->instruments && own->phases && own->protocols &&
         book->check_first && book->check_next && lzq_book_name_bands(book) && begin_waters(book);
}

bool
lzq_book_lots(lzq_book *book, uint32_t n)
{
  if (n <= book->n_feeds)
    return true;
  lzq_list *lists =
      book->allocator.resize(book->allocator.ctx, book->feeds, (size_t)n * sizeof *lists);
  if (!lists)
    return false;
  for (uint32_t i = book->n_feeds; i < n; i++)
    lists[i] = (lzq_list){.size = sizeof(lzq_feed)};
  book->feeds = lists;
  book->n_feeds = n;
  return true;
}

// --- which bands are one

static uint64_t
bits_of(double value)
{
  uint64_t bits;
  memcpy(&bits, &value, sizeof bits);
  return bits;
}

// What of a band decides about credit.
static uint64_t
band_hash(const lzq_band *band)
{
  uint64_t hash = lzq_hash((uint64_t)band->analyte << 40 | (uint64_t)band->form << 36 |
                           (uint64_t)band->side << 33 | (uint64_t)band->error_inside << 32 |
                           (uint32_t)band->gap_min);
  hash = lzq_hash(hash ^ bits_of(band->works));
  return lzq_hash(hash ^ (band->side == LZQ_BETWEEN ? bits_of(band->works_high) : 0));
}

static bool
same_band(const lzq_band *a, const lzq_band *b)
{
  return a->analyte == b->analyte && a->form == b->form && a->side == b->side &&
         a->error_inside == b->error_inside && a->gap_min == b->gap_min && a->works == b->works &&
         (a->side != LZQ_BETWEEN || a->works_high == b->works_high);
}

bool
lzq_book_name_bands(lzq_book *book)
{
  const lzq_snapshot *s = &book->setup;
  size_t size = 16;
  while (size < (size_t)s->n_phases * LZQ_MAX_BANDS * 2)
    size *= 2;
  const lzq_band **seen = lzq_book_alloc(book, size, sizeof(const lzq_band *));
  uint32_t *seen_id = lzq_book_alloc(book, size, sizeof *seen_id);
  book->band_id = lzq_book_alloc(book, (size_t)s->n_phases * LZQ_MAX_BANDS, sizeof *book->band_id);
  const bool ok = seen && seen_id && book->band_id;
  for (uint32_t p = 0; ok && p < s->n_phases; p++)
    for (uint32_t b = 0; b < s->phases[p].n_bands; b++) {
      const lzq_band *band = &s->phases[p].bands[b];
      size_t i = band_hash(band) & (size - 1);
      while (seen[i] && !same_band(seen[i], band))
        i = (i + 1) & (size - 1);
      if (!seen[i]) {
        seen[i] = band;
        seen_id[i] = book->n_bands++;
      }
      book->band_id[(size_t)p * LZQ_MAX_BANDS + b] = seen_id[i];
    }
  lzq_book_drop(book, seen);
  lzq_book_drop(book, seen_id);
  return ok;
}

// --- beginning and end

static void
begin_empty(lzq_book *book)
{
  *book = (lzq_book){.allocator = book->lent ? book->given : book->allocator,
                     .shared = book->shared,
                     .until = book->until,
                     .cut_min = book->cut_min,
                     .last_at = LZQ_LONG_AGO,
                     .deeds.size = sizeof(lzq_deed),
                     .checks.size = sizeof(lzq_fact),
                     .ties.size = sizeof(lzq_tie)};
}

lzq_book *
lzq_book_new(lzq_allocator allocator)
{
  lzq_book *book = allocator.resize(allocator.ctx, NULL, sizeof *book);
  if (!book)
    return NULL;
  *book = (lzq_book){.allocator = allocator, .until = LZQ_NEVER, .cut_min = LZQ_CUT_MIN};
  begin_empty(book);
  return book;
}

void
lzq_book_clear(lzq_book *book)
{
  for (uint32_t i = 0; book->waters && i < book->setup.n_systems; i++) {
    lzq_list_free(&book->waters[i].facts, &book->allocator);
    lzq_arena_free(&book->waters[i].own);
    for (uint32_t b = 0; book->waters[i].sweeps && b < book->n_bands; b++) {
      lzq_book_drop(book, (void *)book->waters[i].sweeps[b].sweep.runs);
      lzq_book_drop(book, (void *)book->waters[i].sweeps[b].sweep.spoken);
    }
    lzq_book_drop(book, book->waters[i].sweeps);
  }
  for (uint32_t i = 0; i < book->n_feeds; i++)
    lzq_list_free(&book->feeds[i], &book->allocator);
  lzq_list_free(&book->deeds, &book->allocator);
  lzq_list_free(&book->checks, &book->allocator);
  lzq_list_free(&book->ties, &book->allocator);
  void *arrays[] = {(void *)book->setup.systems,
                    (void *)book->setup.tanks,
                    (void *)book->setup.instruments,
                    (void *)book->setup.phases,
                    (void *)book->setup.protocols,
                    book->band_id,
                    book->entries,
                    book->waters,
                    book->feeds,
                    book->tied,
                    book->check_items,
                    book->check_first,
                    book->check_next};
  for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++)
    lzq_book_drop(book, arrays[i]);
  begin_empty(book);
}

void
lzq_book_free(lzq_book *book)
{
  if (!book)
    return;
  lzq_book_clear(book);
  const lzq_allocator allocator = book->allocator;
  allocator.resize(allocator.ctx, book, 0);
}

lzq_status
lzq_book_for(lzq_book *kept, const lzq_snapshot *snapshot, lzq_minute until, lzq_arena *arena,
             lzq_book **out, lzq_fault *fault)
{
  *out = kept;
  if (kept) {
    const lzq_status status = lzq_book_follow(kept, snapshot, fault);
    if (status != LZQ_OK || until >= kept->last_at)
      return status;
  }
  lzq_book *own = LZQ_NEW(arena, lzq_book, 1);
  if (!own)
    return LZQ_NO_MEMORY;
  *own = (lzq_book){
      .allocator = {arena_resize, arena}, .shared = arena, .until = until, .cut_min = LZQ_CUT_MIN};
  begin_empty(own);
  *out = own;
  return lzq_book_follow(own, snapshot, fault);
}
