// SPDX-License-Identifier: GPL-3.0-or-later
// The computed dose: what changes took out is put back; else the next step towards the target of
// the band that the lots in that water need; else nothing can be computed. The arithmetic is
// lzq_dose.h's.
#include "lz_advice.h"

#include <glib/gi18n-lib.h>
#include <lzq_dose.h>
#include <lzq_protocol.h>
#include <math.h>
#include <string.h>

#include "lz_carry.h"
#include "lz_place.h"

// The band on one analyte that lots in a water need at a minute, with the smallest daily rise among
// them.
typedef struct {
  gboolean found;
  double target, plan, harm, rise_per_day;
  double below;     // the most for lots that ask for little of it; NAN = none does
  double step;      // one step of a rise, mg/L; NAN = not in steps
  int32_t step_gap; // minutes between two of them
  lzq_form form;
} Need;

static void
join_band(Need *need, const lzq_phase *phase, const lzq_band *band)
{
  if (!need->found || band->target < need->target)
    need->target = band->target;
  need->plan =
      isnan(need->plan) ? band->plan : fmin(need->plan, isnan(band->plan) ? INFINITY : band->plan);
  need->harm =
      isnan(need->harm) ? band->harm : fmin(need->harm, isnan(band->harm) ? INFINITY : band->harm);
  if (phase->kind == LZQ_PHASE_RISE && phase->rise_per_day > 0)
    need->rise_per_day = isnan(need->rise_per_day) ? phase->rise_per_day
                                                   : fmin(need->rise_per_day, phase->rise_per_day);
  if (phase->kind == LZQ_PHASE_RISE && phase->rise_steps > 1) {
    double step = band->target / phase->rise_steps;
    need->step = isnan(need->step) ? step : fmin(need->step, step);
    need->step_gap = MAX(need->step_gap, phase->step_gap_min);
  }
  need->form = band->form;
  need->found = TRUE;
}

// Calls take for the phase in which each lot stands in a water at a minute.
typedef void (*TakePhase)(gpointer data, const lzq_phase *phase, const lzq_visit *visit);

static void
each_phase(LzDesk *desk, uint32_t system, lzq_minute at, TakePhase take, gpointer data)
{
  lzq_arena arena;
  const lzq_credit *credit = NULL;
  if (desk->model->courses == 0)
    return;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_snapshot *s = lz_model_view(desk->model);
  if (lzq_credit_of_book(lz_desk_book(desk), s, at, &arena, &credit, NULL) == LZQ_OK)
    for (uint32_t i = 0; i < credit->n_lots; i++) {
      const lzq_lot_credit *lot = &credit->lots[i];
      if (lot->system == system && lot->has_course && !lot->served && !lot->released &&
          !lot->merged && !lot->dead && lot->n_visits > 0)
        take(data, &s->phases[s->protocols[lot->protocol].first_phase + lot->phase],
             &lot->visits[lot->n_visits - 1]);
    }
  lzq_arena_free(&arena);
}

typedef struct {
  Need need;
  lzq_analyte analyte;
} NeedOf;

static void
take_need(gpointer data, const lzq_phase *phase, const lzq_visit *visit)
{
  NeedOf *of = data;
  for (uint32_t b = 0; b < phase->n_bands; b++) {
    const lzq_band *band = &phase->bands[b];
    if (band->analyte != of->analyte)
      continue;
    if (band->side != LZQ_AT_OR_BELOW)
      join_band(&of->need, phase, band);
    else
      of->need.below = isnan(of->need.below) ? band->works : fmin(of->need.below, band->works);
  }
}

static Need
need_of(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at)
{
  NeedOf of = {
      {.target = NAN, .plan = NAN, .harm = NAN, .below = NAN, .rise_per_day = NAN, .step = NAN},
      analyte};
  each_phase(desk, system, at, take_need, &of);
  return of.need;
}

typedef struct {
  lzq_analyte medicine;
  LzOnce once;
} OnceOf;

static void
take_once(gpointer data, const lzq_phase *phase, const lzq_visit *visit)
{
  OnceOf *of = data;
  if (!lzq_phase_doses(phase) || phase->medicine != of->medicine || visit->given_at != LZQ_NEVER)
    return;
  of->once.level = fmax(of->once.level, phase->dose_level); // of NAN and a number, the number
  of->once.least = fmin(of->once.least, phase->dose_level);
  of->once.apart_min = MIN(of->once.apart_min, phase->min_elapsed_min);
}

