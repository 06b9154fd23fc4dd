// SPDX-License-Identifier: GPL-3.0-or-later
// Draws the records. A simple true level of each water is kept alongside, so that most readings fit
// the doses and changes before them, as they do in life; the rest are on an edge, beside it, or
// wild.
#include "random_records.h"

#include <math.h>
#include <string.h>

typedef struct {
  lzt_prng *p;
  const lzt_wish *wish;
  lzt_history *h;
  lzq_minute now, end, read_at; // read_at: of the last reading anywhere
  double level[LZT_MOST_SYSTEMS][LZQ_N_ANALYTES];
  uint32_t at[LZT_MOST_LOTS]; // tank of a lot that is here, LZQ_NONE
  bool used[LZT_MOST_LOTS];
} scene;

double
lzt_usual_level(lzq_analyte analyte)
{
  switch (analyte) {
  case LZQ_COPPER: return 0.5;
  case LZQ_SALINITY: return 16;
  case LZQ_TEMPERATURE: return 26;
  case LZQ_PRAZIQUANTEL: return 2;
  case LZQ_PH: return 8;
  default: return 1;
  }
}

static lzq_record *
add(scene *s, lzq_record_kind kind)
{
  lzq_record *r = &s->h->records[s->h->snap.n_records++];
  *r = (lzq_record){
      .id = s->h->snap.n_records,
      .kind = (uint8_t)kind,
      .at = s->now,
      .system = LZQ_NONE,
      .tank = LZQ_NONE,
      .lot = LZQ_NONE,
      .other = LZQ_NONE,
      .instrument = LZQ_NONE,
      .bottle = LZQ_NONE,
      .protocol = LZQ_NONE,
      .phase = LZQ_NONE,
      .error = NAN,
      .new_copper = NAN,
      .new_salinity = NAN,
  };
  return r;
}

static uint32_t
pick(scene *s, uint32_t n)
{
  return (uint32_t)lzt_prng_range(s->p, 0, (int64_t)n - 1);
}

// A gap that some band of the station allows.
static int32_t
some_gap(scene *s)
{
  const lzq_phase *phase = &s->h->phases[pick(s, s->h->snap.n_phases)];
  return phase->n_bands ? phase->bands[pick(s, phase->n_bands)].gap_min : 300;
}

static void
advance(scene *s, double mean)
{
  double luck = lzt_prng_real(s->p, 0, 1);
  if (luck < 0.3)
    return;
  if (luck < 0.42 && s->read_at > LZQ_LONG_AGO) {
    lzq_minute edge = s->read_at + some_gap(s) + lzt_prng_range(s->p, -1, 1);
    if (edge > s->now && edge < s->end)
      s->now = edge;
    return;
  }
  if (luck < 0.5)
    s->now++;
  else
    s->now += (lzq_minute)(mean * lzt_prng_real(s->p, 0, 2.6));
}

// What a test of this analyte would show.
static double
shown(scene *s, double level, lzq_analyte analyte)
{
  static const double beside[] = {0, 0.9e-9, -0.9e-9, 1.1e-9, -1.1e-9, 0.01, -0.01};
  double usual = lzt_usual_level(analyte), luck = lzt_prng_real(s->p, 0, 1);
  if (luck < 0.6)
    return level;
  if (luck < 0.7)
    return usual + beside[pick(s, 7)];
  if (luck < 0.77)
    return usual * 1.25 + beside[pick(s, 7)];
  return usual * lzt_prng_real(s->p, luck < 0.97 ? 0.98 : 0, luck < 0.97 ? 1.24 : 2);
}

static void
draw_reading(scene *s, uint32_t system, lzq_analyte analyte)
{
  lzq_record *r = add(s, LZQ_REC_READING);
  double *level = &s->level[system][analyte];
  r->system = system;
  r->analyte = (uint8_t)analyte;
  r->instrument = lzt_prng_chance(s->p, 0.75) ? 0 : pick(s, s->h->snap.n_instruments);
  double usual = lzt_usual_level(analyte);
  if ((*level < usual || *level > usual * 1.25) && lzt_prng_chance(s->p, 0.6))
    *level = usual * lzt_prng_real(s->p, 1, 1.2); // somebody put it right, and wrote nothing
  r->value = shown(s, *level, analyte);
  *level = r->value;
  if (lzt_prng_chance(s->p, 0.1))
    r->error = lzt_prng_chance(s->p, 0.5) ? 0 : lzt_usual_level(analyte) * 0.02;
  r->suspect = lzt_prng_chance(s->p, 0.12);
  for (size_t i = s->h->snap.n_records - 1; i-- > 0 && !r->confirms;)
    if (s->h->records[i].kind == LZQ_REC_READING && s->h->records[i].suspect &&
        s->h->records[i].system == system && s->h->records[i].analyte == analyte &&
        lzt_prng_chance(s->p, 0.4))
      r->confirms = s->h->records[i].id;
  s->read_at = s->now;
}

