// SPDX-License-Identifier: GPL-3.0-or-later
// What is impossible in a protocol: fields that are no numbers, targets that would earn nothing,
// edges in the wrong order, bands that exclude each other, phases that never end. Warnings:
// lzq_protocol_warn.c.
#include <math.h>

#include "lzq_protocol_work.h"

void
lzq_finding_add(lzq_findings *all, lzq_finding_code code, const char *field, double n0, double n1,
                double n2, double n3)
{
  if (all->n == all->cap)
    return; // the cap counts every finding that the checks can make
  lzq_severity severity = code < LZQ_FINDING_LEVEL_HIGH ? LZQ_FINDING_REFUSE : LZQ_FINDING_WARN;
  all->items[all->n++] = (lzq_finding){.code = code,
                                       .severity = severity,
                                       .phase = all->phase,
                                       .band = all->band,
                                       .field = field,
                                       .n = {n0, n1, n2, n3}};
}

static void
number(lzq_findings *all, const char *field, double value, bool may_be_absent)
{
  if (isnan(value) && may_be_absent)
    return;
  if (!isfinite(value))
    lzq_finding_add(all, LZQ_FINDING_NOT_A_NUMBER, field, value, 0, 0, 0);
  else if (value < 0)
    lzq_finding_add(all, LZQ_FINDING_NEGATIVE, field, value, 0, 0, 0);
}

static void
known(lzq_findings *all, const char *field, int value, int n)
{
  if (value < 0 || value >= n)
    lzq_finding_add(all, LZQ_FINDING_UNKNOWN, field, value, n, 0, 0);
}

static bool
band_sound(const lzq_band *band)
{
  return (int)band->analyte >= 0 && band->analyte < LZQ_N_ANALYTES && band->side <= LZQ_BETWEEN &&
         isfinite(band->works) && isfinite(band->target) &&
         (band->side != LZQ_BETWEEN || isfinite(band->works_high));
}

static void
check_edges(lzq_findings *all, const lzq_band *band)
{
  double works = band->side == LZQ_BETWEEN ? band->works_high : band->works;
  double sign = band->side == LZQ_AT_OR_BELOW ? -1 : 1;
  double before = works * sign;
  bool crossed = isfinite(band->plan) && band->plan * sign < before - LZQ_EDGE;
  if (isfinite(band->plan))
    before = band->plan * sign;
  crossed = crossed || (isfinite(band->harm) && band->harm * sign < before - LZQ_EDGE);
  if (crossed)
    lzq_finding_add(all, LZQ_FINDING_EDGES_CROSSED, "plan", works, band->plan, band->harm, 0);
  bool low = band->side != LZQ_AT_OR_BELOW && band->target < band->works - LZQ_EDGE;
  bool high = band->side == LZQ_AT_OR_BELOW ? band->target > band->works + LZQ_EDGE
              : isfinite(band->plan)        ? band->target > band->plan + LZQ_EDGE
                                            : false;
  bool below_plan =
      band->side == LZQ_AT_OR_BELOW && isfinite(band->plan) && band->target < band->plan - LZQ_EDGE;
  if (band->side == LZQ_BETWEEN && band->target > band->works_high + LZQ_EDGE)
    high = true;
  if (low || high || below_plan)
    lzq_finding_add(all, LZQ_FINDING_TARGET_OUTSIDE, "target", band->target,
                    low || band->side == LZQ_AT_OR_BELOW ? band->works : band->works_high, 0, 0);
}

