// SPDX-License-Identifier: GPL-3.0-or-later
// Gates of pace: no dose beyond what the lots in a water ask for now, no step of salinity and no
// day of it that is more than their protocols allow.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_words.h"

// Changes and salt closer than this, with no reading between, are one step: house rule, no source.
#define ONE_STEP_MIN (12 * 60)
// Salinity is written and read to 0.1; litres and kilograms are rounded as they are said.
#define AS_WRITTEN 0.05
// Rounds of two days may be as close as this, as the steps of the shipped rises are.
#define ONE_DAY_MIN (20 * 60)

// The most that the lots there ask for now, NAN = they do not say: the edge beyond which their
// protocols plan nothing, a day's rise, the level now where no dose is due, or the most that
// copper-free means.
static double
most_now(const LzDoseAdvice *advice)
{
  double most = isnan(advice->plan_edge) ? INFINITY : advice->plan_edge;
  if (isfinite(advice->target) && advice->target <= advice->level_before + LZQ_EDGE)
    most = fmin(most, advice->level_before);
  if (isfinite(advice->below_edge))
    most = fmin(most, advice->below_edge);
  if (isfinite(advice->day_edge))
    most = fmin(most, advice->day_edge + LZ_HALF_AS_READ);
  return isinf(most) ? NAN : most;
}

// The first copper of a water decides what may follow it: levels of one form are no levels of
// another, and the right bottle could then not be given before the wrong one is out.
static void
stop_other_form(const LzMedicineGate *g, const LzDoseAdvice *advice)
{
  if (g->analyte != LZQ_COPPER || g->draft->entry.corrects || g->form == LZQ_FORM_NONE ||
      advice->form == LZQ_FORM_NONE || advice->form == g->form)
    return;
  lz_gate_stop(g->draft, LZ_GATED_FORM,
               g_strdup_printf(_("bottle: %1$s holds %2$s copper, and the lots in %3$s are under a "
                                 "course of %4$s copper"),
                               g->bottle ? g->bottle->label : _("what is given"),
                               lz_words_form(g->form), g->system->label,
                               lz_words_form(advice->form)));
}

void
lz_gate_planned(const LzMedicineGate *g, const LzDoseAdvice *advice)
{
  LzDraft *d = g->draft;
  stop_other_form(g, advice);
  double most = most_now(advice);
  if (isnan(most) || !(g->after > most + LZQ_EDGE) || d->entry.corrects ||
      lz_draft_yes(d, "in_new_water")) // replaces what the change, that is entered after it, takes
    return;
  g_autofree char *before = lz_format_short(g->before, 4), *after = lz_format_short(g->after, 4);
  g_autofree char *limit = lz_format_short(most, 4);
  // Translators: system; level before; level after; the most that its lots ask for
  lz_gate_stop(d, LZ_GATED_NOT_PLANNED,
               g_strdup_printf(_("amount: %1$s holds %2$s mg/L, this dose would make %3$s, "
                                 "and its lots ask for no more than %4$s now"),
                               g->system->label, before, after, limit));
}

// The level from which the step that ends now began, and the highest or lowest of the last day:
// changes of salinity up to now, NAN = not known.
static void
began_at(const GArray *steps, lzq_minute at, gboolean falls, double now, double *step, double *day)
{
  gboolean read = FALSE;
  *step = *day = now;
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *s = &g_array_index(steps, LzCarryStep, i);
    if (s->kind == LZQ_REC_READING && s->good)
      read = TRUE;
    if ((s->kind != LZQ_REC_CHANGE && s->kind != LZQ_REC_DOSE && s->kind != LZQ_REC_TOPUP) ||
        isnan(s->before))
      continue;
    if (s->at <= at - ONE_DAY_MIN)
      return;
    *day = falls ? fmax(*day, s->before) : fmin(*day, s->before);
    if (!read && s->at > at - ONE_STEP_MIN)
      *step = falls ? fmax(*step, s->before) : fmin(*step, s->before);
  }
}

static void
stop_salinity(LzDraft *d, const char *what, double from, double to, double most, gboolean in_a_day)
{
  g_autofree char *before = lz_format_short(from, 1), *after = lz_format_short(to, 1);
  g_autofree char *limit = lz_format_short(most, 1);
  const char *words = in_a_day
                          ? _("%s would take salinity from %s to %s within a day, and the most in "
                              "a day for the fish there is %s; if it has really been done, say why")
                          : _("%s would take salinity from %s to %s, and the largest step for the "
                              "fish there is %s; if it has really been done, say why");
  if (!d->entry.reason) {
    lz_gate_refuse(d, LZ_GATED_SALINITY_STEP, words, what, before, after, limit);
    return;
  }
  lz_command_note(
      d->command,
      g_strdup_printf(in_a_day
                          ? _("salinity went from %s to %s within a day; the most here is %s")
                          : _("salinity went from %s to %s in one step; the largest here is %s"),
                      before, after, limit));
}

void
lz_gate_salinity(LzDraft *d, uint32_t water, const GArray *steps, double after, const char *what)
{
  lzq_minute at = d->entry.happened_min;
  double now = lz_carry_level(steps), step_from, day_from;
  if (isnan(now) || isnan(after))
    return;
  gboolean falls = after < now;
  LzSalinityPace pace = lz_advice_salinity_pace(d->desk, water, at);
  double day = falls ? pace.fall_day : pace.rise_day;
  began_at(steps, at, falls, now, &step_from, &day_from);
  if (isfinite(pace.step) && fabs(after - step_from) > pace.step + AS_WRITTEN)
    stop_salinity(d, what, step_from, after, pace.step, FALSE);
  else if (isfinite(day) && fabs(after - day_from) > day + AS_WRITTEN)
    stop_salinity(d, what, day_from, after, day, TRUE);
}