static void
draw_test(scene *s, uint32_t system)
{
  bool done[LZQ_N_ANALYTES] = {false};
  for (uint32_t i = 0; i < s->h->snap.n_phases; i++)
    for (uint32_t b = 0; b < s->h->phases[i].n_bands; b++) {
      lzq_analyte analyte = s->h->phases[i].bands[b].analyte;
      if (!done[analyte] && lzt_prng_chance(s->p, 0.8))
        draw_reading(s, system, analyte);
      done[analyte] = true;
    }
}

static void
draw_change(scene *s)
{
  static const double shares[] = {0.05, 0.1, 0.25, 0.3, 0.5, 0.55, 1, 1.2};
  lzq_record *r = add(s, LZQ_REC_CHANGE);
  r->system = pick(s, s->h->snap.n_systems);
  double volume = s->h->systems[r->system].volume_l, share = shares[pick(s, 8)];
  double *copper = &s->level[r->system][LZQ_COPPER], *salt = &s->level[r->system][LZQ_SALINITY];
  r->amount = share * volume;
  r->drip = lzt_prng_chance(s->p, 0.25);
  share = r->drip ? 1 - exp(-share) : fmin(share, 1);
  if (lzt_prng_chance(s->p, 0.6))
    r->new_copper = lzt_prng_chance(s->p, 0.5) ? *copper : 0.6;
  if (!lzt_prng_chance(s->p, 0.12))
    r->new_salinity = lzt_prng_chance(s->p, 0.6) ? *salt : 35;
  *copper += ((isnan(r->new_copper) ? 0 : r->new_copper) - *copper) * share;
  *salt += ((isnan(r->new_salinity) ? 20 : r->new_salinity) - *salt) * share;
  s->level[r->system][LZQ_PRAZIQUANTEL] *= 1 - share;
}

// Something may be late: lots that merge bring clocks of their own.
static bool
is_series(const scene *s)
{
  for (uint32_t k = 1; k < s->h->protocols[0].n_phases; k++)
    if (s->h->phases[k].late_tolerance_min > 0)
      return true;
  return false;
}

static void
draw_dose(scene *s)
{
  static const lzq_analyte what[] = {LZQ_COPPER, LZQ_COPPER, LZQ_COPPER, LZQ_SALINITY,
                                     LZQ_PRAZIQUANTEL};
  lzq_record *r = add(s, LZQ_REC_DOSE);
  r->system = pick(s, s->h->snap.n_systems);
  r->analyte = (uint8_t)what[is_series(s) ? 4 : pick(s, 5)];
  r->form = r->analyte == LZQ_COPPER ? (uint8_t)lzt_prng_range(s->p, 1, 3) : 0;
  double up = lzt_usual_level((lzq_analyte)r->analyte) * lzt_prng_real(s->p, 0.01, 0.4);
  if (lzt_prng_chance(s->p, 0.3)) // exactly up to the edge
    up = fmax(0, lzt_usual_level((lzq_analyte)r->analyte) - s->level[r->system][r->analyte]);
  r->amount = up * s->h->systems[r->system].volume_l;
  r->drip = lzt_prng_chance(s->p, 0.25); // mixed into new water, which may come or not
  s->level[r->system][r->analyte] += up;
}

static void
draw_water_event(scene *s)
{
  double luck = lzt_prng_real(s->p, 0, 1);
  if (luck < 0.4) {
    draw_change(s);
  } else if (luck < 0.75) {
    draw_dose(s);
  } else if (luck < 0.85) {
    lzq_record *r = add(s, LZQ_REC_TOPUP);
    r->system = pick(s, s->h->snap.n_systems);
    r->amount = s->h->systems[r->system].volume_l * lzt_prng_real(s->p, 0.01, 0.1);
    r->new_salinity = lzt_prng_chance(s->p, 0.8) ? 0 : lzt_prng_chance(s->p, 0.8) ? 35 : NAN;
  } else if (luck < 0.92) {
    lzq_record *r = add(s, LZQ_REC_GEAR);
    r->system = pick(s, s->h->snap.n_systems);
    r->gear = (uint8_t)lzt_prng_range(s->p, LZQ_GEAR_UV, LZQ_GEAR_RESIN);
    r->ok = lzt_prng_chance(s->p, 0.6);
  } else if (luck < 0.97) {
    lzq_record *r = add(s, LZQ_REC_VOLUME);
    r->system = pick(s, s->h->snap.n_systems);
    r->amount = s->h->systems[r->system].volume_l * lzt_prng_real(s->p, 0.7, 1.3);
  } else {
    lzq_record *r = add(s, LZQ_REC_STATE);
    r->system = pick(s, s->h->snap.n_systems);
    r->state = LZQ_STATE_STOCKED;
  }
}

