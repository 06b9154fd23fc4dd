// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the planner only: one visit to a water while a programme is being made.
#ifndef LZQ_PLAN_ACT_H
#define LZQ_PLAN_ACT_H

#include "lzq_plan_work.h"

enum { NEED_MED_UP = 1, NEED_MED_DOWN = 2, NEED_SAL_UP = 4, NEED_SAL_DOWN = 8 };

typedef struct {
  const lzq_work *work;
  const lzq_system *system;
  const lzq_water_state *water;
  const lzq_goal *goal;
  lzq_trace trace;
  double level[2], error[2];
  lzq_minute now, ready, last_dose;
  bool at_once; // the first step puts back what a change took out: people are at the tanks
  int sal_done; // steps of salinity in this programme so far
} lzq_maker;

// What the levels need, as bits of NEED_*; 0 = nothing.
int lzq_needs(const lzq_maker *m, const double level[2]);
// Fills one visit at act->at. False = the limits leave no room for it at that minute.
bool lzq_act_fill(lzq_maker *m, lzq_act *step, int need, bool first);

#endif