static void
check_band(lzq_findings *all, const lzq_band *band)
{
  known(all, "analyte", (int)band->analyte, LZQ_N_ANALYTES);
  known(all, "form", (int)band->form, LZQ_N_FORMS);
  known(all, "side", (int)band->side, LZQ_BETWEEN + 1);
  number(all, "works", band->works, false);
  number(all, "works_high", band->works_high, band->side != LZQ_BETWEEN);
  number(all, "target", band->target, false);
  number(all, "plan", band->plan, true);
  number(all, "harm", band->harm, true);
  if (band->gap_min <= 0)
    lzq_finding_add(all, LZQ_FINDING_NO_GAP, "gap_min", band->gap_min, 0, 0, 0);
  if (!band_sound(band))
    return;
  if (band->side == LZQ_BETWEEN && band->works > band->works_high + LZQ_EDGE)
    lzq_finding_add(all, LZQ_FINDING_RANGE_EMPTY, "works_high", band->works, band->works_high, 0,
                    0);
  check_edges(all, band);
  double error = all->context->salinity_error;
  double width = band->works_high - band->works;
  if (band->error_inside && band->side == LZQ_BETWEEN && band->analyte == LZQ_SALINITY &&
      isfinite(error) && 2 * error > width + LZQ_EDGE)
    lzq_finding_add(all, LZQ_FINDING_ERROR_TOO_WIDE, "error_inside", error, width, 0, 0);
}

static double
low_of(const lzq_band *band)
{
  return band->side == LZQ_AT_OR_BELOW ? -INFINITY : band->works;
}

static double
high_of(const lzq_band *band)
{
  if (band->side == LZQ_AT_OR_ABOVE)
    return isfinite(band->plan) ? band->plan : INFINITY;
  return band->side == LZQ_BETWEEN ? band->works_high : band->works;
}

static void
check_pairs(lzq_findings *all, const lzq_phase *phase)
{
  for (uint32_t i = 0; i < phase->n_bands; i++)
    for (uint32_t j = 0; j < i; j++) {
      const lzq_band *a = &phase->bands[i], *b = &phase->bands[j];
      if (!band_sound(a) || !band_sound(b) || a->analyte != b->analyte)
        continue;
      if (fmax(low_of(a), low_of(b)) > fmin(high_of(a), high_of(b)) + LZQ_EDGE)
        lzq_finding_add(all, LZQ_FINDING_BANDS_EMPTY, "bands", a->analyte, 0, 0, 0);
    }
}

static void
check_numbers(lzq_findings *all, const lzq_phase *phase)
{
  number(all, "min_elapsed_min", (double)phase->min_elapsed_min, false);
  number(all, "min_credit_min", (double)phase->min_credit_min, false);
  number(all, "quiet_min", (double)phase->quiet_min, false);
  number(all, "eating_days", phase->eating_days, false);
  number(all, "rise_steps", phase->rise_steps, false);
  number(all, "step_gap_min", phase->step_gap_min, false);
  number(all, "late_tolerance_min", phase->late_tolerance_min, false);
  number(all, "bath_min", phase->bath_min, false);
  number(all, "rise_per_day", phase->rise_per_day, true);
  number(all, "salinity_fall_day", phase->salinity_fall_day, true);
  number(all, "salinity_rise_day", phase->salinity_rise_day, true);
  number(all, "salinity_step", phase->salinity_step, true);
  number(all, "tol_copper", phase->tol_copper, true);
  number(all, "tol_salinity", phase->tol_salinity, true);
  number(all, "tol_temperature", phase->tol_temperature, true);
  number(all, "tol_ph", phase->tol_ph, true);
  number(all, "tol_copper_free", phase->tol_copper_free, true);
  number(all, "dose_level", phase->dose_level, true);
  number(all, "warm_from", phase->warm_from, true);
  number(all, "warm_to", phase->warm_to, true);
  if (phase->warm_from > 0 && phase->warm_from >= phase->warm_to)
    lzq_finding_add(all, LZQ_FINDING_WARMTH_CROSSED, "warm_to", phase->warm_from, phase->warm_to, 0,
                    0);
  if (!(phase->eaten_share >= 0 && phase->eaten_share <= 1))
    lzq_finding_add(all, LZQ_FINDING_SHARE, "eaten_share", phase->eaten_share, 0, 0, 0);
}

