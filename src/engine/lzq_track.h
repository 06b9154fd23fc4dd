// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: one water's record by what it is about. Its changes and doses as
// arithmetic on a level, its readings by analyte with what they are worth: the one judge of
// readings, for credit and plan alike.
#ifndef LZQ_TRACK_H
#define LZQ_TRACK_H

#include "lzq_arena.h"
#include "lzq_model.h"

// What one change, top-up, dose or switch does to a level c: c * keep + added(analyte).
typedef struct {
  lzq_minute at;
  double keep;     // share of the old water that stays
  double copper;   // added to the level, mg/L
  double salinity; // NAN = new water of unknown salinity
  double other;    // added to the level of other_analyte
  uint8_t other_analyte;
  bool takes_out; // carbon or resin went in: every dosed medicine is unknown until it is read
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

struct lzq_book;

#define LZQ_NO_FORM 0xff // no copper was dosed yet

// Of the facts of a system in a book: all, or those behind its cut. O(these + instruments).
lzq_status lzq_track_make(struct lzq_book *book, uint32_t system, bool whole, lzq_arena *arena,
                          lzq_track_system *out);

// What the event adds to a level of the analyte; NAN = nobody knows.
double lzq_event_added(const lzq_water_event *event, lzq_analyte analyte);

// Whether the method of a copper reading sees what is in the water: the form of the last dose, or,
// before one, `form` (LZQ_FORM_NONE = nobody says).
static inline bool
lzq_track_sees(const lzq_track_reading *reading, lzq_form form)
{
  const uint32_t in_water = reading->dosed ? reading->form : (uint32_t)form;
  return in_water == LZQ_FORM_NONE || (reading->sees >> in_water & 1);
}

#endif
