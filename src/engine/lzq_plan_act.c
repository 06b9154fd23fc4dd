// SPDX-License-Identifier: GPL-3.0-or-later
// One visit to a water: what the levels need, and the change, salt and dose that take them one step
// on. Copper goes up in steps and down by changes; salinity goes down by fresh water, with the
// copper that it takes out put back in the same visit, and up by salt. Every rate holds over any
// 1,440 minutes and nothing goes beyond the plan edge.
#include <math.h>

#include "lzq_plan_act.h"

static double
plan_edge(const lzq_band *band)
{
  double high = band->side == LZQ_BETWEEN ? band->works_high : INFINITY;
  return isfinite(band->plan) ? fmin(high, band->plan) : high;
}

// A level is brought back to its target once it has come half the way to the works edge.
static double
top_up_below(const lzq_band *band)
{
  return band->target > band->works ? (band->works + band->target) / 2 : band->works;
}

static int
needs_of_med(const lzq_band *band, double level)
{
  if (band->side == LZQ_AT_OR_BELOW)
    return level > band->works + LZQ_EDGE ? NEED_MED_DOWN : 0;
  if (level > plan_edge(band) + LZQ_EDGE)
    return NEED_MED_DOWN;
  return level < top_up_below(band) - LZQ_EDGE ? NEED_MED_UP : 0;
}

static int
needs_of_sal(const lzq_band *band, double level, double error)
{
  double slack = band->error_inside && isfinite(error) ? error : 0;
  if (!isfinite(level))
    return 0;
  if (band->side != LZQ_AT_OR_ABOVE) {
    double high = band->side == LZQ_BETWEEN ? band->works_high : band->works;
    if (level + slack > high + LZQ_EDGE)
      return level > band->target + LZQ_EDGE ? NEED_SAL_DOWN : 0;
  } else if (isfinite(band->plan) && level > band->plan + LZQ_EDGE) {
    return NEED_SAL_DOWN;
  }
  if (band->side != LZQ_AT_OR_BELOW) {
    if (level - slack < band->works - LZQ_EDGE)
      return level < band->target - LZQ_EDGE ? NEED_SAL_UP : 0;
  } else if (isfinite(band->plan) && level < band->plan - LZQ_EDGE) {
    return NEED_SAL_UP;
  }
  return 0;
}

int
lzq_needs(const lzq_maker *m, const double level[2])
{
  int need = 0;
  if (m->goal->has[LZQ_MED])
    need |= needs_of_med(&m->goal->band[LZQ_MED], level[LZQ_MED]);
  if (m->goal->has[LZQ_SAL])
    need |= needs_of_sal(&m->goal->band[LZQ_SAL], level[LZQ_SAL], m->error[LZQ_SAL]);
  return need;
}

// Over the 1,440 minutes up to t (t excluded to its own first minute): lowest or highest level of
// one index, and the share changed. Dips of a change within a visit do not count as the start of a
// rise.
static double
window_extreme(const lzq_trace *trace, lzq_minute t, int index, bool lowest)
{
  double extreme = NAN;
  for (uint32_t i = 0; i < trace->n; i++) {
    bool base = i + 1 < trace->n && trace->at[i + 1] <= t - LZQ_DAY;
    if (base || (index == LZQ_MED && lowest && trace->dip[i]))
      continue;
    double level = trace->level[i][index];
    if (isfinite(level) && (!isfinite(extreme) || (lowest ? level < extreme : level > extreme)))
      extreme = level;
  }
  return extreme;
}

static double
window_share(const lzq_trace *trace, lzq_minute t)
{
  double kept = 0;
  for (uint32_t i = 0; i < trace->n; i++)
    if (trace->at[i] > t - LZQ_DAY)
      kept += trace->share[i];
  return kept;
}

static double
share_room(const lzq_maker *m, lzq_minute t)
{
  double most = m->system->max_change_day > 0 ? fmin(m->system->max_change_day, 1) : 1;
  return fmax(0, most - window_share(&m->trace, t));
}

// --- the medicine upwards

// What the last reading says counts where a change has since thinned the water within this visit.
static double
rise_basis(const lzq_maker *m, bool first)
{
  const lzq_band *band = &m->goal->band[LZQ_MED];
  lzq_last_reading read = m->water->read[band->analyte];
  if (first && read.at > m->now - LZQ_DAY && m->water->open_at[band->analyte] == LZQ_LONG_AGO)
    return fmax(m->level[LZQ_MED], read.value);
  return m->level[LZQ_MED];
}

