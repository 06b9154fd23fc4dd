// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the layer only: a pen set on a mark's centre, with the mark's size and strokes.
#ifndef LZD_SIGN_H
#define LZD_SIGN_H

#include "lzd_marks.h"

typedef struct {
  cairo_t *cr; // moved so that the mark's centre is (0, 0)
  const lzd_look *look;
  lzd_role role;
  lzd_mark_state state;
  double s;      // size of the square
  double stroke; // one design stroke: widths below are 1.5 of it and so on
} lzd_sign;

void lzd_sign_stroke(const lzd_sign *sign, double width); // strokes the path, mitred
void lzd_sign_fill(const lzd_sign *sign);                 // or outlines it when hollow
void lzd_sign_polygon(const lzd_sign *sign, const double (*points)[2], size_t n); // in sizes

void lzd_sign_band(const lzd_sign *sign, lzd_mark mark);
void lzd_sign_task(const lzd_sign *sign, lzd_mark mark);
void lzd_sign_reading(const lzd_sign *sign, lzd_mark mark);
void lzd_sign_rail(const lzd_sign *sign, lzd_mark mark);

#endif
