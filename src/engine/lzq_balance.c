// SPDX-License-Identifier: GPL-3.0-or-later
// Mass balance in closed form, and sequences of water changes within a station's limits.
#include "lzq_balance.h"

#include <math.h>

double
lzq_changed_share(double litres, double volume_l, bool drip)
{
  double share = litres / volume_l;
  return drip ? -expm1(-share) : fmin(share, 1.0);
}

double
lzq_litres_for_share(double share, double volume_l, bool drip)
{
  if (!drip)
    return share * volume_l;
  return share < 1.0 ? -log1p(-share) * volume_l : NAN;
}

double
lzq_after_change(double level, double share, double new_level)
{
  return level * (1.0 - share) + new_level * share;
}

double
lzq_after_dose(double level, double amount_mg, double volume_l)
{
  return level + amount_mg / volume_l;
}

double
lzq_after_loss(double level, double k_per_h, double hours)
{
  return level * exp(-k_per_h * hours);
}

double
lzq_after_evaporation(double level, double volume_l, double litres)
{
  return litres < volume_l ? level * volume_l / (volume_l - litres) : NAN;
}

double
lzq_after_topup(double level, double volume_l, double litres, double new_level)
{
  return level + new_level * litres / volume_l;
}

double
lzq_mixture(const double *amount, const double *level, uint32_t n)
{
  double whole = 0.0, dissolved = 0.0;
  for (uint32_t i = 0; i < n; i++) {
    whole += amount[i];
    dissolved += amount[i] * level[i];
  }
  return whole > 0.0 ? dissolved / whole : NAN;
}

double
lzq_loss_rate(double first, double second, double hours)
{
  return log(first / second) / hours;
}

static bool
is_limit(double value)
{
  return value > 0.0; // 0 and NAN say: no limit
}

lzq_status
lzq_bring_down(double level, double target, double new_level, double volume_l, double max_share_day,
               lzq_steps *out)
{
  *out = (lzq_steps){.ratio = NAN};
  if (!isfinite(level) || !isfinite(target) || !(volume_l > 0.0))
    return LZQ_OUT_OF_RANGE;
  double most = is_limit(max_share_day) ? fmin(max_share_day, 1.0) : 1.0;
  for (double now = level; now > target + LZQ_EDGE;) {
    if (!(new_level <= target) || now <= new_level || out->n >= LZQ_MAX_STEPS)
      return LZQ_OUT_OF_RANGE;
    double share = fmin((now - target) / (now - new_level), most);
    lzq_step *step = &out->steps[out->n];
    *step = (lzq_step){
        .after_min = (int64_t)out->n * LZQ_DAY,
        .share = share,
        .litres = share * volume_l,
        .level_before = now,
        .level_after = lzq_after_change(now, share, new_level),
        .copper_after = NAN,
    };
    out->n++;
    out->litres += step->litres;
    now = step->level_after;
  }
  return LZQ_OK;
}

// Salinity after step i of n: equal ratios of (S - r) down, equal rises up.
static double
salinity_after(const lzq_salinity_way *way, bool down, uint32_t i, uint32_t n)
{
  if (i == n)
    return way->to;
  double part = (double)i / n;
  if (!down)
    return way->from + (way->to - way->from) * part;
  double r = way->new_salinity;
  return r + (way->from - r) * pow((way->to - r) / (way->from - r), part);
}

static double
largest_move(const lzq_salinity_way *way, bool down, uint32_t n)
{
  return fabs(salinity_after(way, down, 1, n) - way->from);
}

// The fewest steps whose largest move keeps both limits; LZQ_MAX_STEPS + 1 if none does.
static uint32_t
fewest_steps(const lzq_salinity_way *way, bool down)
{
  uint32_t n = 1;
  for (; n <= LZQ_MAX_STEPS; n++) {
    double move = largest_move(way, down, n);
    if (is_limit(way->max_step) && move > way->max_step + LZQ_EDGE)
      continue;
    if (is_limit(way->max_day) && move > way->max_day + LZQ_EDGE)
      continue;
    break;
  }
  return n;
}

// Earliest minute for step i: the gap kept, and no window of 1,440 minutes with more than max_day.
static int64_t
earliest(const lzq_salinity_way *way, const lzq_steps *done, double move)
{
  if (done->n == 0)
    return 0;
  int64_t at = done->steps[done->n - 1].after_min + (way->gap_min > 0 ? way->gap_min : 0);
  if (!is_limit(way->max_day))
    return at;
  double sum = move;
  for (uint32_t i = done->n; i-- > 0;) {
    const lzq_step *step = &done->steps[i];
    sum += fabs(step->level_after - step->level_before);
    if (sum > way->max_day + LZQ_EDGE) {
      int64_t clear = step->after_min + LZQ_DAY;
      return at > clear ? at : clear;
    }
  }
  return at;
}

