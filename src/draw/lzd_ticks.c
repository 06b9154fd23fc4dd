// SPDX-License-Identifier: GPL-3.0-or-later
// The 1-2-5 rule, written numbers, and the ladder of time steps.
#include "lzd_ticks.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// The rule counts in whole multiples of 10^exponent, so that no tick is ever 0.30000000000000004.
static const int mantissa[3] = {1, 2, 5};

static double
rung(int rank)
{
  int exponent = (int)floor(rank / 3.0);
  double power = pow(10, abs(exponent));
  double m = mantissa[rank - exponent * 3];
  return exponent < 0 ? m / power : m * power;
}

static lzd_value_ticks
ticks_of(double low, double high, int rank)
{
  double step = rung(rank);
  // A tick that rounding alone puts outside the axis still counts as on its edge.
  double slack = 1e-9;
  double first = ceil(low / step - slack), last = floor(high / step + slack);
  int exponent = (int)floor(rank / 3.0);
  lzd_value_ticks ticks = {.step = step, .first = (int64_t)first};
  ticks.count = last < first ? 0 : (int)(last - first + 1);
  ticks.decimals = exponent < 0 ? -exponent : 0;
  return ticks;
}

static bool
bad_range(double low, double high)
{
  // Beyond 2^53 steps of the range a double cannot tell the ticks apart.
  return !isfinite(low) || !isfinite(high) || !(high > low) ||
         (high - low) < fmax(fabs(low), fabs(high)) * 1e-12;
}

static int
coarse_rank(double low, double high)
{
  return 3 * ((int)floor(log10(high - low)) + 1);
}

lzd_value_ticks
lzd_ticks_values(double low, double high)
{
  if (bad_range(low, high))
    return (lzd_value_ticks){.step = 1};
  int rank = coarse_rank(low, high);
  lzd_value_ticks ticks = ticks_of(low, high, rank);
  while (ticks.count < 5)
    ticks = ticks_of(low, high, --rank);
  return ticks;
}

lzd_value_ticks
lzd_ticks_values_most(double low, double high, int most)
{
  if (bad_range(low, high) || most < 1)
    return (lzd_value_ticks){.step = 1};
  int rank = coarse_rank(low, high);
  lzd_value_ticks best = ticks_of(low, high, rank), next = best;
  while (next.count <= most) {
    best = next;
    next = ticks_of(low, high, --rank);
  }
  return best;
}

double
lzd_tick_value(const lzd_value_ticks *ticks, int i)
{
  int64_t k = ticks->first + i;
  if (ticks->step >= 1)
    return (double)k * ticks->step;
  return (double)k / round(1 / ticks->step); // 3 / 10, not 3 * 0.1
}

#define NARROW_SPACE "\u202f"
#define MINUS        "\u2212"

const char *
lzd_number(char *out, size_t size, double value, int decimals, const lzd_look *look)
{
  char digits[400];
  int length = snprintf(digits, sizeof digits, "%.*f", decimals, fabs(value));
  bool zero = strspn(digits, "0.,") == (size_t)length;
  size_t whole = strcspn(digits, ".,"), at = 0;
  char *end = out + size - 1;
  char *put = out;
  if (value < 0 && !zero)
    put += snprintf(put, (size_t)(end - put), MINUS);
  for (; digits[at] && end - put > 4; at++) {
    if (at == whole)
      *put++ = look->decimal ? look->decimal : '.';
    else
      *put++ = digits[at];
    // Four figures stand ungrouped: 1800, but 12 000.
    if (at + 1 < whole && whole > 4 && (whole - at - 1) % 3 == 0) {
      memcpy(put, NARROW_SPACE, sizeof NARROW_SPACE - 1);
      put += sizeof NARROW_SPACE - 1;
    }
  }
  *put = 0;
  return out;
}

static const lzd_minute length_of[LZD_STEPS] = {
    [LZD_STEP_10_MIN] = 10,         [LZD_STEP_HOUR] = 60,         [LZD_STEP_3_HOURS] = 180,
    [LZD_STEP_6_HOURS] = 360,       [LZD_STEP_12_HOURS] = 720,    [LZD_STEP_DAY] = 1440,
    [LZD_STEP_2_DAYS] = 2 * 1440,   [LZD_STEP_WEEK] = 7 * 1440,   [LZD_STEP_MONTH] = 30 * 1440,
    [LZD_STEP_QUARTER] = 91 * 1440, [LZD_STEP_YEAR] = 365 * 1440,
};

lzd_minute
lzd_time_step_length(lzd_time_step step)
{
  return step < LZD_STEPS ? length_of[step] : length_of[LZD_STEP_YEAR];
}

lzd_time_step
lzd_ticks_time(lzd_minute minutes, double pixels, double apart)
{
  for (int step = 0; step < LZD_STEPS - 1; step++)
    if (minutes > 0 && (double)length_of[step] * pixels / (double)minutes >= apart)
      return (lzd_time_step)step;
  return LZD_STEP_YEAR;
}
