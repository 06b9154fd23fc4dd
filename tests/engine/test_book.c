// SPDX-License-Identifier: GPL-3.0-or-later
// A book that follows a history entry by entry says what one made anew says, to the bit: over
// random histories with late entries, corrections and confirmations, with records taken off the end
// and others put there, with changes of the set-up, and after every allocation that failed. LZ_SEED
// and LZ_STATIONS choose others; a failing seed is printed.
#include <check.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book_loan.h"
#include "lzq_book_work.h"
#include "plan_print.h"
#include "random_records.h"

static lzt_history history;
static lzq_slot slots[40];
static lzt_prng prng;

static uint64_t
number(const char *name, uint64_t usual)
{
  const char *text = getenv(name);
  return text ? strtoull(text, NULL, 10) : usual;
}

static void
draw(uint64_t seed)
{
  lzt_prng_seed(&prng, seed);
  lzt_wish wish = lzt_wish_ordinary(&prng);
  lzt_random_station(seed, &wish, &history);
  lzq_snapshot *snap = &history.snap;
  for (size_t i = 0; i < snap->n_records; i++) { // a correction may name another water
    lzq_record *record = &history.records[i];
    if (record->corrects && record->system < snap->n_systems && lzt_prng_chance(&prng, 0.3))
      record->system = (uint32_t)lzt_prng_range(&prng, 0, snap->n_systems - 1);
  }
  lzq_minute at = history.until - 1000;
  snap->n_slots = (uint32_t)lzt_prng_range(&prng, 0, 40);
  for (uint32_t i = 0; i < snap->n_slots; i++) {
    at += lzt_prng_range(&prng, 1, 900);
    slots[i] = (lzq_slot){at, (int32_t)(at / LZQ_DAY), lzt_prng_chance(&prng, 0.8)};
  }
  snap->slots = slots;
}

// One that cuts its waters sooner or later behind their newest fact: histories are of days.
static lzq_book *
some_book(lzq_allocator allocator)
{
  static const lzq_minute cuts[] = {0, 30, 300, 1500, 6000, LZQ_CUT_MIN};
  lzq_book *book = lzq_book_new(allocator);
  if (book)
    book->cut_min = cuts[lzt_prng_range(&prng, 0, 5)];
  return book;
}

static uint64_t
cuts_of(const lzq_book *book)
{
  uint64_t n = 0;
  for (uint32_t i = 0; i < book->setup.n_systems; i++)
    n += book->waters[i].cut.n > 0;
  return n;
}

// Mostly after all that is known, as a desk asks; sometimes before, where the book cannot serve.
static lzq_minute
some_now(void)
{
  return history.until + (lzt_prng_chance(&prng, 0.8) ? 0 : lzt_prng_range(&prng, -3000, 3000));
}

static char *
plan_text(lzq_book *book, lzq_minute now, lzq_status *status)
{
  lzq_arena arena;
  const lzq_plan *plan = NULL;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  *status = lzq_plan_of_book(book, &history.snap, now, &arena, &plan, NULL);
  char *text = plan ? lzt_print_plan(plan, history.snap.n_systems) : NULL;
  lzq_arena_free(&arena);
  return text;
}

// Without slots, with the credit that a plan with slots has made: as without it.
static void
same_of_credit(lzq_book *book, lzq_minute now, uint64_t seed, const char *what)
{
  lzq_arena arena;
  const lzq_plan *plan = NULL, *of_credit = NULL, *anew = NULL;
  lzq_snapshot at_once = history.snap;
  at_once.n_slots = 0;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  ck_assert_int_eq(lzq_plan_of_book(book, &history.snap, now, &arena, &plan, NULL), LZQ_OK);
  ck_assert_int_eq(lzq_plan_of_credit(book, &at_once, plan->credit, now, &arena, &of_credit, NULL),
                   LZQ_OK);
  ck_assert_int_eq(lzq_plan_make(&at_once, now, &arena, &anew, NULL), LZQ_OK);
  ck_assert_ptr_eq(of_credit->credit, plan->credit);
  char *a = lzt_print_plan(of_credit, history.snap.n_systems);
  char *b = lzt_print_plan(anew, history.snap.n_systems);
  ck_assert_msg(strcmp(a, b) == 0, "seed %" PRIu64 ", %s: %s", seed, what,
                lzt_print_difference(a, b));
  free(a);
  free(b);
  lzq_arena_free(&arena);
}

