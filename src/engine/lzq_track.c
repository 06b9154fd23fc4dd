// SPDX-License-Identifier: GPL-3.0-or-later
// One water's facts in two passes: one counts, one fills. Here it is decided what an event does to
// a level (with the volume in force) and which readings are suspect.
#include "lzq_track.h"

#include <math.h>

#include "lzq_balance.h"
#include "lzq_book_work.h"

typedef struct {
  const lzq_book *book;
  lzq_water_event *events;
  lzq_track_reading *readings[LZQ_N_ANALYTES];
  size_t n_events, n_readings[LZQ_N_ANALYTES];
  size_t *check_next; // by instrument: its first check after the minute reached
  double volume_l;
  uint8_t form; // of the last copper dose
} builder;

double
lzq_event_added(const lzq_water_event *event, lzq_analyte analyte)
{
  switch (analyte) {
  case LZQ_COPPER: return event->takes_out ? (double)NAN : event->copper;
  case LZQ_SALINITY: return event->salinity;
  default:
    if (event->takes_out && lzq_analyte_carried(analyte))
      return (double)NAN;
    return event->other_analyte == analyte ? event->other : 0;
  }
}

static bool
is_water_event(const lzq_fact *fact)
{
  switch (fact->mark.kind) {
  case LZQ_REC_CHANGE:
  case LZQ_REC_TOPUP: return fact->amount > 0;
  case LZQ_REC_DOSE: return true; // even an empty one says which form is in the water
  case LZQ_REC_GEAR:
    return (fact->mark.flags & LZQ_FACT_OK) && lzq_gear_takes_out(fact->mark.which, LZQ_COPPER);
  default: return false;
  }
}

// Readings come in the order of time, and the checks of a minute act before them.
static bool
is_suspect(const builder *b, const lzq_fact *fact)
{
  const lzq_book *book = b->book;
  if ((fact->mark.flags & LZQ_FACT_SUSPECT) && !lzq_book_tied(book, fact->id))
    return true;
  const uint32_t i = fact->mark.instrument;
  size_t first = 0, next = 0, end = 0;
  if (i != LZQ_NONE) {
    first = book->check_first[i];
    next = b->check_next[i];
    end = book->check_first[i + 1];
    while (next < end && book->check_items[next].at <= fact->mark.at)
      next++;
    b->check_next[i] = next;
  }
  if (next == first && !book->setup.station.trust_unchecked)
    return true;
  return (next > first && !book->check_items[next - 1].ok) ||
         (next < end && !book->check_items[next].ok);
}

static void
fill_reading(builder *b, const lzq_fact *fact)
{
  const uint32_t i = fact->mark.instrument;
  const lzq_instrument *instrument = i == LZQ_NONE ? NULL : &b->book->setup.instruments[i];
  const uint8_t form = b->form, analyte = fact->mark.analyte;
  double error = fact->extra;
  if (isnan(error))
    error = instrument ? instrument->error_abs + instrument->error_rel * fact->amount : 0;
  b->readings[analyte][b->n_readings[analyte]++] = (lzq_track_reading){
      .at = fact->mark.at,
      .value = fact->amount,
      .error = error,
      .sees = instrument ? (uint8_t)(instrument->sees_forms & 0xff) : 0xff,
      .form = form == LZQ_NO_FORM ? LZQ_FORM_NONE : form,
      .dosed = form != LZQ_NO_FORM,
      .suspect = is_suspect(b, fact),
  };
}

static void
fill_event(builder *b, const lzq_acted *acted)
{
  const lzq_fact *fact = acted->fact;
  const double volume_l = b->volume_l;
  lzq_water_event event = {.at = acted->at, .keep = 1, .other_analyte = LZQ_N_ANALYTES};
  if (fact->mark.kind == LZQ_REC_CHANGE) {
    const double share =
        lzq_changed_share(fact->amount, volume_l, fact->mark.flags & LZQ_FACT_DRIP);
    event.keep = 1 - share;
    event.copper = isnan(fact->extra) ? 0 : fact->extra * share;
    event.salinity = fact->new_salinity * share;
  } else if (fact->mark.kind == LZQ_REC_TOPUP) {
    event.salinity = fact->new_salinity * fact->amount / volume_l;
  } else if (fact->mark.kind == LZQ_REC_GEAR) {
    event.takes_out = true;
  } else {
    const double added = lzq_acted_mg(acted, volume_l) / volume_l;
    if (fact->mark.analyte == LZQ_COPPER) {
      event.copper = added;
      b->form = fact->mark.which;
    } else if (fact->mark.analyte == LZQ_SALINITY) {
      event.salinity = added;
    } else {
      event.other_analyte = fact->mark.analyte;
      event.other = added;
    }
  }
  b->events[b->n_events++] = event;
}

static bool
allocate(builder *b, const lzq_list *facts, size_t from, lzq_arena *arena)
{
  size_t n_events = 0, n_readings[LZQ_N_ANALYTES] = {0};
  for (size_t i = from; i < facts->n; i++) {
    const lzq_fact *fact = (const lzq_fact *)lzq_list_at(facts, i);
    if (fact->mark.kind == LZQ_REC_READING)
      n_readings[fact->mark.analyte]++;
    else
      n_events += is_water_event(fact);
  }
  b->events = LZQ_NEW(arena, lzq_water_event, n_events);
  bool ok = b->events != NULL;
  for (int a = 0; ok && a < LZQ_N_ANALYTES; a++) {
    if (!n_readings[a])
      continue;
    b->readings[a] = LZQ_NEW(arena, lzq_track_reading, n_readings[a]);
    ok = b->readings[a] != NULL;
  }
  return ok;
}

lzq_status
lzq_track_make(lzq_book *book, uint32_t system, bool whole, lzq_arena *arena, lzq_track_system *out)
{
  const lzq_list *facts = &book->waters[system].facts;
  const lzq_cut *cut = &book->waters[system].cut;
  builder b = {.book = book,
               .check_next = book->check_next,
               .volume_l = whole ? book->setup.systems[system].volume_l : cut->state.volume_l,
               .form = whole ? LZQ_NO_FORM : cut->form};
  if (!allocate(&b, facts, whole ? 0 : cut->n, arena))
    return LZQ_NO_MEMORY;
  for (uint32_t i = 0; i < book->setup.n_instruments; i++)
    b.check_next[i] = book->check_first[i];
  lzq_acting acting;
  lzq_acted acted;
  for (lzq_acting_begin(&acting, facts, whole ? NULL : cut); lzq_acting_next(&acting, &acted);) {
    const lzq_fact *fact = acted.fact;
    if (fact->mark.kind == LZQ_REC_VOLUME)
      b.volume_l = fact->amount;
    else if (fact->mark.kind == LZQ_REC_READING)
      fill_reading(&b, fact);
    else if (is_water_event(fact))
      fill_event(&b, &acted);
  }
  *out = (lzq_track_system){
      .events = b.events, .n_events = b.n_events, .first_stay = book->waters[system].first_stay};
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    out->readings[a] = b.readings[a];
    out->n_readings[a] = b.n_readings[a];
  }
  return LZQ_OK;
}
