// SPDX-License-Identifier: GPL-3.0-or-later
// The sweep: between each two readings that exist for a band, the level is carried forward from the
// first and taken back from the second through what was done between, and every stretch of minutes
// gets its answer (rules 1 to 3 of lzq_credit.h). Linear in readings and events.
#include "lzq_sweep.h"

#include <math.h>

#include "lzq_sort.h"

// What the next reading says of a minute.
enum { SILENT, CONFIRMS, DENIES };

typedef struct {
  const lzq_track_system *system;
  const lzq_band *band;
  bool carried;
  lzq_sweep_scratch *scratch;
  lzq_arena *arena;
  size_t n_spoken, n_runs;
  bool no_memory;
} sweeper;

static bool
effective(const lzq_band *band, double low, double high)
{
  const bool above = low >= band->works - LZQ_EDGE;
  switch (band->side) {
  case LZQ_AT_OR_ABOVE: return above;
  case LZQ_AT_OR_BELOW: return high <= band->works + LZQ_EDGE;
  case LZQ_BETWEEN: return above && high <= band->works_high + LZQ_EDGE;
  }
  return false;
}

// How far to the wrong side: positive outside, the larger the worse.
static double
badness(const lzq_band *band, const lzq_spoken *reading)
{
  const double below = band->works - reading->low;
  switch (band->side) {
  case LZQ_AT_OR_ABOVE: return below;
  case LZQ_AT_OR_BELOW: return reading->high - band->works;
  case LZQ_BETWEEN: return fmax(below, reading->high - band->works_high);
  }
  return below;
}

// Whether the reading exists for the band, and how the band sees it.
static bool
see(const lzq_band *band, const lzq_track_reading *reading, lzq_spoken *out)
{
  if (band->analyte == LZQ_COPPER && !lzq_track_sees(reading, band->form))
    return false;
  const double error = band->error_inside ? reading->error : 0;
  *out = (lzq_spoken){reading->at, reading->value - error, reading->value + error, false};
  out->good = effective(band, out->low, out->high);
  return !(reading->suspect && out->good);
}

// First reading that can matter: of the last minute up to the first stay in which one exists.
static size_t
first_that_matters(const sweeper *s, const lzq_track_reading *readings, size_t n)
{
  size_t low = 0, high = n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (readings[middle].at <= s->system->first_stay)
      low = middle + 1;
    else
      high = middle;
  }
  lzq_spoken ignored;
  while (low > 0 && !see(s->band, &readings[low - 1], &ignored))
    low--;
  if (low == 0)
    return 0;
  const lzq_minute at = readings[low - 1].at;
  while (low > 0 && readings[low - 1].at == at)
    low--;
  return low;
}

static void
list_spoken(sweeper *s)
{
  const lzq_track_reading *readings = s->system->readings[s->band->analyte];
  const size_t n = s->system->n_readings[s->band->analyte];
  for (size_t i = first_that_matters(s, readings, n); i < n; i++) {
    lzq_spoken reading;
    if (!see(s->band, &readings[i], &reading))
      continue;
    lzq_spoken *last = s->n_spoken ? &s->scratch->spoken[s->n_spoken - 1] : NULL;
    if (last && last->at == reading.at) {
      if (badness(s->band, &reading) > badness(s->band, last))
        *last = reading;
      continue;
    }
    lzq_spoken *list = lzq_grow(s->arena, s->scratch->spoken, s->n_spoken,
                                &s->scratch->spoken_capacity, sizeof *list);
    if (!list) {
      s->no_memory = true;
      return;
    }
    s->scratch->spoken = list;
    list[s->n_spoken++] = reading;
  }
}

static void
add_run(sweeper *s, lzq_minute from, lzq_why why, bool firm)
{
  const lzq_run *last = s->n_runs ? &s->scratch->runs[s->n_runs - 1] : NULL;
  if (last && last->why == why && last->firm == firm)
    return;
  lzq_run *runs =
      lzq_grow(s->arena, s->scratch->runs, s->n_runs, &s->scratch->runs_capacity, sizeof *runs);
  if (!runs) {
    s->no_memory = true;
    return;
  }
  s->scratch->runs = runs;
  runs[s->n_runs++] = (lzq_run){from, (uint8_t)why, firm};
}

// back[j]: what `next` says of minutes after which events j and later happened. Event by event back
// from the reading; what cannot be undone makes it silent from there on.
static void
take_back(const sweeper *s, const lzq_spoken *next, const lzq_water_event *events, size_t n)
{
  uint8_t *back = s->scratch->back;
  double low = next ? next->low : 0, high = next ? next->high : 0, kept = 1;
  uint8_t says = SILENT;
  if (next)
    says = next->good ? CONFIRMS : DENIES;
  back[n] = says;
  for (size_t j = n; j-- > 0;) {
    if (says != SILENT) {
      const double keep = events[j].keep;
      const double added = s->carried ? lzq_event_added(&events[j], s->band->analyte) : 0;
      kept *= keep;
      if (kept < 0.5 - LZQ_EDGE || isnan(added)) {
        says = SILENT;
      } else if (s->carried) {
        low = (low - added) / keep;
        high = (high - added) / keep;
        says = effective(s->band, low, high) ? CONFIRMS : DENIES;
      }
    }
    back[j] = says;
  }
}