static void
same(lzq_book *book, uint64_t seed, const char *what)
{
  const lzq_minute now = some_now();
  lzq_status kept, anew;
  char *a = plan_text(book, now, &kept), *b = plan_text(NULL, now, &anew);
  ck_assert_msg(kept == anew && anew == LZQ_OK, "seed %" PRIu64 ", %s, %zu records: %s, %s", seed,
                what, history.snap.n_records, lzq_status_name(kept), lzq_status_name(anew));
  const char *difference = lzt_print_difference(a, b);
  ck_assert_msg(!difference, "seed %" PRIu64 ", %s, %zu records: %s", seed, what,
                history.snap.n_records, difference);
  free(a);
  free(b);
  same_of_credit(book, now, seed, what);
}

START_TEST(entry_by_entry)
{
  const uint64_t first = number("LZ_SEED", 31001), count = number("LZ_STATIONS", 400);
  uint64_t steps = 0, cuts = 0;
  for (uint64_t seed = first; seed < first + count; seed++) {
    draw(seed);
    lzq_book *book = some_book(lzq_allocator_libc());
    const size_t n = history.snap.n_records;
    for (history.snap.n_records = 0; history.snap.n_records <= n; history.snap.n_records++, steps++)
      same(book, seed, "entry by entry");
    cuts += cuts_of(book);
    lzq_book_free(book);
  }
  printf("book: %" PRIu64 " entries of %" PRIu64 " histories from seed %" PRIu64 ", %" PRIu64
         " waters cut\n",
         steps, count, first, cuts);
  ck_assert_uint_gt(cuts, count / 4);
}
END_TEST

// Another record in the place of the last one, if the snapshot still holds.
static void
replace_last(void)
{
  lzq_record *last = &history.records[history.snap.n_records - 1];
  const lzq_record kept = *last;
  switch (lzt_prng_range(&prng, 0, 3)) {
  case 0: last->at -= lzt_prng_range(&prng, 0, 2000); break;
  case 1: last->value = lzt_prng_real(&prng, 0, 1); break;
  case 2: last->voided = last->corrects != 0; break;
  default: last->system = (uint32_t)lzt_prng_range(&prng, 0, history.snap.n_systems - 1);
  }
  if (lzq_snapshot_check(&history.snap, NULL) != LZQ_OK)
    *last = kept;
}

// What-ifs: entries put at the end, taken off again, and others in their place.
START_TEST(taken_off_the_end)
{
  const uint64_t first = number("LZ_SEED", 32001), count = number("LZ_STATIONS", 400);
  for (uint64_t seed = first; seed < first + count; seed++) {
    draw(seed);
    lzq_book *book = some_book(lzq_allocator_libc());
    const size_t n = history.snap.n_records;
    for (int i = 0; i < 40; i++) {
      size_t *at = &history.snap.n_records;
      if (lzt_prng_chance(&prng, 0.7)) {
        const int64_t to = (int64_t)*at + lzt_prng_range(&prng, -6, 6);
        *at = (size_t)(to < 0 ? 0 : to > (int64_t)n ? (int64_t)n : to);
      } else {
        *at = (size_t)lzt_prng_range(&prng, 0, (int64_t)n);
      }
      if (*at && lzt_prng_chance(&prng, 0.3))
        replace_last();
      if (lzq_snapshot_check(&history.snap, NULL) == LZQ_OK)
        same(book, seed, "taken off and put on");
    }
    lzq_book_free(book);
  }
}
END_TEST

