// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_credit_model.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>

#include "lz_time_axis.h"

#define MOST_DAYS 32 // rows; the latest ones where a phase takes longer

struct _LzCreditModel {
  LzDesk *desk;
  GArray *spans; // lzd_credit_span
  GArray *days;  // lzd_credit_day
  GPtrArray *texts;
  char *sentence;
  lzq_minute from, now, end;
  const lzq_lot_credit *credit;
  const lzq_phase *phase;
  uint32_t visit;
  lzd_credit_grid grid;
};

static const char *
keep(LzCreditModel *model, char *text)
{
  g_ptr_array_add(model->texts, text);
  return text;
}

// The last stay in a phase that asks for credit.
static bool
find_visit(LzCreditModel *model, const lzq_snapshot *snapshot)
{
  const lzq_lot_credit *credit = model->credit;
  for (uint32_t i = credit->n_visits; i-- > 0;) {
    const lzq_visit *visit = &credit->visits[i];
    if (visit->protocol >= snapshot->n_protocols ||
        visit->phase >= snapshot->protocols[visit->protocol].n_phases)
      continue;
    const lzq_phase *phase =
        &snapshot->phases[snapshot->protocols[visit->protocol].first_phase + visit->phase];
    if (phase->min_credit_min > 0) {
      model->phase = phase;
      model->visit = i;
      return true;
    }
  }
  return false;
}

static void
fill_spans(LzCreditModel *model)
{
  const lzq_lot_credit *credit = model->credit;
  const lzq_visit *visit = &credit->visits[model->visit];
  for (uint32_t i = 0; i < credit->n_spans; i++) {
    const lzq_span *span = &credit->spans[i];
    if (span->visit != model->visit || span->from >= span->to)
      continue;
    lzd_credit_span out = {span->from, span->to, LZD_CREDIT_NOT_SERVED};
    if (span->why == LZQ_WHY_NONE)
      out.state = span->firm ? LZD_CREDIT_SERVED : LZD_CREDIT_OPEN;
    g_array_append_val(model->spans, out);
  }
  int64_t to_go = model->phase->min_credit_min - visit->credit_min - visit->accepted_min;
  model->end = visit->end != LZQ_NEVER ? visit->end : model->now;
  if (visit->end == LZQ_NEVER && to_go > 0) {
    lzd_credit_span ahead = {model->now, model->now + to_go, LZD_CREDIT_TO_SERVE};
    g_array_append_val(model->spans, ahead);
    model->end = ahead.to;
  }
}

// Minutes earned in [from, to), and the first reason for a gap of more than a quarter of an hour.
static int64_t
earned(const LzCreditModel *model, lzq_minute from, lzq_minute to, const lzq_span **gap)
{
  int64_t minutes = 0;
  *gap = NULL;
  for (uint32_t i = 0; i < model->credit->n_spans; i++) {
    const lzq_span *span = &model->credit->spans[i];
    lzq_minute a = MAX(span->from, from), b = MIN(span->to, to);
    if (span->visit != model->visit || a >= b)
      continue;
    if (span->why == LZQ_WHY_NONE)
      minutes += b - a;
    else if (!*gap && b - a > 15)
      *gap = span;
  }
  return minutes;
}

static void
fill_days(LzCreditModel *model)
{
  LzZone *zone = lz_desk_zone(model->desk);
  int32_t first = lz_zone_day(zone, model->from), last = lz_zone_day(zone, model->end - 1);
  int32_t today = lz_zone_day(zone, model->now);
  first = MAX(first, last - MOST_DAYS + 1);
  for (int32_t day = first; day <= last; day++) {
    const lzq_span *gap;
    lzd_credit_day out = {.from = lz_zone_day_start(zone, day),
                          .to = lz_zone_day_start(zone, day + 1),
                          .strong = day == today};
    int64_t minutes = earned(model, out.from, out.to, &gap);
    out.label = keep(model, lz_time_text(zone, out.from, _("%a %-d")));
    if (day <= today)
      out.total =
          keep(model, g_strdup_printf("%d h %02d", (int)(minutes / 60), (int)(minutes % 60)));
    if (gap)
      out.note = keep(model, lz_words_why((lzq_why)gap->why, gap->band < model->phase->n_bands
                                                                 ? &model->phase->bands[gap->band]
                                                                 : NULL));
    g_array_append_val(model->days, out);
  }
}

static void
make_sentence(LzCreditModel *model)
{
  const lzq_visit *visit = &model->credit->visits[model->visit];
  int64_t to_go = MAX(0, model->phase->min_credit_min - visit->credit_min - visit->accepted_min);
  g_autofree char *served = lz_format_duration(visit->credit_min);
  g_autofree char *needed = lz_format_duration(model->phase->min_credit_min);
  g_autofree char *rest = lz_format_duration(to_go);
  g_autofree char *open = lz_format_duration(visit->open_min);
  g_autofree char *earliest =
      lz_format_when(lz_desk_zone(model->desk), model->now + to_go, model->now);
  if (visit->end != LZQ_NEVER)
    model->sentence = g_strdup_printf(_("%s of %s served"), served, needed);
  else if (visit->open_min > 0)
    model->sentence =
        g_strdup_printf(_("%s of %s served, %s of it open; %s to go, at the earliest %s"), served,
                        needed, open, rest, earliest);
  else
    model->sentence = g_strdup_printf(_("%s of %s served; %s to go, at the earliest %s"), served,
                                      needed, rest, earliest);
}

LzCreditModel *
lz_credit_model_new(LzDesk *desk, uint32_t lot)
{
  const lzq_plan *plan = lz_desk_plan(desk);
  if (!plan || lot >= plan->credit->n_lots)
    return NULL;
  LzCreditModel *model = g_new0(LzCreditModel, 1);
  model->desk = g_object_ref(desk);
  model->spans = g_array_new(FALSE, FALSE, sizeof(lzd_credit_span));
  model->days = g_array_new(FALSE, FALSE, sizeof(lzd_credit_day));
  model->texts = g_ptr_array_new_with_free_func(g_free);
  model->credit = &plan->credit->lots[lot];
  model->now = lz_desk_now(desk);
  if (!find_visit(model, lz_desk_snapshot(desk))) {
    lz_credit_model_free(model);
    return NULL;
  }
  model->from = model->credit->visits[model->visit].start;
  fill_spans(model);
  fill_days(model);
  make_sentence(model);
  model->grid = (lzd_credit_grid){.days = (const lzd_credit_day *)model->days->data,
                                  .n_days = model->days->len,
                                  .spans = (const lzd_credit_span *)model->spans->data,
                                  .n_spans = model->spans->len,
                                  .hour_label = {"00", "06", "12", "18", "24"},
                                  .total_head = _("served"),
                                  .served = _("served"),
                                  .open = _("open"),
                                  .not_served = _("not served"),
                                  .to_serve = _("still to serve"),
                                  .selected = SIZE_MAX};
  model->credit = NULL; // the plan may be replaced; everything needed is copied
  return model;
}

void
lz_credit_model_free(LzCreditModel *model)
{
  if (!model)
    return;
  g_array_unref(model->spans);
  g_array_unref(model->days);
  g_ptr_array_unref(model->texts);
  g_free(model->sentence);
  g_object_unref(model->desk);
  g_free(model);
}

lzd_credit_grid *
lz_credit_model_grid(LzCreditModel *model)
{
  return &model->grid;
}

const char *
lz_credit_model_sentence(const LzCreditModel *model)
{
  return model->sentence;
}
