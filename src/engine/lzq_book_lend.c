// SPDX-License-Identifier: GPL-3.0-or-later
// A book as bytes, and a book over such bytes. Both are one walk through its lists, so that what is
// written and what is read can not differ. Every array stands behind its size and has room for what
// comes next; one that outgrows it is copied to memory of the book's own, and so is one that is
// made anew.
#include <string.h>

#include "lzq_book_work.h"

// What was made of facts is the engine's that made it: any change of it may make something else.
#if __has_include("lzq_edition.h")
#include "lzq_edition.h"
#else
#define LZQ_EDITION 0 // built without the build system
#endif

#define UNIT    16 // everything begins at a multiple
#define ROOM(n) ((n) / 16 + 64)

typedef struct {
  size_t size; // bytes of the array behind it, its room with them
  size_t padding;
} block_head;

typedef struct {
  // lending
  lzq_book_writer write;
  void *ctx;
  // borrowing
  unsigned char *bytes;
  size_t size, at;
  bool failed, no_memory;
} pass;

typedef struct {
  char magic[8];
  uint64_t edition, sizes; // of the engine, of what is kept
  uint64_t n, n_feeds, n_bands, n_deeds, n_checks, n_ties;
  lzq_minute until, last_at;
  lzq_station station;
  uint32_t n_lots, n_bottles, n_systems, n_tanks, n_instruments, n_phases, n_protocols;
} lent_head;

typedef struct {
  uint64_t n;
  lzq_minute first_stay, stale_from, swept_stay;
  bool swept, state_made;
  lzq_cut cut;
  lzq_water_state state;
} lent_water;

typedef struct {
  uint64_t n_runs, n_spoken;
  lzq_minute stale_from;
  bool made;
} lent_sweep;

// --- one value, one array

static size_t
units(size_t size)
{
  return (size + UNIT - 1) / UNIT * UNIT;
}

static void
put(pass *p, const void *bytes, size_t size)
{
  p->failed = p->failed || (size && !p->write(p->ctx, bytes, size));
  p->at += size;
}

static void
put_zeros(pass *p, size_t size)
{
  static const unsigned char zeros[4096];
  for (; size > 0 && !p->failed; size -= size < sizeof zeros ? size : sizeof zeros)
    put(p, zeros, size < sizeof zeros ? size : sizeof zeros);
}

// So many bytes of what was lent; NULL = there are not so many.
static unsigned char *
get(pass *p, size_t size)
{
  if (p->failed || size > p->size - p->at || units(size) > p->size - p->at) {
    p->failed = true;
    return NULL;
  }
  unsigned char *at = p->bytes + p->at;
  p->at += units(size);
  return at;
}

static void
value(pass *p, void *place, size_t size)
{
  if (p->write) {
    put(p, place, size);
    put_zeros(p, units(size) - size);
    return;
  }
  const unsigned char *at = get(p, size);
  if (at)
    memcpy(place, at, size);
}

// n items and room for more. Borrowing, *capacity is what fits; NULL if there are none.
static void *
array(pass *p, void *items, uint64_t n, size_t room, size_t size, size_t *capacity)
{
  if (p->failed || (n == 0 && !p->write))
    return NULL;
  if (n == 0)
    return items;
  if (p->write) {
    block_head head = {.size = units(((size_t)n + room) * size)};
    value(p, &head, sizeof head);
    put(p, items, (size_t)n * size);
    put_zeros(p, head.size - (size_t)n * size);
    return items;
  }
  block_head head = {0};
  value(p, &head, sizeof head);
  unsigned char *at = n > head.size / size ? NULL : get(p, head.size);
  p->failed = p->failed || !at;
  *capacity = head.size / size;
  return at;
}

static void
list(pass *p, lzq_list *l, uint64_t n, size_t room)
{
  size_t capacity = 0;
  unsigned char *items = array(p, l->items, n, room, l->size, &capacity);
  if (p->write || p->failed)
    return;
  *l = (lzq_list){
      .items = items, .size = l->size, .n = (size_t)n, .n_sorted = (size_t)n, .capacity = capacity};
}

