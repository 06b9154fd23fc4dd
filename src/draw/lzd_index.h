// SPDX-License-Identifier: GPL-3.0-or-later
// Readings, and the least and greatest of them per pixel column, so that a spike among a million
// points never vanishes and a million points cost no more than the pixels they fall on.
#ifndef LZD_INDEX_H
#define LZD_INDEX_H

#include "lzd_base.h"
#include "lzd_marks.h"

typedef struct {
  lzd_minute minute;
  double value;      // NAN: no value; not drawn
  const char *label; // shown beside the mark; may be NULL
  uint32_t id;       // the caller's; handed back by hit test and cursor
  uint8_t mark;      // lzd_mark of the LZD_READ_ kind; CROSS stands for the wrong form
  uint8_t state;     // lzd_mark_state: PLAIN or SUSPECT
} lzd_reading;

// True for readings that count: a finite value, neither suspect nor of the wrong form.
bool lzd_reading_counts(const lzd_reading *reading);

// The first reading not before `minute` (n if there is none). Readings in order of time.
size_t lzd_readings_from(const lzd_reading *readings, size_t n, lzd_minute minute);

// Extremes of a run of readings.
typedef struct {
  double low, high; // of those that count; low > high: none
  size_t odd;       // index of the odd (suspect, wrong form) reading farthest from zero, or
                    // SIZE_MAX
  size_t count;     // readings in the run, odd ones included
} lzd_extreme;

// A table of extremes over blocks of readings, kept beside the array it was made from. The array is
// the caller's and must outlive the index unchanged.
typedef struct lzd_index lzd_index;
// *out is NULL after a failure. O(n).
lzd_status lzd_index_new(lzd_index **out, const lzd_reading *readings, size_t n, lzd_fault *fault);
void lzd_index_free(lzd_index *index); // NULL is fine
// Extremes of readings [from, to). index may be NULL: every reading is then looked at. With an
// index: O(blocks in the run).
lzd_extreme lzd_index_range(const lzd_index *index, const lzd_reading *readings, size_t from,
                            size_t to);
// Extremes for each of n_columns equal pieces of the window [from, to); out has n_columns.
void lzd_index_columns(const lzd_index *index, const lzd_reading *readings, size_t n,
                       lzd_minute from, lzd_minute to, lzd_extreme *out, size_t n_columns);

#endif
