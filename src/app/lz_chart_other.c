// SPDX-License-Identifier: GPL-3.0-or-later
// What a chart is compared with: another water at the same hours, or another lot's course through
// all the waters it went through, day one on day one.
#include <glib/gi18n.h>
#include <lz_desk.h>
#include <math.h>

#include "lz_chart_model_private.h"

void
lz_chart_other_free(gpointer data)
{
  LzChartOther *other = data;
  lz_chart_data_free(other->data);
  g_free(other);
}

static void
put(GArray *out, lzq_minute at, double low, double mid, double high)
{
  lzd_span span = {at, low, mid, high};
  if (!(low <= mid && mid <= high))
    span.low = span.high = mid;
  g_array_append_val(out, span);
}

// One stretch of one water; the line breaks before it. What nothing models goes from reading to
// reading.
static void
add_stretch(LzChartModel *model, guint panel, uint32_t system, lzq_minute from, lzq_minute to,
            lzq_minute shift)
{
  GArray *out = model->other[panel];
  if (from >= to)
    return;
  LzChartOther *other = g_new0(LzChartOther, 1);
  other->data = lz_chart_data_new(model->desk, system, model->analyte[panel], from, to);
  other->shift = shift;
  g_ptr_array_add(model->others, other);
  if (out->len)
    put(out, from + shift, NAN, NAN, NAN);
  for (guint i = 0; i < other->data->estimate->len; i++) {
    const LzChartPoint *point = &g_array_index(other->data->estimate, LzChartPoint, i);
    put(out, point->at + shift, point->low, point->level, point->high);
  }
  if (other->data->estimate->len)
    return;
  for (guint i = 0; i < other->data->readings->len; i++) {
    const LzChartReading *reading = &g_array_index(other->data->readings, LzChartReading, i);
    if (!reading->suspect && !reading->wrong_form)
      put(out, reading->at + shift, reading->value, reading->value, reading->value);
  }
}

lzq_minute
lz_chart_model_day_one(const LzChartModel *model)
{
  const lzq_plan *plan = lz_desk_plan(model->desk);
  lzq_minute first = LZQ_NEVER;
  for (uint32_t i = 0; plan && i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    bool here = lot->system == model->system && lot->has_course && !lot->released && !lot->merged &&
                !lot->dead && i != model->choice.other_lot;
    if (here && (model->choice.tank == LZQ_NONE || lot->tank == model->choice.tank))
      first = MIN(first, lz_lot_course_start(model->desk, i));
  }
  return first;
}

static void
fill_lot(LzChartModel *model, guint panel, const LzChartData *own)
{
  uint32_t lot = model->choice.other_lot;
  lzq_minute here = lz_chart_model_day_one(model), there = lz_lot_course_start(model->desk, lot);
  if (here == LZQ_NEVER || there == LZQ_NEVER)
    return;
  lzq_minute shift = here - there;
  g_autoptr(GArray) way = lz_lot_segments(model->desk, lot);
  lzq_minute from = LZQ_NEVER;
  for (guint i = 0; i < way->len; i++) {
    const lzq_segment *at = &g_array_index(way, lzq_segment, i), *next = at + 1;
    if (at->end <= there || at->start >= own->now || at->system == LZQ_NONE)
      continue;
    from = from == LZQ_NEVER ? MAX(at->start, there) : from;
    if (i + 1 < way->len && next->system == at->system && next->start == at->end &&
        next->start < own->now)
      continue; // the next phase in the same water
    add_stretch(model, panel, at->system, MAX(from, own->from - shift),
                MIN(MIN(at->end, own->now), own->to - shift), shift);
    from = LZQ_NEVER;
  }
  model->other_name = lz_chart_keep(
      model, g_strdup_printf(_("lot %s, from its day one"), lz_desk_name(model->desk, "lot", lot)));
}

void
lz_chart_fill_other(LzChartModel *model, guint panel)
{
  const LzChartData *own = model->data[panel];
  const LzChartChoice *choice = &model->choice;
  if (choice->other_lot != LZQ_NONE) {
    fill_lot(model, panel, own);
  } else if (choice->other_system != LZQ_NONE && choice->other_system != model->system) {
    add_stretch(model, panel, choice->other_system, own->from, MIN(own->to, own->now), 0);
    model->other_name =
        lz_chart_keep(model, g_strdup(lz_desk_name(model->desk, "system", choice->other_system)));
  }
}
