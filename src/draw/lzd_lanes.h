// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the layer only: the frame of a ribbon drawing.
#ifndef LZD_LANES_H
#define LZD_LANES_H

#include "lzd_hatch.h"
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

typedef struct {
  cairo_t *cr;
  const lzd_ribbon *ribbon;
  const lzd_look *look;
  lzd_lanes l;
  lzd_hatch_cache *hatches;
  const lzd_leg_place *places; // all
  double bottom;               // of the last lane
} lzd_lane_drawing;

double lzd_lane_x(const lzd_lane_drawing *d, lzd_minute minute);
double lzd_lane_x_held(const lzd_lane_drawing *d, lzd_minute minute); // inside the plot
double lzd_lane_forward(const lzd_lane_drawing *d); // +1: later is to the right, -1: to the left
double lzd_leg_start(const lzd_lane_drawing *d, const lzd_leg_place *place);
double lzd_leg_end(const lzd_lane_drawing *d, const lzd_leg_place *place);
bool lzd_leg_same_bar(const lzd_leg_place *a, const lzd_leg_place *b);
void lzd_lane_times(const lzd_lane_drawing *d);
void lzd_lane_heads(const lzd_lane_drawing *d);
// `places` begins with the way's first leg.
void lzd_way_shape(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *places);
void lzd_way_neck(const lzd_lane_drawing *d, const lzd_way *way, const lzd_leg_place *a,
                  const lzd_leg_place *b);

#endif