// --- the whole

static void
walk_sweep(pass *p, lzq_kept_sweep *kept)
{
  lzq_sweep *s = &kept->sweep;
  lent_sweep lent = {.n_runs = s->n_runs,
                     .n_spoken = s->n_spoken,
                     .stale_from = kept->stale_from,
                     .made = kept->made};
  value(p, &lent, sizeof lent);
  const lzq_run *runs =
      array(p, (void *)s->runs, lent.n_runs, ROOM(lent.n_runs), sizeof *runs, &kept->runs_capacity);
  const lzq_minute *spoken = array(p, (void *)s->spoken, lent.n_spoken, ROOM(lent.n_spoken),
                                   sizeof *spoken, &kept->spoken_capacity);
  if (p->write || p->failed)
    return;
  *s = (lzq_sweep){runs, (size_t)lent.n_runs, spoken, (size_t)lent.n_spoken};
  kept->stale_from = lent.stale_from;
  kept->made = lent.made;
}

static void
walk_water(pass *p, lzq_book *book, lzq_book_water *water)
{
  lent_water lent = {.n = water->facts.n,
                     .first_stay = water->first_stay,
                     .stale_from = water->stale_from,
                     .swept_stay = water->swept_stay,
                     .swept = water->sweeps != NULL,
                     .state_made = water->state_made,
                     .cut = water->cut,
                     .state = water->state};
  value(p, &lent, sizeof lent);
  list(p, &water->facts, lent.n, ROOM(lent.n));
  if (!p->write && !p->failed) {
    water->first_stay = lent.first_stay;
    water->stale_from = lent.stale_from;
    water->swept_stay = lent.swept_stay;
    water->state_made = lent.state_made;
    water->cut = lent.cut;
    water->state = lent.state;
    if (lent.swept)
      water->sweeps = lzq_book_alloc(book, book->n_bands, sizeof *water->sweeps);
    if (lent.cut.n > lent.n) // stale, and not asked for since
      water->cut.n = 0;
    p->failed = p->no_memory = lent.swept && !water->sweeps;
  }
  for (uint32_t b = 0; water->sweeps && b < book->n_bands && !p->failed; b++)
    walk_sweep(p, &water->sweeps[b]);
}

static void
walk_lists(pass *p, lzq_book *book, const lent_head *head)
{
  book->entries =
      array(p, book->entries, head->n, ROOM(head->n), sizeof *book->entries, &book->entry_capacity);
  value(p, book->tail, sizeof book->tail);
  list(p, &book->deeds, head->n_deeds, ROOM(head->n_deeds));
  list(p, &book->checks, head->n_checks, ROOM(head->n_checks));
  list(p, &book->ties, head->n_ties, ROOM(head->n_ties));
  for (uint32_t i = 0; i < book->setup.n_systems && !p->failed; i++)
    walk_water(p, book, &book->waters[i]);
  for (uint64_t i = 0; i < head->n_feeds && !p->failed; i++) {
    uint64_t n = book->feeds[i].n;
    value(p, &n, sizeof n);
    list(p, &book->feeds[i], n, 0); // few of them are still fed
  }
}

// The set-up that the book is for. It is copied when it is borrowed.
static void
walk_setup(pass *p, lzq_snapshot *s)
{
  size_t none;
  s->systems = array(p, (void *)s->systems, s->n_systems, 0, sizeof *s->systems, &none);
  s->tanks = array(p, (void *)s->tanks, s->n_tanks, 0, sizeof *s->tanks, &none);
  s->instruments =
      array(p, (void *)s->instruments, s->n_instruments, 0, sizeof *s->instruments, &none);
  s->phases = array(p, (void *)s->phases, s->n_phases, 0, sizeof *s->phases, &none);
  s->protocols = array(p, (void *)s->protocols, s->n_protocols, 0, sizeof *s->protocols, &none);
}

