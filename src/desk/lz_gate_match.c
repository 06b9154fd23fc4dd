// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the water that fish are carried into matches the one that they leave: by the tolerances
// of the phase that they are in; where it states none for salinity, by what is usual in a day.
#include <math.h>

#include "lz_carry.h"
#include "lz_gate_move.h"
#include "lz_words.h"

enum { OLDEST_MIN = 1440 }; // a temperature or pH older than this says nothing of now

static gboolean
is_carried(lzq_analyte analyte)
{
  return analyte == LZQ_COPPER || analyte == LZQ_SALINITY;
}

// Copper that nobody read or dosed is none; any other level that is not known says nothing.
static double
level_of(LzDraft *d, uint32_t system, lzq_analyte analyte)
{
  const lzq_minute now = d->entry.happened_min;
  g_autoptr(GArray) steps = lz_carry(d->model, system, analyte, now);
  gboolean untouched = TRUE;
  lzq_minute read_at = LZQ_LONG_AGO;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    const uint8_t kind = step->kind;
    untouched =
        untouched && kind != LZQ_REC_READING && kind != LZQ_REC_DOSE && kind != LZQ_REC_GEAR;
    if (kind == LZQ_REC_READING && step->good)
      read_at = step->at;
  }
  if (analyte == LZQ_COPPER && untouched)
    return 0;
  if (!is_carried(analyte) && read_at < now - OLDEST_MIN)
    return NAN;
  return lz_carry_level(steps);
}

static double
tolerance(const lzq_phase *phase, lzq_analyte analyte)
{
  if (!phase)
    return NAN;
  switch (analyte) {
  case LZQ_COPPER: return phase->tol_copper;
  case LZQ_SALINITY: return phase->tol_salinity;
  case LZQ_TEMPERATURE: return phase->tol_temperature;
  case LZQ_PH: return phase->tol_ph;
  default: return NAN;
  }
}

static void
match_one(LzDraft *d, uint32_t from, uint32_t to, lzq_analyte analyte, const lzq_phase *phase)
{
  const double here = level_of(d, from, analyte), there = level_of(d, to, analyte);
  double most = tolerance(phase, analyte), differs = fabs(here - there);
  if (analyte == LZQ_COPPER && phase && phase->copper_free) {
    most = lzq_copper_free(phase);
    differs = there;
  } else if (analyte == LZQ_SALINITY && !isfinite(most)) {
    most = there > here ? LZQ_USUAL_SALINITY_RISE : LZQ_USUAL_SALINITY_FALL;
  }
  if (!isfinite(most) || !isfinite(differs) || differs <= most + LZQ_EDGE)
    return;
  const lzq_because because = {LZQ_BECAUSE_MOVE_NOT_MATCHED, {analyte, here, there, most}};
  lz_gate_move_stop(d, lz_words_because(d->desk, &because));
}

void
lz_gate_match(LzDraft *d, uint32_t from, uint32_t to, const lzq_phase *phase)
{
  static const lzq_analyte looked_at[] = {LZQ_COPPER, LZQ_SALINITY, LZQ_TEMPERATURE, LZQ_PH};
  for (gsize i = 0; i < G_N_ELEMENTS(looked_at); i++)
    match_one(d, from, to, looked_at[i], phase);
}