static void
draw_course(scene *s, uint32_t lot)
{
  lzq_record *r = add(s, LZQ_REC_COURSE);
  r->lot = lot;
  r->protocol = pick(s, s->h->snap.n_protocols);
  r->phase = lzt_prng_chance(s->p, 0.2) ? pick(s, s->h->protocols[r->protocol].n_phases) : 0;
  r->keep = lzt_prng_chance(s->p, r->protocol == 1 ? 0.6 : 0.4);
}

static uint32_t
lot_here(scene *s)
{
  uint32_t lot = LZQ_NONE;
  for (int tries = 0; tries < 8 && (lot == LZQ_NONE || s->at[lot] == LZQ_NONE); tries++)
    lot = pick(s, s->h->snap.n_lots);
  return s->at[lot] == LZQ_NONE ? LZQ_NONE : lot;
}

static void
receive(scene *s, uint32_t lot)
{
  lzq_record *r = add(s, LZQ_REC_RECEIVE);
  r->lot = lot;
  r->tank = pick(s, s->h->snap.n_tanks);
  r->heads = (int32_t)lzt_prng_range(s->p, 4, 20);
  s->at[lot] = r->tank;
  s->used[lot] = true;
  if (lzt_prng_chance(s->p, 0.92))
    draw_course(s, lot);
}

static uint32_t
unused_lot(scene *s)
{
  for (uint32_t i = 0; i < s->h->snap.n_lots; i++)
    if (!s->used[i])
      return i;
  return LZQ_NONE;
}

static void
draw_split(scene *s, uint32_t lot)
{
  uint32_t other = unused_lot(s);
  if (other == LZQ_NONE)
    return;
  lzq_record *r = add(s, LZQ_REC_SPLIT);
  r->lot = lot;
  r->other = other;
  r->heads = (int32_t)lzt_prng_range(s->p, 1, 3);
  s->used[other] = true;
  s->at[other] = s->at[lot];
}

static void
draw_merge(scene *s, uint32_t lot)
{
  uint32_t other = lot_here(s);
  if (other == lot || other == LZQ_NONE)
    return;
  lzq_record *r = add(s, LZQ_REC_MERGE);
  r->lot = lot;
  r->other = other;
}

// An act that changes which fish is where or under what.
static void
draw_great_act(scene *s, uint32_t lot)
{
  double luck = lzt_prng_real(s->p, 0, 1);
  if (is_series(s) && lzt_prng_chance(s->p, 0.3)) {
    draw_merge(s, lot);
  } else if (luck < 0.45) {
    lzq_record *r = add(s, LZQ_REC_MOVE);
    r->lot = lot;
    r->tank = s->at[lot] = pick(s, s->h->snap.n_tanks);
  } else if (luck < 0.6) {
    draw_split(s, lot);
  } else if (luck < 0.72) {
    draw_merge(s, lot);
  } else if (luck < 0.76) {
    add(s, LZQ_REC_STOP)->lot = lot;
  } else if (luck < 0.9) {
    draw_course(s, lot);
  } else {
    add(s, LZQ_REC_RELEASE)->lot = lot;
    s->at[lot] = lzt_prng_chance(s->p, 0.9) ? LZQ_NONE : s->at[lot];
  }
}

