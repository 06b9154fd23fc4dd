// SPDX-License-Identifier: GPL-3.0-or-later
// Below the credit: the arena that fails when told to, the snapshot's check, the record in order.
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "credit_run.h"

static lzb_station station;
static lzq_minute t0;

// Fails allocation number fail_at (counted from 1), and counts what is in use.
typedef struct {
  int asked, fail_at, in_use;
} failing;

static void *
failing_resize(void *ctx, void *block, size_t size)
{
  failing *f = ctx;
  if (size == 0) {
    f->in_use -= block != NULL;
    free(block);
    return NULL;
  }
  if (++f->asked == f->fail_at)
    return NULL;
  f->in_use++;
  return realloc(block, size);
}

static void
setup(void)
{
  lzb_init(&station);
  t0 = lzb_at(&station, 2027, 1, 4, 8, 0);
  for (int i = 0; i < 2; i++) {
    lzb_add_system(&station, 1000, LZQ_ROLE_TREATMENT);
    lzb_add_lot(&station);
  }
  lzb_add_protocol(&station);
  lzq_phase *hold = lzb_add_phase(&station, LZQ_PHASE_HOLD);
  lzb_add_band(hold, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.45, 960);
  hold->min_credit_min = 200;
  lzb_receive(&station, t0, 0, 0, 30);
  lzb_course(&station, t0, 0, 0);
}

START_TEST(arena_limits)
{
  lzq_arena arena = {0};
  lzq_arena_free(&arena); // harmless on a zeroed one
  lzq_arena_init(&arena, lzq_allocator_libc(), 4096);
  ck_assert_ptr_null(lzq_arena_alloc(&arena, SIZE_MAX / 4, 8));
  ck_assert(arena.failed);
  lzq_arena_reset(&arena);
  ck_assert(!arena.failed);
  ck_assert_ptr_nonnull(lzq_arena_alloc(&arena, 0, 16));
  for (size_t size = 1; size < 40; size++) {
    unsigned char *bytes = lzq_arena_alloc(&arena, 1, size);
    ck_assert_uint_eq((uintptr_t)bytes % _Alignof(max_align_t), 0);
    for (size_t i = 0; i < size; i++)
      ck_assert_uint_eq(bytes[i], 0);
    memset(bytes, 0xff, size);
  }
  ck_assert_ptr_null(lzq_arena_alloc(&arena, 1, 4096));
  lzq_arena_reset(&arena);
  const unsigned char *again = lzq_arena_alloc(&arena, 1, 4096);
  ck_assert_ptr_nonnull(again);
  for (size_t i = 0; i < 4096; i++)
    ck_assert_uint_eq(again[i], 0);
  lzq_arena_free(&arena);
  lzq_arena_free(&arena);
}
END_TEST

START_TEST(history_in_the_order_of_acting)
{
  lzb_dose(&station, t0 + 10, 0, LZQ_FORM_IONIC, 5);           // 3
  lzb_change(&station, t0 + 10, 0, 50, NAN, 21);               // 4: before the dose of its minute
  lzq_record *a = lzb_read(&station, t0 + 20, 0, LZQ_PH, 8.1); // 5
  lzb_read(&station, t0 + 5, 0, LZQ_PH, 8.2);                  // 6: entered late
  lzq_record *fix = lzb_read(&station, t0 + 5, 0, LZQ_PH, 8.0);
  fix->corrects = a->id; // 7: keeps the place of 5 in the order of entry
  const uint64_t expected[] = {1, 2, 5, 6, 4, 3};
  lzq_arena arena;
  lzq_history history;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  ck_assert_int_eq(lzq_history_make(&station.snapshot, UINT64_MAX, t0 + 100, &arena, &history),
                   LZQ_OK);
  ck_assert_uint_eq(history.n, 6);
  for (size_t i = 0; i < 6; i++)
    ck_assert_uint_eq(history.order[i], expected[i]);
  ck_assert_double_eq(history.items[2]->value, 8.0);
  ck_assert_int_eq(lzq_history_make(&station.snapshot, 6, t0 + 9, &arena, &history), LZQ_OK);
  ck_assert_uint_eq(history.n, 3); // 5 is not yet corrected and happens later
  lzq_arena_free(&arena);
}
END_TEST

static void
refused(lzq_fault_what what, const char *field)
{
  lzq_fault fault;
  ck_assert_int_eq(lzq_snapshot_check(&station.snapshot, &fault), LZQ_BAD_INPUT);
  ck_assert_int_eq(fault.what, what);
  ck_assert_str_eq(fault.field, field);
}

