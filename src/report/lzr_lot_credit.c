// SPDX-License-Identifier: GPL-3.0-or-later
// The proof of the course: each stay in a phase with what it asked for and what was served, every
// run of minutes that earned nothing and why, and the copper as it was measured.
#include <glib/gi18n-lib.h>
#include <math.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_lot.h"

#define GAP_TOLD  15 // minutes; shorter gaps are summed up
#define GAPS_MOST 40 // lines; what is more is summed up

static const lzq_visit *
visit_at(const LzrLot *lot, uint32_t i)
{
  return &g_array_index(lot->visits, LzrVisit, i).visit;
}

static const lzq_phase *
phase_of(LzrBuild *build, const lzq_visit *visit)
{
  const lzq_snapshot *snapshot = lz_desk_snapshot(build->desk);
  if (visit->protocol >= snapshot->n_protocols ||
      visit->phase >= snapshot->protocols[visit->protocol].n_phases)
    return NULL;
  return &snapshot->phases[snapshot->protocols[visit->protocol].first_phase + visit->phase];
}

static const char *
phase_name(LzrBuild *build, const lzq_visit *visit)
{
  const lzq_snapshot *snapshot = lz_desk_snapshot(build->desk);
  if (!phase_of(build, visit))
    return "–";
  return lz_desk_name(build->desk, "phase",
                      snapshot->protocols[visit->protocol].first_phase + visit->phase);
}

static const char *
left_words(const lzq_visit *visit)
{
  switch ((lzq_left)visit->left) {
  case LZQ_LEFT_NOT: return _("still in it");
  case LZQ_LEFT_ENDED: return visit->firm_at == LZQ_NEVER ? _("served, not firm") : _("served");
  case LZQ_LEFT_SIGHTING: return _("set back by a sighting");
  case LZQ_LEFT_LATE: return _("set back: the transfer or dose was late");
  case LZQ_LEFT_STOPPED: return _("stopped");
  case LZQ_LEFT_RELEASED: return _("let go");
  case LZQ_LEFT_DEAD: return _("no fish left");
  case LZQ_LEFT_APART: return _("set back: merged with fish too far apart");
  }
  return "";
}

// What the phase asked for: "14 d of credit, 7 d quiet".
static const char *
rule_words(LzrBuild *build, const lzq_phase *phase)
{
  g_autoptr(GString) text = g_string_new(NULL);
  const struct {
    int64_t minutes;
    const char *format;
  } rules[] = {{phase->min_credit_min, _("%s of credit")},
               {phase->min_elapsed_min, _("%s elapsed")},
               {phase->quiet_min, _("%s without a sighting")}};
  for (guint i = 0; i < G_N_ELEMENTS(rules); i++)
    if (rules[i].minutes > 0) {
      g_autofree char *span = lz_format_duration(rules[i].minutes);
      g_string_append(text, text->len ? ", " : "");
      g_string_append_printf(text, rules[i].format, span);
    }
  if (phase->reach)
    g_string_append_printf(text, "%s%s", text->len ? ", " : "", _("band reached"));
  if (phase->eating_days > 0)
    g_string_append_printf(text,
                           ngettext("%1$s%2$d day of eating", "%1$s%2$d days of eating",
                                    (unsigned long)phase->eating_days),
                           text->len ? ", " : "", phase->eating_days);
  if (phase->sign != LZQ_SIGN_NOBODY)
    g_string_append_printf(text, "%s%s", text->len ? ", " : "",
                           phase->sign == LZQ_SIGN_VET ? _("signed by the vet") : _("signed"));
  return text->len ? lzr_keep(build, g_strdup(text->str)) : "–";
}