static lent_head
head_of(const lzq_book *book)
{
  const lzq_snapshot *s = &book->setup;
  return (lent_head){.magic = {'l', 'z', 'q', 'b', 'o', 'o', 'k', 0},
                     .edition = LZQ_EDITION,
                     .sizes = sizeof(lzq_fact) ^ sizeof(lzq_feed) << 4 ^ sizeof(lzq_deed) << 8 ^
                              sizeof(lzq_tie) << 12 ^ sizeof(lent_water) << 16,
                     .n = book->n,
                     .n_feeds = book->n_feeds,
                     .n_bands = book->n_bands,
                     .n_deeds = book->deeds.n,
                     .n_checks = book->checks.n,
                     .n_ties = book->ties.n,
                     .until = book->until,
                     .last_at = book->last_at,
                     .station = s->station,
                     .n_lots = s->n_lots,
                     .n_bottles = s->n_bottles,
                     .n_systems = s->n_systems,
                     .n_tanks = s->n_tanks,
                     .n_instruments = s->n_instruments,
                     .n_phases = s->n_phases,
                     .n_protocols = s->n_protocols};
}

bool
lzq_book_lend(lzq_book *book, lzq_book_writer write, void *ctx)
{
  pass p = {.write = write, .ctx = ctx};
  if (!book->waters || book->shared || book->lifted)
    return false;
  lent_head head = head_of(book);
  value(&p, &head, sizeof head);
  walk_setup(&p, &book->setup);
  walk_lists(&p, book, &head);
  return !p.failed;
}

// --- borrowing

// What was lent is never given back; what outgrows it is copied.
static void *
lent_resize(void *ctx, void *block, size_t size)
{
  const lzq_book *book = ctx;
  const lzq_allocator *given = &book->given;
  const unsigned char *at = block;
  if (!block || at < book->lent || at >= book->lent + book->lent_size)
    return given->resize(given->ctx, block, size);
  if (size == 0)
    return NULL;
  const size_t old = ((const block_head *)block - 1)->size;
  void *own = given->resize(given->ctx, NULL, size);
  return own ? memcpy(own, block, old < size ? old : size) : NULL;
}

static lzq_status
begin_lent(lzq_book *book, pass *p, const lent_head *head)
{
  lzq_snapshot s = {.station = head->station,
                    .n_lots = head->n_lots,
                    .n_bottles = head->n_bottles,
                    .n_systems = head->n_systems,
                    .n_tanks = head->n_tanks,
                    .n_instruments = head->n_instruments,
                    .n_phases = head->n_phases,
                    .n_protocols = head->n_protocols};
  walk_setup(p, &s);
  if (p->failed || head->n >= LZQ_NONE || head->n_feeds > p->size / UNIT)
    return LZQ_BAD_INPUT;
  if (!lzq_book_begin(book, &s) || !lzq_book_lots(book, (uint32_t)head->n_feeds))
    return LZQ_NO_MEMORY;
  if (book->n_bands != head->n_bands)
    return LZQ_BAD_INPUT;
  book->given = book->allocator;
  book->allocator = (lzq_allocator){lent_resize, book};
  book->lent = p->bytes;
  book->lent_size = p->size;
  book->n = (size_t)head->n;
  book->last_at = head->last_at;
  return LZQ_OK;
}

lzq_status
lzq_book_borrow(lzq_book *book, void *bytes, size_t size)
{
  pass p = {.bytes = bytes, .size = size};
  lent_head head = {0};
  lzq_book_clear(book);
  const lent_head own = head_of(book);
  value(&p, &head, sizeof head);
  if (p.failed || memcmp(head.magic, own.magic, sizeof own.magic) != 0 ||
      head.edition != own.edition || head.sizes != own.sizes || head.until != own.until)
    return LZQ_BAD_INPUT;
  lzq_status status = begin_lent(book, &p, &head);
  if (status == LZQ_OK) {
    walk_lists(&p, book, &head);
    status = p.failed || p.at != size ? LZQ_BAD_INPUT : LZQ_OK;
    status = p.no_memory ? LZQ_NO_MEMORY : status;
  }
  if (status != LZQ_OK)
    lzq_book_clear(book);
  return status;
}

bool
lzq_book_borrows(const lzq_book *book)
{
  return book->lent != NULL;
}
