// SPDX-License-Identifier: GPL-3.0-or-later
// The grid of loss rates, its prior, and how the bank moves through time and recorded events.
#include "lzq_estimate.h"

#include <math.h>

#define LOG_FLOOR    (-700.0) // exp of it is still a number: a far reading must not give 0/0
#define SUB_STEP     0.6      // largest share that leaves a point in one sub-step
#define MOST_STEPS   200
#define LONG_SILENCE (21.0 * 24.0)

lzq_bank_rules
lzq_bank_rules_default(double c_ref)
{
  return (lzq_bank_rules){
      .n = 25,
      .k_max = 0.04,
      .k_middle = 0.004,
      .k_spread = 1.0,
      .k_zero = 0.10,
      .tau2 = 0.002,
      .s2 = (0.001 * c_ref) * (0.001 * c_ref),
      .c_ref = c_ref,
      .volume_sd = 0.03,
      .gain_sd = 0.02,
      .dose_sd = 0.01,
      .change_sd = 0.03,
      .suspect_sd = 3.5,
  };
}

static bool
rules_hold(const lzq_bank_rules *rules)
{
  return rules->n >= 1 && rules->n <= LZQ_GRID_MAX && rules->k_max > 0.0 && rules->k_max < 10.0 &&
         rules->k_middle > 0.0 && rules->k_spread > 0.0 && rules->k_zero >= 0.0 &&
         rules->k_zero < 1.0 && rules->tau2 >= 0.0 && rules->tau2 < 1.0 && rules->s2 >= 0.0 &&
         isfinite(rules->s2) && rules->c_ref > 0.0 && isfinite(rules->c_ref) &&
         rules->volume_sd >= 0.0 && rules->gain_sd >= 0.0 && rules->dose_sd >= 0.0 &&
         rules->change_sd >= 0.0 && rules->suspect_sd > 0.0;
}

// Rates of k between neighbours: a diffusion of ln k, made a Metropolis walk so that the prior is
// stationary and a long silence returns to it.
static void
set_rates(lzq_bank *bank)
{
  double before = 0.0;
  for (uint32_t i = 0; i + 1 < bank->rules.n; i++) {
    double dk = bank->k[i + 1] - bank->k[i], kb = 0.5 * (bank->k[i] + bank->k[i + 1]);
    double rate = bank->rules.tau2 * kb * kb / (2.0 * dk * dk);
    double ratio = exp(bank->log_prior[i + 1] - bank->log_prior[i]);
    bank->up[i] = rate * fmin(1.0, ratio);
    bank->down[i + 1] = rate * fmin(1.0, 1.0 / ratio);
    bank->fastest = fmax(bank->fastest, before + rate);
    before = rate;
  }
}

lzq_status
lzq_bank_init_grid(lzq_bank *bank, const lzq_bank_rules *rules, const double *k,
                   const double *prior, double c0, double p0, lzq_minute at)
{
  if (!rules_hold(rules) || !isfinite(c0) || !(p0 > 0.0) || !isfinite(p0))
    return LZQ_BAD_INPUT;
  *bank = (lzq_bank){.rules = *rules, .at = at};
  double sum = 0.0;
  for (uint32_t i = 0; i < rules->n; i++) {
    if (!(prior[i] > 0.0) || !(k[i] >= 0.0) || (i > 0 && !(k[i] > k[i - 1])))
      return LZQ_BAD_INPUT;
    sum += prior[i];
  }
  double gain_variance = rules->volume_sd * rules->volume_sd + rules->gain_sd * rules->gain_sd;
  for (uint32_t i = 0; i < rules->n; i++) {
    bank->k[i] = k[i];
    bank->log_prior[i] = log(prior[i] / sum);
    bank->f[i] =
        (lzq_filter){.x = c0, .s = 1.0, .pxx = p0, .pss = gain_variance, .l = bank->log_prior[i]};
  }
  set_rates(bank);
  return LZQ_OK;
}