// The answer of minutes from .. to-1, of which only the age of the reading is not yet judged.
static void
add_piece(sweeper *s, lzq_minute from, lzq_minute to, lzq_minute read_at, lzq_why carried,
          uint8_t says)
{
  const lzq_minute old = read_at + s->band->gap_min + 1;
  if (from < old) {
    lzq_why why = carried;
    if (why == LZQ_WHY_NONE && says == DENIES)
      why = LZQ_WHY_NEXT_BAD;
    add_run(s, from, why, why == LZQ_WHY_NONE && says == CONFIRMS);
  }
  if (to > old)
    add_run(s, from > old ? from : old, LZQ_WHY_LAST_OLD, false);
}

// From one reading to the next (NULL = none yet), with the events from its minute on.
static void
add_window(sweeper *s, const lzq_spoken *last, const lzq_spoken *next,
           const lzq_water_event *events, size_t n)
{
  if (!last->good) {
    add_run(s, last->at, LZQ_WHY_LAST_BAD, false);
    return;
  }
  take_back(s, next, events, n);
  const lzq_minute end = next ? next->at : LZQ_NEVER;
  double low = last->low, high = last->high;
  bool unknown = false;
  lzq_minute from = last->at;
  for (size_t j = 0; from < end;) {
    for (; j < n && events[j].at == from; j++) {
      const double added = s->carried ? lzq_event_added(&events[j], s->band->analyte) : 0;
      unknown = unknown || isnan(added);
      low = s->carried ? low * events[j].keep + added : low;
      high = s->carried ? high * events[j].keep + added : high;
    }
    const lzq_minute to = j < n ? events[j].at : end;
    lzq_why why = effective(s->band, low, high) ? LZQ_WHY_NONE : LZQ_WHY_CARRIED_BAD;
    if (unknown)
      why = LZQ_WHY_CARRIED_UNKNOWN;
    add_piece(s, from, to, last->at, why, s->scratch->back[j]);
    from = to;
  }
}

// Room for what the next reading says, before and after each of n events.
static bool
reserve_back(sweeper *s, size_t n)
{
  if (n < s->scratch->back_capacity)
    return true;
  const size_t capacity = n * 2 + 64;
  uint8_t *back = LZQ_NEW(s->arena, uint8_t, capacity);
  if (!back)
    return false;
  s->scratch->back = back;
  s->scratch->back_capacity = capacity;
  return true;
}

static void
add_windows(sweeper *s)
{
  const lzq_water_event *events = s->system->events;
  const size_t n_events = s->system->n_events;
  size_t first = 0;
  for (size_t i = 0; i < s->n_spoken && !s->no_memory; i++) {
    const lzq_spoken *last = &s->scratch->spoken[i];
    const lzq_spoken *next = i + 1 < s->n_spoken ? last + 1 : NULL;
    while (first < n_events && events[first].at < last->at)
      first++;
    size_t end = first;
    while (end < n_events && (!next || events[end].at < next->at))
      end++;
    if (!reserve_back(s, end - first)) {
      s->no_memory = true;
      return;
    }
    add_window(s, last, next, events + first, end - first);
    first = end;
  }
}

lzq_status
lzq_sweep_make(const lzq_track_system *system, const lzq_band *band, bool whole,
               lzq_sweep_scratch *scratch, lzq_arena *arena, lzq_swept *out)
{
  sweeper s = {.system = system,
               .band = band,
               .carried = lzq_analyte_carried(band->analyte),
               .scratch = scratch,
               .arena = arena};
  if (whole)
    add_run(&s, LZQ_LONG_AGO, LZQ_WHY_NO_READING, false);
  if (!s.no_memory)
    list_spoken(&s);
  if (!s.no_memory)
    add_windows(&s);
  if (s.no_memory)
    return LZQ_NO_MEMORY;
  *out = (lzq_swept){scratch->runs, s.n_runs, scratch->spoken, s.n_spoken};
  return LZQ_OK;
}

size_t
lzq_sweep_find(const lzq_sweep *sweep, lzq_minute t)
{
  size_t low = 0, high = sweep->n_runs;
  while (high - low > 1) {
    size_t middle = low + (high - low) / 2;
    if (sweep->runs[middle].from <= t)
      low = middle;
    else
      high = middle;
  }
  return low;
}

size_t
lzq_sweep_spoken(const lzq_sweep *sweep, lzq_minute t)
{
  size_t low = 0, high = sweep->n_spoken;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (sweep->spoken[middle] <= t)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

lzq_minute
lzq_sweep_next(const lzq_sweep *sweep, lzq_minute t)
{
  const size_t i = lzq_sweep_spoken(sweep, t);
  return i < sweep->n_spoken ? sweep->spoken[i] : LZQ_NEVER;
}
