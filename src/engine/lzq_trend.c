// SPDX-License-Identifier: GPL-3.0-or-later
// Scalar and two-state Kalman filters for temperature and salinity.
#include "lzq_trend.h"

#include <math.h>

#include "lzq_estimate.h"

#define LOG_2PI     1.837877066409345483560659472811
#define USUAL_SHARE (0.005 / 24.0) // evaporates an hour: half a percent a day

lzq_local_level
lzq_temperature_level(double set_point_c)
{
  const double pull = 1.0 / 6.0, swing = 0.3;
  return (lzq_local_level){.x = set_point_c,
                           .p = 1.0,
                           .q = swing * swing * 2.0 * pull,
                           .pull = pull,
                           .set = set_point_c};
}

void
lzq_local_level_advance(lzq_local_level *level, double dt_h)
{
  if (!(dt_h > 0.0))
    return;
  if (!(level->pull > 0.0)) {
    level->p += level->q * dt_h;
    return;
  }
  double a = exp(-level->pull * dt_h);
  level->x = level->set + a * (level->x - level->set);
  level->p = a * a * level->p - level->q * expm1(-2.0 * level->pull * dt_h) / (2.0 * level->pull);
}

double
lzq_local_level_update(lzq_local_level *level, double y, double r)
{
  double total = level->p + r, off = y - level->x, gain = level->p / total;
  level->x += gain * off;
  level->p *= 1.0 - gain;
  double increment = -0.5 * (LOG_2PI + log(total) + off * off / total);
  level->log_likelihood += increment;
  return increment;
}

double
lzq_local_level_off(const lzq_local_level *level, double y, double r)
{
  return (y - level->x) / sqrt(level->p + r);
}

lzq_salt_level
lzq_salt_start(double s, double r)
{
  const double share = USUAL_SHARE;
  return (lzq_salt_level){.s = s,
                          .g = share,
                          .pss = r,
                          .pgg = 0.6 * share * share,
                          .qs = 0.02 * 0.02 / 24.0,
                          .tau2 = 0.0015};
}

void
lzq_salt_advance(lzq_salt_level *salt, double dt_h)
{
  if (!(dt_h > 0.0))
    return;
  double g = fmax(salt->g, 0.0), grow = exp(g * dt_h), by_g = salt->s * dt_h * grow;
  double pss = salt->pss, psg = salt->psg, pgg = salt->pgg;
  double wanders = fmax(g, 0.25 * USUAL_SHARE); // a rate learnt as 0 can still come back
  double noise = salt->tau2 * wanders * wanders * dt_h;
  salt->s *= grow;
  salt->pss = grow * grow * pss + 2.0 * grow * by_g * psg + by_g * by_g * (pgg + noise / 3.0) +
              salt->qs * dt_h;
  salt->psg = grow * psg + by_g * (pgg + noise / 2.0);
  salt->pgg = pgg + noise;
}

// S' = stay S + add, with its own sd
static void
step(lzq_salt_level *salt, double stay, double add, double sd)
{
  salt->s = stay * salt->s + add;
  salt->pss = stay * stay * salt->pss + sd * sd;
  salt->psg *= stay;
}

void
lzq_salt_change(lzq_salt_level *salt, double share, double new_salinity, double sd_rel)
{
  double f = fmin(fmax(share, 0.0), 1.0);
  step(salt, 1.0 - f, f * new_salinity, f * sd_rel * fabs(new_salinity - salt->s));
}

void
lzq_salt_add(lzq_salt_level *salt, double grams, double volume_l, double sd_rel)
{
  double rise = grams / volume_l;
  step(salt, 1.0, rise, rise * sd_rel);
}

double
lzq_salt_update(lzq_salt_level *salt, double y, double r)
{
  double total = salt->pss + r, off = y - salt->s;
  double gain_s = salt->pss / total, gain_g = salt->psg / total;
  salt->s += gain_s * off;
  salt->g = fmax(salt->g + gain_g * off, 0.0); // water does not come back
  salt->pgg -= gain_g * salt->psg;
  salt->psg *= 1.0 - gain_s;
  salt->pss *= 1.0 - gain_s;
  double increment = -0.5 * (LOG_2PI + log(total) + off * off / total);
  salt->log_likelihood += increment;
  return increment;
}

double
lzq_salt_off(const lzq_salt_level *salt, double y, double r)
{
  return (y - salt->s) / sqrt(salt->pss + r);
}

double
lzq_salt_evaporation_l_day(const lzq_salt_level *salt, double volume_l)
{
  return fmax(salt->g, 0.0) * 24.0 * volume_l;
}

double
lzq_trend_quantile(double mean, double variance, double p)
{
  double low = -12.0, high = 12.0;
  for (int i = 0; i < 80; i++) {
    double z = 0.5 * (low + high);
    if (lzq_normal_below(z) < p)
      low = z;
    else
      high = z;
  }
  return mean + 0.5 * (low + high) * sqrt(variance);
}
