// SPDX-License-Identifier: GPL-3.0-or-later
// A chart's data as one piece: what is put together, the span worth showing, the plan's curve.
#include <math.h>

#include "lz_chart_private.h"

#define LEAST_BACK  (7 * LZQ_DAY)
#define MOST_BACK   (60 * LZQ_DAY)
#define LEAST_AHEAD (2 * LZQ_DAY)
#define MOST_AHEAD  (21 * LZQ_DAY)

static void
event_free(gpointer data)
{
  LzChartEvent *event = data;
  g_free(event->words);
  g_free(event);
}

// The plan knows curves of copper and salinity only.
static void
add_target(LzChartData *data, const lzq_plan *plan)
{
  if (data->analyte > LZQ_SALINITY)
    return;
  const lzq_water_plan *water = &plan->waters[data->system];
  for (uint32_t i = 0; i < water->n_target[data->analyte]; i++) {
    const lzq_point *point = &water->target[data->analyte][i];
    LzChartPoint out = {point->at, point->level, point->level, point->level};
    if (point->at <= data->to)
      g_array_append_val(data->target, out);
  }
}

LzChartData *
lz_chart_data_new(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute from,
                  lzq_minute to)
{
  return lz_chart_data_of_tank(desk, system, LZQ_NONE, analyte, from, to);
}

LzChartData *
lz_chart_data_of_tank(LzDesk *desk, uint32_t system, uint32_t tank, lzq_analyte analyte,
                      lzq_minute from, lzq_minute to)
{
  LzChartData *data = g_new0(LzChartData, 1);
  *data = (LzChartData){.system = system,
                        .tank = tank,
                        .analyte = analyte,
                        .from = from,
                        .to = to,
                        .now = desk->now,
                        .exit_low = LZQ_NEVER,
                        .exit_likely = LZQ_NEVER,
                        .exit_high = LZQ_NEVER,
                        .exit_edge = NAN,
                        .beyond_now = NAN};
  data->readings = g_array_new(FALSE, FALSE, sizeof(LzChartReading));
  data->events = g_ptr_array_new_with_free_func(event_free);
  data->bands = g_array_new(FALSE, FALSE, sizeof(LzChartBand));
  data->estimate = g_array_new(FALSE, FALSE, sizeof(LzChartPoint));
  data->carried = g_array_new(FALSE, FALSE, sizeof(LzChartPoint));
  data->forecast = g_array_new(FALSE, FALSE, sizeof(LzChartPoint));
  data->target = g_array_new(FALSE, FALSE, sizeof(LzChartPoint));
  data->credit = g_array_new(FALSE, FALSE, sizeof(LzChartCredit));
  if (system >= desk->model->systems->len)
    return data;
  lz_chart_level(data, desk);
  lz_chart_events(data, desk);
  if (!desk->plan)
    return data;
  lz_chart_bands(data, desk);
  lz_chart_credit(data, desk);
  add_target(data, desk->plan);
  return data;
}

void
lz_chart_data_free(LzChartData *data)
{
  if (!data)
    return;
  GArray *arrays[] = {data->readings, data->bands,  data->estimate, data->carried,
                      data->forecast, data->target, data->credit};
  for (gsize i = 0; i < G_N_ELEMENTS(arrays); i++)
    g_array_unref(arrays[i]);
  g_ptr_array_unref(data->events);
  g_free(data);
}

uint32_t
lz_chart_read_analytes(LzDesk *desk, uint32_t system)
{
  const LzModel *m = desk->model;
  const GArray *own = system < m->of_water->len ? m->of_water->pdata[system] : NULL;
  uint32_t read = 0;
  for (guint i = 0; own && i < own->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, g_array_index(own, uint32_t, i));
    if (r->kind == LZQ_REC_READING)
      read |= 1u << r->analyte;
  }
  return read;
}

// The beginning of a lot's present or last course, LZQ_NEVER = it was never on one.
static lzq_minute
course_start(const lzq_lot_credit *lot)
{
  lzq_minute start = LZQ_NEVER;
  for (uint32_t i = lot->n_visits; i-- > 0;) {
    if (lot->visits[i].protocol != lot->visits[lot->n_visits - 1].protocol)
      break;
    start = lot->visits[i].start;
  }
  return start;
}

lzq_minute
lz_lot_course_start(LzDesk *desk, uint32_t lot)
{
  const lzq_plan *plan = desk->plan;
  return plan && lot < plan->credit->n_lots ? course_start(&plan->credit->lots[lot]) : LZQ_NEVER;
}

int
lz_lot_course_day(LzDesk *desk, uint32_t lot)
{
  const lzq_credit *all = desk->plan ? desk->plan->credit : NULL;
  if (!all || lot >= all->n_lots || !all->lots[lot].n_visits)
    return 0;
  lzq_minute begin = all->lots[lot].visits[all->lots[lot].n_visits - 1].course_from;
  LzZone *zone = lz_desk_zone(desk);
  return (int)(lz_zone_day(zone, desk->now) - lz_zone_day(zone, begin)) + 1;
}

void
lz_chart_data_span(LzDesk *desk, uint32_t system, lzq_minute *from, lzq_minute *to)
{
  lzq_minute now = desk->now, begin = now, end = now;
  const lzq_plan *plan = desk->plan;
  for (uint32_t i = 0; plan && i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    if (lot->system == system && lot->has_course && !lot->released && !lot->merged && !lot->dead)
      begin = MIN(begin, course_start(lot));
    for (uint32_t s = 0; s < plan->lots[i].n_segments; s++) {
      const lzq_segment *segment = &plan->lots[i].segments[s];
      if (segment->system == system && segment->end != LZQ_NEVER)
        end = MAX(end, segment->end);
    }
  }
  *from = CLAMP(begin, now - MOST_BACK, now - LEAST_BACK);
  *to = CLAMP(end, now + LEAST_AHEAD, now + MOST_AHEAD);
}
