// SPDX-License-Identifier: GPL-3.0-or-later
// A water as its record leaves it: carried levels, last good readings, the dose that no reading has
// closed, gear, and the levels of the last 1,440 minutes that rate limits look at. One pass over
// its facts, or over those behind its cut, kept in the book until one of them changes. What a
// reading is worth was judged with the track. A suspect one never moves the plan: it asks for a
// repeat.
#include <math.h>

#include "lzq_balance.h"
#include "lzq_book_work.h"
#include "lzq_gate.h"

void
lzq_trace_push(lzq_trace *trace, lzq_minute at, double med, double sal, double share, bool dip)
{
  if (trace->n == LZQ_TRACE) { // the oldest point gives way: two become the base
    for (uint32_t i = 1; i < LZQ_TRACE; i++) {
      trace->at[i - 1] = trace->at[i];
      trace->level[i - 1][0] = trace->level[i][0];
      trace->level[i - 1][1] = trace->level[i][1];
      trace->share[i - 1] = trace->share[i];
      trace->dip[i - 1] = trace->dip[i];
    }
    trace->n--;
  }
  uint32_t i = trace->n++;
  trace->at[i] = at;
  trace->level[i][LZQ_MED] = med;
  trace->level[i][LZQ_SAL] = sal;
  trace->share[i] = share;
  trace->dip[i] = dip;
}

static void
note(lzq_taker *t, lzq_minute at, double share)
{
  lzq_trace *ring = &t->water->trace;
  const uint32_t i = t->n_points++ % LZQ_TRACE;
  ring->at[i] = at;
  ring->level[i][LZQ_MED] = t->water->guess[LZQ_COPPER];
  ring->level[i][LZQ_SAL] = t->water->guess[LZQ_SALINITY];
  ring->share[i] = share;
  ring->dip[i] = share > 0;
}

// Points first .. of a ring of n points so far, in their order.
static lzq_trace
unrolled(const lzq_trace *ring, uint64_t first, uint64_t n)
{
  lzq_trace out = {0};
  for (uint64_t p = first; p < n; p++) {
    const uint32_t i = p % LZQ_TRACE;
    lzq_trace_push(&out, ring->at[i], ring->level[i][LZQ_MED], ring->level[i][LZQ_SAL],
                   ring->share[i], ring->dip[i]);
  }
  return out;
}

static void
take_reading(lzq_taker *t, uint8_t a, const lzq_track_reading *r)
{
  lzq_water_state *water = t->water;
  if (a == LZQ_COPPER && !lzq_track_sees(r, LZQ_FORM_NONE))
    return;
  lzq_last_reading reading = {r->at, r->value, r->error};
  if (r->suspect) {
    const bool another = water->doubt[a].at > water->read[a].at;
    water->doubted[a] = another ? fmax(water->doubted[a], r->value) : r->value;
    water->doubt[a] = reading;
    if (water->read[a].at == LZQ_LONG_AGO) // nothing better is known, and none is not none
      water->guess[a] = r->value;
    return;
  }
  water->read[a] = reading;
  water->doubt[a].at = LZQ_LONG_AGO;
  water->level[a] = water->guess[a] = r->value;
  water->carried_error[a] = reading.error;
  if (water->open_at[a] != LZQ_LONG_AGO &&
      lzq_reading_closes_dose(water->open_at[a], r->at, t->mixing_min)) {
    water->open_at[a] = LZQ_LONG_AGO;
    water->open_mg[a] = 0;
  }
  if (a == LZQ_COPPER || a == LZQ_SALINITY)
    note(t, r->at, 0);
}

static void
add_dose(lzq_water_state *water, uint8_t a, lzq_minute at, double mg)
{
  water->level[a] = lzq_after_dose(water->level[a], mg, water->volume_l);
  water->guess[a] = lzq_after_dose(water->guess[a], mg, water->volume_l);
  water->doubted[a] = lzq_after_dose(water->doubted[a], mg, water->volume_l);
  water->dose_at[a] = at;
  water->stirred_at[a] = at;
  if (a != LZQ_SALINITY) {
    water->open_mg[a] += mg;
    water->open_at[a] = at;
  }
}