START_TEST(set_up_changed)
{
  const uint64_t first = number("LZ_SEED", 33001), count = number("LZ_STATIONS", 150);
  for (uint64_t seed = first; seed < first + count; seed++) {
    draw(seed);
    lzq_book *book = some_book(lzq_allocator_libc());
    for (int i = 0; i < 8; i++) {
      switch (lzt_prng_range(&prng, 0, 4)) {
      case 0: history.systems[0].volume_l *= 1.25; break;
      case 1: history.instruments[0].sees_forms ^= 1u << LZQ_FORM_IONIC; break;
      case 2: history.snap.station.trust_unchecked = !history.snap.station.trust_unchecked; break;
      case 3: history.phases[0].min_credit_min += 10; break;
      default: history.snap.station.last_in = !history.snap.station.last_in;
      }
      same(book, seed, "set-up changed");
    }
    lzq_book_free(book);
  }
}
END_TEST

// A refused record leaves the book as it was.
START_TEST(refused_record)
{
  for (uint64_t seed = 34001; seed < 34051; seed++) {
    draw(seed);
    lzq_book *book = some_book(lzq_allocator_libc());
    same(book, seed, "before");
    lzq_record *last = &history.records[history.snap.n_records - 1];
    const lzq_record kept = *last;
    lzq_status status;
    last->kind = LZQ_N_RECORD_KINDS;
    ck_assert_ptr_null(plan_text(book, history.until, &status));
    ck_assert_int_eq(status, LZQ_BAD_INPUT);
    *last = kept;
    same(book, seed, "after");
    lzq_book_free(book);
  }
}
END_TEST

typedef struct {
  long left; // allocations still granted; negative = all
  long in_use;
} ration;

static void *
rationed(void *ctx, void *block, size_t size)
{
  ration *r = ctx;
  if (size == 0) {
    r->in_use -= block != NULL;
    free(block);
    return NULL;
  }
  if (r->left == 0)
    return NULL;
  r->left--;
  r->in_use += block == NULL;
  return realloc(block, size);
}

START_TEST(every_failed_allocation)
{
  long refusals = 0;
  for (uint64_t seed = 35001; seed < 35051; seed++) {
    draw(seed);
    const size_t n = history.snap.n_records;
    lzq_status status = LZQ_NO_MEMORY;
    for (long granted = 0; status != LZQ_OK; granted++) {
      ration r = {.left = -1};
      lzq_book *book = some_book((lzq_allocator){rationed, &r});
      history.snap.n_records = n / 2;
      same(book, seed, "half");
      history.snap.n_records = n;
      r.left = granted;
      free(plan_text(book, history.until, &status));
      ck_assert(status == LZQ_OK || status == LZQ_NO_MEMORY);
      refusals += status != LZQ_OK;
      r.left = -1;
      same(book, seed, "after a refusal");
      lzq_book_free(book);
      ck_assert_int_eq(r.in_use, 0);
    }
  }
  ration none = {.left = 0};
  ck_assert_ptr_null(lzq_book_new((lzq_allocator){rationed, &none}));
  ck_assert_int_gt(refusals, 100);
}
END_TEST

// --- lent and borrowed

// The history goes on, or what was put there last is taken off and replaced.
static void
some_steps(lzq_book *book, uint64_t seed, size_t n)
{
  for (int i = 0; i < 12; i++) {
    const int64_t to = (int64_t)history.snap.n_records + lzt_prng_range(&prng, -3, 8);
    history.snap.n_records = (size_t)(to < 0 ? 0 : to > (int64_t)n ? (int64_t)n : to);
    if (history.snap.n_records && lzt_prng_chance(&prng, 0.2))
      replace_last();
    if (lzq_snapshot_check(&history.snap, NULL) == LZQ_OK)
      same(book, seed, "borrowed");
  }
}

// The book gives way to one over the bytes that it lends.
static lzq_book *
pass_on(lzq_book *book, uint64_t seed, lzt_loan *l)
{
  while (lzq_snapshot_check(&history.snap, NULL) != LZQ_OK)
    history.snap.n_records--;
  const lzq_status followed = lzq_book_follow(book, &history.snap, NULL);
  ck_assert_msg(followed == LZQ_OK && lzq_book_lend(book, lzt_loan_take, l), "seed %" PRIu64, seed);
  lzq_book_free(book);
  lzq_book *next = some_book(lzq_allocator_libc());
  ck_assert_msg(lzq_book_borrow(next, l->bytes, l->size) == LZQ_OK, "seed %" PRIu64, seed);
  ck_assert_int_eq(lzq_book_follow(next, &history.snap, NULL), LZQ_OK);
  ck_assert(lzq_book_borrows(next) || history.snap.n_records == 0); // it knows them again
  return next;
}

