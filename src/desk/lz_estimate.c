// SPDX-License-Identifier: GPL-3.0-or-later
// Estimates of the waters as the desk tells them: see lz_estimate.h.
#include "lz_estimate_private.h"

#include <glib/gi18n-lib.h>
#include <lzq_goal.h>
#include <math.h>

#include "lz_format.h"
#include "lz_words.h"

#define MOST_GAP_MIN (24 * 60) // a test is never further off than this: docs/engine/estimate.md

// --- the band in force

static gboolean
band_of_lots(const lzq_snapshot *s, const lzq_plan *plan, uint32_t system, lzq_analyte analyte,
             lzq_band *out)
{
  for (uint32_t i = 0; i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    const uint32_t asked = lot->system == system ? lzq_phase_asked(s, lot) : LZQ_NONE;
    if (asked == LZQ_NONE)
      continue;
    const lzq_phase *phase = &s->phases[s->protocols[lot->protocol].first_phase + asked];
    for (uint32_t b = 0; b < phase->n_bands; b++)
      if (phase->bands[b].analyte == analyte) {
        *out = phase->bands[b];
        return TRUE;
      }
  }
  return FALSE;
}

static gboolean
band_now(LzDesk *desk, const lzq_plan *plan, uint32_t system, lzq_analyte analyte, lzq_band *out)
{
  if (!plan || lzq_plan_torn(plan, system, analyte))
    return FALSE;
  if (analyte > LZQ_SALINITY)
    return band_of_lots(lz_model_view(desk->model), plan, system, analyte, out);
  *out = plan->waters[system].band[analyte];
  return plan->waters[system].has_band[analyte];
}

// --- when it leaves, and when to look

static lzq_minute
after(lzq_minute at, double hours)
{
  return isfinite(hours) ? at + (lzq_minute)llround(hours * 60) : LZQ_NEVER;
}

static void
set_exit(const lzq_water_bank *bank, lzq_minute at, double edge, gboolean above, double limit,
         LzEstimate *out)
{
  lzq_exit found = lzq_water_exit(bank, at, edge, above);
  lzq_minute low = after(at, found.low_h);
  lzq_minute by = limit == 0.10 ? low : after(at, lzq_water_reaches(bank, at, edge, above, limit));
  out->unseen_by = MIN(out->unseen_by, by);
  if (isfinite(out->edge) && low >= out->exit_low)
    return; // of two edges the one that is crossed first
  out->edge = edge;
  out->above = above;
  out->beyond_now = found.below_now;
  out->exit_low = low;
  out->exit_likely = after(at, found.likely_h);
  out->exit_high = after(at, found.high_h);
}

// LZQ_LONG_AGO = never read.
static lzq_minute
last_reading(const GArray *steps)
{
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_READING && step->good)
      return step->at;
  }
  return LZQ_LONG_AGO;
}

// From when tests are still to come: past the slot whose round has begun and left its reading, by
// the plan's rule (lzq_plan_tasks.c).
static lzq_minute
tests_from(const LzModel *m, lzq_minute read_at, lzq_minute gap, lzq_minute at)
{
  lzq_minute next = LZQ_NEVER;
  for (guint i = 0; i < m->slots->len; i++) {
    const lzq_slot *slot = &g_array_index(m->slots, lzq_slot, i);
    if (!slot->test || slot->at <= at)
      continue;
    if (next != LZQ_NEVER)
      return slot->at <= read_at + gap ? next : at;
    next = slot->at;
    if (read_at < next - LZ_BEGUN_MIN)
      break;
  }
  return at;
}

// `from`: slots up to it have been tested.
static void
set_fixed(const LzModel *m, const lzq_water_bank *bank, lzq_minute at, lzq_minute from,
          LzEstimate *out)
{
  for (guint i = 0; i < m->slots->len; i++) {
    const lzq_slot *slot = &g_array_index(m->slots, lzq_slot, i);
    if (!slot->test || slot->at <= from)
      continue;
    if (out->fixed_test == LZQ_NEVER)
      out->fixed_test = slot->at;
    if (slot->at >= out->next_test || out->next_test == LZQ_NEVER)
      break;
    out->rounds_spared++;
  }
  if (out->next_test == LZQ_NEVER)
    return;
  out->chance_at_fixed = lzq_water_chance(bank, at, out->edge, out->above, out->fixed_test);
  out->chance_at_test = lzq_water_chance(bank, at, out->edge, out->above, out->next_test);
}

// The chance of an unseen exit only rises, so that a slot keeps it under the limit as long as it is
// not later than the minute at which it reaches it.
static void
set_next_test(const LzModel *m, const lzq_band *band, lzq_minute read_at, lzq_minute from,
              LzEstimate *out)
{
  lzq_minute gap = MIN(band->gap_min, MOST_GAP_MIN);
  lzq_minute until = MIN(read_at + gap, out->unseen_by);
  for (guint i = 0; i < m->slots->len; i++) {
    const lzq_slot *slot = &g_array_index(m->slots, lzq_slot, i);
    if (!slot->test || slot->at <= from)
      continue;
    if (slot->at > until) {
      out->cannot_hold = out->next_test == LZQ_NEVER;
      if (out->cannot_hold)
        out->next_test = slot->at;
      return;
    }
    out->next_test = slot->at;
  }
}

