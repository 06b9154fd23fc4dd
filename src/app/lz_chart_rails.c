// SPDX-License-Identifier: GPL-3.0-or-later
// Events under the chart, and the credit of the lots that stand in the water.
#include <glib/gi18n.h>
#include <string.h>

#include "lz_chart_model_private.h"

lzd_mark
lz_chart_instrument_mark(LzDesk *desk, uint32_t instrument, const char **name)
{
  static const struct {
    const char *method;
    lzd_mark mark;
  } marks[] = {{"photometer", LZD_READ_DISC},
               {"drop_test", LZD_READ_SQUARE},
               {"refractometer", LZD_READ_DIAMOND},
               {"conductivity", LZD_READ_TRIANGLE}};
  GListModel *all = lz_desk_instruments(desk);
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(LzInstrumentRow) row = g_list_model_get_item(all, i);
    const LzInstrumentInfo *info = lz_instrument_row_info(row);
    if (info->index != instrument)
      continue;
    if (name)
      *name = info->name;
    for (size_t m = 0; m < G_N_ELEMENTS(marks); m++)
      if (g_strcmp0(info->method, marks[m].method) == 0)
        return marks[m].mark;
    return LZD_READ_BAR;
  }
  return LZD_READ_BAR;
}

static int
rail_of(LzChartEventKind kind, lzd_mark *mark)
{
  switch (kind) {
  case LZ_CHART_DOSE: *mark = LZD_RAIL_DOSE; return LZ_RAIL_DOSE_ROW;
  case LZ_CHART_CHANGE:
  case LZ_CHART_TOPUP: *mark = LZD_RAIL_CHANGE; return LZ_RAIL_CHANGE_ROW;
  case LZ_CHART_MOVE_IN:
  case LZ_CHART_MOVE_OUT: *mark = LZD_RAIL_MOVE; return LZ_RAIL_MOVE_ROW;
  case LZ_CHART_SIGHTING: *mark = LZD_RAIL_SEEN; return LZ_RAIL_SEEN_ROW;
  case LZ_CHART_DEATH: *mark = LZD_RAIL_DEAD; return LZ_RAIL_SEEN_ROW;
  default: *mark = LZD_RAIL_NOTE; return LZ_RAIL_MOVE_ROW;
  }
}

void
lz_chart_fill_rails(LzChartModel *model)
{
  static const char *const names[] = {N_("dose"), N_("change"), N_("move"), N_("seen")};
  GPtrArray *events = model->data[0]->events;
  for (guint i = 0; i < events->len; i++) {
    const LzChartEvent *event = g_ptr_array_index(events, i);
    lzd_mark mark;
    int rail = rail_of(event->kind, &mark);
    bool worded = event->kind == LZ_CHART_SIGHTING || event->kind == LZ_CHART_DEATH;
    lzd_event out = {.minute = event->at,
                     .id = i,
                     .mark = (uint8_t)mark,
                     .planned = event->planned,
                     .label = worded ? event->words : NULL};
    g_array_append_val(model->events[rail], out);
  }
  for (guint i = 0; i < LZ_CHART_RAILS; i++)
    model->rails[i] =
        (lzd_rail){_(names[i]), (const lzd_event *)model->events[i]->data, model->events[i]->len};
  model->chart.rails = model->rails;
  model->chart.n_rails = LZ_CHART_RAILS;
}

// One strip per lot, the first that fit; more lots are told in the table.
void
lz_chart_fill_strips(LzChartModel *model)
{
  static const lzd_credit_state states[] = {
      [LZ_CREDIT_SERVED] = LZD_CREDIT_SERVED,
      [LZ_CREDIT_OPEN] = LZD_CREDIT_OPEN,
      [LZ_CREDIT_NOT] = LZD_CREDIT_NOT_SERVED,
      [LZ_CREDIT_AHEAD] = LZD_CREDIT_TO_SERVE,
  };
  GArray *credit = model->data[0]->credit;
  uint32_t lot = LZQ_NONE;
  guint n = 0;
  for (guint i = 0; i < credit->len; i++) {
    const LzChartCredit *piece = &g_array_index(credit, LzChartCredit, i);
    if (n == 0 || piece->lot != lot) {
      if (n == 3)
        break;
      lot = piece->lot;
      g_ptr_array_add(model->spans, g_array_new(FALSE, FALSE, sizeof(lzd_credit_span)));
      model->strips[n++].name =
          lz_chart_keep(model, g_strdup(lz_desk_name(model->desk, "lot", lot)));
    }
    lzd_credit_span span = {piece->from, piece->to, states[piece->kind]};
    if (span.from < span.to)
      g_array_append_val((GArray *)g_ptr_array_index(model->spans, n - 1), span);
  }
  for (guint i = 0; i < n; i++) {
    GArray *spans = g_ptr_array_index(model->spans, i);
    model->strips[i].spans = (const lzd_credit_span *)spans->data;
    model->strips[i].n_spans = spans->len;
  }
  model->chart.strips = model->strips;
  model->chart.n_strips = n;
}
