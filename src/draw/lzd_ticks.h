// SPDX-License-Identifier: GPL-3.0-or-later
// Where an axis has its ticks. Values: steps of 1, 2 or 5 times a power of ten. Time: a ladder of
// steps that people count in; the caller, who knows the zone, says where they fall and what they
// are called.
#ifndef LZD_TICKS_H
#define LZD_TICKS_H

#include "lzd_base.h"

typedef struct {
  double step;   // 1, 2 or 5 times a power of ten
  int64_t first; // the first tick is first * step, the last (first + count - 1) * step
  int count;
  int decimals; // that the labels need
} lzd_value_ticks;

// The largest step of the 1-2-5 rule with at least five ticks inside [low, high]: never fewer than
// 5 and, as the rule's steps are at most 2.5 apart, never more than 12. low < high, both finite;
// else count is 0.
lzd_value_ticks lzd_ticks_values(double low, double high);
// The same for an axis with little room: the smallest step with at most `most` ticks, 1 or more
// where the range holds a round value at all.
lzd_value_ticks lzd_ticks_values_most(double low, double high, int most);
double lzd_tick_value(const lzd_value_ticks *ticks, int i);

// Writes a number with the look's decimal sign, a true minus (U+2212) and thousands parted by a
// narrow no-break space (U+202F). Returns out. size 48 is always enough.
const char *lzd_number(char *out, size_t size, double value, int decimals, const lzd_look *look);

typedef enum {
  LZD_STEP_10_MIN,
  LZD_STEP_HOUR,
  LZD_STEP_3_HOURS,
  LZD_STEP_6_HOURS,
  LZD_STEP_12_HOURS,
  LZD_STEP_DAY,
  LZD_STEP_2_DAYS,
  LZD_STEP_WEEK,
  LZD_STEP_MONTH,
  LZD_STEP_QUARTER,
  LZD_STEP_YEAR,
  LZD_STEPS
} lzd_time_step;

// The smallest step whose ticks stand at least `apart` pixels from each other.
lzd_time_step lzd_ticks_time(lzd_minute minutes, double pixels, double apart);

// The nominal length of a step in minutes (a month is 30 days, a year 365).
lzd_minute lzd_time_step_length(lzd_time_step step);

// One tick of a time axis, made by the caller. In order of time.
typedef struct {
  lzd_minute minute;
  const char *label; // NULL: a line only
  bool strong;       // today, the first of a month
} lzd_time_tick;

#endif