lzq_status
lzq_bank_init(lzq_bank *bank, const lzq_bank_rules *rules, double c0, double p0, lzq_minute at)
{
  if (!rules_hold(rules))
    return LZQ_BAD_INPUT;
  double k[LZQ_GRID_MAX], prior[LZQ_GRID_MAX], sum = 0.0;
  uint32_t n = rules->n;
  for (uint32_t i = 0; i < n; i++) {
    double part = n > 1 ? (double)i / (n - 1) : 1.0;
    k[i] = rules->k_max * (part * part); // square-root spacing: dense where it matters, 0 included
  }
  if (n == 1) {
    prior[0] = 1.0;
    return lzq_bank_init_grid(bank, rules, k, prior, c0, p0, at);
  }
  for (uint32_t i = 1; i < n; i++) {
    double low = i == 1 ? 0.5 * k[1] : 0.5 * (k[i - 1] + k[i]);
    double high = i + 1 == n ? k[i] : 0.5 * (k[i] + k[i + 1]);
    double mass = lzq_normal_below((log(high) - log(rules->k_middle)) / rules->k_spread) -
                  lzq_normal_below((log(low) - log(rules->k_middle)) / rules->k_spread);
    prior[i] = fmax(mass, 1e-12);
    sum += prior[i];
  }
  for (uint32_t i = 1; i < n; i++)
    prior[i] *= (1.0 - rules->k_zero) / sum;
  prior[0] = fmax(rules->k_zero, 1e-12);
  return lzq_bank_init_grid(bank, rules, k, prior, c0, p0, at);
}

// One sub-step: what flows into j from its neighbours, moments matched.
static void
mix_point(const lzq_bank *bank, const lzq_filter *from, const double *w, double h, uint32_t j,
          lzq_filter *to, double *weight)
{
  uint32_t n = bank->rules.n;
  double in[3] = {0.0, w[j] * (1.0 - h * (bank->up[j] + bank->down[j])), 0.0};
  if (j > 0)
    in[0] = w[j - 1] * h * bank->up[j - 1];
  if (j + 1 < n)
    in[2] = w[j + 1] * h * bank->down[j + 1];
  double total = in[0] + in[1] + in[2];
  *weight = total;
  *to = from[j];
  if (!(total > 1e-300))
    return;
  double x = 0.0, s = 0.0;
  uint32_t first = j > 0 ? j - 1 : 0, last = j + 1 < n ? j + 1 : j;
  for (uint32_t i = first; i <= last; i++) {
    x += in[i + 1 - j] * from[i].x;
    s += in[i + 1 - j] * from[i].s;
  }
  x /= total;
  s /= total;
  double pxx = 0.0, pxs = 0.0, pss = 0.0;
  for (uint32_t i = first; i <= last; i++) {
    double dx = from[i].x - x, ds = from[i].s - s, share = in[i + 1 - j] / total;
    pxx += share * (from[i].pxx + dx * dx);
    pxs += share * (from[i].pxs + dx * ds);
    pss += share * (from[i].pss + ds * ds);
  }
  *to = (lzq_filter){.x = x, .s = s, .pxx = pxx, .pxs = pxs, .pss = pss};
}

// The loss rate drifts for dt hours, before the level decays over them.
static void
move_rates(lzq_bank *bank, double dt_h)
{
  if (!(bank->fastest > 0.0))
    return;
  uint32_t n = bank->rules.n;
  double w[LZQ_GRID_MAX], next_w[LZQ_GRID_MAX];
  lzq_filter spare[LZQ_GRID_MAX], *from = bank->f, *to = spare;
  lzq_bank_weights(bank, w);
  double wanted = ceil(dt_h * bank->fastest / SUB_STEP);
  uint32_t steps = wanted < 1.0 ? 1 : wanted > MOST_STEPS ? MOST_STEPS : (uint32_t)wanted;
  for (uint32_t step = 0; step < steps; step++) {
    for (uint32_t j = 0; j < n; j++)
      mix_point(bank, from, w, dt_h / steps, j, &to[j], &next_w[j]);
    for (uint32_t j = 0; j < n; j++)
      w[j] = next_w[j];
    lzq_filter *swap = from;
    from = to;
    to = swap;
  }
  for (uint32_t j = 0; j < n; j++) {
    bank->f[j] = from[j];
    bank->f[j].l = fmax(log(w[j]), LOG_FLOOR);
  }
}

