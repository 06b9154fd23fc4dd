// SPDX-License-Identifier: GPL-3.0-or-later
// What the bank says: weights, moments, quantiles, the learnt rate and volume.
#include "lzq_estimate.h"

#include <math.h>

#define SKIP_BELOW 1e-14 // weights that cannot be seen in a probability

double
lzq_normal_below(double z)
{
  return 0.5 * erfc(-z * 0.707106781186547524400844362105);
}

void
lzq_bank_weights(const lzq_bank *bank, double *weights)
{
  uint32_t n = bank->rules.n;
  double top = bank->f[0].l, sum = 0.0;
  for (uint32_t i = 1; i < n; i++)
    top = fmax(top, bank->f[i].l);
  for (uint32_t i = 0; i < n; i++)
    sum += weights[i] = exp(bank->f[i].l - top);
  for (uint32_t i = 0; i < n; i++)
    weights[i] /= sum;
}

static double
below(const lzq_bank *bank, const double *w, double c, double gain)
{
  double sum = 0.0;
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    if (w[i] < SKIP_BELOW)
      continue;
    const lzq_filter *f = &bank->f[i];
    double spread = gain * f->x;
    sum += w[i] * lzq_normal_below((c - f->x) / sqrt(f->pxx + spread * spread));
  }
  return sum;
}

static double
gain_of(const lzq_bank *bank, lzq_scale scale)
{
  return scale == LZQ_SCALE_TRUE ? bank->rules.gain_sd : 0.0;
}

double
lzq_bank_below(const lzq_bank *bank, double c, lzq_scale scale)
{
  double w[LZQ_GRID_MAX];
  lzq_bank_weights(bank, w);
  return below(bank, w, c, gain_of(bank, scale));
}

// The sd of the loss rate under weights that sum to 1.
static double
loss_sd(const lzq_bank *bank, const double *w)
{
  double mean = 0.0, variance = 0.0;
  for (uint32_t i = 0; i < bank->rules.n; i++)
    mean += w[i] * bank->k[i];
  for (uint32_t i = 0; i < bank->rules.n; i++)
    variance += w[i] * (bank->k[i] - mean) * (bank->k[i] - mean);
  return sqrt(variance);
}

bool
lzq_bank_knows_loss(const lzq_bank *bank)
{
  double w[LZQ_GRID_MAX], prior[LZQ_GRID_MAX];
  lzq_bank_weights(bank, w);
  for (uint32_t i = 0; i < bank->rules.n; i++)
    prior[i] = exp(bank->log_prior[i]);
  return loss_sd(bank, w) <= 0.5 * loss_sd(bank, prior);
}

lzq_bank_moments
lzq_bank_summary(const lzq_bank *bank)
{
  double w[LZQ_GRID_MAX];
  lzq_bank_moments m = {0};
  lzq_bank_weights(bank, w);
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    m.mean += w[i] * bank->f[i].x;
    m.s_mean += w[i] * bank->f[i].s;
    m.k_mean += w[i] * bank->k[i];
  }
  double vx = 0.0, vs = 0.0, vk = 0.0;
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    const lzq_filter *f = &bank->f[i];
    double dx = f->x - m.mean, ds = f->s - m.s_mean, dk = bank->k[i] - m.k_mean;
    vx += w[i] * (f->pxx + dx * dx);
    vs += w[i] * (f->pss + ds * ds);
    vk += w[i] * dk * dk;
  }
  m.sd = sqrt(vx);
  m.s_sd = sqrt(fmax(vs, 0.0));
  m.k_sd = sqrt(vk);
  return m;
}

// Density of the mixture at c: the slope of `below`.
static double
density(const lzq_bank *bank, const double *w, double c, double gain)
{
  double sum = 0.0;
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    if (w[i] < SKIP_BELOW)
      continue;
    const lzq_filter *f = &bank->f[i];
    double spread = gain * f->x, sd = sqrt(f->pxx + spread * spread), z = (c - f->x) / sd;
    sum += w[i] * 0.398942280401432677939946059934 * exp(-0.5 * z * z) / sd;
  }
  return sum;
}

// Newton within a bracket that halving keeps: some six evaluations where halving alone takes 80.
double
lzq_bank_quantile(const lzq_bank *bank, double p, lzq_scale scale)
{
  double w[LZQ_GRID_MAX], gain = gain_of(bank, scale);
  lzq_bank_weights(bank, w);
  lzq_bank_moments m = lzq_bank_summary(bank);
  double sd = sqrt(m.sd * m.sd + gain * m.mean * gain * m.mean);
  double low = m.mean - 12.0 * sd, high = m.mean + 12.0 * sd, at = m.mean;
  for (int i = 0; i < 80; i++) {
    double off = below(bank, w, at, gain) - p;
    if (off < 0.0)
      low = at;
    else
      high = at;
    double next = at - off / density(bank, w, at, gain);
    if (!(next > low && next < high))
      next = 0.5 * (low + high);
    double step = fabs(next - at);
    at = next;
    if (step <= 1e-14 * sd)
      break;
  }
  return at;
}

lzq_learnt_volume
lzq_bank_volume(const lzq_bank *bank, double entered_l)
{
  lzq_bank_moments m = lzq_bank_summary(bank);
  double off = fabs(m.s_mean - 1.0);
  return (lzq_learnt_volume){
      .volume_l = entered_l / m.s_mean,
      .sd_l = entered_l / m.s_mean * (m.s_sd / m.s_mean),
      .differs = off > 2.0 * m.s_sd && off > 0.10,
  };
}
