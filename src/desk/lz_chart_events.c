// SPDX-License-Identifier: GPL-3.0-or-later
// What happened to a water and what the plan will do to it: doses, changes, moves, what was seen.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_chart_private.h"
#include "lz_format.h"
#include "lz_stays.h"
#include "lz_words.h"

typedef struct {
  LzChartData *data;
  LzDesk *desk;
  const GArray *stays; // by lot, then time
} Events;

static LzChartEvent *
add(Events *events, lzq_minute at, LzChartEventKind kind, double amount, uint32_t lot, char *words)
{
  LzChartData *data = events->data;
  if (at < data->from || at > data->to) {
    g_free(words);
    return NULL;
  }
  LzChartEvent *event = g_new0(LzChartEvent, 1);
  *event = (LzChartEvent){.at = at, .kind = kind, .amount = amount, .lot = lot, .words = words};
  g_ptr_array_add(data->events, event);
  return event;
}

static LzChartEvent *
add_fact(Events *events, const lzq_record *r, LzChartEventKind kind, double amount, uint32_t lot,
         char *words)
{
  LzChartEvent *event = add(events, r->at, kind, amount, lot, words);
  if (event)
    event->id = (int64_t)(r->id / LZ_RECORDS_PER_ENTRY);
  return event;
}

// In millilitres where the bottle is known, else as what was in it.
static void
add_dose(Events *events, const lzq_record *r)
{
  const LzModel *m = events->desk->model;
  double amount = r->amount;
  char *words = NULL;
  if (r->analyte == LZQ_SALINITY) {
    words = lz_format_amount(amount / 1000, LZQ_UNIT_KG);
  } else if (r->bottle < m->bottles->len) {
    amount /= g_array_index(m->bottles, lzq_bottle, r->bottle).strength_mg_ml;
    g_autofree char *ml = lz_format_amount(amount, LZQ_UNIT_ML);
    words = g_strdup_printf("%s %s", ml, lz_desk_name(events->desk, "bottle", r->bottle));
  } else {
    g_autofree char *mg = lz_format_short(amount, 1);
    words = g_strdup_printf(_("%s mg"), mg);
  }
  add_fact(events, r, LZ_CHART_DOSE, amount, LZQ_NONE, words);
}

// In this water, or in the one tank of it that is asked for.
static gboolean
is_here(const LzChartData *data, const LzStay *stay)
{
  return stay->system == data->system && (data->tank == LZQ_NONE || stay->tank == data->tank);
}

// Deaths of a minute act before its moves and after its arrivals.
static gboolean
stood(const Events *events, uint32_t lot, lzq_minute at)
{
  const guint first = lz_stays_of(events->stays, lot);
  for (guint i = first; i < events->stays->len; i++) {
    const LzStay *stay = &g_array_index(events->stays, LzStay, i);
    if (stay->lot != lot)
      break;
    if (!is_here(events->data, stay))
      continue;
    gboolean arrival = i == first;
    if ((stay->from < at || (arrival && stay->from == at)) && at <= stay->to)
      return TRUE;
  }
  return FALSE;
}

static char *
gear_words(const lzq_record *r)
{
  return g_strdup_printf(r->ok ? _("%s on") : _("%s off"), lz_words_gear((lzq_gear)r->gear));
}

static void
take_water(Events *events, const lzq_record *r)
{
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_DOSE: add_dose(events, r); break;
  case LZQ_REC_CHANGE:
    add_fact(events, r, LZ_CHART_CHANGE, r->amount, LZQ_NONE,
             lz_format_amount(r->amount, LZQ_UNIT_L));
    break;
  case LZQ_REC_TOPUP:
    add_fact(events, r, LZ_CHART_TOPUP, r->amount, LZQ_NONE,
             lz_format_amount(r->amount, LZQ_UNIT_L));
    break;
  case LZQ_REC_SIGHTING:
    if (events->data->tank != LZQ_NONE && r->tank != LZQ_NONE && r->tank != events->data->tank)
      break;
    add_fact(events, r, LZ_CHART_SIGHTING, r->heads, r->lot,
             r->heads > 0
                 ? g_strdup_printf(ngettext("on %d fish", "on %d fish", (gulong)r->heads), r->heads)
                 : g_strdup(_("seen")));
    break;
  case LZQ_REC_GEAR: add_fact(events, r, LZ_CHART_GEAR, r->ok, LZQ_NONE, gear_words(r)); break;
  default: break;
  }
}

static void
take(Events *events, const lzq_record *r)
{
  if (r->kind == LZQ_REC_DEATH && stood(events, r->lot, r->at))
    add_fact(events, r, LZ_CHART_DEATH, r->heads, r->lot,
             g_strdup_printf(ngettext("%d dead", "%d dead", (gulong)r->heads), r->heads));
  else if (r->system == events->data->system)
    take_water(events, r);
}

