// SPDX-License-Identifier: GPL-3.0-or-later
// The bands in force over time, from what every lot in the water needed and will need; and the
// minutes that counted for each lot.
#include <math.h>

#include "lz_chart_private.h"
#include "lz_stays.h"

// --- bands

static const lzq_band *
band_of(const lzq_snapshot *s, uint32_t protocol, uint32_t phase, lzq_analyte analyte)
{
  if (protocol >= s->n_protocols || phase >= s->protocols[protocol].n_phases)
    return NULL;
  const lzq_phase *p = &s->phases[s->protocols[protocol].first_phase + phase];
  for (uint32_t b = 0; b < p->n_bands; b++)
    if (p->bands[b].analyte == analyte)
      return &p->bands[b];
  return NULL;
}

// Every stretch in which one lot needs the band, past and ahead, as they come.
static GArray *
needs(const LzChartData *data, LzDesk *desk)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(LzChartBand));
  const lzq_snapshot *s = lz_model_view(desk->model);
  const lzq_plan *plan = desk->plan;
  for (uint32_t i = 0; i < plan->credit->n_lots; i++)
    for (uint32_t j = 0; j < plan->lots[i].n_segments; j++) {
      const lzq_segment *segment = &plan->lots[i].segments[j];
      const lzq_band *band = segment->system == data->system
                                 ? band_of(s, segment->protocol, segment->phase, data->analyte)
                                 : NULL;
      if (!band)
        continue;
      LzChartBand need = {MAX(segment->start, data->from), MIN(segment->end, data->to), *band};
      if (need.from < need.to)
        g_array_append_val(out, need);
    }
  return out;
}

static int
by_minute(gconstpointer a, gconstpointer b)
{
  const lzq_minute *x = a, *y = b;
  return (*x > *y) - (*x < *y);
}

static double
smaller(double a, double b)
{
  return isnan(a) ? b : isnan(b) ? a : MIN(a, b);
}

static double
larger(double a, double b)
{
  return isnan(a) ? b : isnan(b) ? a : MAX(a, b);
}

// What both ask. Bands on opposite sides stay as the first has it: the plan names that conflict.
static void
narrow(lzq_band *band, const lzq_band *by)
{
  if (band->side != by->side)
    return;
  gboolean below = band->side == LZQ_AT_OR_BELOW;
  band->works = below ? MIN(band->works, by->works) : MAX(band->works, by->works);
  band->works_high = smaller(band->works_high, by->works_high);
  band->plan = below ? larger(band->plan, by->plan) : smaller(band->plan, by->plan);
  band->harm = below ? larger(band->harm, by->harm) : smaller(band->harm, by->harm);
  band->gap_min = MIN(band->gap_min, by->gap_min);
}

static gboolean
same_number(double a, double b)
{
  return a == b || (isnan(a) && isnan(b));
}

static gboolean
same_band(const lzq_band *a, const lzq_band *b)
{
  return a->side == b->side && a->form == b->form && same_number(a->works, b->works) &&
         same_number(a->works_high, b->works_high) && same_number(a->plan, b->plan) &&
         same_number(a->harm, b->harm);
}

static void
append(GArray *bands, const LzChartBand *piece)
{
  LzChartBand *last = bands->len ? &g_array_index(bands, LzChartBand, bands->len - 1) : NULL;
  if (last && last->to == piece->from && same_band(&last->band, &piece->band))
    last->to = piece->to;
  else
    g_array_append_vals(bands, piece, 1);
}

void
lz_chart_bands(LzChartData *data, LzDesk *desk)
{
  g_autoptr(GArray) all = needs(data, desk);
  g_autoptr(GArray) marks = g_array_new(FALSE, FALSE, sizeof(lzq_minute));
  for (guint i = 0; i < all->len; i++) {
    const LzChartBand *need = &g_array_index(all, LzChartBand, i);
    g_array_append_val(marks, need->from);
    g_array_append_val(marks, need->to);
  }
  g_array_sort(marks, by_minute);
  for (guint k = 0; k + 1 < marks->len; k++) {
    LzChartBand piece = {
        g_array_index(marks, lzq_minute, k), g_array_index(marks, lzq_minute, k + 1), {0}};
    gboolean found = FALSE;
    if (piece.from == piece.to)
      continue;
    for (guint i = 0; i < all->len; i++) {
      const LzChartBand *need = &g_array_index(all, LzChartBand, i);
      if (need->from > piece.from || need->to < piece.to)
        continue;
      if (found)
        narrow(&piece.band, &need->band);
      else
        piece.band = need->band;
      found = TRUE;
    }
    if (found)
      append(data->bands, &piece);
  }
}

// --- credit

static void
put(LzChartData *data, uint32_t lot, lzq_minute from, lzq_minute to, int kind)
{
  LzChartCredit out = {.from = MAX(from, data->from), .to = MIN(to, data->to), .lot = lot};
  out.kind = kind;
  if (out.from >= out.to)
    return;
  LzChartCredit *last =
      data->credit->len ? &g_array_index(data->credit, LzChartCredit, data->credit->len - 1) : NULL;
  if (last && last->lot == lot && last->kind == out.kind && last->to == out.from)
    last->to = out.to;
  else
    g_array_append_val(data->credit, out);
}

static void
put_lot(LzChartData *data, const lzq_plan *plan, uint32_t lot)
{
  const lzq_lot_credit *credit = &plan->credit->lots[lot];
  for (uint32_t i = 0; i < credit->n_spans; i++) {
    const lzq_span *span = &credit->spans[i];
    if (span->system == data->system)
      put(data, lot, span->from, span->to,
          span->why != LZQ_WHY_NONE ? LZ_CREDIT_NOT
          : span->firm              ? LZ_CREDIT_SERVED
                                    : LZ_CREDIT_OPEN);
  }
  for (uint32_t i = 0; i < plan->lots[lot].n_segments; i++) {
    const lzq_segment *segment = &plan->lots[lot].segments[i];
    if (!segment->past && segment->system == data->system)
      put(data, lot, MAX(segment->start, plan->now), segment->end, LZ_CREDIT_AHEAD);
  }
}

static gboolean
stood_in_tank(const LzChartData *data, const GArray *stays, uint32_t lot)
{
  for (guint i = stays ? lz_stays_of(stays, lot) : 0; stays && i < stays->len; i++) {
    const LzStay *stay = &g_array_index(stays, LzStay, i);
    if (stay->lot != lot)
      break;
    if (stay->tank == data->tank)
      return TRUE;
  }
  return !stays;
}

void
lz_chart_credit(LzChartData *data, LzDesk *desk)
{
  const lzq_plan *plan = desk->plan;
  g_autoptr(GArray) stays = data->tank == LZQ_NONE ? NULL : lz_stays(desk->model, desk->now);
  for (int here = 1; here >= 0; here--)
    for (uint32_t lot = 0; lot < plan->credit->n_lots; lot++) {
      const lzq_lot_credit *credit = &plan->credit->lots[lot];
      gboolean stands =
          credit->system == data->system && !credit->released && !credit->merged && !credit->dead;
      if (stands == (here == 1) && stood_in_tank(data, stays, lot))
        put_lot(data, plan, lot);
    }
}
