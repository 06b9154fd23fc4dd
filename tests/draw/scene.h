// SPDX-License-Identifier: GPL-3.0-or-later
// One invented water, used by the gallery, the benchmark and the tests: copper raised in three
// steps and held, salinity lowered, events, credit. Day 0 is minute 0; "now" is on day 8, 08:16.
#ifndef SCENE_H
#define SCENE_H

#include "lz_draw.h"

#define SCENE_DAYS 11
#define SCENE_NOW  (8 * 1440 + 496)

typedef struct {
  lzd_chart chart;
  lzd_panel panel[2];
  lzd_rail rail[4];
  lzd_strip strip;
  lzd_legend legend;
  lzd_time_tick tick[SCENE_DAYS + 1];
  lzd_span copper[SCENE_DAYS * 24], salt[SCENE_DAYS * 24], forecast[2][80];
} scene;

#define SCENE_SPANS 7
extern const lzd_credit_span scene_spans[SCENE_SPANS];

// A pointer inside refers to the scene itself: it must not be copied.
void scene_fill(scene *s);
void scene_ribbon(lzd_ribbon *one, lzd_ribbon *many);
void scene_credit(lzd_credit_grid *grid);
// A sheet that uses every kind of block. Caller frees.
lzd_status scene_sheet(lzd_sheet **out, lzd_paper paper, lzd_fault *fault);

#endif
