// SPDX-License-Identifier: GPL-3.0-or-later
// Properties of the plan over random stations: the same input gives the same bytes, a shift of all
// times shifts the plan, every failed allocation is answered, and no malformed snapshot makes it
// crash. A failing seed is printed; LZT_SEED and LZT_COUNT choose others.
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "lz_engine.h"
#include "oracle.h"
#include "random_station.h"

static uint64_t
number(const char *name, uint64_t usual)
{
  const char *text = getenv(name);
  return text ? strtoull(text, NULL, 10) : usual;
}

typedef struct {
  lzt_history history;
  lzq_slot slots[64];
  lzq_arena arena;
} world;

static world *
world_make(uint64_t seed)
{
  lzt_prng prng;
  world *w = calloc(1, sizeof *w);
  lzt_prng_seed(&prng, seed);
  lzt_wish wish = lzt_wish_ordinary(&prng);
  lzt_random_station(seed, &wish, &w->history);
  lzq_snapshot *snap = &w->history.snap;
  lzq_minute at = w->history.until - 1000;
  snap->n_slots = (uint32_t)lzt_prng_range(&prng, 0, 40);
  for (uint32_t i = 0; i < snap->n_slots; i++) {
    at += lzt_prng_range(&prng, 1, 900);
    w->slots[i] = (lzq_slot){at, (int32_t)(at / LZQ_DAY), lzt_prng_chance(&prng, 0.8)};
  }
  snap->slots = w->slots;
  snap->station.missed_share = lzt_prng_chance(&prng, 0.3) ? 0.1 : 0;
  lzq_arena_init(&w->arena, lzq_allocator_libc(), 64u << 20);
  return w;
}

static void
world_free(world *w)
{
  lzq_arena_free(&w->arena);
  free(w);
}

static const lzq_plan *
make(world *w, uint64_t seed)
{
  const lzq_plan *plan = NULL;
  lzq_fault fault = {0};
  lzq_status status = lzq_plan_make(&w->history.snap, w->history.until, &w->arena, &plan, &fault);
  ck_assert_msg(status == LZQ_OK, "seed %llu: %s %s", (unsigned long long)seed,
                lzq_status_name(status), fault.field ? fault.field : "");
  return plan;
}

#define SAME(seed, what, a, b)                                                                     \
  ck_assert_msg((a) == (b), "seed %llu: %s differs: %lld, %lld", (unsigned long long)(seed), what, \
                (long long)(a), (long long)(b))

static lzq_minute
moved(lzq_minute t, int64_t by)
{
  return t == LZQ_NEVER || t == LZQ_LONG_AGO ? t : t + by;
}

// Whether `b` is `a` with every time later by `by`.
static void
compare(uint64_t seed, const lzq_snapshot *snap, const lzq_plan *a, const lzq_plan *b, int64_t by)
{
  SAME(seed, "n_tasks", a->n_tasks, b->n_tasks);
  for (uint32_t i = 0; i < a->n_tasks; i++) {
    lzq_task x = a->tasks[i], y = b->tasks[i];
    SAME(seed, "task kind", x.kind, y.kind);
    SAME(seed, "task at", moved(x.at, by), y.at);
    SAME(seed, "task deadline", moved(x.deadline, by), y.deadline);
    SAME(seed, "task state", x.state, y.state);
    SAME(seed, "task because", x.because.code, y.because.code);
    ck_assert_msg(memcmp(&x.amount, &y.amount, sizeof x.amount) == 0, "seed %llu: amount",
                  (unsigned long long)seed);
  }
  for (uint32_t i = 0; i < snap->n_lots; i++) {
    const lzq_lot_plan *x = &a->lots[i], *y = &b->lots[i];
    SAME(seed, "earliest", moved(x->release_earliest, by), y->release_earliest);
    SAME(seed, "late", moved(x->release_late, by), y->release_late);
    SAME(seed, "served", moved(x->served, by), y->served);
    SAME(seed, "segments", x->n_segments, y->n_segments);
    for (uint32_t j = 0; j < x->n_segments; j++) {
      SAME(seed, "segment start", moved(x->segments[j].start, by), y->segments[j].start);
      SAME(seed, "segment end", moved(x->segments[j].end, by), y->segments[j].end);
    }
  }
}

