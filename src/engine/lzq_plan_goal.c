// SPDX-License-Identifier: GPL-3.0-or-later
// What the lots of one water ask of it together: the intersection of their bands and the strictest
// of their limits. Where no level serves two lots the conflict names both.
#include <math.h>

#include "lzq_plan_work.h"

lzq_goal
lzq_goal_none(void)
{
  return (lzq_goal){.lot_a = LZQ_NONE, .lot_b = LZQ_NONE, .asks = {LZQ_NONE, LZQ_NONE}};
}

static double
low_edge(const lzq_band *band)
{
  return band->side == LZQ_AT_OR_BELOW ? -INFINITY : band->works;
}

// The highest level that the plan may bring about: works_high of a range, else the plan edge.
static double
high_edge(const lzq_band *band)
{
  if (band->side == LZQ_AT_OR_BELOW)
    return band->works;
  double high = band->side == LZQ_BETWEEN ? band->works_high : INFINITY;
  return isfinite(band->plan) ? fmin(high, band->plan) : high;
}

// Below this no plan goes: the plan edge of a lowered level.
static double
floor_edge(const lzq_band *band)
{
  return band->side == LZQ_AT_OR_BELOW && isfinite(band->plan) ? band->plan : -INFINITY;
}

static double
strictest(double a, double b)
{
  if (!(a > 0))
    return b > 0 ? b : 0;
  return b > 0 ? fmin(a, b) : a;
}

static bool
forms_differ(const lzq_band *a, const lzq_band *b)
{
  return a->analyte == LZQ_COPPER && a->side != LZQ_AT_OR_BELOW && b->side != LZQ_AT_OR_BELOW &&
         a->form != LZQ_FORM_NONE && b->form != LZQ_FORM_NONE && a->form != b->form;
}

// Narrows `band` to what `other` also allows; false = nothing is left.
static bool
intersect(lzq_band *band, const lzq_band *other)
{
  double low = fmax(low_edge(band), low_edge(other));
  double high = fmin(high_edge(band), high_edge(other));
  double floor = fmax(floor_edge(band), floor_edge(other));
  if (band->analyte != other->analyte || forms_differ(band, other) ||
      fmax(low, floor) > high + LZQ_EDGE)
    return false;
  double target = fmin(band->target, other->target);
  if (low > -INFINITY && band->side != LZQ_AT_OR_BELOW && other->side != LZQ_AT_OR_BELOW)
    target = fmax(band->target, other->target);
  bool both = low > -INFINITY && (band->side != other->side || band->side == LZQ_BETWEEN);
  if (both && isfinite(high)) {
    band->side = LZQ_BETWEEN;
    band->works = low;
    band->works_high = high;
  } else {
    band->works = band->side == LZQ_AT_OR_BELOW ? high : low;
  }
  band->plan = band->side == LZQ_AT_OR_BELOW ? (isfinite(floor) ? floor : NAN)
                                             : (isfinite(high) ? high : NAN);
  band->harm =
      band->side == LZQ_AT_OR_BELOW ? fmax(band->harm, other->harm) : fmin(band->harm, other->harm);
  band->target = fmin(fmax(target, fmax(low, floor)), high);
  band->gap_min = band->gap_min < other->gap_min ? band->gap_min : other->gap_min;
  band->error_inside = band->error_inside || other->error_inside;
  if (band->form == LZQ_FORM_NONE)
    band->form = other->form;
  return true;
}

static int
index_of(const lzq_band *band)
{
  if (band->analyte == LZQ_SALINITY)
    return LZQ_SAL;
  return lzq_analyte_carried(band->analyte) ? LZQ_MED : -1;
}

static void
join_band(lzq_goal *goal, const lzq_band *band, uint32_t lot)
{
  int32_t *gap = &goal->test_gap_min[band->analyte];
  if (*gap == 0 || band->gap_min < *gap)
    *gap = band->gap_min;
  int i = index_of(band);
  if (i < 0)
    return;
  if (!goal->has[i]) {
    goal->has[i] = true;
    goal->band[i] = *band;
    if (!isfinite(band->target)) // nothing is aimed at: the edge itself is
      goal->band[i].target = band->works;
  } else if (!intersect(&goal->band[i], band) && goal->lot_a == LZQ_NONE) {
    goal->lot_a = goal->asks[i];
    goal->lot_b = lot;
    goal->conflict_analyte = band->analyte;
  }
  goal->asks[i] = lot;
}

