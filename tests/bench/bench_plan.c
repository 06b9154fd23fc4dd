// SPDX-License-Identifier: GPL-3.0-or-later
// What a plan costs, printed, never judged: 200 systems, a year of history, lots of the last 60
// days, 60 days ahead. With a book that the desk keeps: untouched waters, one touched water, the
// late release of a station that misses one test in twenty; beside it the plan from nothing and the
// parts of that. Processor time of this thread, best of several, in an arena used before.
#define _POSIX_C_SOURCE 200809L
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "bench_station.h"

enum { AHEAD_DAYS = 60, TIMES = 15 };

typedef struct {
  bench_station *station;
  lzq_snapshot snapshot;
  lzq_arena arena;
  lzq_book *book;
} bench;

typedef lzq_status (*job)(bench *b, lzq_fault *fault);

static lzq_status
replan(bench *b, lzq_fault *fault)
{
  const lzq_plan *plan;
  return lzq_plan_of_book(b->book, &b->snapshot, YEAR + 1, &b->arena, &plan, fault);
}

static lzq_status
recredit(bench *b, lzq_fault *fault)
{
  const lzq_credit *credit;
  return lzq_credit_of_book(b->book, &b->snapshot, YEAR + 1, &b->arena, &credit, fault);
}

static lzq_status
replan_touched(bench *b, lzq_fault *fault)
{
  const size_t n = b->snapshot.n_records++;
  lzq_record *record = &b->station->records[n];
  *record = bench_reading(n + 1, YEAR, (uint32_t)(n * 7 % SYSTEMS));
  return replan(b, fault);
}

static lzq_status
rebuild(bench *b, lzq_fault *fault)
{
  lzq_book_clear(b->book);
  return lzq_book_follow(b->book, &b->snapshot, fault);
}

static lzq_status
from_nothing(bench *b, lzq_fault *fault)
{
  const lzq_plan *plan;
  return lzq_plan_make(&b->snapshot, YEAR + 1, &b->arena, &plan, fault);
}

static lzq_status
check(bench *b, lzq_fault *fault)
{
  return lzq_snapshot_check(&b->snapshot, fault);
}

// Milliseconds, the best of several.
static double
best(bench *b, job what, int times)
{
  double least = INFINITY;
  for (int i = 0; i < times; i++) {
    lzq_fault fault = {0};
    lzq_arena_reset(&b->arena);
    const double start = bench_cpu_ms();
    const lzq_status status = what(b, &fault);
    const double taken = bench_cpu_ms() - start;
    if (status != LZQ_OK) {
      fprintf(stderr, "bench: %s (%s)\n", lzq_status_name(status), fault.field ? fault.field : "");
      exit(EXIT_FAILURE);
    }
    least = taken < least ? taken : least;
  }
  return least;
}

// A size, with what the one before took for the slope: 1 = linear in lots.
static void
print_size(bench *b, uint32_t lots, double *before, uint32_t *lots_before)
{
  b->snapshot.station.missed_share = 0;
  bench_station_fill(b->station, lots, &b->snapshot);
  lzq_book_clear(b->book);
  best(b, replan, 1);
  const double plan = best(b, replan, TIMES), credit = best(b, recredit, TIMES);
  best(b, replan, 1);
  const double bytes = (double)b->arena.used / lots;
  const double touched = best(b, replan_touched, TIMES);
  b->snapshot.station.missed_share = 0.05;
  const double late = best(b, replan, 5);
  printf("%6u %9.2f %9.2f %9.2f %9.3f %9.1f %9.0f", lots, credit, plan, late, touched - plan,
         plan * 1e6 / lots / AHEAD_DAYS, bytes);
  if (*before > 0)
    printf(" %8.2f", log(plan / *before) / log((double)lots / *lots_before));
  printf("\n");
  *before = plan;
  *lots_before = lots;
}

int
main(void)
{
  static const uint32_t sizes[] = {100, 1000, 10000};
  static bench_station station;
  bench b = {.station = &station, .book = lzq_book_new(lzq_allocator_libc())};
  double before = 0;
  uint32_t lots_before = 0;
  if (!b.book || !bench_station_make(&station))
    return EXIT_FAILURE;
  station.protocol.n_phases = 2;
  lzq_arena_init(&b.arena, lzq_allocator_libc(), 0);
  printf("%d systems, a year: %d readings, %d changes and doses; ms of processor time\n", SYSTEMS,
         READINGS, CHANGES + DOSES);
  printf("  lots    credit      plan with late   touched ns/lotday  byte/lot    slope\n");
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
    print_size(&b, sizes[i], &before, &lots_before);
  bench_station_fill(&station, 1000, &b.snapshot);
  const double made = best(&b, rebuild, 5), nothing = best(&b, from_nothing, 5);
  printf("1,000 lots: book made anew %.1f, plan from nothing %.1f, of it the check %.1f\n", made,
         nothing, best(&b, check, 5));
  lzq_book_free(b.book);
  lzq_arena_free(&b.arena);
  free(station.records);
  return EXIT_SUCCESS;
}
