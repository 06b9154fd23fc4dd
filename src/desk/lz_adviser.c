// SPDX-License-Identifier: GPL-3.0-or-later
// Answers that are about a medicine in a water: up, put back, down. The arithmetic is lzq_dose.h's.
#include "lz_adviser.h"

#include <glib/gi18n-lib.h>
#include <lzq_balance.h>
#include <math.h>

#include "lz_adviser_private.h"
#include "lz_advice.h"
#include "lz_carry.h"
#include "lz_check.h"
#include "lz_format.h"
#include "lz_words.h"

#define SYRINGE_ML 10.0 // graduated in 0.2 mL, the usual oral syringe: common practice, no source
#define SYRINGE_BY 0.2
#define BALANCE_BY 0.1 // g
#define MOST_STEPS 32

static const char *const ask_names[LZ_N_QUESTIONS] = {
    "raise", "replace", "lower", "freshen", "salt", "bleach", "neutralise", "bath", "feed"};
static const char *const bath_names[LZ_N_BATHS] = {"freshwater", "peroxide", "formalin",
                                                   "praziquantel"};

const char *
lz_question_name(LzQuestionKind kind)
{
  return kind < LZ_N_QUESTIONS ? ask_names[kind] : NULL;
}

const char *
lz_bath_name(LzBath bath)
{
  return bath < LZ_N_BATHS ? bath_names[bath] : NULL;
}

void
lz_question_init(LzQuestion *ask, LzQuestionKind kind)
{
  *ask = (LzQuestion){.kind = kind,
                      .system = LZQ_NONE,
                      .bottle = LZQ_NONE,
                      .analyte = LZQ_COPPER,
                      .volume_l = NAN,
                      .level = NAN,
                      .target = NAN,
                      .litres = NAN,
                      .new_level = NAN,
                      .step = NAN,
                      .step_hours = NAN,
                      .strength = NAN,
                      .minutes = NAN,
                      .temperature = NAN,
                      .mg_per_kg = NAN,
                      .ration = NAN,
                      .active_share = NAN,
                      .copper_target = NAN,
                      .syringe = {SYRINGE_ML, SYRINGE_BY, false},
                      .balance = {0, BALANCE_BY, false}};
}

void
lz_answer_free(LzAnswer *answer)
{
  g_array_unref(answer->each);
  g_ptr_array_unref(answer->lines);
  g_ptr_array_unref(answer->cautions);
  g_free(answer);
}

// --- what all answers share

gboolean
lz_advising_needs(const LzAdvising *a, const char *field, double value, GError **error)
{
  if (isfinite(value))
    return TRUE;
  return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("%s: nothing was given; accepted is a number"),
                   field);
}

gboolean
lz_advising_failed(lzq_status status, GError **error)
{
  if (status == LZQ_OK)
    return FALSE;
  if (status == LZQ_OUT_OF_RANGE)
    lz_refuse(error, LZ_DESK_ERROR_REFUSED,
              _("target: the new water does not lead there, or not in the steps that are allowed"));
  else
    lz_refuse(error, LZ_DESK_ERROR_USAGE,
              _("these numbers cannot be: volumes and strengths are above zero, levels not below"));
  return TRUE;
}

void
lz_advising_caution(LzAdvising *a, const char *sentence)
{
  g_ptr_array_add(a->out->cautions, g_strdup(sentence));
}

static void
append_tool(lzq_working *working, double exact, lzq_tool tool, lzq_measured *out)
{
  lzq_dose dose = {.working = {.n = 0}};
  *out = lzq_dose_measure(&dose, exact, tool);
  for (uint32_t i = 0; i < dose.working.n; i++) {
    const double *n = dose.working.lines[i].n;
    lzq_working_add(working, dose.working.lines[i].code, n[0], n[1], n[2], n[3]);
  }
}

void
lz_advising_measure(LzAdvising *a, lzq_working *working, double exact, lzq_unit unit)
{
  gboolean liquid = unit == LZQ_UNIT_ML;
  lzq_tool tool = liquid ? a->ask->syringe : a->ask->balance;
  tool.down = a->ask->kind == LZ_QUESTION_BATH; // at a published limit, and never beyond it
  lzq_measured measured = {0};
  a->out->amount = exact;
  a->out->unit = unit;
  if (exact > 0 && tool.step > 0)
    append_tool(working, exact, tool, &measured);
  lz_working_append(a->out->lines, working, lz_words_analyte_unit(a->ask->analyte),
                    liquid ? "mL" : "g");
  if (measured.too_coarse)
    lz_advising_caution(a,
                        _("What it is measured with is too coarse: rounding alone is more than a "
                          "tenth. Use a finer one, or a weaker stock."));
}

