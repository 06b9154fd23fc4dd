// SPDX-License-Identifier: GPL-3.0-or-later
// Sorts the record by what it is about, in two passes: one counts, one fills. Here it is decided
// what an event does to a level (with the volume in force) and which readings are suspect.
#include "lzq_track.h"

#include <math.h>

#include "lzq_balance.h"
#include "lzq_sort.h"

#define NO_FORM 0xff

// Counts, and later the places to fill. `checks` of an instrument: place of the next one to come.
typedef struct {
  const lzq_snapshot *snapshot;
  uint32_t wanted;
  lzq_track_system *systems;
  lzq_water_event *events;
  lzq_track_reading *readings;
  size_t *event_place, *reading_place; // by system; by system and analyte
  size_t *check_first, *check_next;    // by instrument
  bool *checks;                        // passed?
  double *volume_l;
  uint8_t *form;
  uint64_t *confirmed; // open-addressed set of ids; 0 = free
  size_t confirmed_size;
  const lzq_record **ahead; // checks, readings that confirm, acts
  size_t n_ahead, ahead_capacity;
  size_t n_events, n_readings, n_acts, n_checks, n_confirmed;
} builder;

double
lzq_event_added(const lzq_water_event *event, lzq_analyte analyte)
{
  switch (analyte) {
  case LZQ_COPPER: return event->copper_unknown ? (double)NAN : event->copper;
  case LZQ_SALINITY: return event->salinity;
  default: return event->other_analyte == analyte ? event->other : 0;
  }
}

static bool
is_water_event(const lzq_record *record)
{
  switch (record->kind) {
  case LZQ_REC_CHANGE:
  case LZQ_REC_TOPUP: return record->amount > 0;
  case LZQ_REC_DOSE: return true; // even an empty one says which form is in the water
  case LZQ_REC_GEAR:
    return record->ok && (record->gear == LZQ_GEAR_CARBON || record->gear == LZQ_GEAR_RESIN);
  default: return false;
  }
}

static bool
is_act(const lzq_record *record)
{
  return record->kind == LZQ_REC_RECEIVE || record->kind >= LZQ_REC_SIGHTING;
}

static size_t *
reading_slot(const builder *b, const lzq_record *record)
{
  return &b->reading_place[(size_t)record->system * LZQ_N_ANALYTES + record->analyte];
}

// Records that must be looked at before the readings are judged are few: they are remembered.
static bool
remember(builder *b, const lzq_record *record, lzq_arena *arena)
{
  const lzq_record **ahead =
      lzq_grow(arena, b->ahead, b->n_ahead, &b->ahead_capacity, sizeof *ahead);
  if (!ahead)
    return false;
  b->ahead = ahead;
  ahead[b->n_ahead++] = record;
  return true;
}

static void
count_record(builder *b, const lzq_record *record)
{
  if (is_act(record)) {
    b->n_acts++;
  } else if (record->kind == LZQ_REC_CHECK) {
    b->check_first[record->instrument]++;
    b->n_checks++;
  } else if (record->kind == LZQ_REC_READING) {
    b->n_confirmed += record->confirms != 0;
    if (b->wanted >> record->analyte & 1) {
      ++*reading_slot(b, record);
      b->n_readings++;
    }
  } else if (is_water_event(record)) {
    b->event_place[record->system]++;
    b->n_events++;
  }
}

// Turns n counts into the places at which each group begins.
static void
counts_to_places(size_t *counts, size_t n)
{
  size_t place = 0;
  for (size_t i = 0; i < n; i++) {
    size_t count = counts[i];
    counts[i] = place;
    place += count;
  }
}

static void
confirmed_add(builder *b, uint64_t id)
{
  size_t i = lzq_hash(id) & (b->confirmed_size - 1);
  while (b->confirmed[i] && b->confirmed[i] != id)
    i = (i + 1) & (b->confirmed_size - 1);
  b->confirmed[i] = id;
}

static bool
confirmed_has(const builder *b, uint64_t id)
{
  size_t i = lzq_hash(id) & (b->confirmed_size - 1);
  while (b->confirmed[i] && b->confirmed[i] != id)
    i = (i + 1) & (b->confirmed_size - 1);
  return b->confirmed[i] == id;
}