LzOnce
lz_advice_once(LzDesk *desk, uint32_t system, lzq_analyte medicine, lzq_minute at)
{
  OnceOf of = {medicine, {NAN, NAN, G_MAXINT64}};
  each_phase(desk, system, at, take_once, &of);
  return of.once;
}

static const char *
torn_words(void)
{
  return _("its lots ask for levels that exclude each other: move one of them");
}

// Whether no dose of it serves all of them.
static gboolean
once_torn(const LzOnce *once, lzq_analyte medicine)
{
  return isfinite(once->level) && lzq_levels_exclude(medicine, once->least, once->level);
}

static void
take_smaller(double *least, double value)
{
  if (value > 0)
    *least = isnan(*least) ? value : fmin(*least, value);
}

static void
take_pace(gpointer data, const lzq_phase *phase, const lzq_visit *visit)
{
  LzSalinityPace *pace = data;
  take_smaller(&pace->step, phase->salinity_step);
  take_smaller(&pace->fall_day, phase->salinity_fall_day);
  take_smaller(&pace->rise_day, phase->salinity_rise_day);
}

LzSalinityPace
lz_advice_salinity_pace(LzDesk *desk, uint32_t system, lzq_minute at)
{
  LzSalinityPace pace = {NAN, NAN, NAN};
  each_phase(desk, system, at, take_pace, &pace);
  if (!lz_place_any_lives(desk->model, system, at))
    return pace;
  // Fish whose course says nothing of it, or that have none, bear what is usual.
  pace.fall_day = isnan(pace.fall_day) ? LZQ_USUAL_SALINITY_FALL : pace.fall_day;
  pace.rise_day = isnan(pace.rise_day) ? LZQ_USUAL_SALINITY_RISE : pace.rise_day;
  return pace;
}

// The rise that is still allowed: what was dosed in the last so many minutes counts.
static double
allowed_level(const GArray *steps, lzq_minute at, double level, double rise, int32_t within)
{
  double base = level;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_DOSE && step->at > at - within && isfinite(step->before))
      base = fmin(base, step->before);
  }
  return base + rise;
}

static uint32_t
bottle_for(const LzModel *m, lzq_analyte analyte, lzq_form form, lzq_minute at)
{
  return lzq_bottle_pick((const lzq_bottle *)(void *)m->bottles->data, m->bottles->len, analyte,
                         form, at);
}

static lzq_form
form_in_water(const LzModel *m, const GArray *steps)
{
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_DOSE)
      return (lzq_form)g_array_index(m->records, lzq_record, step->record).form;
  }
  return LZQ_FORM_NONE;
}

// Water that nobody read or dosed, and that held neither carbon nor resin, holds none. Anything
// else that cannot be carried is unknown, and unknown is not none.
static gboolean
untouched(const GArray *steps)
{
  for (guint i = 0; i < steps->len; i++) {
    uint8_t kind = g_array_index(steps, LzCarryStep, i).kind;
    if (kind == LZQ_REC_READING || kind == LZQ_REC_DOSE || kind == LZQ_REC_GEAR)
      return FALSE;
  }
  return TRUE;
}

static double
aim(const Need *need, const GArray *steps, lzq_minute at, double level)
{
  double before = lz_carry_before_changes(steps);
  if (!need->found)
    return before; // puts back what changes took out, NAN if they took nothing
  double base = isnan(before) ? level : before; // a change takes nothing off a step
  double allowed = need->target;
  if (isfinite(need->rise_per_day))
    allowed = fmin(allowed, allowed_level(steps, at, base, need->rise_per_day, LZQ_DAY));
  if (isfinite(need->step))
    allowed = fmin(allowed, allowed_level(steps, at, base, need->step, need->step_gap));
  return isnan(before) ? allowed : fmin(need->target, fmax(before, allowed));
}

static void
cannot(LzDesk *desk, LzDoseAdvice *out, const char *why)
{
  g_free(desk->advice);
  desk->advice = g_strdup(why);
  out->why = desk->advice;
}