static void
add_level(LzAdvising *a, const char *what, double level)
{
  g_autofree char *text = lz_format_short(level, 4);
  const char *unit = lz_words_analyte_unit(a->ask->analyte);
  g_autofree char *value = g_strconcat(text, *unit ? " " : "", unit, NULL);
  lz_working_add(a->out->lines, what, "", value, FALSE);
}

// --- up

static gboolean
answer_raise(LzAdvising *a, GError **error)
{
  lzq_stock stock = {0};
  double target = a->ask->target, step = a->ask->step, hours = a->ask->step_hours;
  double asked = NAN, wanted_step = NAN, wanted_hours = NAN, levels[MOST_STEPS];
  if (a->ask->system != LZQ_NONE)
    lz_advice_wanted(a->desk, a->ask->system, a->ask->analyte, a->desk->now, &asked, &wanted_step,
                     &wanted_hours);
  target = isnan(target) ? asked : target;
  step = isnan(step) ? wanted_step : step;
  hours = isnan(hours) ? wanted_hours : hours;
  if (!lz_advising_needs(a, "target", target, error) || !lz_advising_stock(a, &stock, error))
    return FALSE;
  uint32_t n = lzq_rise_levels(a->level, target, step, levels, MOST_STEPS);
  lzq_dose dose;
  double from = a->level;
  for (uint32_t i = 0; i < MIN(MAX(n, 1), MOST_STEPS); i++) {
    double to = n > 0 ? levels[i] : target;
    if (lz_advising_failed(lzq_dose_raise(a->volume, from, to, stock, &dose), error))
      return FALSE;
    if (n > 1) {
      g_autofree char *what = g_strdup_printf(_("Step %u of %u"), i + 1, n);
      g_autofree char *when =
          isfinite(hours) && i ? g_strdup_printf(_("%.0f h after the one before"), hours) : NULL;
      lz_working_add(a->out->lines, what, when ? when : "", "", FALSE);
    }
    double first = i ? a->out->amount : dose.amount_ml;
    lz_advising_measure(a, &dose.working, dose.amount_ml, LZQ_UNIT_ML);
    a->out->amount = first;
    from = to;
  }
  lz_advising_caution(
      a, _("Nothing more is given until a reading after the mixing time has shown what it made."));
  if (n > 1)
    lz_advising_caution(a,
                        _("One step at a time: the next waits until a reading confirms the last."));
  return TRUE;
}

// --- put back

static gboolean
answer_replace(LzAdvising *a, GError **error)
{
  lzq_stock stock = {0};
  lzq_dose dose;
  double target = isnan(a->ask->target) ? a->level : a->ask->target;
  double fresh = isnan(a->ask->new_level) ? 0 : a->ask->new_level;
  if (!lz_advising_needs(a, "litres", a->ask->litres, error) ||
      !lz_advising_stock(a, &stock, error))
    return FALSE;
  lzq_status status =
      lzq_dose_replace(a->volume, a->level, target, a->ask->litres, a->ask->drip, fresh, stock,
                       a->ask->after ? LZQ_INTO_SYSTEM : LZQ_INTO_NEW_WATER, &dose);
  if (lz_advising_failed(status, error))
    return FALSE;
  lz_advising_measure(a, &dose.working, dose.amount_ml, LZQ_UNIT_ML);
  if (dose.amount_mg > 0)
    lz_advising_caution(a, a->ask->after
                               ? _("Given after the change: the level is low until it is mixed.")
                               : _("Mixed into the new water beforehand, the level never dips."));
  return TRUE;
}

// --- down

static void
add_changes(LzAdvising *a, const lzq_steps *steps)
{
  for (uint32_t i = 0; i < steps->n; i++) {
    const lzq_step *s = &steps->steps[i];
    g_autofree char *what = g_strdup_printf(_("Change %u of %u"), i + 1, steps->n);
    g_autofree char *from = lz_format_short(s->level_before, 4),
                    *to = lz_format_short(s->level_after, 4);
    g_autofree char *how = g_strdup_printf("%s → %s", from, to);
    g_autofree char *litres = lz_format_amount(s->litres, LZQ_UNIT_L);
    lz_working_add(a->out->lines, what, how, litres, FALSE);
  }
}

