// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks of extremes. One level of blocks is enough: a million readings are 7,813 blocks, and a
// chart of 850 columns reads about ten of them and two ragged ends per column.
#include "lzd_index.h"

#include <math.h>
#include <stdlib.h>

#define BLOCK 128

struct lzd_index {
  size_t n; // readings
  lzd_extreme block[];
};

static const lzd_extreme nothing = {.low = INFINITY, .high = -INFINITY, .odd = SIZE_MAX};

bool
lzd_reading_counts(const lzd_reading *reading)
{
  return isfinite(reading->value) && reading->state == LZD_PLAIN && reading->mark != LZD_READ_CROSS;
}

size_t
lzd_readings_from(const lzd_reading *readings, size_t n, lzd_minute minute)
{
  size_t low = 0, high = n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (readings[middle].minute < minute)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static void
take_odd(lzd_extreme *into, const lzd_reading *readings, size_t odd)
{
  if (into->odd == SIZE_MAX || fabs(readings[odd].value) > fabs(readings[into->odd].value))
    into->odd = odd;
}

static void
take_readings(lzd_extreme *into, const lzd_reading *readings, size_t from, size_t to)
{
  for (size_t i = from; i < to; i++) {
    double value = readings[i].value;
    if (lzd_reading_counts(&readings[i])) {
      into->low = value < into->low ? value : into->low;
      into->high = value > into->high ? value : into->high;
    } else if (isfinite(value)) {
      take_odd(into, readings, i);
    }
  }
  into->count += to - from;
}

static void
take_blocks(lzd_extreme *into, const lzd_index *index, const lzd_reading *readings, size_t from,
            size_t to)
{
  for (size_t i = from; i < to; i++) {
    const lzd_extreme *block = &index->block[i];
    into->low = block->low < into->low ? block->low : into->low;
    into->high = block->high > into->high ? block->high : into->high;
    into->count += block->count;
    if (block->odd != SIZE_MAX)
      take_odd(into, readings, block->odd);
  }
}

lzd_status
lzd_index_new(lzd_index **out, const lzd_reading *readings, size_t n, lzd_fault *fault)
{
  *out = NULL;
  for (size_t i = 1; i < n; i++)
    if (readings[i].minute < readings[i - 1].minute)
      return lzd_fail(fault, LZD_BAD_INPUT, "reading", i, "minute", "not in order of time");
  size_t blocks = n / BLOCK + (n % BLOCK != 0);
  lzd_index *index = malloc(sizeof *index + blocks * sizeof index->block[0]);
  if (!index)
    return lzd_fail(fault, LZD_NO_MEMORY, "index", 0, "", "no memory");
  index->n = n;
  for (size_t b = 0; b < blocks; b++) {
    size_t from = b * BLOCK, to = from + BLOCK < n ? from + BLOCK : n;
    index->block[b] = nothing;
    take_readings(&index->block[b], readings, from, to);
  }
  *out = index;
  return LZD_OK;
}

void
lzd_index_free(lzd_index *index)
{
  free(index);
}

lzd_extreme
lzd_index_range(const lzd_index *index, const lzd_reading *readings, size_t from, size_t to)
{
  lzd_extreme extreme = nothing;
  size_t first = (from + BLOCK - 1) / BLOCK, last = to / BLOCK; // whole blocks inside
  if (!index || first >= last) {
    if (from < to)
      take_readings(&extreme, readings, from, to);
    return extreme;
  }
  take_readings(&extreme, readings, from, first * BLOCK);
  take_blocks(&extreme, index, readings, first, last);
  take_readings(&extreme, readings, last * BLOCK, to);
  return extreme;
}

// Like lzd_readings_from, but looks near `hint` first: columns follow each other.
static size_t
gallop(const lzd_reading *readings, size_t n, size_t hint, lzd_minute minute)
{
  size_t step = 64, low = hint, high = hint;
  while (high < n && readings[high].minute < minute) {
    low = high;
    high = high + step < n ? high + step : n;
    step *= 2;
  }
  return low + lzd_readings_from(readings + low, high - low, minute);
}

void
lzd_index_columns(const lzd_index *index, const lzd_reading *readings, size_t n, lzd_minute from,
                  lzd_minute to, lzd_extreme *out, size_t n_columns)
{
  size_t at = lzd_readings_from(readings, n, from);
  double width = (double)(to - from) / (double)n_columns;
  for (size_t c = 0; c < n_columns; c++) {
    lzd_minute edge = c + 1 == n_columns ? to : from + (lzd_minute)ceil(width * (double)(c + 1));
    size_t end = gallop(readings, n, at, edge);
    out[c] = lzd_index_range(index, readings, at, end);
    at = end;
  }
}
