// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle's record and waters: which entries count, which readings exist, and the three
// conditions of a credited minute. Straight loops over everything, no cleverness.
#include <math.h>
#include <stdlib.h>

#include "oracle_parts.h"

void *
lzt_zeroed(size_t count, size_t size)
{
  void *memory = calloc(count ? count : 1, size);
  if (!memory)
    abort();
  return memory;
}

static int
compare_events(const void *left, const void *right)
{
  const lzt_event *a = left, *b = right;
  if (a->r->at != b->r->at)
    return a->r->at < b->r->at ? -1 : 1;
  if (a->r->kind != b->r->kind)
    return a->r->kind < b->r->kind ? -1 : 1;
  return a->order < b->order ? -1 : a->order > b->order;
}

static int
by_acting(const void *left, const void *right)
{
  const lzt_event *a = left, *b = right;
  if (a->at != b->at)
    return a->at < b->at ? -1 : 1;
  const uint8_t a_kind = a->with ? a->with->kind : a->r->kind;
  const uint8_t b_kind = b->with ? b->with->kind : b->r->kind;
  if (a_kind != b_kind)
    return a_kind < b_kind ? -1 : 1;
  const uint64_t a_order = a->with ? a->with_order : a->order;
  const uint64_t b_order = b->with ? b->with_order : b->order;
  if (a_order != b_order)
    return a_order < b_order ? -1 : 1;
  return !!a->with - !!b->with; // right after its change
}

// The entry that speaks for this first entry, or NULL if it was taken away.
static const lzq_record *
effective(const lzq_snapshot *snap, const lzq_record *first, uint64_t known_id)
{
  const lzq_record *last = first;
  for (size_t i = 0; i < snap->n_records; i++) {
    const lzq_record *r = &snap->records[i];
    if (r->corrects == first->id && r->id <= known_id && (last == first || r->id > last->id))
      last = r;
  }
  return last != first && last->voided ? NULL : last;
}

// Net litres of a water after the first n events.
static double
volume_before(const lzt_known *known, uint32_t system, size_t n)
{
  double volume = system < known->snap->n_systems ? known->snap->systems[system].volume_l : 0;
  for (size_t i = 0; i < n; i++)
    if (known->events[i].r->kind == LZQ_REC_VOLUME && known->events[i].r->system == system)
      volume = known->events[i].r->amount;
  return volume;
}

lzt_known
lzt_known_make(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until)
{
  lzt_known known = {snapshot, lzt_zeroed(snapshot->n_records, sizeof(lzt_event)), 0};
  for (size_t i = 0; i < snapshot->n_records; i++) {
    const lzq_record *first = &snapshot->records[i];
    if (first->corrects || first->id > known_id)
      continue;
    const lzq_record *r = effective(snapshot, first, known_id);
    if (r && r->at <= until)
      known.events[known.n++] = (lzt_event){r, first->id, 0};
  }
  qsort(known.events, known.n, sizeof(lzt_event), compare_events);
  for (size_t i = 0; i < known.n; i++) {
    lzt_event *e = &known.events[i];
    e->at = e->r->at;
    e->amount = e->r->amount;
    e->volume = volume_before(&known, e->r->system, i + 1);
  }
  lzt_new_water(&known);
  return known;
}

static bool
good(const lzq_band *band, double low, double high)
{
  switch (band->side) {
  case LZQ_AT_OR_ABOVE: return low >= band->works - LZQ_EDGE;
  case LZQ_AT_OR_BELOW: return high <= band->works + LZQ_EDGE;
  case LZQ_BETWEEN: return low >= band->works - LZQ_EDGE && high <= band->works_high + LZQ_EDGE;
  }
  return false;
}

// How far to the wrong side.
static double
badness(const lzq_band *band, const lzt_serving *s)
{
  switch (band->side) {
  case LZQ_AT_OR_ABOVE: return band->works - s->low;
  case LZQ_AT_OR_BELOW: return s->high - band->works;
  case LZQ_BETWEEN: return fmax(band->works - s->low, s->high - band->works_high);
  }
  return 0;
}

static bool
carried(uint8_t analyte)
{
  return analyte == LZQ_COPPER || analyte == LZQ_SALINITY || analyte == LZQ_PRAZIQUANTEL ||
         analyte == LZQ_CHLOROQUINE || analyte == LZQ_FORMALIN || analyte == LZQ_PEROXIDE;
}

