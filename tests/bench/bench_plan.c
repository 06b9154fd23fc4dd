// SPDX-License-Identifier: GPL-3.0-or-later
// Time of a plan, printed, never judged: lzq_plan_make as a whole (which runs the credit), best of
// several in an arena that has been used before, for growing numbers of lots; beside it the credit
// alone, the plan with the late release of a station that misses one test in twenty, and bytes a
// lot.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "bench_station.h"

static double
best_of(const lzq_snapshot *snapshot, bool plan, lzq_arena *arena)
{
  double best = INFINITY;
  for (int i = 0; i < 5; i++) {
    const lzq_credit *credit;
    const lzq_plan *made;
    lzq_fault fault = {0};
    lzq_arena_reset(arena);
    const double start = bench_now_ms();
    lzq_status status = plan ? lzq_plan_make(snapshot, YEAR, arena, &made, &fault)
                             : lzq_credit_run(snapshot, UINT64_MAX, YEAR, arena, &credit, &fault);
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
  static const uint32_t sizes[] = {100, 1000, 10000};
  static bench_station station;
  lzq_snapshot snapshot;
  lzq_arena arena;
  if (!bench_station_make(&station))
    return EXIT_FAILURE;
  station.protocol.n_phases = 2;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  printf(" lots  credit ms  plan ms  with late ms  plan alone us/lot  arena MB\n");
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    bench_station_fill(&station, sizes[i], &snapshot);
    const double credit = best_of(&snapshot, false, &arena);
    const double plan = best_of(&snapshot, true, &arena);
    const double mb = (double)arena.used / 1e6;
    snapshot.station.missed_share = 0.05;
    const double late = best_of(&snapshot, true, &arena);
    printf("%5u  %9.1f  %7.1f  %12.1f  %17.2f  %8.1f\n", sizes[i], credit, plan, late,
           (plan - credit) * 1e3 / sizes[i], mb);
  }
  lzq_arena_free(&arena);
  free(station.records);
  return EXIT_SUCCESS;
}
