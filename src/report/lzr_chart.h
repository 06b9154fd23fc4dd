// SPDX-License-Identifier: GPL-3.0-or-later
// Charts on paper: the drawing layer's own chart, filled from readings and bands of the record.
#ifndef LZR_CHART_H
#define LZR_CHART_H

#include <lz_draw.h>

#include "lzr_sheet.h"

// A stretch of time that fish stood in one water.
typedef struct {
  uint32_t system, tank, lot;
  lzq_minute from, to; // to LZQ_NEVER = there still
} LzrStay;

typedef struct LzrChart LzrChart;

// Readings of one analyte in the stays given, from `from` to `to`; `band` NULL: none is drawn.
// Lives until the build's pages are freed. title: "Blue-1, copper mg/L".
const LzrChart *lzr_chart_new(LzrBuild *build, const LzrStay *stays, guint n_stays,
                              lzq_analyte analyte, const lzq_band *band, lzq_minute from,
                              lzq_minute to, const char *title);
guint lzr_chart_readings(const LzrChart *chart);
void lzr_chart_draw(cairo_t *cr, const LzrChart *chart, const lzd_look *look, double width,
                    double height);
// A chart across the sheet.
void lzr_chart_block(LzrBuild *build, const LzrChart *chart, double height);

#endif
