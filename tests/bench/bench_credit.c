// SPDX-License-Identifier: GPL-3.0-or-later
// Time of a credit run, printed, never judged: 200 systems, a year of history in the order in which
// it happened (438,000 readings, 73,000 changes and doses), lots that came in during the last 60
// days. Measured: lzq_credit_run as a whole (check of the snapshot, order, tracks, sweeps, walk,
// last-in) with an arena that has been used before, best of several; and its parts that any plan
// needs, each alone.
#define _POSIX_C_SOURCE 200809L
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "lz_engine.h"

enum { SYSTEMS = 200, YEAR = 365 * LZQ_DAY, READINGS = 438000, CHANGES = 36500, DOSES = 36500 };

static double
now_ms(void)
{
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static lzq_record
blank(uint64_t id, lzq_record_kind kind, lzq_minute at)
{
  return (lzq_record){.id = id,
                      .kind = (uint8_t)kind,
                      .at = at,
                      .system = LZQ_NONE,
                      .tank = LZQ_NONE,
                      .lot = LZQ_NONE,
                      .instrument = LZQ_NONE,
                      .bottle = LZQ_NONE,
                      .error = NAN,
                      .new_copper = 0.5,
                      .new_salinity = 21};
}

// One entry of a year's routine: six readings of copper and salinity by turns, then a change and
// its dose.
static lzq_record
routine(size_t i, size_t n)
{
  const lzq_minute at = (lzq_minute)(i * (uint64_t)YEAR / n);
  const uint32_t system = (uint32_t)(i / 7 % SYSTEMS);
  lzq_record record = blank(0, LZQ_REC_READING, at);
  if (i % 7 == 6) {
    record = blank(0, i / 7 % 2 ? LZQ_REC_CHANGE : LZQ_REC_DOSE, at);
    record.amount = record.kind == LZQ_REC_CHANGE ? 50 : 1;
  } else {
    record.analyte = i % 2 ? LZQ_COPPER : LZQ_SALINITY;
    record.value = i % 2 ? 0.5 : 21;
    record.error = 0.01;
  }
  record.system = system;
  return record;
}

static size_t
fill_records(lzq_record *records, uint32_t n_lots)
{
  const size_t n_routine = READINGS + CHANGES + DOSES;
  const lzq_minute first = YEAR - 60 * LZQ_DAY;
  size_t n = 0;
  uint32_t lot = 0;
  for (size_t i = 0; i < n_routine; i++) {
    const lzq_record record = routine(i, n_routine);
    uint32_t arriving = 0; // in a minute that the routine leaves free
    while (n && records[n - 1].at < record.at - 1 && lot + arriving < n_lots &&
           first + (lzq_minute)(lot + arriving) * 40 * LZQ_DAY / n_lots <= record.at)
      arriving++;
    for (uint32_t k = 0; k < 2 * arriving; k++) {
      records[n] = blank(n + 1, k < arriving ? LZQ_REC_RECEIVE : LZQ_REC_COURSE, record.at - 1);
      records[n].lot = lot + k % arriving;
      records[n].tank = records[n].lot % SYSTEMS;
      records[n].heads = 20;
      n++;
    }
    lot += arriving;
    records[n] = record;
    records[n].id = n + 1;
    n++;
  }
  return n;
}

static lzq_phase
hold(void)
{
  lzq_phase phase = {
      .kind = LZQ_PHASE_HOLD, .n_bands = 2, .min_credit_min = 14 * LZQ_DAY, .lapse_min = 720};
  const lzq_band band = {.target = NAN, .plan = NAN, .harm = NAN, .gap_min = 3 * LZQ_DAY};
  phase.bands[0] = phase.bands[1] = band;
  phase.bands[0].works = 0.45;
  phase.bands[1].analyte = LZQ_SALINITY;
  phase.bands[1].side = LZQ_AT_OR_BELOW;
  phase.bands[1].works = 22.5;
  return phase;
}

static double
best_of(const lzq_snapshot *snapshot, int part, lzq_arena *arena)
{
  double best = INFINITY;
  for (int i = 0; i < 7; i++) {
    const lzq_credit *credit;
    lzq_history history;
    lzq_fault fault;
    lzq_status status;
    lzq_arena_reset(arena);
    const double start = now_ms();
    if (part == 0)
      status = lzq_credit_run(snapshot, UINT64_MAX, YEAR, arena, &credit, &fault);
    else if (part == 1)
      status = lzq_snapshot_check(snapshot, &fault);
    else
      status = lzq_history_make(snapshot, UINT64_MAX, YEAR, arena, &history);
    const double taken = now_ms() - start;
    if (status != LZQ_OK) {
      fprintf(stderr, "bench: %s (%s)\n", lzq_status_name(status), fault.field);
      exit(EXIT_FAILURE);
    }
    best = taken < best ? taken : best;
  }
  return best;
}

int
main(void)
{
  static lzq_system systems[SYSTEMS];
  static lzq_tank tanks[SYSTEMS];
  static lzq_lot lots[4000];
  const lzq_phase phase = hold();
  const lzq_protocol protocol = {.n_phases = 1};
  lzq_record *records = malloc((READINGS + CHANGES + DOSES + 2 * 4000) * sizeof *records);
  if (!records)
    return EXIT_FAILURE;
  for (uint32_t i = 0; i < SYSTEMS; i++) {
    systems[i] = (lzq_system){.volume_l = 1000};
    tanks[i] = (lzq_tank){.system = i, .volume_l = 1000};
  }
  lzq_snapshot snapshot = {.station = {.last_in = true, .trust_unchecked = true},
                           .systems = systems,
                           .n_systems = SYSTEMS,
                           .tanks = tanks,
                           .n_tanks = SYSTEMS,
                           .phases = &phase,
                           .n_phases = 1,
                           .protocols = &protocol,
                           .n_protocols = 1,
                           .lots = lots,
                           .records = records};
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  printf("lots  records  run ms  of it check ms  order ms  arena MB\n");
  for (uint32_t n_lots = 100; n_lots <= 4000; n_lots = n_lots < 1000 ? 1000 : n_lots * 2) {
    snapshot.n_lots = n_lots;
    snapshot.n_records = fill_records(records, n_lots);
    const double check = best_of(&snapshot, 1, &arena), order = best_of(&snapshot, 2, &arena);
    const double run = best_of(&snapshot, 0, &arena);
    printf("%4u  %7zu  %6.1f  %14.1f  %8.1f  %8.1f\n", n_lots, snapshot.n_records, run, check,
           order, (double)arena.used / 1e6);
  }
  lzq_arena_free(&arena);
  free(records);
  return EXIT_SUCCESS;
}