static void
take_all(Events *events, const GArray *indices)
{
  const LzChartData *data = events->data;
  LzModel *m = events->desk->model;
  for (guint i = lz_model_first_since(m, indices, data->from); i < indices->len; i++) {
    const uint32_t index = g_array_index(indices, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if (r->at >= data->from && r->at <= data->to && r->at <= events->desk->now &&
        lz_model_record_holds(m, index))
      take(events, r);
  }
}

// What touched the water, what was seen in it, and the deaths of the lots that stood there: none of
// the other waters' records is looked at.
static void
add_facts(Events *events)
{
  const LzModel *m = events->desk->model;
  uint32_t before = LZQ_NONE;
  take_all(events, m->of_water->pdata[events->data->system]);
  take_all(events, m->sightings);
  for (guint i = 0; i < events->stays->len; i++) {
    const LzStay *stay = &g_array_index(events->stays, LzStay, i);
    if (stay->lot == before || !is_here(events->data, stay) || stay->to < events->data->from)
      continue;
    before = stay->lot;
    take_all(events, m->of_lot->pdata[stay->lot]);
  }
}

// A lot that goes from tank to tank of one water neither comes nor goes, unless a tank is asked
// for.
static void
add_moves(Events *events)
{
  const GArray *stays = events->stays;
  const LzChartData *data = events->data;
  for (guint i = 0; i < stays->len; i++) {
    const LzStay *stay = &g_array_index(stays, LzStay, i);
    const LzStay *before = i > 0 ? &g_array_index(stays, LzStay, i - 1) : NULL;
    const LzStay *next = i + 1 < stays->len ? &g_array_index(stays, LzStay, i + 1) : NULL;
    if (!is_here(data, stay) || stay->to < data->from || stay->from > data->to)
      continue;
    const char *lot = lz_desk_name(events->desk, "lot", stay->lot);
    gboolean came =
        !before || before->lot != stay->lot || !is_here(data, before) || before->to != stay->from;
    gboolean goes = stay->to != LZQ_NEVER && (!next || next->lot != stay->lot ||
                                              !is_here(data, next) || next->from != stay->to);
    LzChartEvent *event;
    if (came && (event = add(events, stay->from, LZ_CHART_MOVE_IN, stay->heads, stay->lot,
                             g_strdup_printf(_("%s in"), lot))))
      event->id = stay->in;
    if (goes && (event = add(events, stay->to, LZ_CHART_MOVE_OUT, stay->heads, stay->lot,
                             g_strdup_printf(_("%s out"), lot))))
      event->id = stay->out;
  }
}

// A tank shows the moves of its own lots only.
static gboolean
lot_is_here(const Events *events, uint32_t lot)
{
  return events->data->tank == LZQ_NONE || stood(events, lot, events->desk->now);
}

static gboolean
planned_kind(const lzq_task *task, uint32_t system, LzChartEventKind *kind)
{
  switch (task->kind) {
  case LZQ_TASK_DOSE:
  case LZQ_TASK_SALT: *kind = LZ_CHART_DOSE; return task->system == system;
  case LZQ_TASK_CHANGE: *kind = LZ_CHART_CHANGE; return task->system == system;
  case LZQ_TASK_TOPUP: *kind = LZ_CHART_TOPUP; return task->system == system;
  case LZQ_TASK_GEAR: *kind = LZ_CHART_GEAR; return task->system == system;
  case LZQ_TASK_MOVE:
    *kind = task->to_system == system ? LZ_CHART_MOVE_IN : LZ_CHART_MOVE_OUT;
    return task->system == system || task->to_system == system;
  default: return FALSE;
  }
}

static void
add_planned(Events *events)
{
  const lzq_plan *plan = events->desk->plan;
  LzChartEventKind kind;
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (!planned_kind(task, events->data->system, &kind) ||
        (task->kind == LZQ_TASK_MOVE && !lot_is_here(events, task->lot)))
      continue;
    char *words = task->kind == LZQ_TASK_MOVE
                      ? g_strdup(lz_desk_name(events->desk, "lot", task->lot))
                  : task->kind == LZQ_TASK_GEAR ? lz_words_task(events->desk, task)
                                                : lz_words_task_amount(events->desk, task);
    lzq_minute at = MAX(task->at, plan->now); // what is late is still ahead
    LzChartEvent *event = add(events, at, kind, task->amount, task->lot, words);
    if (event)
      event->planned = TRUE;
  }
}

static int
by_time(gconstpointer a, gconstpointer b)
{
  const LzChartEvent *x = *(LzChartEvent *const *)a, *y = *(LzChartEvent *const *)b;
  if (x->at != y->at)
    return x->at < y->at ? -1 : 1;
  return (x->id > y->id) - (x->id < y->id);
}

void
lz_chart_events(LzChartData *data, LzDesk *desk)
{
  g_autoptr(GArray) stays = lz_stays(desk->model, desk->now);
  Events events = {data, desk, stays};
  add_facts(&events);
  add_moves(&events);
  add_planned(&events);
  g_ptr_array_sort(data->events, by_time);
}
