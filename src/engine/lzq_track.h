// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: the record sorted by what it is about. Each water's changes and doses as
// arithmetic on a level, its readings by analyte with what they are worth, and the acts on lots.
#ifndef LZQ_TRACK_H
#define LZQ_TRACK_H

#include "lzq_history.h"

// What one change, top-up, dose or switch does to a level c: c * keep + added(analyte).
typedef struct {
  lzq_minute at;
  double keep;     // share of the old water that stays
  double copper;   // added to the level, mg/L
  double salinity; // NAN = new water of unknown salinity
  double other;    // added to the level of other_analyte
  uint8_t other_analyte;
  bool copper_unknown; // carbon or resin went in
} lzq_water_event;

typedef struct {
  lzq_minute at;
  double value, error;
  uint8_t sees; // forms of copper that the method sees
  uint8_t form; // of the last copper dose before it
  bool dosed;   // there was one
  bool suspect;
} lzq_track_reading;

typedef struct {
  const lzq_water_event *events; // in the order in which they act
  size_t n_events;
  lzq_minute first_stay; // first minute at which fish are put into it, LZQ_NEVER = none
  const lzq_track_reading *readings[LZQ_N_ANALYTES];
  size_t n_readings[LZQ_N_ANALYTES];
} lzq_track_system;

typedef struct {
  lzq_track_system *systems;
  const lzq_record **acts; // on lots, and sightings, in the order in which they act
  size_t n_acts;
} lzq_track;

// `wanted`: bit per analyte whose readings matter. O(n).
lzq_status lzq_track_make(const lzq_snapshot *snapshot, const lzq_history *history, uint32_t wanted,
                          lzq_arena *arena, lzq_track *out);

// What the event adds to a level of the analyte; NAN = nobody knows.
double lzq_event_added(const lzq_water_event *event, lzq_analyte analyte);

#endif
