// SPDX-License-Identifier: GPL-3.0-or-later
// Lots flowing between waters: lanes down, time across. One lot (the Lots place) or all of them
// (the Plan place). Past solid, planned outlined, what-if hatched; a thin neck where fish are
// carried; the release is a taper: its shoulder the earliest moment, its point the latest.
#ifndef LZD_RIBBON_H
#define LZD_RIBBON_H

#include "lzd_base.h"
#include "lzd_scale.h"
#include "lzd_ticks.h"

typedef struct {
  const char *name; // in the basin
  unsigned water;   // LZD_WATER_ bits
  const char *note; // "24 of 120"; may be NULL
} lzd_lane;

// A stay in one lane, or a part of it (rise, hold): legs of one lot in order of time. Where the
// lane changes from one leg to the next, a neck is drawn.
typedef struct {
  size_t lane;
  lzd_minute from, to;
  const char *text; // "hold 14 d"; may be NULL
} lzd_leg;

typedef enum { LZD_WAY_PLAN, LZD_WAY_WHAT_IF } lzd_way_kind;

typedef struct {
  const char *name; // on the first leg of several-lot drawings; may be NULL
  uint32_t id;
  lzd_way_kind kind;
  const lzd_leg *legs;
  size_t n_legs;
  // Release: early <= likely <= late, or all LZD_NEVER where none is known: the ribbon is then cut
  // straight. The last leg should end at early.
  lzd_minute early, likely, late;
  const char *release_title; // "Release Thu 1 April"; may be NULL
  const char *release_range; // "31 March to 4 April"
  bool selected;
} lzd_way;

typedef struct {
  size_t lane;
  lzd_minute from, to;
  const char *text; // "conflict Thu 18 March"
} lzd_conflict;

typedef struct {
  lzd_window window;
  const lzd_time_tick *ticks; // labels stand at their tick
  size_t n_ticks;
  const lzd_window *shades; // nights, weekends: sunk stripes
  size_t n_shades;
  lzd_minute now; // LZD_NEVER: none; past and future part here
  const char *now_text;
  const lzd_lane *lanes;
  size_t n_lanes;
  const lzd_way *ways;
  size_t n_ways;
  const lzd_conflict *conflicts;
  size_t n_conflicts;
  size_t rows; // ribbons side by side in a lane; the rest fold into the last row. 0: as below
} lzd_ribbon;

#define LZD_ROWS_PER_LANE 3
#define LZD_ROWS_MOST     8

// Where one leg stands: its row in its lane, and whether it is folded with others.
typedef struct {
  size_t way, leg;
  lzd_rect rect;
  size_t row;
  bool folded;
} lzd_leg_place;

// Places of all legs, in the order of ways and legs; out has room for the sum of n_legs. Legs that
// overlap in time in one lane stand in different rows; from the fourth on they fold into the last
// row, which then tells how many lie there.
lzd_status lzd_ribbon_layout(lzd_leg_place *out, size_t n_out, const lzd_ribbon *ribbon,
                             const lzd_look *look, double width, double height, lzd_fault *fault);
lzd_status lzd_ribbon_draw(cairo_t *cr, const lzd_ribbon *ribbon, const lzd_look *look,
                           double width, double height, lzd_fault *fault);
double lzd_ribbon_natural_height(const lzd_ribbon *ribbon, const lzd_look *look);
lzd_rect lzd_ribbon_lane_rect(const lzd_ribbon *ribbon, const lzd_look *look, double width,
                              double height, size_t lane);
// minute to x
lzd_scale lzd_ribbon_time(const lzd_ribbon *ribbon, const lzd_look *look, double width);
// The leg under (x, y): its way's and its own index. False: none.
bool lzd_ribbon_hit(const lzd_ribbon *ribbon, const lzd_look *look, double width, double height,
                    double x, double y, size_t *way, size_t *leg);

#endif