static gboolean
answer_lower(LzAdvising *a, GError **error)
{
  lzq_dose dose;
  lzq_steps steps;
  double target = a->ask->target, unused;
  double fresh = isnan(a->ask->new_level) ? 0 : a->ask->new_level;
  double most = isfinite(a->ask->step) ? a->ask->step : 0;
  if (a->ask->system != LZQ_NONE && isnan(a->ask->step))
    most = g_array_index(a->desk->model->systems, lzq_system, a->ask->system).max_change_day;
  if (isnan(target) && a->ask->system != LZQ_NONE)
    lz_advice_wanted(a->desk, a->ask->system, a->ask->analyte, a->desk->now, &target, &unused,
                     &unused);
  if (!lz_advising_needs(a, "target", target, error))
    return FALSE;
  if (lz_advising_failed(lzq_dose_lower(a->volume, a->level, target, fresh, most, &dose), error) ||
      lz_advising_failed(lzq_bring_down(a->level, target, fresh, a->volume, most, &steps), error))
    return FALSE;
  lz_working_append(a->out->lines, &dose.working, lz_words_analyte_unit(a->ask->analyte), "L");
  a->out->amount = dose.with_litres;
  a->out->unit = LZQ_UNIT_L;
  if (steps.n > 1)
    add_changes(a, &steps);
  lz_advising_caution(a, _("The new water matches in temperature, pH and salinity."));
  return TRUE;
}

// --- dispatch

static void
caution_doubt(LzAdvising *a, double doubted)
{
  if (isnan(doubted))
    return;
  g_autofree char *level = lz_format_level(a->ask->analyte, doubted);
  g_autofree char *words =
      // Translators: level; unit
      g_strdup_printf(_("A reading in doubt says %1$s %2$s. This is worked out from the one before "
                        "it: test again first."),
                      level, lz_words_analyte_unit(a->ask->analyte));
  lz_advising_caution(a, words);
}

static void
look_up(LzAdvising *a)
{
  const LzQuestion *ask = a->ask;
  a->volume = ask->volume_l;
  a->level = ask->level;
  if (ask->system >= a->desk->model->systems->len)
    return;
  if (isnan(a->volume) && ask->kind != LZ_QUESTION_BATH) // a vessel is no system
    a->volume = lz_carry_volume(a->desk->model, ask->system, a->desk->now);
  if (isnan(a->level)) {
    LzDoseAdvice known;
    lz_advice_make(a->desk, ask->system, ask->analyte, 0, a->desk->now, &known);
    a->level = known.level_before;
    if (ask->kind <= LZ_QUESTION_SALT)
      caution_doubt(a, known.doubted);
  }
}

static gboolean
about_level(LzQuestionKind kind)
{
  return kind <= LZ_QUESTION_SALT;
}

static gboolean
answer(LzAdvising *a, GError **error)
{
  switch (a->ask->kind) {
  case LZ_QUESTION_RAISE: return answer_raise(a, error);
  case LZ_QUESTION_REPLACE: return answer_replace(a, error);
  case LZ_QUESTION_LOWER: return answer_lower(a, error);
  case LZ_QUESTION_FRESHEN: return lz_adviser_freshen(a, error);
  case LZ_QUESTION_SALT: return lz_adviser_salt(a, error);
  case LZ_QUESTION_BLEACH: return lz_adviser_bleach(a, error);
  case LZ_QUESTION_NEUTRALISE: return lz_adviser_neutralise(a, error);
  case LZ_QUESTION_BATH: return lz_adviser_bath(a, error);
  default: return lz_adviser_feed(a, error);
  }
}

LzAnswer *
lz_desk_answer(LzDesk *desk, const LzQuestion *ask, GError **error)
{
  g_autoptr(LzAnswer) out = g_new0(LzAnswer, 1);
  out->each = g_array_new(FALSE, FALSE, sizeof(LzAnswerLot));
  out->lines = lz_working_new();
  out->cautions = g_ptr_array_new_with_free_func(g_free);
  out->source = "";
  out->amount = NAN;
  LzAdvising a = {.desk = desk, .ask = ask, .out = out};
  look_up(&a);
  if (ask->kind != LZ_QUESTION_FEED && !lz_advising_needs(&a, "volume", a.volume, error))
    return NULL;
  if (about_level(ask->kind) && isnan(a.level)) {
    lz_refuse(error, LZ_DESK_ERROR_USAGE, _("level: it is not known; test first, or give it"));
    return NULL;
  }
  if (ask->kind != LZ_QUESTION_FEED) {
    g_autofree char *litres = lz_format_short(a.volume, 1);
    g_autofree char *value = g_strconcat(litres, " L", NULL);
    lz_working_add(out->lines, ask->kind == LZ_QUESTION_BATH ? _("Vessel") : _("Net volume"), "",
                   value, FALSE);
  }
  if (about_level(ask->kind))
    add_level(&a, ask->expected ? _("Expected there") : _("Now in the water"), a.level);
  return answer(&a, error) ? g_steal_pointer(&out) : NULL;
}
