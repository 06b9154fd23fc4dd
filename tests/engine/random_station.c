// SPDX-License-Identifier: GPL-3.0-or-later
// Draws the set-up (waters, instruments, protocols); random_records.c draws what happened.
#include "random_station.h"

#include <math.h>
#include <string.h>

#include "random_records.h"

lzt_wish
lzt_wish_ordinary(lzt_prng *prng)
{
  bool wide = lzt_prng_chance(prng, 0.05);
  int days = (int)lzt_prng_range(prng, 1, 5);
  return (lzt_wish){
      .days = lzt_prng_chance(prng, 0.5) ? (days + 1) / 2 : days,
      .lots = wide ? 6 : 3,
      .waters = wide ? 5 : 2,
      .records = (int)lzt_prng_range(prng, 8, wide ? 120 : 60),
      .corrections = lzt_prng_chance(prng, 0.5),
      .plain = lzt_prng_chance(prng, 0.2),
  };
}

static void
draw_waters(lzt_prng *p, const lzt_wish *wish, lzt_history *h)
{
  h->snap.n_systems = (uint32_t)lzt_prng_range(p, 1, wish->waters);
  for (uint32_t i = 0; i < h->snap.n_systems; i++) {
    h->systems[i] = (lzq_system){
        .volume_l = lzt_prng_chance(p, 0.5) ? 100 : lzt_prng_real(p, 40, 400),
        .role = (lzq_role)lzt_prng_range(p, 0, 1),
        .walk = (int32_t)i,
        .mixing_min = 60,
        .max_change_day = 1,
        .source_salinity = 35,
    };
    for (int64_t n = lzt_prng_range(p, 1, 2); n > 0; n--)
      h->tanks[h->snap.n_tanks++] =
          (lzq_tank){i, h->systems[i].volume_l / 2, (int32_t)h->snap.n_tanks + 1};
  }
  h->snap.n_instruments = (uint32_t)lzt_prng_range(p, 1, 4);
  for (uint32_t i = 0; i < h->snap.n_instruments; i++)
    h->instruments[i] = (lzq_instrument){
        .sees_forms = i ? (uint32_t)lzt_prng_range(p, 0, 15) : 15,
        .error_abs = lzt_prng_chance(p, 0.5) ? 0 : 0.02,
        .error_rel = lzt_prng_chance(p, 0.5) ? 0 : 0.05,
        .resolution = 0.01,
    };
  h->snap.n_bottles = 1;
  h->bottles[0] = (lzq_bottle){LZQ_COPPER, LZQ_FORM_IONIC, 10, 0};
}

static lzq_band
draw_band(lzt_prng *p)
{
  static const lzq_analyte analytes[] = {LZQ_COPPER,       LZQ_COPPER,   LZQ_COPPER,
                                         LZQ_SALINITY,     LZQ_SALINITY, LZQ_TEMPERATURE,
                                         LZQ_PRAZIQUANTEL, LZQ_PH};
  static const int32_t gaps[] = {120, 360, 480, 960, 1440};
  lzq_band band = {
      .analyte = analytes[lzt_prng_range(p, 0, 7)],
      .side = (lzq_side)lzt_prng_range(p, 0, 2),
      .plan = NAN,
      .harm = NAN,
      .gap_min = gaps[lzt_prng_range(p, 0, 4)],
      .error_inside = lzt_prng_chance(p, 0.3),
  };
  band.works = lzt_usual_level(band.analyte);
  band.works_high = band.works * 1.25;
  if (band.analyte == LZQ_COPPER) {
    band.form = (lzq_form)lzt_prng_range(p, 1, 3);
    band.side = lzt_prng_chance(p, 0.6) ? LZQ_AT_OR_ABOVE : band.side;
  }
  if (band.side == LZQ_AT_OR_BELOW)
    band.works = band.works_high; // so that one level can serve bands of every side
  band.target = band.side == LZQ_BETWEEN ? (band.works + band.works_high) / 2 : band.works;
  return band;
}