START_TEST(same_input_same_plan)
{
  uint64_t first = number("LZT_SEED", 1), count = number("LZT_COUNT", 1500);
  uint64_t tasks = 0, dated = 0;
  for (uint64_t seed = first; seed < first + count; seed++) {
    world *w = world_make(seed);
    const lzq_plan *a = make(w, seed), *b = make(w, seed);
    compare(seed, &w->history.snap, a, b, 0);
    tasks += a->n_tasks;
    for (uint32_t i = 0; i < w->history.snap.n_lots; i++)
      dated += a->lots[i].release_earliest != LZQ_NEVER;
    world_free(w);
  }
  printf("plans made twice: %llu from seed %llu, %llu tasks, %llu lots with a date\n",
         (unsigned long long)count, (unsigned long long)first, (unsigned long long)tasks,
         (unsigned long long)dated);
  ck_assert_uint_gt(tasks, count);
  ck_assert_uint_gt(dated, count / 4);
}
END_TEST

START_TEST(a_shift_of_time_shifts_the_plan)
{
  uint64_t first = number("LZT_SEED", 1), count = number("LZT_COUNT", 500);
  for (uint64_t seed = first; seed < first + count; seed++) {
    world *w = world_make(seed);
    const lzq_plan *a = make(w, seed);
    const int64_t by = 123457;
    lzt_history *h = &w->history;
    lzq_slot slots[64];
    lzq_record *records = malloc((h->snap.n_records + 1) * sizeof *records);
    for (size_t i = 0; i < h->snap.n_records; i++) {
      records[i] = h->records[i];
      records[i].at += by;
    }
    for (uint32_t i = 0; i < h->snap.n_slots; i++) {
      slots[i] = w->slots[i];
      slots[i].at += by;
    }
    lzq_snapshot later = h->snap;
    later.records = records;
    later.slots = slots;
    const lzq_plan *b = NULL;
    ck_assert_int_eq(lzq_plan_make(&later, h->until + by, &w->arena, &b, NULL), LZQ_OK);
    compare(seed, &later, a, b, by);
    free(records);
    world_free(w);
  }
}
END_TEST

// What the plan says can go now has served, firm and let go, by the minute-by-minute definition.
START_TEST(nobody_is_let_go_before_the_time)
{
  uint64_t first = number("LZT_SEED", 1), count = number("LZT_COUNT", 1500), shown = 0;
  for (uint64_t seed = first; seed < first + count; seed++) {
    world *w = world_make(seed);
    const lzq_snapshot *snap = &w->history.snap;
    const lzq_minute now = w->history.until;
    const lzq_plan *plan = make(w, seed);
    lzt_oracle *oracle = lzt_oracle_run(snap, UINT64_MAX, now);
    for (uint32_t i = 0; i < plan->n_tasks; i++) {
      const lzq_task *task = &plan->tasks[i];
      if (task->kind != LZQ_TASK_RELEASE || task->at > now || task->state > LZQ_TASK_LATE)
        continue;
      shown++;
      ck_assert_msg(oracle->lots[task->lot].sum.releasable_at <= now,
                    "seed %llu: lot %u is let go too early", (unsigned long long)seed, task->lot);
    }
    lzt_oracle_free(oracle);
    world_free(w);
  }
  printf("let go: %llu tasks held against the definition\n", (unsigned long long)shown);
  ck_assert_uint_gt(shown, count / 50);
}
END_TEST

typedef struct {
  long left; // allocations still granted
} ration;

static void *
rationed(void *ctx, void *block, size_t size)
{
  ration *r = ctx;
  if (size == 0) {
    free(block);
    return NULL;
  }
  return r->left-- > 0 ? realloc(block, size) : NULL;
}

START_TEST(every_failed_allocation_is_answered)
{
  world *w = world_make(7);
  long n = 0;
  for (;; n++) {
    ration r = {n};
    lzq_arena arena;
    const lzq_plan *plan = (const lzq_plan *)&r;
    lzq_arena_init(&arena, (lzq_allocator){rationed, &r}, 0);
    lzq_status status = lzq_plan_make(&w->history.snap, w->history.until, &arena, &plan, NULL);
    lzq_arena_free(&arena);
    if (status == LZQ_OK)
      break;
    ck_assert_int_eq(status, LZQ_NO_MEMORY);
    ck_assert_ptr_null(plan);
  }
  printf("plan: each of %ld allocations failed once\n", n);
  ck_assert_int_gt(n, 0);
  // and by the arena's limit, which meets every request and not only every block
  long refused = 0;
  for (size_t limit = 64; limit < (4u << 20); limit += limit / 64 + 8) {
    lzq_arena arena;
    const lzq_plan *plan = NULL;
    lzq_arena_init(&arena, lzq_allocator_libc(), limit);
    lzq_status status = lzq_plan_make(&w->history.snap, w->history.until, &arena, &plan, NULL);
    ck_assert(status == LZQ_OK ? plan != NULL : status == LZQ_NO_MEMORY && plan == NULL);
    refused += status != LZQ_OK;
    lzq_arena_free(&arena);
  }
  ck_assert_int_gt(refused, 10);
  world_free(w);
}
END_TEST