// A rise in steps that are each larger than a day may bring can never be planned.
static void
check_rise(lzq_findings *all, const lzq_phase *phase)
{
  if (phase->rise_steps > 40)
    lzq_finding_add(all, LZQ_FINDING_TOO_MANY, "rise_steps", phase->rise_steps, 40, 0, 0);
  for (uint32_t i = 0; i < phase->n_bands; i++) {
    const lzq_band *band = &phase->bands[i];
    if (phase->kind != LZQ_PHASE_RISE || band->analyte != LZQ_COPPER || phase->rise_steps < 1 ||
        !(phase->rise_per_day > 0) || !isfinite(band->target))
      continue;
    double step = band->target / phase->rise_steps;
    if (step > phase->rise_per_day + LZQ_EDGE)
      lzq_finding_add(all, LZQ_FINDING_STEP_TOO_LARGE, "rise_steps", step, phase->rise_per_day, 0,
                      0);
  }
}

static bool
asks_anything(const lzq_phase *phase)
{
  return phase->reach || phase->min_elapsed_min > 0 || phase->min_credit_min > 0 ||
         phase->quiet_min > 0 || phase->eating_days > 0 || phase->sign != LZQ_SIGN_NOBODY ||
         phase->bath_min > 0;
}

static void
check_phase(lzq_findings *all, const lzq_phase *phase)
{
  known(all, "kind", (int)phase->kind, LZQ_N_PHASE_KINDS);
  known(all, "place", (int)phase->place, LZQ_PLACE_NEXT_CLEAN + 1);
  known(all, "role", (int)phase->role, LZQ_N_ROLES);
  known(all, "sign", (int)phase->sign, LZQ_SIGN_VET + 1);
  known(all, "lapse", (int)phase->lapse, LZQ_LAPSE_RESTART + 1);
  known(all, "medicine", (int)phase->medicine, LZQ_N_ANALYTES);
  check_numbers(all, phase);
  if (phase->sighting_to > all->phase)
    lzq_finding_add(all, LZQ_FINDING_SIGHTING_FORWARD, "sighting_to", phase->sighting_to,
                    all->phase, 0, 0);
  for (uint32_t gear = 0; gear < LZQ_N_GEAR; gear++)
    if ((phase->gear_on & phase->gear_off) >> gear & 1)
      lzq_finding_add(all, LZQ_FINDING_GEAR_BOTH, "gear_on", gear, 0, 0, 0);
  if (phase->n_bands > LZQ_MAX_BANDS) {
    lzq_finding_add(all, LZQ_FINDING_TOO_MANY, "n_bands", phase->n_bands, LZQ_MAX_BANDS, 0, 0);
    return;
  }
  check_rise(all, phase);
  check_pairs(all, phase);
  if (phase->place == LZQ_PLACE_STAY && !asks_anything(phase))
    lzq_finding_add(all, LZQ_FINDING_ENDS_AT_ONCE, "min_elapsed_min", 0, 0, 0, 0);
  for (all->band = 0; all->band < phase->n_bands; all->band++)
    check_band(all, &phase->bands[all->band]);
  all->band = LZQ_NONE;
}

lzq_status
lzq_protocol_check(const lzq_phase *phases, uint32_t n_phases, const lzq_protocol_context *context,
                   lzq_arena *arena, const lzq_finding **out, uint32_t *n_out)
{
  static const lzq_protocol_context nothing = {.copper_limit = NAN, .salinity_error = NAN};
  *out = NULL;
  *n_out = 0;
  // at most 40 fields, 12 remarks a band, 6 pairs and 32 remarks of warnings a phase
  size_t cap = (size_t)n_phases * 160 + 8;
  lzq_findings all = {
      .context = context ? context : &nothing, .cap = cap, .phase = LZQ_NONE, .band = LZQ_NONE};
  all.items = LZQ_NEW(arena, lzq_finding, cap);
  if (!all.items)
    return LZQ_NO_MEMORY;
  if (n_phases == 0)
    lzq_finding_add(&all, LZQ_FINDING_NO_PHASES, "phases", 0, 0, 0, 0);
  for (uint32_t i = 0; i < n_phases; i++) {
    size_t before = all.n;
    all.phase = i;
    check_phase(&all, &phases[i]);
    if (all.n == before) // a phase that cannot be is not worth a warning
      lzq_protocol_warn(&all, phases, i);
  }
  *out = all.items;
  *n_out = (uint32_t)all.n;
  return LZQ_OK;
}