START_TEST(lent_and_borrowed)
{
  const uint64_t first = number("LZ_SEED", 36001), count = number("LZ_STATIONS", 300);
  uint64_t size = 0, cuts = 0;
  for (uint64_t seed = first; seed < first + count; seed++) {
    draw(seed);
    const size_t n = history.snap.n_records;
    lzq_book *book = some_book(lzq_allocator_libc());
    lzt_loan loans[4] = {0};
    history.snap.n_records = (size_t)lzt_prng_range(&prng, 0, (int64_t)n);
    if (lzq_snapshot_check(&history.snap, NULL) == LZQ_OK && lzt_prng_chance(&prng, 0.9))
      same(book, seed, "before it is lent");
    for (int k = 0; k < 4; k++) { // and lent again, with what was borrowed in it
      book = pass_on(book, seed, &loans[k]);
      cuts += cuts_of(book);
      some_steps(book, seed, n);
      size += loans[k].size;
    }
    lzq_book_free(book);
    for (int k = 0; k < 4; k++)
      free(loans[k].bytes);
  }
  ck_assert_uint_gt(cuts, count);
  printf("book: %" PRIu64 " times lent, %" PRIu64 " bytes, %" PRIu64 " waters cut\n", count * 4,
         size, cuts);
}
END_TEST

// What is cut, goes on or is another program's is not taken; nor does it matter when memory ends.
START_TEST(not_what_was_lent)
{
  draw(37001);
  lzq_book *book = some_book(lzq_allocator_libc());
  lzt_loan l = {0}, less = {.most = 5000};
  ck_assert(!lzq_book_lend(book, lzt_loan_take, &l)); // it is empty
  same(book, 37001, "before it is lent");
  ck_assert(!lzq_book_lend(book, lzt_loan_take, &less));
  ck_assert(lzq_book_lend(book, lzt_loan_take, &l));
  unsigned char *bytes = malloc(l.size + 16);
  memcpy(bytes, l.bytes, l.size);
  for (size_t size = 0; size < l.size; size += size < 4096 ? 8 : 112)
    ck_assert_int_eq(lzq_book_borrow(book, bytes, size), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_book_borrow(book, bytes, l.size + 16), LZQ_BAD_INPUT);
  static const size_t others[] = {8, 26}; // another edition; 65536 entries more than have room
  for (size_t k = 0; k < 2; bytes[others[k++]]--) {
    bytes[others[k]]++;
    ck_assert_int_eq(lzq_book_borrow(book, bytes, l.size), LZQ_BAD_INPUT);
  }
  same(book, 37001, "after what was no book");
  lzq_book_free(book);
  lzq_status status = LZQ_NO_MEMORY;
  for (long granted = 0; status != LZQ_OK; granted++) {
    ration r = {.left = -1};
    book = lzq_book_new((lzq_allocator){rationed, &r});
    r.left = granted;
    status = lzq_book_borrow(book, bytes, l.size);
    ck_assert(status == LZQ_OK || status == LZQ_NO_MEMORY);
    r.left = -1;
    same(book, 37001, "after memory ended");
    lzq_book_free(book);
    ck_assert_int_eq(r.in_use, 0);
    memcpy(bytes, l.bytes, l.size);
  }
  free(bytes);
  free(l.bytes);
  free(less.bytes);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("book");
  TCase *cases = tcase_create("random histories");
  tcase_set_timeout(cases, 0);
  tcase_add_test(cases, entry_by_entry);
  tcase_add_test(cases, taken_off_the_end);
  tcase_add_test(cases, set_up_changed);
  tcase_add_test(cases, refused_record);
  tcase_add_test(cases, every_failed_allocation);
  tcase_add_test(cases, lent_and_borrowed);
  tcase_add_test(cases, not_what_was_lent);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
