// SPDX-License-Identifier: GPL-3.0-or-later
// Set-up and entries of a small station, kept in fixed arrays.
#include "station_builder.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

// Index of the next free place; a test that outgrows the arrays ends at once.
static uint32_t
next(uint32_t *n, uint32_t most)
{
  if (*n >= most)
    abort();
  return (*n)++;
}

void
lzb_init(lzb_station *station)
{
  memset(station, 0, sizeof *station);
  station->snapshot = (lzq_snapshot){
      .station = {.trust_unchecked = true, .contact_days = 14, .copper_limit = NAN},
      .systems = station->systems,
      .tanks = station->tanks,
      .instruments = station->instruments,
      .phases = station->phases,
      .protocols = station->protocols,
      .lots = station->lots,
      .records = station->records,
  };
}

uint32_t
lzb_add_system(lzb_station *station, double volume_l, lzq_role role)
{
  uint32_t i = next(&station->snapshot.n_systems, LZB_SYSTEMS);
  station->snapshot.n_tanks = station->snapshot.n_systems;
  station->systems[i] = (lzq_system){.volume_l = volume_l,
                                     .role = role,
                                     .walk = (int32_t)i,
                                     .mixing_min = 60,
                                     .max_change_day = 0.5,
                                     .source_salinity = 34};
  station->tanks[i] = (lzq_tank){.system = i, .volume_l = volume_l, .number = (int32_t)i + 1};
  return i;
}

uint32_t
lzb_add_instrument(lzb_station *station, uint32_t sees_forms, double error_abs)
{
  uint32_t i = next(&station->snapshot.n_instruments, LZB_SYSTEMS);
  station->instruments[i] =
      (lzq_instrument){.sees_forms = sees_forms, .error_abs = error_abs, .resolution = 0.01};
  return i;
}

uint32_t
lzb_add_lot(lzb_station *station)
{
  uint32_t i = next(&station->snapshot.n_lots, LZB_LOTS);
  station->lots[i].mean_mass_g = NAN;
  return i;
}

uint32_t
lzb_add_protocol(lzb_station *station)
{
  uint32_t i = next(&station->snapshot.n_protocols, LZB_PROTOCOLS);
  station->protocols[i] =
      (lzq_protocol){.first_phase = station->snapshot.n_phases, .family = i, .version = 1};
  return i;
}

lzq_phase *
lzb_add_phase(lzb_station *station, lzq_phase_kind kind)
{
  lzq_phase *phase = &station->phases[next(&station->snapshot.n_phases, LZB_PHASES)];
  *phase = (lzq_phase){.kind = kind, .lapse_min = -1};
  station->protocols[station->snapshot.n_protocols - 1].n_phases++;
  return phase;
}

lzq_band *
lzb_add_band(lzq_phase *phase, lzq_analyte analyte, lzq_side side, double works, int32_t gap_min)
{
  lzq_band *band = &phase->bands[next(&phase->n_bands, LZQ_MAX_BANDS)];
  *band = (lzq_band){.analyte = analyte,
                     .side = side,
                     .works = works,
                     .works_high = NAN,
                     .target = NAN,
                     .plan = NAN,
                     .harm = NAN,
                     .gap_min = gap_min};
  return band;
}

// Days since 1970-01-01 of a date of the Gregorian calendar, counted from 1 March so that the leap
// day comes last.
static int64_t
days_from_date(int year, int month, int day)
{
  int64_t y = month <= 2 ? year - 1 : year;
  int64_t m = month <= 2 ? month + 9 : month - 3;
  return y * 365 + y / 4 - y / 100 + y / 400 + (m * 153 + 2) / 5 + day - 1 - 719468;
}

lzq_minute
lzb_at(const lzb_station *station, int year, int month, int day, int hour, int minute)
{
  return days_from_date(year, month, day) * 1440 + hour * 60 + minute - station->utc_offset_min;
}

lzq_record *
lzb_add(lzb_station *station, lzq_record_kind kind, lzq_minute at)
{
  if (station->snapshot.n_records >= LZB_RECORDS)
    abort();
  lzq_record *record = &station->records[station->snapshot.n_records++];
  *record = (lzq_record){
      .id = station->snapshot.n_records,
      .kind = (uint8_t)kind,
      .at = at,
      .system = LZQ_NONE,
      .tank = LZQ_NONE,
      .lot = LZQ_NONE,
      .other = LZQ_NONE,
      .instrument = LZQ_NONE,
      .bottle = LZQ_NONE,
      .protocol = LZQ_NONE,
      .error = NAN,
      .new_copper = NAN,
      .new_salinity = NAN,
  };
  return record;
}

lzq_record *
lzb_act(lzb_station *station, lzq_record_kind kind, lzq_minute at, uint32_t lot)
{
  lzq_record *record = lzb_add(station, kind, at);
  record->lot = lot;
  return record;
}

lzq_record *
lzb_receive(lzb_station *station, lzq_minute at, uint32_t lot, uint32_t system, int32_t heads)
{
  lzq_record *record = lzb_act(station, LZQ_REC_RECEIVE, at, lot);
  record->tank = system;
  record->heads = heads;
  return record;
}

lzq_record *
lzb_course(lzb_station *station, lzq_minute at, uint32_t lot, uint32_t protocol)
{
  lzq_record *record = lzb_act(station, LZQ_REC_COURSE, at, lot);
  record->protocol = protocol;
  return record;
}

lzq_record *
lzb_read(lzb_station *station, lzq_minute at, uint32_t system, lzq_analyte analyte, double value)
{
  lzq_record *record = lzb_add(station, LZQ_REC_READING, at);
  record->system = system;
  record->analyte = (uint8_t)analyte;
  record->value = value;
  return record;
}

lzq_record *
lzb_change(lzb_station *station, lzq_minute at, uint32_t system, double litres, double new_copper,
           double new_salinity)
{
  lzq_record *record = lzb_add(station, LZQ_REC_CHANGE, at);
  record->system = system;
  record->amount = litres;
  record->new_copper = new_copper;
  record->new_salinity = new_salinity;
  return record;
}

lzq_record *
lzb_dose(lzb_station *station, lzq_minute at, uint32_t system, lzq_form form, double mg)
{
  lzq_record *record = lzb_add(station, LZQ_REC_DOSE, at);
  record->system = system;
  record->analyte = LZQ_COPPER;
  record->form = (uint8_t)form;
  record->amount = mg;
  return record;
}

lzq_record *
lzb_move(lzb_station *station, lzq_minute at, uint32_t lot, uint32_t system)
{
  lzq_record *record = lzb_act(station, LZQ_REC_MOVE, at, lot);
  record->tank = system;
  return record;
}

lzq_record *
lzb_sight(lzb_station *station, lzq_minute at, uint32_t system)
{
  lzq_record *record = lzb_add(station, LZQ_REC_SIGHTING, at);
  record->system = system;
  record->heads = 1;
  return record;
}
