// SPDX-License-Identifier: GPL-3.0-or-later
// What is made of the facts of one water, when it is first asked for: its track, and a sweep for
// each distinct band.
#include "lzq_book_work.h"
#include "lzq_sort.h"

// The checks of each instrument in the order of time.
static bool
make_checks(lzq_book *book)
{
  const uint32_t n = book->setup.n_instruments;
  const lzq_list *checks = &book->checks;
  lzq_check *items = lzq_book_alloc(book, checks->n, sizeof *items);
  if (!items)
    return false;
  lzq_book_drop(book, book->check_items);
  book->check_items = items;
  for (uint32_t i = 0; i <= n; i++)
    book->check_first[i] = 0;
  for (size_t i = 0; i < checks->n; i++)
    book->check_first[lzq_list_at(checks, i)->instrument + 1]++;
  for (uint32_t i = 0; i < n; i++) {
    book->check_first[i + 1] += book->check_first[i];
    book->check_next[i] = book->check_first[i];
  }
  for (size_t i = 0; i < checks->n; i++) {
    const lzq_mark *mark = lzq_list_at(checks, i);
    items[book->check_next[mark->instrument]++] = (lzq_check){mark->at, mark->flags & LZQ_FACT_OK};
  }
  return book->checks_made = true;
}

bool
lzq_book_checks(lzq_book *book)
{
  return book->checks_made || make_checks(book);
}

static uint64_t *
tied_place(const lzq_book *book, uint64_t id)
{
  size_t i = lzq_hash(id) & (book->tied_size - 1);
  while (book->tied[i] && book->tied[i] != id)
    i = (i + 1) & (book->tied_size - 1);
  return &book->tied[i];
}

bool
lzq_book_tied(const lzq_book *book, uint64_t id)
{
  return *tied_place(book, id) == id;
}

static bool
make_tied(lzq_book *book)
{
  size_t size = 4;
  while (size < book->ties.n * 2)
    size *= 2;
  uint64_t *tied = lzq_book_alloc(book, size, sizeof *tied);
  if (!tied)
    return false;
  lzq_book_drop(book, book->tied);
  book->tied = tied;
  book->tied_size = size;
  for (size_t i = 0; i < book->ties.n; i++) {
    const uint64_t id = ((const lzq_tie *)lzq_list_at(&book->ties, i))->id;
    *tied_place(book, id) = id;
  }
  return book->tied_made = true;
}

lzq_book_water *
lzq_book_water_of(lzq_book *book, uint32_t system)
{
  lzq_book_water *water = &book->waters[system];
  if (water->made)
    return water;
  if (!lzq_book_checks(book))
    return NULL;
  if (!book->tied_made && !make_tied(book))
    return NULL;
  if (water->arena == &water->own)
    lzq_arena_reset(water->arena);
  water->sweeps = LZQ_NEW(water->arena, const lzq_sweep *, book->n_bands);
  if (!water->sweeps || lzq_track_make(book, system, water->arena, &water->track) != LZQ_OK)
    return NULL;
  water->made = true;
  return water;
}

const lzq_sweep *
lzq_book_sweep(lzq_book *book, uint32_t system, uint32_t phase, uint32_t band,
               lzq_sweep_scratch *scratch, lzq_arena *arena)
{
  lzq_book_water *water = lzq_book_water_of(book, system);
  if (!water)
    return NULL;
  const uint32_t id = book->band_id[(size_t)phase * LZQ_MAX_BANDS + band];
  if (water->sweeps[id])
    return water->sweeps[id];
  lzq_sweep *made = LZQ_NEW(water->arena, lzq_sweep, 1);
  if (!made || lzq_sweep_make(&water->track, &book->setup.phases[phase].bands[band], scratch, arena,
                              water->arena, made) != LZQ_OK)
    return NULL;
  return water->sweeps[id] = made;
}

lzq_minute
lzq_book_dose(const lzq_book *book, uint32_t system, lzq_analyte analyte, lzq_minute from,
              lzq_minute to)
{
  const lzq_list *facts = &book->waters[system].facts;
  size_t low = 0, high = facts->n;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (lzq_list_at(facts, middle)->at < from)
      low = middle + 1;
    else
      high = middle;
  }
  for (; low < facts->n && lzq_list_at(facts, low)->at < to; low++) {
    const lzq_mark *mark = lzq_list_at(facts, low);
    if (mark->kind == LZQ_REC_DOSE && mark->analyte == analyte)
      return mark->at;
  }
  return LZQ_NEVER;
}