// --- one visit

static void
because(lzq_act *step, int index, lzq_because_code code, double n0, double n1, double n2, double n3)
{
  step->because[index] = (lzq_because){code, {n0, n1, n2, n3}};
}

static int
equal_ratio_steps(double from, double to, double step_max, double share_max)
{
  for (int n = 1; n <= LZQ_MAX_ACTS; n++) {
    double ratio = pow(to / from, 1.0 / n);
    if ((!(step_max > 0) || from * (1 - ratio) <= step_max + LZQ_EDGE) &&
        1 - ratio <= share_max + LZQ_EDGE)
      return n;
  }
  return LZQ_MAX_ACTS;
}

static double
smaller_limit(double a, double b)
{
  if (!(a > 0))
    return b;
  return b > 0 ? fmin(a, b) : a;
}

// A step may end at `bound` at the furthest, `rate` from the extreme of the day before. Readings
// scatter: one a little off its neighbours must not cost the whole day, so a step is shortened by a
// quarter at most before it waits.
static bool
day_has_room(double from, double *after, double bound, double rate)
{
  if (!(rate > 0) || !isfinite(bound))
    return true;
  const double room = (bound - from) / (*after - from); // as a share of the step asked for
  if (room < 0.75)
    return false;
  if (room < 1 - LZQ_EDGE)
    *after = bound;
  return true;
}

// Fresh water that lowers the salinity by one step; false = the day has no room for it yet.
static bool
lower_salinity(lzq_maker *m, lzq_act *step, int at_least)
{
  const lzq_goal *goal = m->goal;
  double from = m->level[LZQ_SAL], to = fmax(goal->band[LZQ_SAL].target, 0.01);
  double most = m->system->max_change_day > 0 ? fmin(m->system->max_change_day, 1) : 1;
  int n = equal_ratio_steps(from, to, smaller_limit(goal->salinity_step, goal->fall_day), most);
  if (n < at_least)
    n = at_least;
  double after = from * pow(to / from, 1.0 / n);
  double high = window_extreme(&m->trace, step->at, LZQ_SAL, false);
  if (!day_has_room(from, &after, high - goal->fall_day, goal->fall_day))
    return false;
  if (1 - after / from > share_room(m, step->at) + 1e-6)
    return false;
  step->change_l = m->water->volume_l * (1 - after / from);
  step->new_salinity = 0;
  step->after[LZQ_SAL] = after;
  step->changed[LZQ_MED] = m->level[LZQ_MED] * after / from;
  because(step, LZQ_SAL, LZQ_BECAUSE_LOWER_STEP, m->sal_done + 1, m->sal_done + n, from, after);
  return true;
}

static bool
raise_salinity(lzq_maker *m, lzq_act *step)
{
  const lzq_goal *goal = m->goal;
  double from = m->level[LZQ_SAL], to = goal->band[LZQ_SAL].target;
  double most = smaller_limit(goal->salinity_step, goal->rise_day);
  int n = most > 0 ? (int)fmin(ceil((to - from) / most - 1e-9), 1000) : 1;
  double after = from + (to - from) / (n < 1 ? 1 : n);
  double low = window_extreme(&m->trace, step->at, LZQ_SAL, true);
  if (!day_has_room(from, &after, low + goal->rise_day, goal->rise_day))
    return false;
  step->salt_g = (after - from) * m->water->volume_l; // 1 g/L taken as 1 of practical salinity
  step->after[LZQ_SAL] = after;
  because(step, LZQ_SAL, LZQ_BECAUSE_RAISE_STEP, m->sal_done + 1, m->sal_done + n, from, after);
  return true;
}

// A change that brings the medicine down: f = (c - target)/(c - r) with r = 0.
static bool
lower_medicine(lzq_maker *m, lzq_act *step)
{
  const lzq_band *band = &m->goal->band[LZQ_MED];
  double from = m->level[LZQ_MED], aim = band->target;
  if (band->side == LZQ_AT_OR_BELOW && !(aim > 0 && aim <= band->works))
    aim = band->works / 2; // half the edge: a reading on the edge would prove nothing
  double f = from > 0 ? (from - aim) / from : 0;
  double room = share_room(m, step->at);
  double most = m->system->max_change_day > 0 ? fmin(m->system->max_change_day, 1) : 1;
  if (f > room + 1e-9 && room < 0.5 * fmin(f, most))
    return false;
  f = fmin(f, room);
  step->change_l = f * m->water->volume_l;
  step->new_salinity = NAN; // as the system
  step->changed[LZQ_MED] = step->after[LZQ_MED] = from * (1 - f);
  bool harm =
      isfinite(band->harm) && band->side != LZQ_AT_OR_BELOW && from >= band->harm - LZQ_EDGE;
  because(step, LZQ_MED, harm ? LZQ_BECAUSE_HARM : LZQ_BECAUSE_TOO_HIGH, from,
          harm ? band->harm : aim, step->change_l, aim);
  return true;
}

