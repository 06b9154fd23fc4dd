// SPDX-License-Identifier: GPL-3.0-or-later
// Histories as text: one table of fields for each array, used for writing and for reading.
#include "history_file.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

// I: whole numbers, enums and flags. D: real numbers.
#define LZT_STATION_FIELDS(I, D)                                                                   \
  I(station.last_in)                                                                               \
  I(station.trust_unchecked)                                                                       \
  D(station.missed_share) I(station.accept_max_min) I(station.contact_days) D(station.copper_limit)
#define LZT_SYSTEM_FIELDS(I, D)                                                                    \
  D(volume_l) I(role) I(walk) I(mixing_min) D(max_change_day) D(source_salinity)
#define LZT_TANK_FIELDS(I, D)       I(system) D(volume_l) I(number)
#define LZT_INSTRUMENT_FIELDS(I, D) I(sees_forms) D(error_abs) D(error_rel) D(resolution)
#define LZT_BOTTLE_FIELDS(I, D)     I(analyte) I(form) D(strength_mg_ml)
#define LZT_BAND_FIELDS(I, D, b)                                                                   \
  I(bands[b].analyte)                                                                              \
  I(bands[b].form)                                                                                 \
  I(bands[b].side)                                                                                 \
  D(bands[b].works)                                                                                \
  D(bands[b].works_high)                                                                           \
  D(bands[b].target) D(bands[b].plan) D(bands[b].harm) I(bands[b].gap_min) I(bands[b].error_inside)
// clang-format 14 does not come to rest on these two: it folds them anew at each run.
// clang-format off
#define LZT_PHASE_FIELDS(I, D) \
  I(kind) I(place) I(role) I(n_bands) I(reach) I(min_elapsed_min) I(min_credit_min) \
  I(quiet_min) I(eating_days) D(eaten_share) I(sign) I(lapse_min) I(lapse) \
  I(sighting_to) D(rise_per_day) I(rise_steps) I(step_gap_min) D(salinity_fall_day) \
  D(salinity_rise_day) D(salinity_step) I(late_tolerance_min) D(tol_copper) \
  D(tol_salinity) D(tol_temperature) D(tol_ph) I(copper_free) D(tol_copper_free) \
  I(medicine) D(dose_level) I(bath_min) I(gear_on) I(gear_off) LZT_BAND_FIELDS(I, D, 0) \
  LZT_BAND_FIELDS(I, D, 1) LZT_BAND_FIELDS(I, D, 2) LZT_BAND_FIELDS(I, D, 3)
// clang-format on
#define LZT_PROTOCOL_FIELDS(I, D) I(first_phase) I(n_phases) I(family) I(version)
#define LZT_LOT_FIELDS(I, D)      I(traits) D(mean_mass_g)
// clang-format off
#define LZT_RECORD_FIELDS(I, D) \
  I(id) I(corrects) I(voided) I(suspect) I(ok) I(drip) I(keep) I(kind) I(analyte) \
  I(form) I(gear) I(state) I(at) I(system) I(tank) I(lot) I(other) I(instrument) \
  I(bottle) I(protocol) I(phase) I(heads) I(day) I(confirms) D(value) D(error) D(amount) \
  D(new_copper) D(new_salinity)
// clang-format on

#define WRITE_I(field) fprintf(file, " %" PRId64, (int64_t)x->field);
#define WRITE_D(field) fprintf(file, " %.17g", x->field);
#define READ_I(field)  x->field = (__typeof__(x->field))next_whole(&text);
#define READ_D(field)  x->field = next_real(&text);
#define PASTE(name)    " " #name
#define NAME(field)    PASTE(field)