void
lzq_goal_join(lzq_goal *goal, const lzq_phase *phase, uint32_t lot)
{
  for (uint32_t i = 0; i < phase->n_bands && i < LZQ_MAX_BANDS; i++)
    join_band(goal, &phase->bands[i], lot);
  goal->rise = goal->rise || phase->kind == LZQ_PHASE_RISE;
  goal->rise_per_day = strictest(goal->rise_per_day, phase->rise_per_day);
  goal->salinity_step = strictest(goal->salinity_step, phase->salinity_step);
  goal->fall_day = strictest(goal->fall_day, phase->salinity_fall_day);
  goal->rise_day = strictest(goal->rise_day, phase->salinity_rise_day);
  if (phase->rise_steps > goal->rise_steps)
    goal->rise_steps = phase->rise_steps;
  if (phase->step_gap_min > goal->step_gap_min)
    goal->step_gap_min = phase->step_gap_min;
  goal->gear_on |= phase->gear_on;
  goal->gear_off |= phase->gear_off;
  goal->n_lots++;
}

// --- a rise in steps

static double
rise_level(const lzq_goal *goal, const lzq_band *band, int k)
{
  double step = band->target / goal->rise_steps;
  double level = step * k;
  double rounded = ceil(level * 100 - 1e-6) / 100; // what kits and people read
  double next = ceil(step * 100 - 1e-6) / 100;
  if (!(goal->rise_per_day > 0) || next <= goal->rise_per_day + LZQ_EDGE)
    level = rounded;
  return fmin(level, band->target);
}

int
lzq_goal_rise(const lzq_goal *goal, double basis, double *next)
{
  const lzq_band *band = &goal->band[LZQ_MED];
  const int steps = goal->rise && goal->rise_steps <= LZQ_MAX_ACTS ? goal->rise_steps : 1;
  const double half = steps > 1 ? band->target / steps / 2 : 0;
  int left = 1;
  *next = band->target;
  for (int k = 1; k <= steps && steps > 1; k++) {
    *next = rise_level(goal, band, k);
    left = steps - k + 1;
    if (*next >= basis + half - LZQ_EDGE)
      break;
  }
  if (goal->rise_per_day > 0)
    *next = fmin(*next, basis + goal->rise_per_day);
  return left;
}

bool
lzq_goal_medicates(const lzq_goal *goal)
{
  return goal->has[LZQ_MED] && goal->band[LZQ_MED].side != LZQ_AT_OR_BELOW;
}

lzq_goal
lzq_goal_of_phase(const lzq_phase *phase, uint32_t lot)
{
  lzq_goal goal = lzq_goal_none();
  lzq_goal_join(&goal, phase, lot);
  return goal;
}

bool
lzq_band_serves(const lzq_band *band, double value, double error)
{
  double slack = band->error_inside && isfinite(error) ? error : 0;
  if (!isfinite(value))
    return false;
  bool low = value - slack >= band->works - LZQ_EDGE;
  switch (band->side) {
  case LZQ_AT_OR_ABOVE: return low;
  case LZQ_AT_OR_BELOW: return value + slack <= band->works + LZQ_EDGE;
  case LZQ_BETWEEN: return low && value + slack <= band->works_high + LZQ_EDGE;
  }
  return false;
}

static lzq_why
band_fails(const lzq_water_state *water, const lzq_band *band, lzq_minute t)
{
  uint8_t a = (uint8_t)band->analyte;
  lzq_last_reading read = water->read[a];
  // a suspect reading counts only against
  if (water->doubt[a].at > read.at &&
      !lzq_band_serves(band, water->doubt[a].value, water->doubt[a].error))
    return LZQ_WHY_LAST_BAD;
  if (read.at == LZQ_LONG_AGO)
    return LZQ_WHY_NO_READING;
  if (!lzq_band_serves(band, read.value, read.error))
    return LZQ_WHY_LAST_BAD;
  if (t > lzq_later(read.at, band->gap_min))
    return LZQ_WHY_LAST_OLD;
  if (!lzq_analyte_carried(band->analyte))
    return LZQ_WHY_NONE;
  if (!isfinite(water->level[a]))
    return LZQ_WHY_CARRIED_UNKNOWN;
  return lzq_band_serves(band, water->level[a], water->carried_error[a]) ? LZQ_WHY_NONE
                                                                         : LZQ_WHY_CARRIED_BAD;
}

bool
lzq_water_serves(const lzq_work *work, const lzq_water_state *water, const lzq_phase *phase,
                 lzq_minute t, lzq_because *why)
{
  (void)work;
  for (uint32_t i = 0; i < phase->n_bands && i < LZQ_MAX_BANDS; i++) {
    lzq_why fails = band_fails(water, &phase->bands[i], t);
    if (fails == LZQ_WHY_NONE)
      continue;
    if (why)
      *why = (lzq_because){LZQ_BECAUSE_CREDIT_WAITS, {0, 0, fails, phase->bands[i].analyte}};
    return false;
  }
  return true;
}