static void
decay(lzq_bank *bank, double dt_h)
{
  double floor_p = 1e-14 * bank->rules.c_ref * bank->rules.c_ref;
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    lzq_filter *f = &bank->f[i];
    double k = bank->k[i], a = exp(-k * dt_h);
    double grown = k * dt_h < 1e-8 ? dt_h : -expm1(-2.0 * k * dt_h) / (2.0 * k);
    f->x *= a;
    f->pxx = fmax(a * a * f->pxx + bank->rules.s2 * grown, floor_p);
    f->pxs *= a;
  }
}

// The waiting reading is one more guess at the level: what is done to the water is done to it.
static void
carry_suspect_over_time(lzq_bank *bank, double dt_h)
{
  lzq_suspect *held = &bank->suspect;
  if (!held->waiting)
    return;
  lzq_bank_moments m = lzq_bank_summary(bank);
  double a = exp(-m.k_mean * dt_h), by_k = held->y * dt_h * m.k_sd;
  held->y *= a;
  held->added = a * a * (held->added + by_k * by_k) + bank->rules.s2 * dt_h;
}

static void
carry_suspect_over_step(lzq_bank *bank, double stay, double add, double sd)
{
  lzq_suspect *held = &bank->suspect;
  held->y = stay * held->y + add;
  held->added = stay * stay * held->added + sd * sd;
}

void
lzq_bank_advance(lzq_bank *bank, double dt_h)
{
  if (!(dt_h > 0.0))
    return;
  carry_suspect_over_time(bank, dt_h);
  if (dt_h > LONG_SILENCE) {
    for (uint32_t i = 0; i < bank->rules.n; i++) {
      lzq_filter *f = &bank->f[i];
      f->l = bank->log_prior[i];
      f->pxx += 0.25 * f->x * f->x;
    }
    decay(bank, fmin(dt_h, 1e6));
    return;
  }
  move_rates(bank, dt_h);
  decay(bank, dt_h);
}

void
lzq_bank_to(lzq_bank *bank, lzq_minute to)
{
  if (to <= bank->at)
    return;
  lzq_bank_advance(bank, (double)(to - bank->at) / 60.0);
  bank->at = to;
}

void
lzq_bank_dose(lzq_bank *bank, double level, double sd_rel)
{
  double d = level, sd = isnan(sd_rel) ? bank->rules.dose_sd : sd_rel;
  if (bank->suspect.waiting) {
    lzq_bank_moments m = lzq_bank_summary(bank);
    carry_suspect_over_step(bank, 1.0, d * m.s_mean, d * hypot(m.s_sd, sd));
  }
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    lzq_filter *f = &bank->f[i];
    f->x += d * f->s;
    f->pxx += 2.0 * d * f->pxs + d * d * f->pss + (d * sd) * (d * sd);
    f->pxs += d * f->pss;
  }
}

void
lzq_bank_change(lzq_bank *bank, double share, double new_level, double q)
{
  const lzq_bank_rules *rules = &bank->rules;
  double rel = sqrt(rules->change_sd * rules->change_sd + rules->volume_sd * rules->volume_sd);
  double stay = 1.0 - share;
  double held = isnan(q) ? share * rel * fabs(new_level - bank->suspect.y) : q;
  carry_suspect_over_step(bank, stay, share * new_level, held);
  for (uint32_t i = 0; i < rules->n; i++) {
    lzq_filter *f = &bank->f[i];
    double own = isnan(q) ? share * rel * fabs(new_level - f->x) : q;
    f->x = stay * f->x + share * new_level;
    f->pxx = stay * stay * f->pxx + own * own;
    f->pxs *= stay;
  }
}

void
lzq_bank_forget(lzq_bank *bank)
{
  double wide = fmax(bank->rules.c_ref, 1e-6);
  for (uint32_t i = 0; i < bank->rules.n; i++) {
    lzq_filter *f = &bank->f[i];
    double half = fmax(wide, f->x);
    f->pxx += half * half;
    f->pxs = 0.0;
  }
  bank->suspect.waiting = false;
}

void
lzq_bank_new_volume(lzq_bank *bank)
{
  const lzq_bank_rules *rules = &bank->rules;
  for (uint32_t i = 0; i < rules->n; i++) {
    lzq_filter *f = &bank->f[i];
    f->s = 1.0;
    f->pxs = 0.0;
    f->pss = rules->volume_sd * rules->volume_sd + rules->gain_sd * rules->gain_sd;
  }
}
