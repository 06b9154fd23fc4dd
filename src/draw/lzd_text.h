// SPDX-License-Identifier: GPL-3.0-or-later
// Text in Cantarell with DejaVu Sans behind it, figures of equal width. Sizes are design pixels
// (points on paper) and grow with the look's text scale. No Pango type shows in this header.
#ifndef LZD_TEXT_H
#define LZD_TEXT_H

#include "lzd_base.h"

#define LZD_FONT "Cantarell, DejaVu Sans"

// Sizes of the design.
#define LZD_SIZE_AXIS    13.0
#define LZD_SIZE_BODY    15.0
#define LZD_SIZE_ROW     16.0
#define LZD_SIZE_HEADING 18.0
#define LZD_SIZE_NAME    20.0
#define LZD_SIZE_TITLE   24.0
#define LZD_SIZE_FAR     72.0 // what is read from two metres

typedef enum { LZD_START, LZD_MIDDLE, LZD_END } lzd_align;

typedef struct {
  double size; // before text scale
  bool bold;
  lzd_role role;
  lzd_align align; // of the anchor x: START and END swap where the look is mirrored
  double width;    // > 0: no wider than this: cut with an ellipsis, or wrapped
  bool wrap;
} lzd_type;

// Draws one text with its first baseline at y; x is the anchor that `align` names. Returns the
// advance height of the block (line height times lines). text NULL draws nothing and returns 0.
double lzd_text_draw(cairo_t *cr, const lzd_look *look, const lzd_type *type, double x, double y,
                     const char *text);
// Size of what would be drawn; either out may be NULL.
void lzd_text_measure(const lzd_look *look, const lzd_type *type, const char *text, double *width,
                      double *height);
double lzd_text_width(const lzd_look *look, double size, bool bold, const char *text);

// Runs of plain and bold text set as one paragraph.
typedef struct {
  const char *text;
  bool bold;
  lzd_role role;
} lzd_run;
// Draws runs from the top edge y (not a baseline), wrapped to type->width. Returns the height;
// cr NULL only measures. type->bold and role are ignored.
double lzd_text_runs(cairo_t *cr, const lzd_look *look, const lzd_type *type, double x, double y,
                     const lzd_run *runs, size_t n_runs);

#endif