START_TEST(check_refuses)
{
  lzq_fault fault;
  ck_assert_int_eq(lzq_snapshot_check(&station.snapshot, &fault), LZQ_OK);
#define REFUSED(place, bad, what, field)                                                           \
  do {                                                                                             \
    static lzb_station kept;                                                                       \
    kept = station;                                                                                \
    (place) = (bad);                                                                               \
    refused(what, field);                                                                          \
    station = kept;                                                                                \
  } while (0)
  REFUSED(station.systems[1].volume_l, 0, LZQ_FAULT_SYSTEM, "volume_l");
  REFUSED(station.systems[1].volume_l, INFINITY, LZQ_FAULT_SYSTEM, "volume_l");
  REFUSED(station.tanks[1].system, 9, LZQ_FAULT_TANK, "system");
  REFUSED(station.phases[0].sighting_to, 1, LZQ_FAULT_PHASE, "sighting_to");
  REFUSED(station.phases[0].n_bands, LZQ_MAX_BANDS + 1, LZQ_FAULT_PHASE, "n_bands");
  REFUSED(station.phases[0].min_credit_min, -1, LZQ_FAULT_PHASE, "min_credit_min");
  REFUSED(station.phases[0].bands[0].works, NAN, LZQ_FAULT_BAND, "works");
  REFUSED(station.phases[0].bands[0].plan, 0.40, LZQ_FAULT_BAND, "plan");
  REFUSED(station.protocols[0].n_phases, 2, LZQ_FAULT_PROTOCOL, "first_phase");
  REFUSED(station.records[0].lot, 2, LZQ_FAULT_RECORD, "lot");
  REFUSED(station.records[0].kind, LZQ_N_RECORD_KINDS, LZQ_FAULT_RECORD, "kind");
  REFUSED(station.records[1].id, 1, LZQ_FAULT_RECORD, "id");
  REFUSED(station.records[1].phase, 1, LZQ_FAULT_RECORD, "phase");
  REFUSED(station.records[1].at, INT64_MAX, LZQ_FAULT_RECORD, "at");
  REFUSED(station.records[1].corrects, 1, LZQ_FAULT_RECORD, "kind");
  REFUSED(station.snapshot.records, NULL, LZQ_FAULT_ARGUMENT, "records");
#undef REFUSED
}
END_TEST

// Everything that a run can ask memory for: many records, lots, bands, late entries, splits,
// sightings.
static void
build_busy(void)
{
  station.snapshot.station.last_in = true;
  for (int i = 0; i < 1500; i++) {
    lzb_read(&station, t0 + 7 * (1500 - i), (uint32_t)i % 2, LZQ_COPPER, 0.44 + 0.01 * (i % 9));
    if (i % 7 == 0)
      lzb_change(&station, t0 + 5 * i, 0, 100, 0.5, 21);
  }
  lzb_act(&station, LZQ_REC_FEED, t0 + 10, 0)->amount = 1;
  lzb_act(&station, LZQ_REC_SIGN, t0 + 10, 0);
  lzb_sight(&station, t0 + 150, 0);
  lzq_record *split = lzb_act(&station, LZQ_REC_SPLIT, t0 + 160, 0);
  split->other = 1;
  split->heads = 4;
  lzb_move(&station, t0 + 170, 0, 1);
  lzb_act(&station, LZQ_REC_MERGE, t0 + 4000, 1)->other = 0;
}

START_TEST(every_allocation_may_fail)
{
  build_busy();
  int failures = 0;
  for (int n = 1;; n++) {
    failing f = {.fail_at = n};
    lzq_arena arena;
    const lzq_credit *credit = (const lzq_credit *)&arena;
    lzq_arena_init(&arena, (lzq_allocator){failing_resize, &f}, 0);
    lzq_status status =
        lzq_credit_run(&station.snapshot, UINT64_MAX, t0 + 20000, &arena, &credit, NULL);
    lzq_arena_free(&arena);
    ck_assert_int_eq(f.in_use, 0);
    if (status == LZQ_OK)
      break;
    ck_assert_int_eq(status, LZQ_NO_MEMORY);
    ck_assert_ptr_null(credit);
    failures++;
  }
  ck_assert_int_gt(failures, 2);
}
END_TEST

// Blocks are few; a limit that rises by one item at a time refuses each single request once.
START_TEST(every_request_may_be_refused)
{
  build_busy();
  int failures = 0;
  for (size_t limit = 64;; limit += limit < 60000 ? 64 : limit / 64) {
    lzq_arena arena;
    const lzq_credit *credit = NULL;
    lzq_arena_init(&arena, lzq_allocator_libc(), limit);
    lzq_status status =
        lzq_credit_run(&station.snapshot, UINT64_MAX, t0 + 20000, &arena, &credit, NULL);
    bool done = status == LZQ_OK;
    ck_assert(done ? credit != NULL : status == LZQ_NO_MEMORY && credit == NULL);
    lzq_arena_free(&arena);
    if (done)
      break;
    failures++;
  }
  ck_assert_int_gt(failures, 100);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("record");
  TCase *tcase = tcase_create("arena, check, order, memory");
  tcase_add_checked_fixture(tcase, setup, NULL);
  tcase_set_timeout(tcase, 60);
  tcase_add_test(tcase, arena_limits);
  tcase_add_test(tcase, history_in_the_order_of_acting);
  tcase_add_test(tcase, check_refuses);
  tcase_add_test(tcase, every_allocation_may_fail);
  tcase_add_test(tcase, every_request_may_be_refused);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
