// SPDX-License-Identifier: GPL-3.0-or-later
// Forecasts on a copy of the bank, two hours at a time.
#include "lzq_forecast.h"

#include <math.h>

#define STEP_H 2.0

// The walk of F over time.
typedef struct {
  lzq_bank bank;
  double edge, at_h, chance; // chance: the running maximum so far
} walk;

static walk
walk_start(const lzq_bank *bank, double edge)
{
  walk w = {.bank = *bank, .edge = edge};
  w.chance = lzq_bank_below(bank, edge, LZQ_SCALE_TRUE);
  return w;
}

static void
walk_on(walk *w, double hours)
{
  lzq_bank_advance(&w->bank, hours);
  w->at_h += hours;
  w->chance = fmax(w->chance, lzq_bank_below(&w->bank, w->edge, LZQ_SCALE_TRUE));
}

// Fills times_h for the rising chances p; one walk for all.
static void
reach_times(const lzq_bank *bank, double edge, const double *p, uint32_t n, double *times_h)
{
  walk w = walk_start(bank, edge);
  uint32_t next = 0;
  while (next < n && w.chance >= p[next])
    times_h[next++] = 0.0;
  while (next < n && w.at_h < LZQ_HORIZON_H) {
    double before = w.chance, from = w.at_h;
    walk_on(&w, STEP_H);
    for (; next < n && w.chance >= p[next]; next++)
      times_h[next] = from + STEP_H * (p[next] - before) / (w.chance - before);
  }
  while (next < n)
    times_h[next++] = INFINITY;
}

lzq_exit
lzq_forecast_exit(const lzq_bank *bank, double edge)
{
  const double p[3] = {0.10, 0.50, 0.90};
  double t[3];
  reach_times(bank, edge, p, 3, t);
  return (lzq_exit){.edge = edge,
                    .below_now = lzq_bank_below(bank, edge, LZQ_SCALE_TRUE),
                    .low_h = t[0],
                    .likely_h = t[1],
                    .high_h = t[2]};
}

double
lzq_forecast_reaches(const lzq_bank *bank, double edge, double p)
{
  double t;
  reach_times(bank, edge, &p, 1, &t);
  return t;
}

double
lzq_forecast_chance(const lzq_bank *bank, double edge, double hours)
{
  walk w = walk_start(bank, edge);
  double until = fmin(hours, LZQ_HORIZON_H);
  while (w.at_h < until)
    walk_on(&w, fmin(STEP_H, until - w.at_h));
  return w.chance;
}

static double
below_after(const lzq_bank *bank, double dose, double edge, double hours)
{
  lzq_bank ahead = *bank;
  lzq_bank_dose(&ahead, dose, NAN);
  lzq_bank_advance(&ahead, hours);
  return lzq_bank_below(&ahead, edge, LZQ_SCALE_TRUE);
}

static double
above_after(const lzq_bank *bank, double dose, double edge)
{
  if (isnan(edge))
    return 0.0;
  lzq_bank ahead = *bank;
  lzq_bank_dose(&ahead, dose, NAN);
  return 1.0 - lzq_bank_below(&ahead, edge, LZQ_SCALE_TRUE);
}

// The largest dose that keeps the upper edge: the chance of lying above rises with the dose.
static double
largest_below(const lzq_bank *bank, double high, double p_high, double most)
{
  if (above_after(bank, most, high) <= p_high)
    return most;
  double low = 0.0, top = most;
  for (int i = 0; i < 50; i++) {
    double middle = 0.5 * (low + top);
    if (above_after(bank, middle, high) <= p_high)
      low = middle;
    else
      top = middle;
  }
  return low;
}

lzq_hold
lzq_forecast_hold(const lzq_bank *bank, double low, double high, double hours, double p_low,
                  double p_high)
{
  lzq_hold hold = {0};
  double most = 20.0 * fmax(low, bank->rules.c_ref);
  if (below_after(bank, 0.0, low, hours) > p_low) {
    double small = 0.0, large = most;
    for (int i = 0; i < 50; i++) {
      double middle = 0.5 * (small + large);
      if (below_after(bank, middle, low, hours) <= p_low)
        large = middle;
      else
        small = middle;
    }
    hold.level = large;
  }
  hold.below_then = below_after(bank, hold.level, low, hours);
  hold.above_now = above_after(bank, hold.level, high);
  hold.held = hold.below_then <= p_low && hold.above_now <= p_high;
  if (hold.above_now > p_high) {
    hold.level = largest_below(bank, high, p_high, hold.level);
    hold.below_then = below_after(bank, hold.level, low, hours);
    hold.above_now = above_after(bank, hold.level, high);
  }
  return hold;
}

lzq_next_test
lzq_forecast_next_test(const lzq_bank *bank, double edge, const double *slots_h, uint32_t n_slots,
                       double gap_h, double p)
{
  lzq_next_test next = {.slot = LZQ_NONE, .cannot_hold = true};
  walk w = walk_start(bank, edge);
  for (uint32_t i = 0; i < n_slots; i++) {
    if (i > 0 && slots_h[i] > gap_h)
      break;
    while (w.at_h < slots_h[i] && w.at_h < LZQ_HORIZON_H)
      walk_on(&w, fmin(STEP_H, slots_h[i] - w.at_h));
    bool fits = slots_h[i] <= gap_h && w.chance <= p;
    if (i == 0 || fits) {
      next.slot = i;
      next.chance = w.chance;
      next.cannot_hold = !fits;
    }
    if (!fits)
      break;
  }
  return next;
}
