// SPDX-License-Identifier: GPL-3.0-or-later
// Credit by days: a day a row, its hours across, what was served filled, and a total beside it.
#ifndef LZD_CREDIT_H
#define LZD_CREDIT_H

#include "lzd_chart.h"

typedef struct {
  lzd_minute from, to; // local midnight to local midnight: 23, 24 or 25 hours
  const char *label;   // "Thu 4"
  const char *total;   // "14 h 00"; may be NULL
  const char *note;    // "no evening test: 16 h end at 23:30"; may be NULL
  bool strong;         // today
} lzd_credit_day;

typedef struct {
  const lzd_credit_day *days;
  size_t n_days;
  const lzd_credit_span *spans; // in order of time, not overlapping; drawn where they meet a day
  size_t n_spans;
  const char *hour_label[5]; // at 0, 6, 12, 18 and 24 h
  const char *total_head;    // "served"
  // Legend right of the grid: words for the four states; all NULL: none.
  const char *served, *open, *not_served, *to_serve;
  size_t selected; // day under the keyboard cursor, SIZE_MAX: none
} lzd_credit_grid;

lzd_status lzd_credit_draw(cairo_t *cr, const lzd_credit_grid *grid, const lzd_look *look,
                           double width, double height, lzd_fault *fault);
double lzd_credit_natural_height(const lzd_credit_grid *grid, const lzd_look *look);
// Cells of day `day`, without label and total.
lzd_rect lzd_credit_day_rect(const lzd_credit_grid *grid, const lzd_look *look, double width,
                             double height, size_t day);
// The moment under (x, y) or LZD_NEVER.
lzd_minute lzd_credit_minute_at(const lzd_credit_grid *grid, const lzd_look *look, double width,
                                double height, double x, double y);
// One run of credit as a single bar, for a record sheet; spans cut to the window.
void lzd_credit_bar(cairo_t *cr, const lzd_look *look, lzd_rect rect, lzd_window window,
                    const lzd_credit_span *spans, size_t n_spans);

#endif