static void
damage(lzt_prng *p, void *array, size_t size)
{
  if (size == 0)
    return;
  unsigned char *bytes = array;
  size_t at = (size_t)lzt_prng_range(p, 0, (int64_t)size - 1);
  switch (lzt_prng_range(p, 0, 3)) {
  case 0: bytes[at] = (unsigned char)lzt_prng_next(p); break;
  case 1: bytes[at] ^= (unsigned char)(1u << lzt_prng_range(p, 0, 7)); break;
  case 2: bytes[at] = 0xff; break;
  default: memset(bytes + at, (int)lzt_prng_range(p, 0, 255), size - at < 8 ? size - at : 8);
  }
}

// Booleans hold 0 or 1 whatever the damage: anything else is not a value of the type.
static void
mend_bools(lzt_history *h)
{
  for (size_t i = 0; i < h->snap.n_records; i++)
    for (size_t at = offsetof(lzq_record, voided); at <= offsetof(lzq_record, keep); at++)
      ((unsigned char *)&h->records[i])[at] &= 1;
  for (uint32_t i = 0; i < h->snap.n_phases; i++) {
    *(unsigned char *)&h->phases[i].reach &= 1;
    *(unsigned char *)&h->phases[i].copper_free &= 1;
    *(unsigned char *)&h->phases[i].early &= 1;
    for (uint32_t j = 0; j < LZQ_MAX_BANDS; j++)
      *(unsigned char *)&h->phases[i].bands[j].error_inside &= 1;
  }
}

START_TEST(malformed_snapshots_do_no_harm)
{
  uint64_t first = number("LZT_SEED", 1), count = number("LZT_COUNT", 4000), planned = 0;
  for (uint64_t seed = first; seed < first + count; seed++) {
    world *w = world_make(seed);
    lzt_history *h = &w->history;
    lzt_prng p;
    lzt_prng_seed(&p, seed ^ 0xdead);
    for (int64_t n = lzt_prng_range(&p, 1, 4); n > 0; n--)
      switch (lzt_prng_range(&p, 0, 5)) {
      case 0: damage(&p, h->phases, h->snap.n_phases * sizeof *h->phases); break;
      case 1: damage(&p, h->protocols, h->snap.n_protocols * sizeof *h->protocols); break;
      case 2: damage(&p, h->systems, h->snap.n_systems * sizeof *h->systems); break;
      case 3: damage(&p, w->slots, h->snap.n_slots * sizeof *w->slots); break;
      case 4: damage(&p, &h->snap.station.missed_share, sizeof(double)); break;
      default: damage(&p, h->records, h->snap.n_records * sizeof *h->records);
      }
    mend_bools(h);
    for (uint32_t i = 0; i < h->snap.n_slots; i++)
      *(unsigned char *)&w->slots[i].test &= 1;
    const lzq_plan *plan = NULL;
    lzq_status status = lzq_plan_make(&h->snap, h->until, &w->arena, &plan, NULL);
    ck_assert(status == LZQ_OK ? plan != NULL : plan == NULL);
    planned += status == LZQ_OK;
    world_free(w);
  }
  printf("damaged snapshots: %llu from seed %llu, %llu still planned\n", (unsigned long long)count,
         (unsigned long long)first, (unsigned long long)planned);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_properties");
  TCase *cases = tcase_create("random stations");
  tcase_set_timeout(cases, 240);
  tcase_add_test(cases, same_input_same_plan);
  tcase_add_test(cases, a_shift_of_time_shifts_the_plan);
  tcase_add_test(cases, nobody_is_let_go_before_the_time);
  tcase_add_test(cases, every_failed_allocation_is_answered);
  tcase_add_test(cases, malformed_snapshots_do_no_harm);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