static void
phases(LzrBuild *build, const LzrLot *lot)
{
  lzd_column columns[] = {{_("phase"), 70, LZD_START}, {_("began"), 98, LZD_START},
                          {_("ended"), 98, LZD_START}, {_("asked"), 0, LZD_START},
                          {_("served"), 92, LZD_END},  {_("how it ended"), 84, LZD_END}};
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  for (uint32_t i = 0; i < lot->visits->len; i++) {
    const lzq_visit *visit = visit_at(lot, i);
    const lzq_phase *phase = phase_of(build, visit);
    g_autofree char *served = lz_format_duration(visit->credit_min);
    g_autofree char *accepted = lz_format_duration(visit->accepted_min);
    gboolean asked = phase && phase->min_credit_min > 0;
    lzd_cell cells[] = {
        {.text = phase_name(build, visit), .bold = true},
        {.text = lzr_minute(build, visit->start)},
        {.text = lzr_minute(build, visit->end)},
        {.text = phase ? rule_words(build, phase) : "–"},
        {.text = !asked ? ""
                 : visit->accepted_min
                     ? lzr_printf(build, _("%1$s and %2$s accepted"), served, accepted)
                     : lzr_printf(build, "%s", served),
         .bold = true},
        {.text = left_words(visit)},
    };
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  lzd_sheet_end_table(build->page);
}

static void
gap_row(LzrBuild *build, const LzrLot *lot, const lzq_span *span)
{
  const lzq_visit *visit = visit_at(lot, span->visit);
  const lzq_phase *phase = phase_of(build, visit);
  const lzq_band *band = phase && span->band < phase->n_bands ? &phase->bands[span->band] : NULL;
  g_autofree char *why = lz_words_why((lzq_why)span->why, band);
  g_autofree char *length = lz_format_duration(span->to - span->from);
  lzd_cell cells[] = {{.text = phase_name(build, visit), .bold = true},
                      {.text = lzr_minute(build, span->from)},
                      {.text = lzr_minute(build, span->to)},
                      {.text = length},
                      {.text = why}};
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

// Minutes of counted phases that were not served: from, until, how long and why.
static void
gaps(LzrBuild *build, const LzrLot *lot)
{
  lzd_column columns[] = {{_("not served"), 84, LZD_START},
                          {_("from"), 98, LZD_START},
                          {_("until"), 98, LZD_START},
                          {_("for"), 82, LZD_START},
                          {_("why"), 0, LZD_START}};
  guint told = 0, more = 0;
  int64_t more_min = 0;
  for (uint32_t i = 0; i < lot->spans->len; i++) {
    const lzq_span *span = &g_array_index(lot->spans, lzq_span, i);
    const lzq_phase *phase = phase_of(build, visit_at(lot, span->visit));
    if (span->why == LZQ_WHY_NONE || !phase || phase->min_credit_min == 0)
      continue;
    if (span->to - span->from >= GAP_TOLD && told < GAPS_MOST) {
      if (!told++)
        lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
      gap_row(build, lot, span);
    } else {
      more++;
      more_min += span->to - span->from;
    }
  }
  lzd_sheet_end_table(build->page);
  g_autofree char *rest = lz_format_duration(more_min);
  if (more)
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(build,
                        ngettext("and %1$u more gap, %2$s together.",
                                 "and %1$u more gaps, %2$s together.", more),
                        more, rest));
  if (!told && !more)
    lzr_line(build, LZD_MARK_NONE, NULL, _("No minute of a counted phase was lost."));
}

// The bar of one stay that asks for credit.
typedef struct {
  guint n;
  lzd_window window;
  lzd_credit_span spans[];
} Bar;

static void
draw_bar(cairo_t *cr, const lzd_look *look, double width, double height, const void *data)
{
  const Bar *bar = data;
  lzd_credit_bar(cr, look, (lzd_rect){0, 4, width, height - 10}, bar->window, bar->spans, bar->n);
}

static void
bar_of(LzrBuild *build, const LzrLot *lot, uint32_t visit_index)
{
  const lzq_visit *visit = visit_at(lot, visit_index);
  const lzq_phase *phase = phase_of(build, visit);
  lzq_minute end = visit->end != LZQ_NEVER ? visit->end : lot->credit->released_at;
  if (end == LZQ_NEVER)
    end = lz_desk_now(build->desk);
  Bar *bar = g_malloc0(sizeof *bar + (lot->spans->len + 1) * sizeof bar->spans[0]);
  lzr_keep(build, (char *)(gpointer)bar);
  for (uint32_t i = 0; i < lot->spans->len; i++) {
    const lzq_span *span = &g_array_index(lot->spans, lzq_span, i);
    if (span->visit == visit_index && span->from < span->to)
      bar->spans[bar->n++] = (lzd_credit_span){span->from, span->to,
                                               span->why != LZQ_WHY_NONE ? LZD_CREDIT_NOT_SERVED
                                               : span->firm              ? LZD_CREDIT_SERVED
                                                                         : LZD_CREDIT_OPEN};
  }
  int64_t to_go = phase->min_credit_min - visit->credit_min - visit->accepted_min;
  if (visit->end == LZQ_NEVER && visit->left == LZQ_LEFT_NOT && to_go > 0) {
    bar->spans[bar->n++] = (lzd_credit_span){end, end + to_go, LZD_CREDIT_TO_SERVE};
    end += to_go;
  }
  bar->window = (lzd_window){visit->start, MAX(end, visit->start + LZD_WINDOW_LEAST)};
  lzr_line(build, LZD_MARK_NONE, lzr_printf(build, "%s:", phase_name(build, visit)),
           lzr_printf(build, _("%1$s to %2$s"), lzr_minute(build, visit->start),
                      lzr_minute(build, bar->window.to)));
  lzd_sheet_block(build->page, 22, draw_bar, bar);
}

const lzq_band *
lzr_lot_band(LzrBuild *build, const LzrLot *lot)
{
  if (!lot->credit)
    return NULL;
  for (int a = LZQ_COPPER; a <= LZQ_SALINITY; a++)
    for (uint32_t i = lot->visits->len; i-- > 0;) {
      const lzq_phase *phase = phase_of(build, visit_at(lot, i));
      for (uint32_t b = 0; phase && phase->min_credit_min > 0 && b < phase->n_bands; b++)
        if ((int)phase->bands[b].analyte == a)
          return &phase->bands[b];
    }
  return NULL;
}

static void
chart(LzrBuild *build, const LzrLot *lot)
{
  const lzq_band *band = lzr_lot_band(build, lot);
  if (!band || !lot->way->len)
    return;
  lzq_minute from = g_array_index(lot->way, LzrStay, 0).from;
  lzq_minute to = g_array_index(lot->way, LzrStay, lot->way->len - 1).to;
  const LzrChart *made =
      lzr_chart_new(build, (const LzrStay *)(gpointer)lot->way->data, lot->way->len, band->analyte,
                    band, from, MIN(to, lz_desk_now(build->desk)),
                    lzr_printf(build, "%s %s", lz_words_analyte(band->analyte),
                               lz_words_analyte_unit(band->analyte)));
  if (lzr_chart_readings(made))
    lzr_chart_block(build, made, 132);
}

void
lzr_lot_credit(LzrBuild *build, const LzrLot *lot)
{
  lzr_heading(build, NULL, _("Time served"),
              _("time in the band; filled is served, hatched is not, outlined is to come"));
  if (!lot->credit || !lot->visits->len) {
    lzr_none(build, _("No course."));
    return;
  }
  lzr_begin(build);
  phases(build, lot);
  for (uint32_t i = 0; i < lot->visits->len; i++) {
    const lzq_phase *phase = phase_of(build, visit_at(lot, i));
    if (phase && phase->min_credit_min > 0)
      bar_of(build, lot, i);
  }
  gaps(build, lot);
  chart(build, lot);
}
