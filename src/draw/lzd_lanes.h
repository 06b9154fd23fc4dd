// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the layer only: the frame of a ribbon drawing.
#ifndef LZD_LANES_H
#define LZD_LANES_H

#include "lzd_ribbon.h"

typedef struct {
  double unit, text;
  double head;         // height above the first lane
  double label;        // width of the basins' column
  double x, w, lane_h; // the plot
  lzd_scale time;
} lzd_lanes;

lzd_lanes lzd_lanes_of(const lzd_ribbon *ribbon, const lzd_look *look, double width, double height);
lzd_status lzd_ribbon_check(const lzd_ribbon *ribbon, lzd_fault *fault);
size_t lzd_ribbon_legs(const lzd_ribbon *ribbon);

#endif