#define WRITER(name, type, FIELDS)                                                                 \
  static void write_##name(FILE *file, const type *x)                                              \
  {                                                                                                \
    fprintf(file, #name);                                                                          \
    FIELDS(WRITE_I, WRITE_D)                                                                       \
    fprintf(file, "\n");                                                                           \
  }                                                                                                \
  static void read_##name(char *text, type *x)                                                     \
  {                                                                                                \
    FIELDS(READ_I, READ_D)                                                                         \
  }

static int64_t
next_whole(char **text)
{
  return strtoll(*text, text, 10);
}

static double
next_real(char **text)
{
  return strtod(*text, text);
}

// clang-format off
WRITER(station, lzq_snapshot, LZT_STATION_FIELDS)
WRITER(system, lzq_system, LZT_SYSTEM_FIELDS)
WRITER(tank, lzq_tank, LZT_TANK_FIELDS)
WRITER(instrument, lzq_instrument, LZT_INSTRUMENT_FIELDS)
WRITER(bottle, lzq_bottle, LZT_BOTTLE_FIELDS)
WRITER(phase, lzq_phase, LZT_PHASE_FIELDS)
WRITER(protocol, lzq_protocol, LZT_PROTOCOL_FIELDS)
WRITER(lot, lzq_lot, LZT_LOT_FIELDS)
WRITER(record, lzq_record, LZT_RECORD_FIELDS)

// array, its count in the snapshot, its room
#define ARRAYS(A)                                                                                  \
  A(system, systems, n_systems, LZT_MOST_SYSTEMS)                                                  \
  A(tank, tanks, n_tanks, LZT_MOST_TANKS)                                                          \
  A(instrument, instruments, n_instruments, LZT_MOST_INSTRUMENTS)                                  \
  A(bottle, bottles, n_bottles, LZT_MOST_BOTTLES)                                                  \
  A(phase, phases, n_phases, LZT_MOST_PHASES)                                                      \
  A(protocol, protocols, n_protocols, LZT_MOST_PROTOCOLS)                                          \
  A(lot, lots, n_lots, LZT_MOST_LOTS)                                                              \
  A(record, records, n_records, LZT_MOST_RECORDS)
// clang-format on

void
lzt_history_bind(lzt_history *history)
{
#define BIND(name, array, count, room) history->snap.array = history->array;
  ARRAYS(BIND)
}

bool
lzt_history_write(const lzt_history *history, const char *note, FILE *file)
{
  fprintf(file, "lazaret history 1\n# %s\n", note);
  fprintf(file, "# record" LZT_RECORD_FIELDS(NAME, NAME) "\n");
  fprintf(file, "asked %" PRId64 " %" PRId64 "\n", (int64_t)history->known_id, history->until);
  write_station(file, &history->snap);
#define WRITE_ALL(name, array, count, room)                                                        \
  for (size_t i = 0; i < history->snap.count; i++)                                                 \
    write_##name(file, &history->array[i]);
  ARRAYS(WRITE_ALL)
  return !ferror(file);
}

static bool
read_line(lzt_history *history, char *line)
{
  char *text = line + strcspn(line, " \n");
  size_t length = (size_t)(text - line);
#define IS(word) (length == strlen(word) && strncmp(line, word, length) == 0)
  if (length == 0 || line[0] == '#')
    return true;
  if (IS("asked")) {
    history->known_id = (uint64_t)next_whole(&text);
    history->until = next_whole(&text);
    return true;
  }
  if (IS("station")) {
    read_station(text, &history->snap);
    return true;
  }
#define READ_ONE(name, array, count, room)                                                         \
  if (IS(#name)) {                                                                                 \
    if (history->snap.count == room)                                                               \
      return false;                                                                                \
    read_##name(text, &history->array[history->snap.count++]);                                     \
    return true;                                                                                   \
  }
  ARRAYS(READ_ONE)
  return false;
}

bool
lzt_history_read(lzt_history *history, FILE *file)
{
  char line[4096];
  memset(history, 0, sizeof *history);
  lzt_history_bind(history);
  if (!fgets(line, sizeof line, file) || strcmp(line, "lazaret history 1\n") != 0)
    return false;
  while (fgets(line, sizeof line, file))
    if (!read_line(history, line))
      return false;
  return !ferror(file);
}