static bool
raise_medicine(lzq_maker *m, lzq_act *step, double basis, double next, int left)
{
  const lzq_band *band = &m->goal->band[LZQ_MED];
  double per_day = m->goal->rise_per_day;
  double low = window_extreme(&m->trace, step->at, LZQ_MED, true);
  next = fmin(next, plan_edge(band));
  if (next > step->changed[LZQ_MED] &&
      !day_has_room(step->changed[LZQ_MED], &next, low + per_day, per_day))
    return false;
  step->dose_mg = fmax(0, (next - step->changed[LZQ_MED]) * m->water->volume_l);
  step->after[LZQ_MED] = next;
  int steps = m->goal->rise && m->goal->rise_steps > 1 ? m->goal->rise_steps : 1;
  if (steps > 1)
    because(step, LZQ_MED, LZQ_BECAUSE_RISE_STEP, steps - left + 1, steps, step->changed[LZQ_MED],
            next);
  else
    because(step, LZQ_MED, LZQ_BECAUSE_TOP_UP_LEVEL, step->changed[LZQ_MED], next, 0, 0);
  return true;
}

// Puts back what a change for another reason takes out, so that the hold never stops.
static void
replace_medicine(lzq_maker *m, lzq_act *step)
{
  const lzq_band *band = &m->goal->band[LZQ_MED];
  double to = fmin(fmax(m->level[LZQ_MED], band->target), plan_edge(band));
  step->dose_mg = fmax(0, (to - step->changed[LZQ_MED]) * m->water->volume_l);
  step->after[LZQ_MED] = to;
  step->beforehand = true;
  because(step, LZQ_MED, LZQ_BECAUSE_REPLACE, step->change_l, m->level[LZQ_MED],
          step->changed[LZQ_MED], to);
}

// What was mixed into the new water already is not asked for again; a remainder within a twentieth
// is what the syringe left.
static void
spare_what_waits(const lzq_maker *m, lzq_act *step)
{
  const uint8_t a = (uint8_t)m->goal->band[LZQ_MED].analyte;
  if (!m->goal->has[LZQ_MED] || m->water->waits_at[a] == LZQ_LONG_AGO)
    return;
  const double left = step->dose_mg - m->water->waits_mg[a];
  step->dose_mg = left > step->dose_mg / 20 ? left : 0;
}

static bool
fill_up(lzq_maker *m, lzq_act *step, int need, bool first)
{
  double next = NAN, basis = rise_basis(m, first);
  int left = need & NEED_MED_UP ? lzq_goal_rise(m->goal, basis, &next) : 1;
  step->before[LZQ_MED] = step->changed[LZQ_MED] = step->after[LZQ_MED] = m->level[LZQ_MED];
  step->before[LZQ_SAL] = step->changed[LZQ_SAL] = step->after[LZQ_SAL] = m->level[LZQ_SAL];
  step->new_salinity = NAN;
  if (need & NEED_MED_DOWN)
    return lower_medicine(m, step);
  if (need & NEED_SAL_DOWN && !lower_salinity(m, step, left))
    return false;
  if (need & NEED_SAL_UP && !raise_salinity(m, step))
    return false;
  step->changed[LZQ_SAL] = step->change_l > 0 ? step->after[LZQ_SAL] : step->before[LZQ_SAL];
  if (need & NEED_MED_UP)
    return raise_medicine(m, step, basis, next, left);
  if (lzq_goal_medicates(m->goal) && step->change_l > 0)
    replace_medicine(m, step);
  return true;
}

bool
lzq_act_fill(lzq_maker *m, lzq_act *step, int need, bool first)
{
  const bool room = fill_up(m, step, need, first);
  if (room && first)
    spare_what_waits(m, step);
  return room;
}
