// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: one water as its record leaves it. Made by lzq_water_state.c from the
// water's facts and judged readings, kept in the book, and walked ahead by the plan.
#ifndef LZQ_WATER_STATE_H
#define LZQ_WATER_STATE_H

#include "lzq_goal.h"
#include "lzq_model.h"

#define LZQ_TRACE 16

// Levels after the latest events, oldest first; in a plan those of the last 1,440 minutes, and
// point 0 is what held before them.
typedef struct {
  uint32_t n;
  lzq_minute at[LZQ_TRACE];
  double level[LZQ_TRACE][2];
  double share[LZQ_TRACE]; // of the volume changed at that point
  bool dip[LZQ_TRACE];     // a change on record, whose dose may still follow in the same visit
} lzq_trace;

// A point more; of too many the oldest gives way.
void lzq_trace_push(lzq_trace *trace, lzq_minute at, double med, double sal, double share,
                    bool dip);

typedef struct {
  lzq_minute at;       // LZQ_LONG_AGO = never
  double value, error; // as read
} lzq_last_reading;

typedef struct {
  double volume_l;
  lzq_state state;
  lzq_form form;                // of the last copper dose
  double level[LZQ_N_ANALYTES]; // carried from the last reading; NAN = never read or unknown
  double
      guess[LZQ_N_ANALYTES]; // the same, with nothing read taken as none: what a plan starts from
  double carried_error[LZQ_N_ANALYTES];
  lzq_last_reading read[LZQ_N_ANALYTES];
  lzq_last_reading doubt[LZQ_N_ANALYTES]; // the newest suspect reading not settled since
  double doubted[LZQ_N_ANALYTES];         // the highest of those, carried on; while there is one
  lzq_minute dose_at[LZQ_N_ANALYTES];     // last dose, LZQ_LONG_AGO
  lzq_minute open_at[LZQ_N_ANALYTES];     // dose that no reading of it has closed, LZQ_LONG_AGO
  double open_mg[LZQ_N_ANALYTES];
  lzq_minute
      waits_at[LZQ_N_ANALYTES]; // dose in new water that no change has brought in, LZQ_LONG_AGO
  double waits_mg[LZQ_N_ANALYTES];
  lzq_minute stirred_at[LZQ_N_ANALYTES]; // last change, dose or salt that moved its level
  uint32_t gear_on, gear_known;
  lzq_minute sighting_at;
  lzq_minute used_to;        // last record of a lot in it; LZQ_LONG_AGO = never held fish
  lzq_minute disinfected_at; // when that last began; LZQ_LONG_AGO
  lzq_trace trace;           // copper and salinity
} lzq_water_state;

// One water while its facts are taken.
typedef struct {
  lzq_water_state *water;
  int32_t mixing_min;
  uint64_t n_points; // of the trace; point i is in place i % LZQ_TRACE until the end
} lzq_taker;

#endif