// A dose into new water that no change has brought in for a day is not waited for any longer: it is
// taken to be in, which asks for a reading before the next.
static void
stop_waiting(lzq_water_state *water, lzq_minute now)
{
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    const lzq_minute at = water->waits_at[a];
    if (at == LZQ_LONG_AGO || at > now - LZQ_DAY)
      continue;
    add_dose(water, (uint8_t)a, at + LZQ_DAY, water->waits_mg[a]);
    water->waits_at[a] = LZQ_LONG_AGO;
    water->waits_mg[a] = 0;
  }
}

static void
take_change(lzq_taker *t, const lzq_fact *fact)
{
  lzq_water_state *water = t->water;
  double f = lzq_changed_share(fact->amount, water->volume_l, fact->mark.flags & LZQ_FACT_DRIP);
  double copper = isfinite(fact->extra) ? fact->extra : 0;
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    if (!lzq_analyte_carried((lzq_analyte)a))
      continue;
    double fresh = a == LZQ_COPPER ? copper : a == LZQ_SALINITY ? fact->new_salinity : 0;
    water->level[a] = lzq_after_change(water->level[a], f, fresh);
    if (isfinite(fresh))
      water->guess[a] = lzq_after_change(water->guess[a], f, fresh);
    water->doubted[a] = lzq_after_change(water->doubted[a], f, fresh);
    water->carried_error[a] *= 1 - f;
    water->stirred_at[a] = fact->mark.at;
  }
  note(t, fact->mark.at, f);
}

static void
take_dose(lzq_taker *t, const lzq_acted *acted)
{
  lzq_water_state *water = t->water;
  const uint8_t a = acted->fact->mark.analyte;
  if (a == LZQ_COPPER)
    water->form = (lzq_form)acted->fact->mark.which;
  if (acted->last) { // until a day is over, which is asked when the plan is made
    water->waits_at[a] = acted->fact->mark.at;
    water->waits_mg[a] += acted->fact->amount;
    return;
  }
  add_dose(water, a, acted->at, lzq_acted_mg(acted, water->volume_l));
  note(t, acted->at, 0);
}

static void
take_topup(lzq_water_state *water, const lzq_fact *fact)
{
  water->level[LZQ_SALINITY] = lzq_after_topup(water->level[LZQ_SALINITY], water->volume_l,
                                               fact->amount, fact->new_salinity);
  if (isfinite(fact->new_salinity))
    water->guess[LZQ_SALINITY] = lzq_after_topup(water->guess[LZQ_SALINITY], water->volume_l,
                                                 fact->amount, fact->new_salinity);
}

static void
take_gear(lzq_water_state *water, const lzq_mark *mark)
{
  const uint32_t bit = 1u << mark->which;
  const bool on = mark->flags & LZQ_FACT_OK;
  water->gear_known |= bit;
  water->gear_on = on ? water->gear_on | bit : water->gear_on & ~bit;
  for (int a = 0; on && a < LZQ_N_ANALYTES; a++)
    if (lzq_gear_takes_out(mark->which, (lzq_analyte)a))
      water->level[a] = NAN;
}

static void
take(lzq_taker *t, const lzq_acted *acted)
{
  const lzq_fact *fact = acted->fact;
  switch ((lzq_record_kind)fact->mark.kind) {
  case LZQ_REC_VOLUME: t->water->volume_l = fact->amount; break;
  case LZQ_REC_STATE:
    t->water->state = (lzq_state)fact->mark.which;
    if (t->water->state == LZQ_STATE_DISINFECTING)
      t->water->disinfected_at = fact->mark.at;
    break;
  case LZQ_REC_CHANGE: take_change(t, fact); break;
  case LZQ_REC_TOPUP: take_topup(t->water, fact); break;
  case LZQ_REC_DOSE: take_dose(t, acted); break;
  case LZQ_REC_GEAR: take_gear(t->water, &fact->mark); break;
  default: break;
  }
}

static lzq_water_state
state_begin(const lzq_system *given)
{
  lzq_water_state water = {
      .volume_l = given->volume_l,
      .state = LZQ_STATE_STOCKED,
      .sighting_at = LZQ_LONG_AGO,
      .used_to = LZQ_LONG_AGO,
      .disinfected_at = LZQ_LONG_AGO,
  };
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    water.level[a] = NAN;
    water.guess[a] = a == LZQ_SALINITY ? given->source_salinity : 0;
    water.read[a].at = water.doubt[a].at = water.dose_at[a] = LZQ_LONG_AGO;
    water.open_at[a] = water.stirred_at[a] = water.waits_at[a] = LZQ_LONG_AGO;
  }
  return water;
}

