// SPDX-License-Identifier: GPL-3.0-or-later
// What a replan costs with estimates included, printed, never judged: the station of
// bench_station.h with two banks a water. From nothing (a year replayed), and from checkpoints: one
// water read, its bank fed, its estimate and times of leaving worked out, and the plan made anew
// with a book. Processor time, best of several.
#define _POSIX_C_SOURCE 200809L
#include <stdio.h>
#include <stdlib.h>

#include "bench_station.h"

enum { BANKS = 2 * SYSTEMS, TIMES = 15, LOTS = 1000 };

static lzq_water_bank banks[BANKS];

static void
begin(const lzq_snapshot *snapshot)
{
  for (uint32_t i = 0; i < BANKS; i++)
    if (lzq_water_begin(&banks[i], snapshot, i / 2, i % 2 ? LZQ_SALINITY : LZQ_COPPER,
                        i % 2 ? 21 : 0.5) != LZQ_OK)
      abort();
}

static void
feed(const lzq_snapshot *snapshot, const lzq_record *record)
{
  if (record->system < SYSTEMS)
    for (uint32_t a = 0; a < 2; a++)
      lzq_water_feed(&banks[2 * record->system + a], snapshot, record);
}

// Estimate and times of leaving of a bank; the sum keeps them from being left out.
static double
tell(const lzq_water_bank *bank)
{
  const bool salt = bank->analyte == LZQ_SALINITY;
  lzq_water_estimate e = lzq_water_at(bank, YEAR + 1);
  lzq_exit leaves = lzq_water_exit(bank, YEAR + 1, salt ? 22.5 : 0.45, salt);
  return e.mean + leaves.below_now;
}

static double
best(double now, double before)
{
  return before == 0 || now < before ? now : before;
}

static void
touched(lzq_snapshot *snapshot, bench_station *station)
{
  lzq_book *book = lzq_book_new(lzq_allocator_libc());
  lzq_arena arena;
  lzq_fault fault;
  const lzq_plan *plan;
  double estimate = 0, whole = 0, all = 0, sum = 0;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  if (!book || lzq_plan_of_book(book, snapshot, YEAR + 1, &arena, &plan, &fault) != LZQ_OK)
    abort();
  for (int i = 0; i < TIMES; i++) {
    size_t n = snapshot->n_records++;
    lzq_record *record = &station->records[n];
    *record = bench_reading(n + 1, YEAR, (uint32_t)(n * 7 % SYSTEMS));
    lzq_arena_reset(&arena);
    double from = bench_cpu_ms();
    feed(snapshot, record);
    sum += tell(&banks[2 * record->system]) + tell(&banks[2 * record->system + 1]);
    estimate = best(bench_cpu_ms() - from, estimate);
    if (lzq_plan_of_book(book, snapshot, YEAR + 1, &arena, &plan, &fault) != LZQ_OK)
      abort();
    whole = best(bench_cpu_ms() - from, whole);
  }
  for (int i = 0; i < 3; i++) {
    double from = bench_cpu_ms();
    for (uint32_t b = 0; b < BANKS; b++)
      sum += tell(&banks[b]);
    all = best(bench_cpu_ms() - from, all);
  }
  printf(
      "one water read, from checkpoints: its banks, estimates and times of leaving %.2f ms; with "
      "the whole plan %.2f ms\n",
      estimate, whole);
  printf("estimates and times of leaving of all %d banks: %.0f ms (%g)\n", BANKS, all, sum);
  lzq_arena_free(&arena);
  lzq_book_free(book);
}

int
main(void)
{
  bench_station *station = malloc(sizeof *station);
  lzq_snapshot snapshot;
  if (!station || !bench_station_make(station))
    return 1;
  bench_station_fill(station, LOTS, &snapshot);
  begin(&snapshot);
  double from = bench_cpu_ms();
  for (size_t i = 0; i < snapshot.n_records; i++)
    feed(&snapshot, &snapshot.records[i]);
  double year = bench_cpu_ms() - from;
  printf("%d waters, %zu records of a year, %d banks of %zu bytes: replayed from nothing %.0f ms, "
         "%.1f us a record\n",
         SYSTEMS, snapshot.n_records, BANKS, sizeof banks[0], year,
         1000 * year / (double)snapshot.n_records);
  touched(&snapshot, station);
  free(station->records);
  free(station);
  return 0;
}
