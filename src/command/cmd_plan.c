// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE plan: every lot's way with its credit, and every task, as text or CSV.
#include "lzc_plan.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

static gboolean
lot_in_system(const LzcPlan *p, uint32_t lot)
{
  const lzq_lot_plan *l = &p->plan->lots[lot];
  if (p->system == LZQ_NONE || p->plan->credit->lots[lot].system == p->system)
    return TRUE;
  for (uint32_t i = 0; i < l->n_segments; i++)
    if (!l->segments[i].past && l->segments[i].system == p->system)
      return TRUE;
  return FALSE;
}

gboolean
lzc_plan_shows_lot(const LzcPlan *p, uint32_t lot)
{
  if (p->plan->credit->lots[lot].received_at > p->plan->now)
    return FALSE;
  return (p->lot == LZQ_NONE || p->lot == lot) && lot_in_system(p, lot);
}

gboolean
lzc_plan_shows_task(const LzcPlan *p, const lzq_task *task)
{
  if (p->system != LZQ_NONE && task->system != p->system && task->to_system != p->system)
    return FALSE;
  if (p->lot == LZQ_NONE || task->lot == p->lot)
    return TRUE;
  return task->lot == LZQ_NONE && p->plan->credit->lots[p->lot].system == task->system;
}

gboolean
lzc_plan_shows_matter(const LzcPlan *p, const LzMatterInfo *matter)
{
  if (p->lot != LZQ_NONE && matter->lot != p->lot)
    return FALSE;
  return p->system == LZQ_NONE || matter->system == p->system ||
         (matter->lot != LZQ_NONE && p->plan->credit->lots[matter->lot].system == p->system);
}

gboolean
lzc_plan_shows_contact(const LzcPlan *p, const LzContactInfo *contact)
{
  return (p->lot == LZQ_NONE || contact->lot == p->lot) &&
         (p->system == LZQ_NONE || contact->seen_in == p->system || contact->system == p->system);
}

static gboolean
torn(const LzcPlan *p, uint32_t system)
{
  return p->lot == LZQ_NONE && (p->system == LZQ_NONE || p->system == system) &&
         p->plan->waters[system].conflict_a != LZQ_NONE;
}

gboolean
lzc_plan_torn(const LzcPlan *p)
{
  for (uint32_t i = 0; i < lz_desk_snapshot(p->desk)->n_systems; i++)
    if (torn(p, i))
      return TRUE;
  return FALSE;
}

void
lzc_plan_ways(const LzcPlan *p, void (*put)(const LzcPlan *p, uint32_t system, const LzWay *way))
{
  for (uint32_t i = 0; i < lz_desk_snapshot(p->desk)->n_systems; i++) {
    g_autoptr(GPtrArray) ways = torn(p, i) ? lz_ways_out(p->desk, i) : g_ptr_array_new();
    for (guint w = 0; w < ways->len; w++) {
      const LzWay *way = ways->pdata[w];
      if (way->foresight)
        put(p, i, way);
    }
  }
}

static int
find_index(LzDesk *desk, const char *kind, const char *name, uint32_t *out)
{
  *out = LZQ_NONE;
  if (!name)
    return LZC_DONE;
  int64_t id = lz_desk_find(desk, kind, name);
  *out = id ? lz_desk_index(desk, kind, id) : LZQ_NONE;
  if (*out != LZQ_NONE)
    return LZC_DONE;
  g_autoptr(GString) names = g_string_new(NULL);
  const lzq_snapshot *snapshot = lz_desk_snapshot(desk);
  uint32_t n = strcmp(kind, "lot") == 0 ? snapshot->n_lots : snapshot->n_systems;
  for (uint32_t i = 0; i < n && i < 20; i++)
    g_string_append_printf(names, "%s%s", i ? ", " : "", lz_desk_name(desk, kind, i));
  if (n == 0)
    return lzc_wrong(_("The station has no %s “%s”; it has none yet."), kind, name);
  return lzc_wrong(_("The station has no %s “%s”. Accepted: %s."), kind, name, names->str);
}

int
lzc_plan(const char *path, int argc, char **argv)
{
  g_auto(LzcReading) r = {NULL};
  int status = LZC_DONE;
  if (!lzc_reading_begin(&r, path, "plan", "", _("Prints the plan. CSV times are UTC."),
                         LZC_READS_LOT | LZC_READS_SYSTEM, &argc, &argv, &status))
    return status;
  LzDesk *desk = r.desk;
  LzcPlan p = {.desk = desk, .plan = lz_desk_plan(desk)};
  if ((status = find_index(desk, "lot", r.lot, &p.lot)) != LZC_DONE ||
      (status = find_index(desk, "system", r.system, &p.system)) != LZC_DONE)
    return status;
  if (!p.plan) {
    const char *why = lz_desk_plan_error(desk);
    fprintf(stderr, "lazaretctl: %s\n", why ? why : _("no plan could be made"));
    return LZC_REFUSED;
  }
  if (r.csv)
    lzc_plan_csv(&p);
  else
    lzc_plan_text(&p);
  return LZC_DONE;
}