static void
add_copper(const lzq_salinity_way *way, bool first, lzq_step *step)
{
  if (isnan(way->copper)) {
    step->copper_after = NAN;
    return;
  }
  double target = isnan(way->copper_target) ? way->copper : way->copper_target;
  double before = first ? way->copper : target;
  step->copper_after = lzq_after_change(before, step->share, 0.0);
  step->copper_out_mg = (before - step->copper_after) * way->volume_l;
  step->copper_dose_mg = fmax((target - step->copper_after) * way->volume_l, 0.0);
}

// The fewest steps down, each the first of the fewest equal ratios that lead on from where it
// begins: further down the same limit is a larger share, and fewer steps may do than the first
// foresaw. So the way says at its beginning what it says again after every step, as the plan's
// does.
static uint32_t
fewest_down(const lzq_salinity_way *way, double levels[LZQ_MAX_STEPS + 1])
{
  lzq_salinity_way rest = *way;
  levels[0] = way->from;
  for (uint32_t done = 1; done <= LZQ_MAX_STEPS; done++) {
    const uint32_t left = fewest_steps(&rest, true);
    if (left > LZQ_MAX_STEPS + 1 - done)
      break;
    rest.from = levels[done] = salinity_after(&rest, true, 1, left);
    if (left <= 1)
      return done;
  }
  return LZQ_MAX_STEPS + 1;
}

// The levels of the way: in equal ratios or rises where the steps are given, else the fewest.
static uint32_t
levels_of(const lzq_salinity_way *way, bool down, double levels[LZQ_MAX_STEPS + 1])
{
  if (down && !way->steps)
    return fewest_down(way, levels);
  uint32_t n = way->steps ? way->steps : fewest_steps(way, down);
  for (uint32_t i = 0; i <= n && n <= LZQ_MAX_STEPS; i++)
    levels[i] = salinity_after(way, down, i, n);
  return n;
}

// Of salinity from one step to the next; NAN where it varies.
static double
ratio_of(const lzq_steps *steps)
{
  for (uint32_t i = 1; i < steps->n; i++)
    if (fabs(steps->steps[i].share - steps->steps[0].share) > LZQ_EDGE)
      return NAN;
  return 1.0 - steps->steps[0].share;
}

typedef enum { BY_CHANGE, BY_SALT } way_kind;

static lzq_status
salinity_steps(const lzq_salinity_way *way, bool down, way_kind kind, lzq_steps *out)
{
  *out = (lzq_steps){.ratio = NAN};
  if (!isfinite(way->from) || !isfinite(way->to) || !(way->volume_l > 0.0) ||
      (down ? way->to > way->from : way->to < way->from))
    return LZQ_OUT_OF_RANGE;
  if (way->from == way->to)
    return LZQ_OK;
  double r = way->new_salinity;
  if (kind == BY_CHANGE && !(down ? r < way->to : r >= way->to))
    return LZQ_OUT_OF_RANGE;
  double levels[LZQ_MAX_STEPS + 1] = {0};
  const uint32_t n = levels_of(way, down, levels);
  if (n > LZQ_MAX_STEPS)
    return LZQ_OUT_OF_RANGE;
  double factor = way->mix_factor > 0.0 ? way->mix_factor : 1.0;
  bool kept = true;
  for (uint32_t i = 0; i < n; i++) {
    lzq_step step = {.level_before = levels[i], .level_after = levels[i + 1]};
    double move = step.level_after - step.level_before;
    step.after_min = earliest(way, out, fabs(move));
    if (kind == BY_CHANGE) {
      step.share = move / (r - step.level_before);
      step.litres = step.share * way->volume_l;
    } else {
      step.salt_kg = move * way->volume_l / 1000.0 * factor;
    }
    add_copper(way, i == 0, &step);
    kept = kept && !(is_limit(way->max_step) && fabs(move) > way->max_step + LZQ_EDGE) &&
           !(is_limit(way->max_day) && fabs(move) > way->max_day + LZQ_EDGE);
    out->steps[out->n++] = step;
    out->litres += step.litres;
    out->salt_kg += step.salt_kg;
  }
  if (down)
    out->ratio = ratio_of(out);
  return kept ? LZQ_OK : LZQ_OUT_OF_RANGE;
}

lzq_status
lzq_salinity_down(const lzq_salinity_way *way, lzq_steps *out)
{
  return salinity_steps(way, true, BY_CHANGE, out);
}

lzq_status
lzq_salinity_up_by_change(const lzq_salinity_way *way, lzq_steps *out)
{
  return salinity_steps(way, false, BY_CHANGE, out);
}

lzq_status
lzq_salinity_up_by_salt(const lzq_salinity_way *way, lzq_steps *out)
{
  return salinity_steps(way, false, BY_SALT, out);
}