// Waiting for the slot after the next test is safe as long as the chance stays under the limit
// there.
static void
set_top_up(const LzModel *m, const lzq_water_bank *bank, const lzq_band *band, LzEstimate *out)
{
  lzq_minute later = LZQ_NEVER;
  for (guint i = 0; i < m->slots->len && later == LZQ_NEVER; i++) {
    const lzq_slot *slot = &g_array_index(m->slots, lzq_slot, i);
    if (slot->test && slot->at > out->next_test)
      later = slot->at;
  }
  if (out->next_test == LZQ_NEVER || isnan(out->loss_per_h) || band->side == LZQ_AT_OR_BELOW)
    return;
  if (out->mean < band->works - LZQ_EDGE)
    return; // not there yet, or fallen out: that is for the plan's steps, not for a top-up
  out->expected = lzq_water_at(bank, out->next_test).mean;
  if (out->unseen_by < later && out->expected < band->target)
    out->top_up_mg = (band->target - out->expected) * bank->volume_l;
}

static gboolean
is_lost(const lzq_water_bank *bank, const GArray *steps)
{
  gboolean lost = FALSE;
  for (guint i = 0; i < steps->len; i++)
    lost = lz_banks_lost((lzq_analyte)bank->analyte, &g_array_index(steps, LzCarryStep, i), lost);
  return lost;
}

static void
blank(LzEstimate *out)
{
  *out = (LzEstimate){.mean = NAN,
                      .low = NAN,
                      .high = NAN,
                      .loss_per_h = NAN,
                      .evaporation_l_day = NAN,
                      .entered_l = NAN,
                      .volume_l = NAN,
                      .volume_sd_l = NAN,
                      .edge = NAN,
                      .beyond_now = NAN,
                      .exit_low = LZQ_NEVER,
                      .exit_likely = LZQ_NEVER,
                      .exit_high = LZQ_NEVER,
                      .unseen_by = LZQ_NEVER,
                      .next_test = LZQ_NEVER,
                      .fixed_test = LZQ_NEVER,
                      .chance_at_test = NAN,
                      .chance_at_fixed = NAN,
                      .expected = NAN,
                      .top_up_mg = NAN};
}

void
lz_estimate_of_bank(LzDesk *desk, const lzq_plan *plan, const lzq_water_bank *bank, lzq_minute at,
                    LzEstimate *out)
{
  lzq_band band;
  blank(out);
  g_autoptr(GArray) steps = lz_carry_now(desk->model, bank->system, (lzq_analyte)bank->analyte, at);
  if (!bank->known || is_lost(bank, steps))
    return;
  lzq_water_estimate e = lzq_water_at(bank, at);
  out->known = TRUE;
  out->mean = e.mean;
  out->low = e.low;
  out->high = e.high;
  out->loss_per_h = e.loss_per_h;
  out->loss_learnt = e.loss_learnt;
  out->evaporation_l_day = e.evaporation_l_day;
  out->entered_l = bank->volume_l;
  out->volume_l = e.volume.volume_l;
  out->volume_sd_l = e.volume.sd_l;
  out->volume_differs = e.volume.differs;
  if (!band_now(desk, plan, bank->system, (lzq_analyte)bank->analyte, &band))
    return;
  double limit = desk->model->unseen_exit;
  set_exit(bank, at, band.works, band.side == LZQ_AT_OR_BELOW, limit, out);
  if (band.side == LZQ_BETWEEN)
    set_exit(bank, at, band.works_high, TRUE, limit, out);
  lzq_minute read_at = last_reading(steps);
  lzq_minute from = tests_from(desk->model, read_at, band.gap_min, at);
  set_next_test(desk->model, &band, read_at == LZQ_LONG_AGO ? at : read_at, from, out);
  set_fixed(desk->model, bank, at, from, out);
  set_top_up(desk->model, bank, &band, out);
}

gboolean
lz_desk_estimate(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at, LzEstimate *out)
{
  lzq_water_bank bank;
  blank(out);
  if (!lz_banks_at(desk->banks, desk->model, system, analyte, at, &bank))
    return FALSE;
  lz_estimate_of_bank(desk, desk->plan, &bank, at, out);
  return TRUE;
}

// --- in words

char *
lz_estimate_volume_words(LzDesk *desk, uint32_t system, const LzEstimate *e)
{
  if (!e->known || !e->volume_differs)
    return NULL;
  g_autofree char *spoken = lz_format_amount(e->volume_l, LZQ_UNIT_L);
  g_autofree char *sd = lz_format_amount(e->volume_sd_l, LZQ_UNIT_L);
  g_autofree char *entered = lz_format_amount(e->entered_l, LZQ_UNIT_L);
  return g_strdup_printf(
      _("%1$s: the doses speak for about %2$s ± %3$s, entered are %4$s. One instrument cannot tell "
        "a volume from its own gain: check it against a standard or with a second instrument "
        "before the volume is changed."),
      lz_desk_name(desk, "system", system), spoken, sd, entered);
}

