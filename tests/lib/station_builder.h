// SPDX-License-Identifier: GPL-3.0-or-later
// A small station made by hand for a test: set up with calls, then its record entry by entry. Every
// entry gets the next id; nothing is checked here, so that a test can also build what must be
// refused.
#ifndef LZB_STATION_BUILDER_H
#define LZB_STATION_BUILDER_H

#include "lz_engine.h"

enum { LZB_SYSTEMS = 8, LZB_PHASES = 24, LZB_PROTOCOLS = 8, LZB_LOTS = 16, LZB_RECORDS = 4096 };

typedef struct {
  lzq_snapshot snapshot; // points into the arrays below: do not copy the station
  lzq_system systems[LZB_SYSTEMS];
  lzq_tank tanks[LZB_SYSTEMS]; // tank i is the one of system i
  lzq_instrument instruments[LZB_SYSTEMS];
  lzq_phase phases[LZB_PHASES];
  lzq_protocol protocols[LZB_PROTOCOLS];
  lzq_lot lots[LZB_LOTS];
  lzq_record records[LZB_RECORDS];
  int32_t utc_offset_min; // of the wall clock that lzb_at is asked for
} lzb_station;

void lzb_init(lzb_station *station);

// Each returns the index of what was added.
uint32_t lzb_add_system(lzb_station *station, double volume_l, lzq_role role);
uint32_t lzb_add_instrument(lzb_station *station, uint32_t sees_forms, double error_abs);
uint32_t lzb_add_lot(lzb_station *station);
// A protocol without phases; lzb_add_phase adds to the protocol added last.
uint32_t lzb_add_protocol(lzb_station *station);
// A phase that stays where it is and ends at once; fields are then set by the test.
lzq_phase *lzb_add_phase(lzb_station *station, lzq_phase_kind kind);
lzq_band *lzb_add_band(lzq_phase *phase, lzq_analyte analyte, lzq_side side, double works,
                       int32_t gap_min);

// Minute of a wall-clock time, with the station's utc_offset_min.
lzq_minute lzb_at(const lzb_station *station, int year, int month, int day, int hour, int minute);

// Entries. The record returned may be completed by the test.
lzq_record *lzb_add(lzb_station *station, lzq_record_kind kind, lzq_minute at);
lzq_record *lzb_receive(lzb_station *station, lzq_minute at, uint32_t lot, uint32_t system,
                        int32_t heads);
lzq_record *lzb_course(lzb_station *station, lzq_minute at, uint32_t lot, uint32_t protocol);
lzq_record *lzb_read(lzb_station *station, lzq_minute at, uint32_t system, lzq_analyte analyte,
                     double value);
lzq_record *lzb_change(lzb_station *station, lzq_minute at, uint32_t system, double litres,
                       double new_copper, double new_salinity);
lzq_record *lzb_dose(lzb_station *station, lzq_minute at, uint32_t system, lzq_form form,
                     double mg);
lzq_record *lzb_act(lzb_station *station, lzq_record_kind kind, lzq_minute at, uint32_t lot);
lzq_record *lzb_move(lzb_station *station, lzq_minute at, uint32_t lot, uint32_t system);
lzq_record *lzb_sight(lzb_station *station, lzq_minute at, uint32_t system);

#endif
