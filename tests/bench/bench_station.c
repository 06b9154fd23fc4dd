// SPDX-License-Identifier: GPL-3.0-or-later
// The station that the benchmarks of the engine share.
#define _POSIX_C_SOURCE 200809L
#include "bench_station.h"

#include <math.h>
#include <stdlib.h>
#include <time.h>

double
bench_cpu_ms(void)
{
  struct timespec t;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
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

lzq_record
bench_reading(uint64_t id, lzq_minute at, uint32_t system)
{
  lzq_record record = blank(id, LZQ_REC_READING, at);
  record.analyte = id % 2 ? LZQ_COPPER : LZQ_SALINITY;
  record.value = id % 2 ? 0.5 : 21;
  record.error = 0.01;
  record.system = system;
  return record;
}

// One entry of a year's routine: six readings of copper and salinity by turns, then a change and
// its dose.
static lzq_record
routine(size_t i, size_t n)
{
  const lzq_minute at = (lzq_minute)(i * (uint64_t)YEAR / n);
  const uint32_t system = (uint32_t)(i / 7 % SYSTEMS);
  if (i % 7 < 6) {
    lzq_record reading = bench_reading(i, at, system);
    if (i % 131 == 0) // low or high now and then: what was credited before is denied
      reading.value = reading.analyte == LZQ_COPPER ? 0.42 : 23;
    return reading;
  }
  lzq_record record = blank(0, i / 7 % 2 ? LZQ_REC_CHANGE : LZQ_REC_DOSE, at);
  record.amount = record.kind == LZQ_REC_CHANGE ? 50 : 1;
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
           first + (lzq_minute)(lot + arriving) * 59 * LZQ_DAY / n_lots <= record.at)
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
      .kind = LZQ_PHASE_HOLD, .n_bands = 2, .min_credit_min = 30 * LZQ_DAY, .lapse_min = 720};
  const lzq_band band = {.plan = NAN, .harm = NAN, .gap_min = 3 * LZQ_DAY};
  phase.bands[0] = phase.bands[1] = band;
  phase.bands[0].works = 0.45;
  phase.bands[0].target = 0.5;
  phase.bands[1].analyte = LZQ_SALINITY;
  phase.bands[1].side = LZQ_AT_OR_BELOW;
  phase.bands[1].works = 22.5;
  phase.bands[1].target = 21;
  return phase;
}

bool
bench_station_make(bench_station *s)
{
  *s = (bench_station){.phases = {hold()}};
  s->phases[1] = (lzq_phase){.kind = LZQ_PHASE_OBSERVE,
                             .min_elapsed_min = 30 * LZQ_DAY,
                             .quiet_min = 30 * LZQ_DAY,
                             .lapse_min = -1};
  s->protocol = (lzq_protocol){.n_phases = 1};
  s->records =
      malloc((READINGS + CHANGES + DOSES + 2 * BENCH_LOTS + BENCH_SPARE) * sizeof *s->records);
  for (uint32_t i = 0; i < SYSTEMS; i++) {
    s->systems[i] = (lzq_system){.volume_l = 1000,
                                 .role = LZQ_ROLE_TREATMENT,
                                 .mixing_min = 60,
                                 .max_change_day = 0.5,
                                 .source_salinity = 34};
    s->tanks[i] = (lzq_tank){.system = i, .volume_l = 1000};
  }
  for (uint32_t i = 0; i < 28; i++)
    s->slots[i] = (lzq_slot){YEAR + i / 2 * LZQ_DAY + (i % 2 ? 1020 : 450), (int32_t)(i / 2), true};
  return s->records != NULL;
}

void
bench_station_fill(bench_station *s, uint32_t n_lots, lzq_snapshot *snapshot)
{
  *snapshot = (lzq_snapshot){.station = {.last_in = true, .trust_unchecked = true},
                             .systems = s->systems,
                             .n_systems = SYSTEMS,
                             .tanks = s->tanks,
                             .n_tanks = SYSTEMS,
                             .phases = s->phases,
                             .n_phases = 2,
                             .protocols = &s->protocol,
                             .n_protocols = 1,
                             .lots = s->lots,
                             .n_lots = n_lots,
                             .slots = s->slots,
                             .n_slots = 28,
                             .records = s->records};
  snapshot->n_records = fill_records(s->records, n_lots);
}