static lzq_taker
taker_begin(const lzq_system *given, lzq_water_state *water)
{
  *water = state_begin(given);
  return (lzq_taker){.water = water, .mixing_min = given->mixing_min};
}

// Index of the first fact behind the cut that is to be made now; 0 = it may stay as it is.
static size_t
next_cut(const lzq_book *book, const lzq_book_water *water)
{
  const lzq_list *facts = &water->facts;
  if (facts->n == 0)
    return 0;
  const lzq_minute last = lzq_list_at(facts, facts->n - 1)->at;
  if (water->cut.n && water->cut.at >= last - 2 * book->cut_min)
    return 0;
  return lzq_list_before(facts, water->cut.n, &(lzq_mark){.at = last - book->cut_min});
}

// Between two minutes, and no dose that was mixed before it comes in behind it.
static bool
can_cut(const lzq_list *facts, const lzq_acting *acting)
{
  const size_t n = acting->next;
  return n > 0 && n < facts->n && acting->n_held == 0 && !acting->letting_in &&
         lzq_list_at(facts, n - 1)->at < lzq_list_at(facts, n)->at;
}

static void
make_cut(lzq_book_water *water, const lzq_taker *taker, const lzq_acting *acting, uint8_t form)
{
  lzq_cut *cut = &water->cut;
  *cut = (lzq_cut){.n = acting->next,
                   .at = lzq_list_at(&water->facts, acting->next)->at,
                   .form = form,
                   .waits = acting->waits,
                   .taker = *taker,
                   .state = *taker->water};
  cut->taker.water = NULL;
}

// Facts from the track's first one on, a cut on the way.
static void
take_facts(lzq_book_water *water, lzq_taker *t, size_t cut_at)
{
  size_t taken[LZQ_N_ANALYTES] = {0};
  uint8_t form = water->track_whole ? LZQ_NO_FORM : water->cut.form;
  lzq_acting acting;
  lzq_acted acted;
  for (lzq_acting_begin(&acting, &water->facts, water->track_whole ? NULL : &water->cut);;) {
    if (cut_at && acting.next >= cut_at && can_cut(&water->facts, &acting)) {
      make_cut(water, t, &acting, form);
      cut_at = 0;
    }
    if (!lzq_acting_next(&acting, &acted))
      return;
    const lzq_mark *mark = &acted.fact->mark;
    if (mark->kind == LZQ_REC_READING)
      take_reading(t, mark->analyte, &water->track.readings[mark->analyte][taken[mark->analyte]++]);
    else
      take(t, &acted);
    if (mark->kind == LZQ_REC_DOSE && mark->analyte == LZQ_COPPER)
      form = mark->which;
  }
}

// Of all the water's facts, with the trace of the last points however old; NULL = no memory.
static const lzq_water_state *
state_of(lzq_book *book, uint32_t system)
{
  lzq_book_water *water = lzq_book_water_of(book, system);
  if (!water || water->state_made)
    return water ? &water->state : NULL;
  if (!lzq_book_track(book, system, water->cut.n == 0))
    return NULL;
  lzq_taker t = taker_begin(&book->setup.systems[system], &water->state);
  if (!water->track_whole) {
    t = water->cut.taker;
    t.water = &water->state;
    water->state = water->cut.state;
  }
  take_facts(water, &t, next_cut(book, water));
  const uint64_t n = t.n_points;
  water->state.trace = unrolled(&water->state.trace, n > LZQ_TRACE ? n - LZQ_TRACE : 0, n);
  water->state_made = true;
  return &water->state;
}

// Older than any window only the newest point counts, as the base.
static void
cut_trace(lzq_trace *trace, lzq_minute now)
{
  uint32_t first = 0;
  while (first + 1 < trace->n && trace->at[first + 1] <= now - LZQ_DAY)
    first++;
  if (first > 0)
    *trace = unrolled(trace, first, trace->n);
}

bool
lzq_book_state(lzq_book *book, uint32_t system, lzq_minute now, lzq_water_state *out)
{
  const lzq_water_state *state = state_of(book, system);
  if (!state)
    return false;
  *out = *state;
  cut_trace(&out->trace, now);
  stop_waiting(out, now);
  return true;
}
