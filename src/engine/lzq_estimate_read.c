// SPDX-License-Identifier: GPL-3.0-or-later
// Readings into the bank, and what is suspect.
#include "lzq_estimate.h"

#include <math.h>

#define LOG_2PI   1.837877066409345483560659472811
#define LOG_FLOOR (-700.0)
#define COARSE    8.0 // a display step beyond so many sd: the reading is an interval, not a point

double
lzq_reading_variance(const lzq_bank_reading *reading)
{
  double rel = reading->srel * reading->y;
  return reading->sa * reading->sa + rel * rel + reading->res * reading->res / 12.0;
}

// l -= log of the sum of exp(l), which is returned; no weight falls below the floor.
static double
renormalise(lzq_bank *bank)
{
  uint32_t n = bank->rules.n;
  double top = bank->f[0].l;
  for (uint32_t i = 1; i < n; i++)
    top = fmax(top, bank->f[i].l);
  double sum = exp(bank->f[0].l - top);
  for (uint32_t i = 1; i < n; i++)
    sum += exp(bank->f[i].l - top);
  double increment = top + log(sum);
  for (uint32_t i = 0; i < n; i++)
    bank->f[i].l = fmax(bank->f[i].l - increment, LOG_FLOOR);
  return increment;
}

static void
update_point(lzq_filter *f, double y, double r, double floor_p)
{
  double total = f->pxx + r, off = y - f->x;
  double gain_x = f->pxx / total, gain_s = f->pxs / total;
  f->l += -0.5 * (LOG_2PI + log(total) + off * off / total);
  f->x += gain_x * off;
  f->s += gain_s * off;
  f->pss -= gain_s * f->pxs;
  f->pxs *= 1.0 - gain_x;
  f->pxx = fmax(f->pxx * (1.0 - gain_x), floor_p);
}

double
lzq_bank_update(lzq_bank *bank, double y, double r)
{
  double floor_p = 1e-14 * bank->rules.c_ref * bank->rules.c_ref;
  for (uint32_t i = 0; i < bank->rules.n; i++)
    update_point(&bank->f[i], y, r, floor_p);
  double increment = renormalise(bank);
  bank->log_likelihood += increment;
  bank->readings++;
  return increment;
}

static double
normal_density(double z)
{
  return exp(-0.5 * (z * z + LOG_2PI));
}

// P(al < Z < be) without cancellation in either tail
static double
normal_between(double al, double be)
{
  return al > 0.0 ? lzq_normal_below(-al) - lzq_normal_below(-be)
                  : lzq_normal_below(be) - lzq_normal_below(al);
}

// Moment-matched update with "the level shown lies within half a step of y".
static void
update_interval(lzq_filter *f, const lzq_bank_reading *reading, double r, double floor_p)
{
  double total = f->pxx + r, sd = sqrt(total), half = 0.5 * reading->res;
  double al = (reading->y - half - f->x) / sd, be = (reading->y + half - f->x) / sd;
  double z = normal_between(al, be);
  if (!(z >= 1e-250)) {
    update_point(f, reading->y, r + reading->res * reading->res / 12.0, floor_p);
    return;
  }
  double pa = normal_density(al), pb = normal_density(be);
  double d = (pa - pb) / z, q = d * d + (be * pb - al * pa) / z;
  double pxx = f->pxx, pxs = f->pxs;
  f->l += log(z) - log(reading->res);
  f->x += pxx / sd * d;
  f->s += pxs / sd * d;
  f->pss -= pxs * pxs / total * q;
  f->pxs -= pxx * pxs / total * q;
  f->pxx = fmax(pxx - pxx * pxx / total * q, floor_p);
}

double
lzq_bank_take(lzq_bank *bank, const lzq_bank_reading *reading)
{
  double r = lzq_reading_variance(reading);
  if (!(reading->res > COARSE * reading->sa))
    return lzq_bank_update(bank, reading->y, r);
  double floor_p = 1e-14 * bank->rules.c_ref * bank->rules.c_ref;
  r -= reading->res * reading->res / 12.0;
  for (uint32_t i = 0; i < bank->rules.n; i++)
    update_interval(&bank->f[i], reading, r, floor_p);
  double increment = renormalise(bank);
  bank->log_likelihood += increment;
  bank->readings++;
  return increment;
}

double
lzq_bank_surprise(const lzq_bank *bank, const lzq_bank_reading *reading)
{
  double w[LZQ_GRID_MAX], below = 0.0, above = 0.0, r = lzq_reading_variance(reading);
  lzq_bank_weights(bank, w);
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    double z = (reading->y - bank->f[i].x) / sqrt(bank->f[i].pxx + r);
    below += w[i] * lzq_normal_below(z);
    above += w[i] * lzq_normal_below(-z);
  }
  return 2.0 * fmin(below, above);
}

static void
widen_for_jump(lzq_bank *bank, double level)
{
  double off = level - lzq_bank_summary(bank).mean;
  for (uint32_t i = 0; i < bank->rules.n; i++)
    bank->f[i].pxx += off * off;
}

lzq_read_verdict
lzq_bank_read(lzq_bank *bank, const lzq_bank_reading *reading)
{
  const lzq_suspect *before = &bank->suspect;
  bool repeat = before->waiting;
  if (repeat) {
    lzq_bank_reading first = {before->y, before->sa, before->srel, before->res};
    double r = lzq_reading_variance(&first), r2 = lzq_reading_variance(reading);
    if (fabs(reading->y - first.y) < 3.0 * sqrt(r + r2 + before->added)) {
      widen_for_jump(bank, 0.5 * (first.y + reading->y));
      if (before->added > 0.0)
        lzq_bank_update(bank, first.y, r + before->added);
      else
        lzq_bank_take(bank, &first);
      lzq_bank_take(bank, reading);
      bank->suspect.waiting = false;
      return LZQ_READ_JUMPED;
    }
  }
  double edge = 2.0 * lzq_normal_below(-bank->rules.suspect_sd);
  if (lzq_bank_surprise(bank, reading) < edge) {
    bank->suspect =
        (lzq_suspect){reading->y, reading->sa, reading->srel, reading->res, 0.0, .waiting = true};
    return repeat ? LZQ_READ_ASK_THIRD : LZQ_READ_SUSPECT;
  }
  lzq_bank_take(bank, reading);
  bank->suspect.waiting = false;
  return repeat ? LZQ_READ_CLEARED : LZQ_READ_TAKEN;
}
