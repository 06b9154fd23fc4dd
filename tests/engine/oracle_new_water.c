// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle's doses in new water: for each by itself, whether it waits and what brings it in.
// Straight loops over everything.
#include <math.h>
#include <stdlib.h>

#include "oracle_parts.h"

#define NOTHING   SIZE_MAX
#define TWO_HOURS 120

static bool
is_change(const lzt_known *known, size_t i, uint32_t system)
{
  const lzq_record *r = known->events[i].r;
  return r->kind == LZQ_REC_CHANGE && r->system == system && r->amount > 0;
}

static bool
is_alike(const lzt_known *known, size_t i, const lzq_record *dose)
{
  const lzq_record *r = known->events[i].r;
  return r->kind == LZQ_REC_DOSE && r->system == dose->system && r->analyte == dose->analyte;
}

// The change that brings a waiting dose in; NOTHING, and *over the minute in which it is taken to
// be in.
static size_t
brought_by(const lzt_known *known, const bool *waits, size_t dose, lzq_minute *over)
{
  const lzq_record *r = known->events[dose].r;
  *over = r->at + LZQ_DAY;
  for (size_t i = dose + 1; i < known->n && known->events[i].r->at <= *over; i++) {
    if (is_change(known, i, r->system))
      return i;
    if (is_alike(known, i, r) && waits[i])
      *over = known->events[i].r->at + LZQ_DAY;
  }
  return NOTHING;
}

static bool
has_come(const lzt_known *known, const bool *waits, size_t dose, size_t change)
{
  lzq_minute over;
  for (size_t i = 0; i < dose; i++)
    if (is_alike(known, i, known->events[dose].r) &&
        (waits[i] ? i < change && brought_by(known, waits, i, &over) == change : i > change))
      return true;
  return false;
}

static bool
is_for_new_water(const lzq_record *r)
{
  static const uint8_t carried[] = {LZQ_COPPER, LZQ_PRAZIQUANTEL, LZQ_CHLOROQUINE, LZQ_FORMALIN,
                                    LZQ_PEROXIDE};
  for (size_t i = 0; i < sizeof carried; i++)
    if (r->kind == LZQ_REC_DOSE && r->drip && r->amount > 0 && r->analyte == carried[i])
      return true;
  return false;
}

static bool
has_to_wait(const lzt_known *known, const bool *waits, size_t dose)
{
  const lzq_record *r = known->events[dose].r;
  size_t change = NOTHING;
  for (size_t i = 0; i < dose; i++)
    if (is_change(known, i, r->system))
      change = i;
  if (!is_for_new_water(r) || change == NOTHING)
    return is_for_new_water(r);
  const lzq_minute ago = r->at - known->events[change].r->at;
  return ago > TWO_HOURS || (ago > 0 && has_come(known, waits, dose, change));
}

void
lzt_new_water(lzt_known *known)
{
  bool *waits = lzt_zeroed(known->n, sizeof *waits);
  for (size_t i = 0; i < known->n; i++)
    waits[i] = has_to_wait(known, waits, i);
  for (size_t i = 0; i < known->n; i++) {
    if (!waits[i])
      continue;
    lzt_event *e = &known->events[i];
    const size_t change = brought_by(known, waits, i, &e->at);
    if (change == NOTHING) {
      for (size_t k = i; k < known->n && known->events[k].r->at <= e->at; k++)
        if (known->events[k].r->kind == LZQ_REC_VOLUME &&
            known->events[k].r->system == e->r->system)
          e->volume = known->events[k].r->amount;
      continue;
    }
    const lzt_event *with = &known->events[change];
    const double litres = with->r->amount;
    e->at = with->r->at;
    e->with = with->r;
    e->with_order = with->order;
    e->volume = with->volume;
    e->amount *= with->r->drip ? (1 - exp(-litres / e->volume)) * e->volume / litres
                               : fmin(litres, e->volume) / litres;
  }
  free(waits);
}