static int64_t
sometimes(lzt_prng *p, double chance, int64_t low, int64_t high)
{
  int64_t drawn = lzt_prng_range(p, low, high);
  return lzt_prng_chance(p, chance) ? drawn : 0;
}

static lzq_phase
draw_phase(lzt_prng *p, uint32_t index)
{
  lzq_phase phase = {
      .kind = LZQ_PHASE_HOLD,
      .place = lzt_prng_chance(p, 0.7) ? LZQ_PLACE_STAY : (lzq_place)lzt_prng_range(p, 0, 2),
      .role = (lzq_role)lzt_prng_range(p, 0, 1),
      .n_bands = (uint32_t)lzt_prng_range(p, 0, 2),
      .reach = lzt_prng_chance(p, 0.25),
      .min_elapsed_min = sometimes(p, 0.5, 1, 900),
      .min_credit_min = sometimes(p, 0.6, 1, 1200),
      .quiet_min = sometimes(p, 0.2, 1, 1000),
      .eating_days = (int32_t)sometimes(p, 0.15, 1, 2),
      .eaten_share = 0.5,
      .sign = lzt_prng_chance(p, 0.15) ? (lzq_sign)lzt_prng_range(p, 1, 2) : LZQ_SIGN_NOBODY,
      .lapse_min = lzt_prng_chance(p, 0.4) ? -1 : (int32_t)lzt_prng_range(p, 0, 600),
      .lapse = (lzq_lapse)lzt_prng_range(p, 0, 1),
      .sighting_to = (uint32_t)lzt_prng_range(p, 0, index),
      .late_tolerance_min = (int32_t)sometimes(p, 0.25, 1, 900),
      .tol_copper = NAN,
      .tol_salinity = NAN,
      .tol_temperature = NAN,
      .tol_ph = NAN,
      .tol_copper_free = 0.02,
  };
  if (lzt_prng_chance(p, 0.2)) {
    phase.kind = lzt_prng_chance(p, 0.6) ? LZQ_PHASE_MEDICATE : LZQ_PHASE_BATH;
    phase.medicine = lzt_prng_chance(p, 0.8) ? LZQ_PRAZIQUANTEL : LZQ_FORMALIN;
    phase.dose_level = lzt_prng_chance(p, 0.9) ? 2 : NAN;
    phase.bath_min = (int32_t)sometimes(p, 0.8, 1, 60);
  }
  if (lzt_prng_chance(p, 0.08))
    phase.n_bands = LZQ_MAX_BANDS;
  for (uint32_t b = 0; b < phase.n_bands; b++)
    phase.bands[b] = draw_band(p);
  for (uint32_t b = phase.n_bands; b < LZQ_MAX_BANDS; b++)
    phase.bands[b] = (lzq_band){.plan = NAN, .harm = NAN, .gap_min = 1};
  return phase;
}

// As somebody edits a protocol: one thing of one phase is another, stricter or less strict.
static void
edit_phase(lzt_prng *p, lzq_phase *phase)
{
  lzq_band *band = phase->n_bands ? &phase->bands[lzt_prng_range(p, 0, phase->n_bands - 1)] : NULL;
  switch (lzt_prng_range(p, 0, band ? 9 : 4)) {
  case 0:
    phase->lapse_min =
        lzt_prng_chance(p, 0.3) ? -1 : phase->lapse_min + (lzt_prng_chance(p, 0.5) ? 60 : -60);
    break;
  case 1:
    phase->lapse = phase->lapse == LZQ_LAPSE_PAUSE ? LZQ_LAPSE_RESTART : LZQ_LAPSE_PAUSE;
    break;
  case 2: phase->min_credit_min += 100; break;
  case 3: phase->dose_level *= lzt_prng_chance(p, 0.5) ? 1.5 : 0.5; break;
  case 4: phase->role = phase->role ? LZQ_ROLE_RECEIVING : LZQ_ROLE_TREATMENT; break;
  case 5: band->works *= lzt_prng_chance(p, 0.5) ? 1.02 : 0.98; break;
  case 6: band->works_high *= lzt_prng_chance(p, 0.5) ? 1.02 : 0.98; break;
  case 7: band->gap_min += lzt_prng_chance(p, 0.5) ? 60 : -60; break;
  case 8: band->error_inside = !band->error_inside; break;
  default: phase->n_bands--; break;
  }
  if (phase->lapse_min < -1)
    phase->lapse_min = -1;
}