static bool
suspect(const lzt_known *known, const lzt_event *reading)
{
  const lzq_record *r = reading->r;
  if (r->suspect) {
    bool confirmed = false;
    for (size_t i = 0; i < known->n; i++)
      if (known->events[i].r->kind == LZQ_REC_READING && known->events[i].r->confirms &&
          known->events[i].r->confirms == reading->order)
        confirmed = true;
    if (!confirmed)
      return true;
  }
  if (r->instrument == LZQ_NONE)
    return !known->snap->station.trust_unchecked;
  const lzq_record *before = NULL, *after = NULL;
  for (size_t i = 0; i < known->n; i++) {
    const lzq_record *check = known->events[i].r;
    if (check->kind != LZQ_REC_CHECK || check->instrument != r->instrument)
      continue;
    if (check->at <= r->at)
      before = check;
    else if (!after)
      after = check;
  }
  return (before ? !before->ok : !known->snap->station.trust_unchecked) || (after && !after->ok);
}

static bool
sees(const lzt_known *known, const lzt_event *reading, const lzq_band *band)
{
  uint8_t form = band->form;
  if (band->analyte != LZQ_COPPER || reading->r->instrument == LZQ_NONE)
    return true;
  lzq_minute dosed_at = LZQ_LONG_AGO;
  for (size_t i = 0; i < known->n; i++) {
    const lzt_event *e = &known->events[i];
    if (e->r->kind == LZQ_REC_DOSE && e->r->analyte == LZQ_COPPER &&
        e->r->system == reading->r->system && e->at < reading->at && e->at >= dosed_at) {
      form = e->r->form;
      dosed_at = e->at;
    }
  }
  return form == LZQ_FORM_NONE ||
         (known->snap->instruments[reading->r->instrument].sees_forms & (1u << form));
}

static void
add_reading(lzt_water *water, const lzt_known *known, const lzt_event *e)
{
  const lzq_record *r = e->r;
  double error = 0;
  if (water->band->error_inside && !isnan(r->error))
    error = r->error;
  else if (water->band->error_inside && r->instrument != LZQ_NONE) {
    const lzq_instrument *with = &known->snap->instruments[r->instrument];
    error = with->error_abs + with->error_rel * r->value;
  }
  lzt_serving s = {r->at, r->value - error, r->value + error};
  if (!sees(known, e, water->band) || (good(water->band, s.low, s.high) && suspect(known, e)))
    return;
  lzt_serving *last = water->n_servings ? &water->servings[water->n_servings - 1] : NULL;
  if (!last || last->at != s.at)
    water->servings[water->n_servings++] = s;
  else if (badness(water->band, &s) > badness(water->band, last))
    *last = s;
}

lzt_water
lzt_water_make(const lzt_known *known, uint32_t system, const lzq_band *band)
{
  lzt_water water = {.band = band, .system = system};
  water.servings = lzt_zeroed(known->n, sizeof(lzt_serving));
  water.events = lzt_zeroed(known->n, sizeof(lzt_event));
  for (size_t i = 0; i < known->n; i++) {
    const lzt_event *e = &known->events[i];
    if (e->r->system != system)
      continue;
    switch (e->r->kind) {
    case LZQ_REC_READING:
      if (e->r->analyte == band->analyte)
        add_reading(&water, known, e);
      break;
    case LZQ_REC_CHANGE:
    case LZQ_REC_TOPUP:
    case LZQ_REC_DOSE:
    case LZQ_REC_GEAR: water.events[water.n_events++] = *e; break;
    default: break;
    }
  }
  qsort(water.events, water.n_events, sizeof(lzt_event), by_acting);
  return water;
}

// Share of the water that a change took out.
static double
share(const lzt_event *e)
{
  double part = e->r->amount / e->volume;
  if (e->r->kind != LZQ_REC_CHANGE)
    return 0;
  return e->r->drip ? 1 - exp(-part) : fmin(part, 1);
}

