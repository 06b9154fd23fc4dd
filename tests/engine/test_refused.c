// SPDX-License-Identifier: GPL-3.0-or-later
// Memory refused, at every single request of every call of the engine that asks for any: the answer
// is LZQ_NO_MEMORY, no result, nothing kept; and once the memory is there, the result. The calls
// are held against the public headers, so that a new one cannot be forgotten here.
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "book_loan.h"
#include "lz_engine.h"
#include "random_station.h"
#include "refused_headers.h"

#define N_BANKS 4

static lzt_history history;
static lzq_slot slots[20];
static lzq_arena made; // what calls are handed as input
static const lzq_plan *plan;
static lzq_history in_order;

// Grants so many requests, then refuses; what was granted and not given back is counted.
typedef struct {
  long left, in_use;
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

static bool
has_short(void)
{
  const lzq_credit *credit = NULL;
  lzq_shorts shorts = {0};
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const bool has =
      lzq_credit_run(&history.snap, UINT64_MAX, history.until, &arena, &credit, NULL) == LZQ_OK &&
      lzq_shorts_make(&history.snap, credit, &arena, &shorts) == LZQ_OK && shorts.n > 0;
  lzq_arena_free(&arena);
  return has;
}

static void
setup(void)
{
  const lzt_wish wish = {.days = 4, .lots = 3, .waters = 2, .records = 80, .corrections = true};
  uint64_t seed = 1203;
  do
    lzt_random_station(seed++, &wish, &history);
  while (!has_short()); // else it would be found without memory
  lzq_snapshot *snap = &history.snap;
  snap->n_slots = 20;
  for (uint32_t i = 0; i < 20; i++)
    slots[i] = (lzq_slot){history.until + i * 500, (int32_t)(i / 3), true};
  snap->slots = slots;
  snap->station.missed_share = 0.05;
  snap->station.last_in = true;
  lzq_arena_init(&made, lzq_allocator_libc(), 0);
  ck_assert_int_eq(lzq_plan_make(snap, history.until, &made, &plan, NULL), LZQ_OK);
  ck_assert_int_eq(lzq_history_make(snap, UINT64_MAX, history.until, &made, &in_order), LZQ_OK);
}

static void
teardown(void)
{
  lzq_arena_free(&made);
}

// --- the calls: each with an arena, and an allocator for a book; *out is what it gave

typedef lzq_status (*call)(lzq_arena *arena, lzq_allocator allocator, const void **out);

static lzq_status
arena_alloc(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  *out = NULL;
  for (size_t size = 8; size < 200000; size *= 3)
    if (!(*out = lzq_arena_alloc(arena, 1, size)))
      return LZQ_NO_MEMORY;
  return LZQ_OK;
}

static lzq_status
history_make(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  lzq_history got;
  const lzq_status status = lzq_history_make(&history.snap, UINT64_MAX, history.until, arena, &got);
  *out = got.items;
  return status;
}

static lzq_status
book_new(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  lzq_book *book = lzq_book_new(allocator);
  *out = book ? plan : NULL;
  lzq_book_free(book);
  return book ? LZQ_OK : LZQ_NO_MEMORY;
}

// Follows half of the record, then the rest, late entries and corrections among it.
static lzq_status
book_follow(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  lzq_snapshot half = history.snap;
  lzq_book *book = lzq_book_new(allocator);
  half.n_records /= 2;
  lzq_status status = book ? lzq_book_follow(book, &half, NULL) : LZQ_NO_MEMORY;
  if (status == LZQ_OK)
    status = lzq_book_follow(book, &history.snap, NULL);
  *out = status == LZQ_OK ? plan : NULL;
  lzq_book_free(book);
  return status;
}

static lzq_status
lend(lzq_allocator allocator, lzt_loan *l)
{
  lzq_book *book = lzq_book_new(allocator);
  lzq_status status = book ? lzq_book_follow(book, &history.snap, NULL) : LZQ_NO_MEMORY;
  if (status == LZQ_OK)
    ck_assert(lzq_book_lend(book, lzt_loan_take, l));
  lzq_book_free(book);
  return status;
}

static lzq_status
book_lend(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  lzt_loan l = {0};
  const lzq_status status = lend(allocator, &l);
  *out = status == LZQ_OK ? plan : NULL;
  free(l.bytes);
  return status;
}

// And follows half of the record, which takes much back.
static lzq_status
book_borrow(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  lzt_loan l = {0};
  lzq_snapshot half = history.snap;
  half.n_records /= 2;
  ck_assert_int_eq(lend(lzq_allocator_libc(), &l), LZQ_OK);
  lzq_book *book = lzq_book_new(allocator);
  lzq_status status = book ? lzq_book_borrow(book, l.bytes, l.size) : LZQ_NO_MEMORY;
  if (status == LZQ_OK)
    status = lzq_book_follow(book, &half, NULL);
  *out = status == LZQ_OK ? plan : NULL;
  lzq_book_free(book);
  free(l.bytes);
  return status;
}

static lzq_status
credit_run(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  return lzq_credit_run(&history.snap, UINT64_MAX, history.until, arena, (const lzq_credit **)out,
                        NULL);
}

static lzq_status
credit_of_book(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  *out = NULL;
  lzq_book *book = lzq_book_new(allocator);
  const lzq_status status = book ? lzq_credit_of_book(book, &history.snap, history.until + 5000,
                                                      arena, (const lzq_credit **)out, NULL)
                                 : LZQ_NO_MEMORY;
  lzq_book_free(book);
  return status;
}

static lzq_status
contacts_make(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  const uint32_t near = history.snap.n_systems - 1;
  const lzq_contact_query query = {
      .system = 0, .at = history.until, .neighbours = &near, .n_neighbours = 1};
  return lzq_contacts_make(&history.snap, plan->credit, &query, arena, (const lzq_contacts **)out,
                           NULL);
}

static lzq_status
shorts_make(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  static lzq_shorts shorts; // Check forks: this program runs one call at a time
  const lzq_status status = lzq_shorts_make(&history.snap, plan->credit, arena, &shorts);
  *out = status == LZQ_OK ? &shorts : NULL;
  return status;
}

static lzq_status
plan_make(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  return lzq_plan_make(&history.snap, history.until, arena, (const lzq_plan **)out, NULL);
}

static lzq_status
plan_of_book(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  *out = NULL;
  lzq_book *book = lzq_book_new(allocator);
  const lzq_status status = book ? lzq_plan_of_book(book, &history.snap, history.until + 5000,
                                                    arena, (const lzq_plan **)out, NULL)
                                 : LZQ_NO_MEMORY;
  lzq_book_free(book);
  return status;
}

static lzq_status
plan_of_credit(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  *out = NULL;
  lzq_book *book = lzq_book_new(allocator);
  const lzq_status status = book ? lzq_plan_of_credit(book, &history.snap, plan->credit, plan->now,
                                                      arena, (const lzq_plan **)out, NULL)
                                 : LZQ_NO_MEMORY;
  lzq_book_free(book);
  return status;
}

static lzq_status
plan_expect(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  lzq_expected one = {.bottle = LZQ_NONE, .analyte = LZQ_NITRATE, .at = plan->now, .mg = 1};
  const lzq_status status =
      lzq_plan_expect(&history.snap, plan, &one, 1, arena, (const lzq_plan **)out);
  *out = status == LZQ_OK ? *out : NULL;
  return status;
}

static lzq_status
plan_whatif(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  const lzq_lot lot = {.mean_mass_g = 10};
  lzq_record come = history.records[0];
  come.id = history.records[history.snap.n_records - 1].id + 1;
  come.kind = LZQ_REC_RECEIVE;
  come.lot = history.snap.n_lots;
  come.corrects = 0;
  come.voided = false;
  come.heads = 3;
  const lzq_whatif whatif = {.records = &come, .n_records = 1, .lots = &lot, .n_lots = 1};
  return lzq_plan_whatif(&history.snap, &whatif, history.until, arena, (const lzq_plan **)out,
                         NULL);
}

static lzq_status
diff_make(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  return lzq_diff_make(plan, plan, history.snap.n_systems, arena, (const lzq_diff **)out);
}

static lzq_status
protocol_check(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  const lzq_protocol_context context = {0};
  uint32_t n;
  const lzq_status status = lzq_protocol_check(history.snap.phases, history.snap.n_phases, &context,
                                               arena, (const lzq_finding **)out, &n);
  return status == LZQ_BAD_INPUT ? LZQ_OK : status; // refused by its own rules, with findings
}

// The banks are the caller's: fed or not, they stay values.
static lzq_status
waters_feed(lzq_arena *arena, lzq_allocator allocator, const void **out)
{
  static lzq_water_bank banks[N_BANKS];
  for (uint32_t i = 0; i < N_BANKS; i++)
    ck_assert_int_eq(lzq_water_begin(&banks[i], &history.snap, i / 2 % history.snap.n_systems,
                                     i % 2 ? LZQ_SALINITY : LZQ_COPPER, i % 2 ? 21 : 0.5),
                     LZQ_OK);
  const lzq_status status = lzq_waters_feed(banks, N_BANKS, &history.snap, &in_order, arena);
  *out = status == LZQ_OK ? banks : NULL;
  return status;
}

static const struct {
  const char *name;
  call run;
} calls[] = {
    {"lzq_arena_alloc", arena_alloc},
    {"lzq_history_make", history_make},
    {"lzq_book_new", book_new},
    {"lzq_book_follow", book_follow},
    {"lzq_book_lend", book_lend},
    {"lzq_book_borrow", book_borrow},
    {"lzq_credit_run", credit_run},
    {"lzq_credit_of_book", credit_of_book},
    {"lzq_contacts_make", contacts_make},
    {"lzq_shorts_make", shorts_make},
    {"lzq_plan_make", plan_make},
    {"lzq_plan_of_book", plan_of_book},
    {"lzq_plan_of_credit", plan_of_credit},
    {"lzq_plan_expect", plan_expect},
    {"lzq_plan_whatif", plan_whatif},
    {"lzq_diff_make", diff_make},
    {"lzq_protocol_check", protocol_check},
    {"lzq_waters_feed", waters_feed},
};
enum { N_CALLS = sizeof calls / sizeof *calls };

// One run; whether it succeeded. Refused: no result, and nothing is kept.
static bool
served(int c, long granted, size_t limit)
{
  ration r = {.left = granted};
  lzq_arena arena;
  const void *out = &arena;
  lzq_arena_init(&arena, (lzq_allocator){rationed, &r}, limit);
  const lzq_status status = calls[c].run(&arena, (lzq_allocator){rationed, &r}, &out);
  ck_assert_msg(status == LZQ_OK || status == LZQ_NO_MEMORY, "%s: %s", calls[c].name,
                lzq_status_name(status));
  ck_assert_msg((out != NULL) == (status == LZQ_OK), "%s: %s with%s a result", calls[c].name,
                lzq_status_name(status), out ? "" : "out");
  ck_assert_msg(status != LZQ_OK || !arena.failed, "%s goes on without memory", calls[c].name);
  lzq_arena_free(&arena);
  ck_assert_msg(r.in_use == 0, "%s keeps %ld blocks", calls[c].name, r.in_use);
  return status == LZQ_OK;
}

START_TEST(every_block_refused)
{
  long granted = 0;
  while (!served(_i, granted, 0))
    granted++;
  printf("%s: each of %ld blocks refused\n", calls[_i].name, granted);
  ck_assert_int_gt(granted, 0);
}
END_TEST

// Blocks are few; a limit that rises by the smallest unit refuses each request within them.
START_TEST(every_request_refused)
{
  long refused = 0;
  const size_t unit = _Alignof(max_align_t);
  for (size_t limit = unit; !served(_i, -1, limit); limit += unit)
    refused++;
  const bool no_arena = strncmp(calls[_i].name, "lzq_book", 8) == 0;
  ck_assert(no_arena || refused > 0);
}
END_TEST

// --- the list against the headers

static bool
listed(const char *name, size_t length)
{
  for (int c = 0; c < N_CALLS; c++)
    if (strlen(calls[c].name) == length && strncmp(calls[c].name, name, length) == 0)
      return true;
  return false;
}

START_TEST(no_call_is_forgotten)
{
  ck_assert_int_eq(lzt_headers_ask(LZT_ENGINE, listed), N_CALLS);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("refused");
  TCase *tcase = tcase_create("memory");
  tcase_add_checked_fixture(tcase, setup, teardown);
  tcase_set_timeout(tcase, 0);
  tcase_add_loop_test(tcase, every_block_refused, 0, N_CALLS);
  tcase_add_loop_test(tcase, every_request_refused, 0, N_CALLS);
  tcase_add_test(tcase, no_call_is_forgotten);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