static void
draw_small_act(scene *s, uint32_t lot)
{
  double luck = lzt_prng_real(s->p, 0, 1);
  lzq_record *r;
  if (luck < 0.08) {
    r = add(s, LZQ_REC_BATH);
    r->analyte = lzt_prng_chance(s->p, 0.8) ? LZQ_PRAZIQUANTEL : LZQ_FORMALIN;
    r->heads = (int32_t)(lzt_prng_chance(s->p, 0.5) ? 0 : lzt_prng_range(s->p, 1, 12));
    r->value = (double)lzt_prng_range(s->p, 0, 80);
    r->amount = lzt_prng_chance(s->p, 0.1) ? NAN : lzt_prng_real(s->p, 1.5, 3);
    r->error = lzt_prng_chance(s->p, 0.5) ? NAN : lzt_prng_real(s->p, 15, 28);
    r->ok = lzt_prng_chance(s->p, 0.9);
  } else if (luck < 0.3) {
    r = add(s, LZQ_REC_FEED);
    r->amount = lzt_prng_chance(s->p, 0.3) ? 0.5 : lzt_prng_real(s->p, 0, 1);
    r->day = (int32_t)(s->now / 1440);
  } else if (luck < 0.5) {
    r = add(s, LZQ_REC_SIGN);
    r->phase = (uint32_t)lzt_prng_range(s->p, 0, 3);
    r->ok = lzt_prng_chance(s->p, 0.5);
  } else if (luck < 0.62) {
    r = add(s, LZQ_REC_ACCEPT);
    r->phase = (uint32_t)lzt_prng_range(s->p, 0, 3);
    r->amount = (double)lzt_prng_range(s->p, 1, 400);
  } else if (luck < 0.75) {
    r = add(s, LZQ_REC_ACCEPT_OPEN);
  } else if (luck < 0.87) {
    r = add(s, LZQ_REC_DEATH);
    r->heads = (int32_t)lzt_prng_range(s->p, 1, 3);
  } else {
    r = add(s, LZQ_REC_COUNT);
    r->heads = (int32_t)lzt_prng_range(s->p, lzt_prng_chance(s->p, 0.1) ? 0 : 1, 12);
  }
  r->lot = lot;
}

static void
draw_one(scene *s)
{
  double luck = lzt_prng_real(s->p, 0, 1);
  uint32_t lot = lot_here(s);
  if (luck < 0.42) {
    draw_test(s, pick(s, s->h->snap.n_systems));
  } else if (luck < 0.66) {
    draw_water_event(s);
  } else if (luck < 0.71) {
    lzq_record *r = add(s, LZQ_REC_CHECK);
    r->instrument = pick(s, s->h->snap.n_instruments);
    r->ok = lzt_prng_chance(s->p, 0.65);
  } else if (luck < 0.725) {
    lzq_record *r = add(s, LZQ_REC_SIGHTING);
    r->system = pick(s, s->h->snap.n_systems);
    r->heads = 1;
  } else if (luck < 0.76 && unused_lot(s) != LZQ_NONE) {
    receive(s, unused_lot(s));
  } else if (lot != LZQ_NONE && luck < 0.88) {
    draw_small_act(s, lot);
  } else if (lot != LZQ_NONE && !s->wish->plain) {
    draw_great_act(s, lot);
  }
}

void
lzt_random_records(lzt_prng *prng, const lzt_wish *wish, lzt_history *history)
{
  lzq_minute base = lzt_prng_range(prng, 29000000, 29500000);
  scene s = {prng, wish, history, base, base + wish->days * 1440, LZQ_LONG_AGO, {{0}}, {0}, {0}};
  double mean = wish->days * 1440.0 / wish->records * 1.3;
  for (int i = 0; i < LZT_MOST_SYSTEMS; i++)
    for (int a = 0; a < LZQ_N_ANALYTES; a++)
      s.level[i][a] = lzt_usual_level((lzq_analyte)a) * lzt_prng_real(prng, 0.99, 1.2);
  for (uint32_t i = 0; i < LZT_MOST_LOTS; i++)
    s.at[i] = LZQ_NONE;
  uint32_t first = (uint32_t)lzt_prng_range(prng, 1, history->snap.n_lots);
  for (uint32_t i = 0; i < first; i++)
    receive(&s, i);
  for (uint32_t i = 0; i < history->snap.n_systems; i++)
    if (lzt_prng_chance(prng, 0.7))
      draw_test(&s, i);
  while (s.now < s.end && (int)history->snap.n_records < wish->records * 2 &&
         history->snap.n_records + 40 < LZT_MOST_RECORDS / 2) {
    draw_one(&s);
    advance(&s, mean);
  }
  if (wish->corrections)
    lzt_disturb(prng, history);
  for (int64_t n = wish->corrections ? lzt_prng_range(prng, 0, 4) : 0; n > 0; n--)
    lzt_draw_correction(prng, history);
  history->until = lzt_prng_chance(prng, 0.2) ? s.now : s.end;
  history->known_id = lzt_prng_chance(prng, 0.85)
                          ? UINT64_MAX
                          : (uint64_t)lzt_prng_range(prng, 1, (int64_t)history->snap.n_records);
}