static bool
is_suspect(const builder *b, const lzq_record *record, uint64_t first_id)
{
  if (record->suspect && !confirmed_has(b, first_id))
    return true;
  const uint32_t i = record->instrument;
  size_t first = 0, next = 0, end = 0;
  if (i != LZQ_NONE) {
    first = b->check_first[i];
    next = b->check_next[i];
    end = i + 1 < b->snapshot->n_instruments ? b->check_first[i + 1] : b->n_checks;
  }
  if (next == first && !b->snapshot->station.trust_unchecked)
    return true;
  return (next > first && !b->checks[next - 1]) || (next < end && !b->checks[next]);
}

static void
fill_reading(builder *b, const lzq_record *record, uint64_t first_id)
{
  const lzq_instrument *instrument =
      record->instrument == LZQ_NONE ? NULL : &b->snapshot->instruments[record->instrument];
  const uint8_t form = b->form[record->system];
  double error = record->error;
  if (isnan(error))
    error = instrument ? instrument->error_abs + instrument->error_rel * record->value : 0;
  b->readings[(*reading_slot(b, record))++] = (lzq_track_reading){
      .at = record->at,
      .value = record->value,
      .error = error,
      .sees = instrument ? (uint8_t)(instrument->sees_forms & 0xff) : 0xff,
      .form = form == NO_FORM ? LZQ_FORM_NONE : form,
      .dosed = form != NO_FORM,
      .suspect = is_suspect(b, record, first_id),
  };
}

static void
fill_event(builder *b, const lzq_record *record)
{
  const double volume_l = b->volume_l[record->system];
  lzq_water_event event = {.at = record->at, .keep = 1, .other_analyte = LZQ_N_ANALYTES};
  if (record->kind == LZQ_REC_CHANGE) {
    const double share = lzq_changed_share(record->amount, volume_l, record->drip);
    event.keep = 1 - share;
    event.copper = isnan(record->new_copper) ? 0 : record->new_copper * share;
    event.salinity = record->new_salinity * share;
  } else if (record->kind == LZQ_REC_TOPUP) {
    event.salinity = record->new_salinity * record->amount / volume_l;
  } else if (record->kind == LZQ_REC_GEAR) {
    event.copper_unknown = true;
  } else {
    const double added = record->amount / volume_l;
    if (record->analyte == LZQ_COPPER) {
      event.copper = added;
      b->form[record->system] = record->form;
    } else if (record->analyte == LZQ_SALINITY) {
      event.salinity = added;
    } else {
      event.other_analyte = record->analyte;
      event.other = added;
    }
  }
  b->events[b->event_place[record->system]++] = event;
}

static void
fill_record(builder *b, const lzq_record *record, uint64_t first_id)
{
  if (record->kind == LZQ_REC_VOLUME)
    b->volume_l[record->system] = record->amount;
  else if (record->kind == LZQ_REC_CHECK)
    b->check_next[record->instrument]++;
  else if (record->kind == LZQ_REC_READING && b->wanted >> record->analyte & 1)
    fill_reading(b, record, first_id);
  else if (is_water_event(record))
    fill_event(b, record);
  if (record->kind != LZQ_REC_RECEIVE && record->kind != LZQ_REC_MOVE)
    return;
  if (record->tank == LZQ_NONE)
    return;
  lzq_track_system *system = &b->systems[b->snapshot->tanks[record->tank].system];
  if (record->at < system->first_stay)
    system->first_stay = record->at;
}

