// SPDX-License-Identifier: GPL-3.0-or-later
// What the two ways of printing a plan share.
#ifndef LZC_PLAN_H
#define LZC_PLAN_H

#include <lz_rows.h>
#include <lz_ways.h>

#include "lzc.h"

typedef struct {
  LzDesk *desk;
  const lzq_plan *plan;
  uint32_t lot, system; // LZQ_NONE = all
} LzcPlan;

gboolean lzc_plan_shows_lot(const LzcPlan *p, uint32_t lot);
gboolean lzc_plan_shows_task(const LzcPlan *p, const lzq_task *task);
gboolean lzc_plan_shows_matter(const LzcPlan *p, const LzMatterInfo *matter);
gboolean lzc_plan_shows_contact(const LzcPlan *p, const LzContactInfo *contact);
// Whether some water shown serves no longer all of its lots, and each way out of it, cheapest
// first.
gboolean lzc_plan_torn(const LzcPlan *p);
void lzc_plan_ways(const LzcPlan *p,
                   void (*put)(const LzcPlan *p, uint32_t system, const LzWay *way));

void lzc_plan_csv(const LzcPlan *p);
void lzc_plan_text(const LzcPlan *p);

#endif
