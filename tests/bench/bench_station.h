// SPDX-License-Identifier: GPL-3.0-or-later
// A station of 200 systems with a year of history in the order in which it happened (438,000
// readings, 73,000 changes and doses) and lots that came in during the last 60 days, none
// of which has served. One reading in 131 is not effective.
#ifndef LZT_BENCH_STATION_H
#define LZT_BENCH_STATION_H

#include "lz_engine.h"

enum { BENCH_LOTS = 10000, BENCH_SPARE = 256 };
enum { SYSTEMS = 200, YEAR = 365 * LZQ_DAY, READINGS = 438000, CHANGES = 36500, DOSES = 36500 };

typedef struct {
  lzq_system systems[SYSTEMS];
  lzq_tank tanks[SYSTEMS];
  lzq_lot lots[BENCH_LOTS];
  lzq_phase phases[2];   // a hold of 30 days, and 30 days watched
  lzq_protocol protocol; // the first of them only, unless n_phases is raised
  lzq_slot slots[28];
  lzq_record *records;
} bench_station;

double bench_cpu_ms(void);

// A reading of copper or salinity, by turns of the id.
lzq_record bench_reading(uint64_t id, lzq_minute at, uint32_t system);

// False = no memory. `records` is freed by the caller.
bool bench_station_make(bench_station *station);
void bench_station_fill(bench_station *station, uint32_t n_lots, lzq_snapshot *snapshot);

#endif