static bool
allocate_counts(builder *b, lzq_arena *arena)
{
  const lzq_snapshot *s = b->snapshot;
  b->systems = LZQ_NEW(arena, lzq_track_system, s->n_systems);
  b->event_place = LZQ_NEW(arena, size_t, s->n_systems);
  b->reading_place = LZQ_NEW(arena, size_t, (size_t)s->n_systems * LZQ_N_ANALYTES);
  b->check_first = LZQ_NEW(arena, size_t, s->n_instruments);
  b->check_next = LZQ_NEW(arena, size_t, s->n_instruments);
  b->volume_l = LZQ_NEW(arena, double, s->n_systems);
  b->form = LZQ_NEW(arena, uint8_t, s->n_systems);
  if (!b->systems || !b->event_place || !b->reading_place || !b->check_first || !b->check_next ||
      !b->volume_l || !b->form)
    return false;
  for (uint32_t i = 0; i < s->n_systems; i++) {
    b->systems[i].first_stay = LZQ_NEVER;
    b->volume_l[i] = s->systems[i].volume_l;
    b->form[i] = NO_FORM;
  }
  return true;
}

static bool
allocate_lists(builder *b, lzq_arena *arena, lzq_track *out)
{
  b->confirmed_size = 4;
  while (b->confirmed_size < b->n_confirmed * 2)
    b->confirmed_size *= 2;
  b->events = LZQ_NEW(arena, lzq_water_event, b->n_events);
  b->readings = LZQ_NEW(arena, lzq_track_reading, b->n_readings);
  b->checks = LZQ_NEW(arena, bool, b->n_checks);
  b->confirmed = LZQ_NEW(arena, uint64_t, b->confirmed_size);
  out->acts = LZQ_NEW(arena, const lzq_record *, b->n_acts);
  return b->events && b->readings && b->checks && b->confirmed && out->acts;
}

// What must be known of the future before a reading can be judged, and the acts.
static void
fill_ahead(builder *b, lzq_track *out)
{
  for (size_t i = 0; i < b->n_ahead; i++) {
    const lzq_record *record = b->ahead[i];
    if (record->kind == LZQ_REC_CHECK)
      b->checks[b->check_next[record->instrument]++] = record->ok;
    else if (record->kind == LZQ_REC_READING && record->confirms)
      confirmed_add(b, record->confirms);
    else if (is_act(record))
      out->acts[out->n_acts++] = record;
  }
  for (uint32_t i = 0; i < b->snapshot->n_instruments; i++)
    b->check_next[i] = b->check_first[i];
}

// The places have moved to the end of each group while it was filled: the next group's beginning.
static void
publish_lists(const builder *b)
{
  size_t event = 0, reading = 0;
  for (uint32_t i = 0; i < b->snapshot->n_systems; i++) {
    lzq_track_system *system = &b->systems[i];
    system->events = b->events + event;
    system->n_events = b->event_place[i] - event;
    event = b->event_place[i];
    for (uint32_t a = 0; a < LZQ_N_ANALYTES; a++) {
      size_t end = b->reading_place[(size_t)i * LZQ_N_ANALYTES + a];
      system->readings[a] = b->readings + reading;
      system->n_readings[a] = end - reading;
      reading = end;
    }
  }
}

lzq_status
lzq_track_make(const lzq_snapshot *snapshot, const lzq_history *history, uint32_t wanted,
               lzq_arena *arena, lzq_track *out)
{
  *out = (lzq_track){0};
  builder b = {.snapshot = snapshot, .wanted = wanted};
  if (!allocate_counts(&b, arena))
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < history->n; i++) {
    const lzq_record *record = history->items[i];
    count_record(&b, record);
    const bool ahead = is_act(record) || record->kind == LZQ_REC_CHECK ||
                       (record->kind == LZQ_REC_READING && record->confirms);
    if (ahead && !remember(&b, record, arena))
      return LZQ_NO_MEMORY;
  }
  if (!allocate_lists(&b, arena, out))
    return LZQ_NO_MEMORY;
  counts_to_places(b.event_place, snapshot->n_systems);
  counts_to_places(b.reading_place, (size_t)snapshot->n_systems * LZQ_N_ANALYTES);
  counts_to_places(b.check_first, snapshot->n_instruments);
  for (uint32_t i = 0; i < snapshot->n_instruments; i++)
    b.check_next[i] = b.check_first[i];
  fill_ahead(&b, out);
  for (size_t i = 0; i < history->n; i++)
    fill_record(&b, history->items[i], history->order[i]);
  publish_lists(&b);
  out->systems = b.systems;
  return LZQ_OK;
}
