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

// What changed since it was last asked for is stale in all that was made of it.
static void
look_anew(const lzq_book *book, lzq_book_water *water)
{
  const lzq_minute from = water->stale_from;
  // the first stay bounds what was swept
  const lzq_minute swept = water->swept_stay == water->first_stay ? from : LZQ_LONG_AGO;
  for (uint32_t b = 0; swept != LZQ_NEVER && b < book->n_bands; b++)
    if (swept < water->sweeps[b].stale_from)
      water->sweeps[b].stale_from = swept;
  water->swept_stay = water->first_stay;
  water->track_made = water->track_made && swept == LZQ_NEVER;
  water->state_made = water->state_made && from == LZQ_NEVER;
  if (from < water->cut.at)
    water->cut.n = 0;
  water->stale_from = LZQ_NEVER;
}

lzq_book_water *
lzq_book_water_of(lzq_book *book, uint32_t system)
{
  lzq_book_water *water = &book->waters[system];
  if (!water->sweeps) {
    water->sweeps = lzq_book_alloc(book, book->n_bands, sizeof *water->sweeps);
    if (!water->sweeps)
      return NULL;
  }
  look_anew(book, water);
  return water;
}

bool
lzq_book_track(lzq_book *book, uint32_t system, bool whole)
{
  lzq_book_water *water = &book->waters[system];
  if (water->track_made && (water->track_whole || !whole))
    return true;
  if (!lzq_book_checks(book) || (!book->tied_made && !make_tied(book)))
    return false;
  water->track_made = false;
  if (water->arena == &water->own)
    lzq_arena_reset(water->arena);
  if (lzq_track_make(book, system, whole, water->arena, &water->track) != LZQ_OK)
    return false;
  water->track_whole = whole;
  return water->track_made = true;
}

void
lzq_book_rest(lzq_book *book)
{
  for (uint32_t i = 0; i < book->setup.n_systems; i++) {
    lzq_book_water *water = &book->waters[i];
    if (water->arena != &water->own || !water->track_made || !water->track_whole)
      continue;
    lzq_arena_free(water->arena);
    water->track_made = false;
  }
}

// --- sweeps

// Puts what was swept in the place of all from that minute on. Runs side by side differ.
static bool
replace_from(lzq_book *book, lzq_kept_sweep *kept, lzq_minute at, const lzq_swept *swept)
{
  lzq_sweep *s = &kept->sweep;
  const bool all = at == LZQ_LONG_AGO;
  size_t n_runs = all ? 0 : lzq_sweep_find(s, at - 1) + 1;
  size_t n_spoken = all ? 0 : lzq_sweep_spoken(s, at - 1);
  size_t first = 0;
  kept->made = false;
  lzq_run *runs = lzq_book_room(book, (void *)s->runs, n_runs + swept->n_runs, &kept->runs_capacity,
                                sizeof *runs);
  s->runs = runs ? runs : s->runs;
  lzq_minute *spoken = lzq_book_room(book, (void *)s->spoken, n_spoken + swept->n_spoken,
                                     &kept->spoken_capacity, sizeof *spoken);
  s->spoken = spoken ? spoken : s->spoken;
  if (!runs || !spoken)
    return false;
  if (n_runs && swept->n_runs && runs[n_runs - 1].why == swept->runs[0].why &&
      runs[n_runs - 1].firm == swept->runs[0].firm)
    first = 1;
  for (size_t i = first; i < swept->n_runs; i++)
    runs[n_runs++] = swept->runs[i];
  for (size_t i = 0; i < swept->n_spoken; i++)
    spoken[n_spoken++] = swept->spoken[i].at;
  s->n_runs = n_runs;
  s->n_spoken = n_spoken;
  kept->stale_from = LZQ_NEVER;
  return kept->made = true;
}

// The same from the first reading behind the cut on, which bounds what lies before it: if that
// reading and all before it are as they were. *done says.
static bool
go_on(lzq_book *book, uint32_t system, const lzq_band *band, lzq_kept_sweep *kept,
      lzq_sweep_scratch *scratch, lzq_arena *arena, bool *done)
{
  const lzq_book_water *water = &book->waters[system];
  lzq_swept swept;
  *done = false;
  if (!kept->made || !water->cut.n || kept->stale_from <= water->cut.at ||
      water->first_stay >= water->cut.at || (water->track_made && water->track_whole))
    return true;
  if (!lzq_book_track(book, system, false) ||
      lzq_sweep_make(&water->track, band, false, scratch, arena, &swept) != LZQ_OK)
    return false;
  *done = swept.n_spoken && swept.spoken[0].at < kept->stale_from;
  return !*done || replace_from(book, kept, swept.spoken[0].at, &swept);
}

const lzq_sweep *
lzq_book_sweep(lzq_book *book, uint32_t system, uint32_t phase, uint32_t band,
               lzq_sweep_scratch *scratch, lzq_arena *arena)
{
  const lzq_book_water *water = lzq_book_water_of(book, system);
  if (!water)
    return NULL;
  const lzq_band *wanted = &book->setup.phases[phase].bands[band];
  lzq_kept_sweep *kept = &water->sweeps[book->band_id[(size_t)phase * LZQ_MAX_BANDS + band]];
  lzq_swept swept;
  bool done = kept->made && kept->stale_from == LZQ_NEVER;
  if (done)
    return &kept->sweep;
  if (!go_on(book, system, wanted, kept, scratch, arena, &done))
    return NULL;
  if (!done && (!lzq_book_track(book, system, true) ||
                lzq_sweep_make(&water->track, wanted, true, scratch, arena, &swept) != LZQ_OK ||
                !replace_from(book, kept, LZQ_LONG_AGO, &swept)))
    return NULL;
  return &kept->sweep;
}

lzq_minute
lzq_book_dose(const lzq_book *book, uint32_t system, lzq_analyte analyte, lzq_minute from,
              lzq_minute to)
{
  const lzq_list *facts = &book->waters[system].facts;
  size_t i = lzq_list_before(facts, 0, &(lzq_mark){.at = from});
  for (; i < facts->n && lzq_list_at(facts, i)->at < to; i++) {
    const lzq_mark *mark = lzq_list_at(facts, i);
    if (mark->kind == LZQ_REC_DOSE && mark->analyte == analyte)
      return mark->at;
  }
  return LZQ_NEVER;
}