// Nobody knows the level of this analyte after this event.
static bool
blinds(const lzt_event *e, lzq_analyte analyte)
{
  if (e->r->kind == LZQ_REC_GEAR)
    return carried(analyte) && analyte != LZQ_SALINITY && e->r->ok &&
           (e->r->gear == LZQ_GEAR_CARBON || e->r->gear == LZQ_GEAR_RESIN);
  return analyte == LZQ_SALINITY && (e->r->kind == LZQ_REC_CHANGE || e->r->kind == LZQ_REC_TOPUP) &&
         isnan(e->r->new_salinity);
}

static double
new_level(const lzt_event *e, lzq_analyte analyte)
{
  if (analyte == LZQ_SALINITY)
    return e->r->new_salinity;
  if (analyte == LZQ_COPPER && e->r->kind == LZQ_REC_CHANGE && !isnan(e->r->new_copper))
    return e->r->new_copper;
  return 0;
}

// The level after this event, from the level before it.
static double
forward(const lzt_event *e, lzq_analyte analyte, double c)
{
  switch (e->r->kind) {
  case LZQ_REC_DOSE: return e->r->analyte == analyte ? c + e->amount / e->volume : c;
  case LZQ_REC_CHANGE: return c * (1 - share(e)) + new_level(e, analyte) * share(e);
  case LZQ_REC_TOPUP: return c + new_level(e, analyte) * e->r->amount / e->volume;
  default: return c;
  }
}

// The level before this event, from the level after it.
static double
back(const lzt_event *e, lzq_analyte analyte, double c)
{
  switch (e->r->kind) {
  case LZQ_REC_DOSE: return e->r->analyte == analyte ? c - e->amount / e->volume : c;
  case LZQ_REC_CHANGE: return (c - new_level(e, analyte) * share(e)) / (1 - share(e));
  case LZQ_REC_TOPUP: return c - new_level(e, analyte) * e->r->amount / e->volume;
  default: return c;
  }
}

// Condition 2: what the next reading says about minute t.
static lzt_word
ask_next(const lzt_water *water, const lzt_serving *next, lzq_minute t)
{
  lzq_analyte analyte = water->band->analyte;
  double low = next->low, high = next->high, left = 1;
  for (size_t i = water->n_events; i-- > 0;) {
    const lzt_event *e = &water->events[i];
    if (e->at <= t || e->at >= next->at)
      continue;
    left *= 1 - share(e);
    if (left < 0.5 - LZQ_EDGE || (carried(analyte) && blinds(e, analyte)))
      return (lzt_word){LZQ_WHY_NONE, LZQ_NEVER};
    if (carried(analyte)) {
      low = back(e, analyte, low);
      high = back(e, analyte, high);
    }
  }
  if (!good(water->band, low, high))
    return (lzt_word){LZQ_WHY_NEXT_BAD, LZQ_NEVER};
  return (lzt_word){LZQ_WHY_NONE, next->at};
}

lzt_word
lzt_water_judge(const lzt_water *water, lzq_minute t)
{
  const lzt_serving *last = NULL, *next = NULL;
  for (size_t i = 0; i < water->n_servings && !next; i++) {
    if (water->servings[i].at <= t)
      last = &water->servings[i];
    else
      next = &water->servings[i];
  }
  if (!last)
    return (lzt_word){LZQ_WHY_NO_READING, LZQ_NEVER};
  if (!good(water->band, last->low, last->high))
    return (lzt_word){LZQ_WHY_LAST_BAD, LZQ_NEVER};
  if (t - last->at > water->band->gap_min)
    return (lzt_word){LZQ_WHY_LAST_OLD, LZQ_NEVER};
  double low = last->low, high = last->high;
  bool unknown = false;
  lzq_analyte analyte = water->band->analyte;
  for (size_t i = 0; i < water->n_events && carried(analyte); i++) {
    const lzt_event *e = &water->events[i];
    if (e->at < last->at || e->at > t)
      continue;
    unknown |= blinds(e, analyte);
    low = forward(e, analyte, low);
    high = forward(e, analyte, high);
  }
  if (unknown)
    return (lzt_word){LZQ_WHY_CARRIED_UNKNOWN, LZQ_NEVER};
  if (!good(water->band, low, high))
    return (lzt_word){LZQ_WHY_CARRIED_BAD, LZQ_NEVER};
  return next ? ask_next(water, next, t) : (lzt_word){LZQ_WHY_NONE, LZQ_NEVER};
}