static char *
moment(LzDesk *desk, lzq_minute minute, lzq_minute at)
{
  return minute == LZQ_NEVER ? g_strdup(_("not within 14 days"))
                             : lz_format_when(lz_desk_zone(desk), minute, at);
}

char *
lz_estimate_exit_words(LzDesk *desk, const LzEstimate *e, lzq_minute at)
{
  if (!e->known || isnan(e->edge))
    return NULL;
  g_autofree char *likely = moment(desk, e->exit_likely, at);
  g_autofree char *low = moment(desk, e->exit_low, at);
  g_autofree char *high = moment(desk, e->exit_high, at);
  g_autofree char *test = moment(desk, e->next_test, at);
  GString *out = g_string_new(NULL);
  if (e->exit_low == LZQ_NEVER)
    g_string_append(out, _("stays in its band for 14 days if nothing is done"));
  else if (e->exit_likely <= at)
    g_string_append(out, _("has more likely than not left its band"));
  else if (e->exit_low <= at)
    g_string_append_printf(out, _("may have left its band already; likely leaves it %s"), likely);
  else if (e->exit_likely == LZQ_NEVER)
    g_string_append_printf(out, _("may leave its band from %s on (1 in 10 by then)"), low);
  else
    g_string_append_printf(out, _("leaves its band %1$s (%2$s to %3$s, 8 in 10)"), likely, low,
                           high);
  const char *look = isnan(e->top_up_mg) ? _("; next test %s") : _("; test and top up %s");
  if (e->cannot_hold)
    look = isnan(e->top_up_mg) ? _("; next test %s, earlier if anybody can")
                               : _("; test and top up %s, earlier if anybody can");
  if (e->next_test != LZQ_NEVER)
    g_string_append_printf(out, look, test);
  if (e->rounds_spared > 0) {
    g_autofree char *fixed = moment(desk, e->fixed_test, at);
    g_autofree char *percent = lz_format_short(100 * e->chance_at_test, 1);
    g_string_append_printf(out,
                           ngettext(" (the fixed round %1$s is not needed; %2$s %% chance that it "
                                    "has left unseen by then)",
                                    " (fixed rounds from %1$s on, %3$d of them, are not needed; "
                                    "%2$s %% chance that it has left unseen by then)",
                                    (gulong)e->rounds_spared),
                           fixed, percent, e->rounds_spared);
  }
  return g_string_free(out, FALSE);
}

// --- a reading before it is entered

static double
stated_error(const LzModel *m, uint32_t instrument, double value, double error)
{
  if (!isnan(error))
    return error;
  if (instrument >= m->instruments->len)
    return 0;
  const lzq_instrument *i = &g_array_index(m->instruments, lzq_instrument, instrument);
  return i->error_abs + i->error_rel * fabs(value) + i->resolution;
}

LzJudgement
lz_desk_judge_reading(LzDesk *desk, uint32_t system, lzq_analyte analyte, double value,
                      double error, uint32_t instrument, lzq_minute at)
{
  LzModel *m = desk->model;
  LzJudgement out = {.predicted = NAN, .sd = NAN};
  lzq_water_bank bank;
  if (!lz_banks_at(desk->banks, m, system, analyte, at, &bank) || !bank.known)
    return out;
  if (instrument == LZQ_NONE)
    instrument = bank.instrument;
  lzq_water_estimate e = lzq_water_at(&bank, at);
  double stated = stated_error(m, instrument, value, error);
  out.predicted = e.mean;
  out.sd = hypot((e.high - e.low) / (2 * 1.2815515655446004), stated);
  if (!(stated > 0))
    return out;
  lzq_record reading = {.kind = LZQ_REC_READING,
                        .system = system,
                        .analyte = (uint8_t)analyte,
                        .instrument = instrument,
                        .at = MAX(at, bank.at),
                        .value = value,
                        .error = error};
  g_autoptr(LzTrust) trust = lz_trust_new(m, LZQ_NEVER);
  reading = lzq_water_aged(&reading, lz_model_view(m), lz_trust_checked_at(trust, instrument, at));
  lzq_read_verdict verdict = lzq_water_judge(&bank, lz_model_view(m), &reading);
  out.odd = verdict == LZQ_READ_SUSPECT || verdict == LZQ_READ_ASK_THIRD;
  return out;
}

gboolean
lz_desk_reading_is_odd(LzDesk *desk, uint32_t system, lzq_analyte analyte, double value,
                       double *predicted)
{
  LzJudgement judged =
      lz_desk_judge_reading(desk, system, analyte, value, NAN, LZQ_NONE, lz_clock_now(desk->clock));
  if (predicted)
    *predicted = judged.predicted;
  return judged.odd;
}
