// SPDX-License-Identifier: GPL-3.0-or-later
// The computed dose: what changes took out is put back; else the next step towards the target of
// the band that the lots in that water need; else nothing can be computed. The arithmetic is
// lzq_dose.h's.
#include "lz_advice_private.h"

#include <glib/gi18n-lib.h>
#include <lzq_dose.h>
#include <lzq_protocol.h>
#include <math.h>
#include <string.h>

#include "lz_carry.h"
#include "lz_new_water.h"
#include "lz_place.h"

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

// The lowest level of the last so many minutes from which a dose went up, `base` if none did. What
// a change takes out and a dose puts back is no rise.
static double
rose_from(const GArray *steps, lzq_minute at, double base, int32_t within)
{
  double lowest = base, thinned = NAN;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    const double from = isnan(thinned) ? step->before : thinned;
    if (step->kind == LZQ_REC_DOSE && !step->waits && step->at > at - within && isfinite(from))
      lowest = fmin(lowest, from);
    thinned = lz_carry_thinned(step, thinned);
  }
  return lowest;
}

static uint32_t
bottle_for(const LzModel *m, lzq_analyte analyte, lzq_form form, lzq_minute at)
{
  return lzq_bottle_pick((const lzq_bottle *)(void *)m->bottles->data, m->bottles->len, analyte,
                         form, at);
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

// The level of the plan's next step (lzq_goal_rise). A step that was dosed within the gap between
// two of them is still this one, and done if it is there by half of its share.
static double
next_level(const LzNeed *need, const GArray *steps, lzq_minute at, double base)
{
  const lzq_goal *goal = &need->goal;
  double next = lz_need_target(need);
  if (need->index != LZQ_MED)
    return next;
  const double from = rose_from(steps, at, base, goal->step_gap_min);
  lzq_goal_rise(goal, from, &next);
  if (from < base && base > (from + next) / 2)
    return base;
  if (goal->rise_per_day > 0)
    next = fmin(next, rose_from(steps, at, base, LZQ_DAY) + goal->rise_per_day);
  return lz_need_smaller(next, need->plan);
}

// A change takes nothing off a step.
static double
stood_at(const GArray *steps, double level)
{
  const double before = lz_carry_before_changes(steps);
  return isnan(before) ? level : before;
}

static double
aim(const LzNeed *need, const GArray *steps, lzq_minute at, double level)
{
  double before = lz_carry_before_changes(steps);
  if (!lz_need_is_asked(need))
    return before; // puts back what changes took out, NAN if they took nothing
  double next = next_level(need, steps, at, stood_at(steps, level));
  return isnan(before) ? next : fmin(lz_need_target(need), fmax(before, next));
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
  LzNeed need = lz_need_of(desk, system, analyte, at);
  const lzq_goal *goal = &need.goal;
  const gboolean rises = need.index == LZQ_MED && lz_need_is_asked(&need) && goal->rise;
  *target = lz_need_target(&need);
  if (!lz_need_is_asked(&need)) {
    g_autoptr(GArray) steps = lz_carry_now(desk->model, system, analyte, at);
    double level = lz_carry_level(steps);
    const LzOnce once = lz_advice_once(desk, system, analyte, at);
    *target = once_torn(&once, analyte) ? NAN : (isnan(level) ? 0 : level) + once.level;
  }
  *step = rises && goal->rise_steps > 1 ? *target / goal->rise_steps : NAN;
  *step_hours = rises && goal->step_gap_min > 0 ? goal->step_gap_min / 60.0 : NAN;
  if (need.index != LZQ_MED || !lz_need_is_asked(&need) || !(goal->rise_per_day > 0))
    return;
  *step = lz_need_smaller(*step, goal->rise_per_day);
  *step_hours = fmax(*step_hours, 24 * *step / goal->rise_per_day); // of NAN and a number, that
}

// That the lots ask for, else of the last dose, however long ago.
static lzq_form
form_for(LzDesk *desk, uint32_t system, lzq_analyte analyte, const LzNeed *need, lzq_minute at)
{
  if (need->form != LZQ_FORM_NONE)
    return need->form;
  g_autoptr(GArray) steps = lz_carry(desk->model, system, analyte, at);
  return lz_carry_dosed_form(desk->model, steps);
}

lzq_form
lz_advice_form(LzDesk *desk, uint32_t system)
{
  if (system >= desk->model->systems->len)
    return LZQ_FORM_NONE;
  const LzNeed need = lz_need_of(desk, system, LZQ_COPPER, desk->now);
  return form_for(desk, system, LZQ_COPPER, &need, desk->now);
}

uint32_t
lz_advice_bottle(LzDesk *desk, uint32_t system, lzq_analyte analyte)
{
  return bottle_for(desk->model, analyte,
                    analyte == LZQ_COPPER ? lz_advice_form(desk, system) : LZQ_FORM_NONE,
                    desk->now);
}

static void
take_need(LzDoseAdvice *out, const LzNeed *need)
{
  out->plan_edge = need->plan;
  out->harm_edge = need->harm;
  out->below_edge = need->below;
  out->form = need->form;
  out->rises = need->index == LZQ_MED && lz_need_is_asked(need) && need->goal.rise;
}

// What waits in that new water already is not asked for again.
static void
less_what_waits(LzDoseAdvice *out, double mg, double volume)
{
  const double left = fmax(out->mg - mg, 0);
  out->ml *= out->mg > 0 ? left / out->mg : 1;
  out->mg = left;
  out->level_changed = lzq_after_dose(out->level_changed, mg, volume);
  out->level_after = lzq_after_dose(out->level_changed, out->mg, volume);
}

// A medicine that is given once, by its dose: nobody reads it, and it breaks down by itself. FALSE
// = it is not that.
static gboolean
advise_once(LzDesk *desk, LzDoseAdvice *out, double level, double volume, lzq_minute at)
{
  const LzOnce once = lz_advice_once(desk, out->system, out->analyte, at);
  if (once_torn(&once, out->analyte)) {
    cannot(desk, out, torn_words());
    return TRUE;
  }
  if (!isfinite(once.level))
    return FALSE;
  out->of_phase = TRUE;
  out->level_before = isnan(level) ? 0 : level;
  out->target = out->level_before + once.level;
  fill_amount(desk, out, out->target, volume);
  return TRUE;
}

// Doses within a day, and within the gap between two steps, are counted (rose_from).
static lzq_minute
looks_back(const LzNeed *need)
{
  return MAX(LZQ_DAY, need->goal.step_gap_min);
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
                        .below_edge = NAN,
                        .day_edge = NAN,
                        .doubted = NAN};
  if (system >= desk->model->systems->len) {
    cannot(desk, out, _("there is no such system"));
    return;
  }
  LzNeed need = lz_need_of(desk, system, analyte, at);
  g_autoptr(GArray) steps =
      lz_carry_since(desk->model, system, analyte, at - looks_back(&need), at);
  const double waiting = lz_new_water(steps).mg;
  const double volume = steps->len ? g_array_index(steps, LzCarryStep, steps->len - 1).volume_l
                                   : lz_carry_volume(desk->model, system, at);
  double level = lz_carry_level(steps);
  if (change_l <= 0) // what waits in new water is on its way
    level = lzq_after_dose(level, waiting, volume);
  take_need(out, &need);
  out->doubted = lz_carry_doubtful(steps);
  out->level_before = isnan(level) && lz_need_is_asked(&need) && untouched(steps) ? 0 : level;
  if (need.index == LZQ_MED && need.goal.rise_per_day > 0 && lz_need_is_asked(&need))
    out->day_edge =
        rose_from(steps, at, stood_at(steps, out->level_before), LZQ_DAY) + need.goal.rise_per_day;
  out->bottle = bottle_for(desk->model, analyte, form_for(desk, system, analyte, &need, at), at);
  if (!lz_need_is_asked(&need) && change_l <= 0 && advise_once(desk, out, level, volume, at))
    return;
  if (isnan(out->level_before)) {
    cannot(desk, out, _("the level is not known: test first"));
    return;
  }
  out->target = change_l > 0 && !lz_need_is_asked(&need) ? out->level_before
                                                         : aim(&need, steps, at, out->level_before);
  if (isnan(out->target)) {
    cannot(desk, out, _("no lot in this water asks for a level"));
    return;
  }
  fill_amount(desk, out, out->target, volume);
  if (change_l > 0 && out->possible)
    less_what_waits(out, waiting, volume);
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
