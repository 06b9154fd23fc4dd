// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of the ribbon model share: ways with their legs, lanes, and the texts they hold.
#ifndef LZ_RIBBON_MODEL_PRIVATE_H
#define LZ_RIBBON_MODEL_PRIVATE_H

#include "lz_ribbon_model.h"

typedef struct {
  uint32_t lot;
  char *name;       // of a lot that only a what-if knows; NULL
  GArray *segments; // lzq_segment
  GArray *legs;     // lzd_leg
} LzRibbonWay;

struct _LzRibbonModel {
  LzDesk *desk;
  bool all;
  GArray *lane_systems; // uint32_t
  GArray *lanes;        // lzd_lane
  GArray *ways;         // lzd_way
  GPtrArray *sources;   // LzRibbonWay, same order
  GPtrArray *texts;
  LzTimeAxis axis;
  GArray *shades;    // lzd_window, weekends
  GArray *conflicts; // lzd_conflict
  lzd_ribbon ribbon;
};

void lz_ribbon_way_free(gpointer way);
const char *lz_ribbon_keep(LzRibbonModel *model, char *text); // takes it
size_t lz_ribbon_lane(LzRibbonModel *model, uint32_t system); // made if there is none
// Legs from the segments; those without an end reach to `end`.
void lz_ribbon_add_legs(LzRibbonModel *model, LzRibbonWay *way, lzq_minute end);

// lz_ribbon_what_if.c
void lz_ribbon_add_what_if(LzRibbonModel *model, const LzForesight *foresight);
// Where no level serves two lots, in the present plan.
void lz_ribbon_add_conflicts(LzRibbonModel *model);

#endif