static void
fill_amount(LzDesk *desk, LzDoseAdvice *out, double target, double volume)
{
  lzq_stock stock = {.strength_mg_ml = 1, .as = LZQ_AS_ITSELF};
  lzq_dose dose;
  if (out->bottle != LZQ_NONE)
    stock.strength_mg_ml =
        g_array_index(desk->model->bottles, lzq_bottle, out->bottle).strength_mg_ml;
  lzq_status status = out->change_l > 0
                          ? lzq_dose_replace(volume, out->level_before, target, out->change_l,
                                             false, 0, stock, LZQ_INTO_NEW_WATER, &dose)
                          : lzq_dose_raise(volume, out->level_before, target, stock, &dose);
  if (status != LZQ_OK) {
    cannot(desk, out, _("no dose can be computed from these numbers"));
    return;
  }
  out->possible = TRUE;
  out->mg = dose.amount_mg;
  out->ml = out->bottle != LZQ_NONE ? dose.amount_ml : NAN;
  out->level_changed = out->change_l > 0 ? dose.level_between : out->level_before;
  out->level_after = dose.level_after;
}

void
lz_advice_wanted(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at, double *target,
                 double *step, double *step_hours)
{
  Need need = need_of(desk, system, analyte, at);
  *target = need.target;
  if (!need.found) {
    g_autoptr(GArray) steps = lz_carry(desk->model, system, analyte, at);
    double level = lz_carry_level(steps);
    const LzOnce once = lz_advice_once(desk, system, analyte, at);
    *target = once_torn(&once, analyte) ? NAN : (isnan(level) ? 0 : level) + once.level;
  }
  *step = need.step;
  *step_hours = need.step_gap > 0 ? need.step_gap / 60.0 : NAN;
}

uint32_t
lz_advice_bottle(LzDesk *desk, uint32_t system, lzq_analyte analyte)
{
  if (system >= desk->model->systems->len)
    return bottle_for(desk->model, analyte, LZQ_FORM_NONE, desk->now);
  g_autoptr(GArray) steps = lz_carry(desk->model, system, analyte, desk->now);
  Need need = need_of(desk, system, analyte, desk->now);
  lzq_form form = need.form != LZQ_FORM_NONE ? need.form : form_in_water(desk->model, steps);
  return bottle_for(desk->model, analyte, form, desk->now);
}

void
lz_advice_make(LzDesk *desk, uint32_t system, lzq_analyte analyte, double change_l, lzq_minute at,
               LzDoseAdvice *out)
{
  *out = (LzDoseAdvice){.system = system,
                        .analyte = analyte,
                        .bottle = LZQ_NONE,
                        .level_before = NAN,
                        .level_changed = NAN,
                        .level_after = NAN,
                        .target = NAN,
                        .mg = NAN,
                        .ml = NAN,
                        .change_l = change_l,
                        .plan_edge = NAN,
                        .harm_edge = NAN,
                        .below_edge = NAN};
  if (system >= desk->model->systems->len) {
    cannot(desk, out, _("there is no such system"));
    return;
  }
  g_autoptr(GArray) steps = lz_carry(desk->model, system, analyte, at);
  Need need = need_of(desk, system, analyte, at);
  double level = lz_carry_level(steps);
  out->plan_edge = need.plan;
  out->harm_edge = need.harm;
  out->below_edge = need.below;
  out->form = need.form;
  out->level_before = isnan(level) && need.found && untouched(steps) ? 0 : level;
  lzq_form form = need.form != LZQ_FORM_NONE ? need.form : form_in_water(desk->model, steps);
  out->bottle = bottle_for(desk->model, analyte, form, at);
  if (!need.found && change_l <= 0) {
    const LzOnce once = lz_advice_once(desk, system, analyte, at);
    if (once_torn(&once, analyte)) {
      cannot(desk, out, torn_words());
      return;
    }
    if (isfinite(once.level)) { // nobody reads it, and it breaks down by itself
      out->of_phase = TRUE;
      out->level_before = isnan(level) ? 0 : level;
      out->target = out->level_before + once.level;
      fill_amount(desk, out, out->target, lz_carry_volume(desk->model, system, at));
      return;
    }
  }
  if (isnan(out->level_before)) {
    cannot(desk, out, _("the level is not known: test first"));
    return;
  }
  out->target =
      change_l > 0 && !need.found ? out->level_before : aim(&need, steps, at, out->level_before);
  if (isnan(out->target)) {
    cannot(desk, out, _("no lot in this water asks for a level"));
    return;
  }
  fill_amount(desk, out, out->target, lz_carry_volume(desk->model, system, at));
}

LzDoseAdvice
lz_desk_advise_dose(LzDesk *desk, uint32_t system, lzq_analyte analyte, double change_l)
{
  LzDoseAdvice advice;
  lz_advice_make(desk, system, analyte, change_l, desk->now, &advice);
  if (lzq_plan_torn(desk->plan, system, analyte)) {
    advice.possible = FALSE;
    cannot(desk, &advice, torn_words());
  }
  return advice;
}