static void
draw_version(lzt_prng *p, lzt_history *h)
{
  const lzq_protocol *first = &h->protocols[0];
  h->protocols[1] = (lzq_protocol){h->snap.n_phases, first->n_phases, 0, 2};
  for (uint32_t k = 0; k < first->n_phases; k++)
    h->phases[h->snap.n_phases++] = h->phases[k];
  edit_phase(p, &h->phases[first->n_phases + lzt_prng_range(p, 0, first->n_phases - 1)]);
}

// As transfers and repeated doses are: nothing but time and acts that may be late.
static void
make_series(lzt_prng *p, lzq_phase *phase, uint32_t index)
{
  const bool dose = lzt_prng_chance(p, 0.5);
  phase->kind = dose ? LZQ_PHASE_MEDICATE : LZQ_PHASE_HOLD;
  phase->place = dose ? LZQ_PLACE_STAY : LZQ_PLACE_NEXT_CLEAN;
  phase->medicine = LZQ_PRAZIQUANTEL;
  phase->dose_level = 2;
  phase->n_bands = 0;
  phase->reach = false;
  phase->min_elapsed_min = (int32_t)lzt_prng_range(p, 60, 700);
  phase->min_credit_min = phase->quiet_min = phase->eating_days = 0;
  phase->sign = LZQ_SIGN_NOBODY;
  phase->sighting_to = index ? index - 1 : 0;
  phase->late_tolerance_min = (int32_t)sometimes(p, 0.85, 20, 700);
}

static void
draw_protocols(lzt_prng *p, lzt_history *h)
{
  const bool series = lzt_prng_chance(p, 0.15);
  h->snap.n_protocols = (uint32_t)lzt_prng_range(p, 1, 2);
  for (uint32_t i = 0; i < h->snap.n_protocols; i++) {
    if (i == 1 && lzt_prng_chance(p, 0.5)) {
      draw_version(p, h);
      return;
    }
    uint32_t n = (uint32_t)lzt_prng_range(p, 1, 4);
    h->protocols[i] = (lzq_protocol){h->snap.n_phases, n, 0, i + 1};
    for (uint32_t k = 0; k < n; k++) {
      lzq_phase *phase = &h->phases[h->snap.n_phases++];
      *phase = draw_phase(p, k);
      if (series && lzt_prng_chance(p, 0.9))
        make_series(p, phase, k);
    }
  }
}

void
lzt_random_station(uint64_t seed, const lzt_wish *wish, lzt_history *out)
{
  lzt_prng prng;
  memset(out, 0, sizeof *out);
  lzt_prng_seed(&prng, seed);
  out->snap.station = (lzq_station){
      .last_in = lzt_prng_chance(&prng, 0.5),
      .trust_unchecked = lzt_prng_chance(&prng, 0.9),
      .accept_max_min = lzt_prng_range(&prng, 0, 600),
      .contact_days = 14,
      .copper_limit = 1,
  };
  draw_waters(&prng, wish, out);
  draw_protocols(&prng, out);
  out->snap.n_lots = (uint32_t)lzt_prng_range(&prng, 1, wish->lots);
  for (uint32_t i = 0; i < out->snap.n_lots; i++)
    out->lots[i].mean_mass_g = NAN;
  lzt_random_records(&prng, wish, out);
  lzt_history_bind(out);
}
