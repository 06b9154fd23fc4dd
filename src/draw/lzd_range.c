// SPDX-License-Identifier: GPL-3.0-or-later
// Which values an axis shows when nobody says. What is aimed at and believed (bands, plan,
// estimate, forecast) sets it; readings widen it to at most their own size again on either side, so
// that one absurd value cannot flatten a month. Readings beyond are drawn at the axis' end.
#include "lzd_parts.h"

#include <math.h>
#include <stdlib.h>

#define SAMPLE 257 // readings looked at for the quartiles

typedef struct {
  double low, high;
} range;

static void
take(range *r, double value)
{
  if (isfinite(value)) {
    r->low = fmin(r->low, value);
    r->high = fmax(r->high, value);
  }
}

static void
take_spans(range *r, const lzd_span *spans, size_t n, lzd_window window)
{
  for (size_t i = 0; i < n; i++)
    if (spans[i].minute >= window.from && spans[i].minute <= window.to)
      take(r, spans[i].mid);
}

// What is aimed at and believed.
static range
core_range(const lzd_panel *panel, lzd_window window)
{
  range r = {INFINITY, -INFINITY};
  for (size_t i = 0; i < panel->n_bands; i++) {
    if (panel->bands[i].to <= window.from || panel->bands[i].from >= window.to)
      continue;
    take(&r, panel->bands[i].low);
    take(&r, panel->bands[i].high);
  }
  for (size_t i = 0; i < panel->n_plan; i++)
    if (panel->plan[i].minute >= window.from && panel->plan[i].minute <= window.to)
      take(&r, panel->plan[i].value);
  take_spans(&r, panel->estimate, panel->n_estimate, window);
  take_spans(&r, panel->forecast, panel->n_forecast, window);
  take_spans(&r, panel->other, panel->n_other, window);
  return r;
}

static int
by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

// Fences of readings that stand alone: ten quartile distances around the quartiles.
static range
fences(const lzd_reading *readings, size_t from, size_t to)
{
  double sample[SAMPLE];
  size_t n = 0, seen = to - from, stride = seen / SAMPLE + 1;
  for (size_t i = from; i < to; i += stride)
    if (lzd_reading_counts(&readings[i]))
      sample[n++] = readings[i].value;
  if (!n)
    return (range){-INFINITY, INFINITY};
  qsort(sample, n, sizeof sample[0], by_value);
  double q1 = sample[n / 4], q3 = sample[n * 3 / 4], middle = sample[n / 2];
  double reach = fmax(10 * (q3 - q1), fmax(fabs(middle), 1e-9));
  return (range){q1 - reach, q3 + reach};
}

static void
take_readings(range *r, const lzd_panel *panel, lzd_window window)
{
  size_t from = lzd_readings_from(panel->readings, panel->n_readings, window.from);
  size_t to = lzd_readings_from(panel->readings, panel->n_readings, window.to + 1);
  if (from >= to)
    return;
  range fence;
  if (r->low < r->high)
    fence = (range){r->low - (r->high - r->low), r->high + (r->high - r->low)};
  else
    fence = fences(panel->readings, from, to);
  lzd_extreme all = lzd_index_range(panel->index, panel->readings, from, to);
  double odd = all.odd == SIZE_MAX ? NAN : panel->readings[all.odd].value;
  double seen[3] = {all.low, all.high, odd};
  for (int i = 0; i < 3; i++)
    if (isfinite(seen[i]))
      take(r, fmin(fmax(seen[i], fence.low), fence.high));
}

// Levels widen the axis only where they lie near: far ones are told in words.
static void
take_levels(range *r, const lzd_panel *panel, lzd_window window)
{
  double near = (r->high - r->low) * 0.25;
  for (size_t i = 0; i < panel->n_levels; i++) {
    const lzd_level *level = &panel->levels[i];
    if (level->to > window.from && level->from < window.to && level->value <= r->high + near &&
        level->value >= r->low - near)
      take(r, level->value);
  }
}

void
lzd_panel_range(const lzd_panel *panel, lzd_window window, double *low, double *high)
{
  range r = core_range(panel, window);
  take_readings(&r, panel, window);
  if (r.low < r.high)
    take_levels(&r, panel, window);
  if (!(r.low <= r.high))
    r = (range){0, 1};
  *low = r.low;
  *high = r.high;
}
