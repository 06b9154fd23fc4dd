// SPDX-License-Identifier: GPL-3.0-or-later
// Time of a credit run, printed, never judged: 200 systems, a year of history in the order in which
// it happened (438,000 readings, 73,000 changes and doses), lots that came in during the last 60
// days. Measured: lzq_credit_run as a whole (check of the snapshot, order, tracks, sweeps, walk,
// last-in) with an arena that has been used before, best of several; and its parts that any plan
// needs, each alone.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "bench_station.h"

static double
best_of(const lzq_snapshot *snapshot, int part, lzq_arena *arena)
{
  double best = INFINITY;
  for (int i = 0; i < 7; i++) {
    const lzq_credit *credit;
    lzq_history history;
    lzq_fault fault = {0};
    lzq_status status;
    lzq_arena_reset(arena);
    const double start = bench_now_ms();
    if (part == 0)
      status = lzq_credit_run(snapshot, UINT64_MAX, YEAR, arena, &credit, &fault);
    else if (part == 1)
      status = lzq_snapshot_check(snapshot, &fault);
    else
      status = lzq_history_make(snapshot, UINT64_MAX, YEAR, arena, &history);
    const double taken = bench_now_ms() - start;
    if (status != LZQ_OK) {
      fprintf(stderr, "bench: %s (%s)\n", lzq_status_name(status), fault.field ? fault.field : "");
      exit(EXIT_FAILURE);
    }
    best = taken < best ? taken : best;
  }
  return best;
}

int
main(void)
{
  static bench_station station;
  lzq_snapshot snapshot;
  if (!bench_station_make(&station))
    return EXIT_FAILURE;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  printf("lots  records  run ms  of it check ms  order ms  arena MB\n");
  for (uint32_t n_lots = 100; n_lots <= 4000; n_lots = n_lots < 1000 ? 1000 : n_lots * 2) {
    bench_station_fill(&station, n_lots, &snapshot);
    const double check = best_of(&snapshot, 1, &arena), order = best_of(&snapshot, 2, &arena);
    const double run = best_of(&snapshot, 0, &arena);
    printf("%4u  %7zu  %6.1f  %14.1f  %8.1f  %8.1f\n", n_lots, snapshot.n_records, run, check,
           order, (double)arena.used / 1e6);
  }
  lzq_arena_free(&arena);
  free(station.records);
  return EXIT_SUCCESS;
}
