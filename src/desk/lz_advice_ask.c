// SPDX-License-Identifier: GPL-3.0-or-later
// What the lots in a water ask for at a minute: the phase that the plan has them ask for
// (lzq_phase_asked), joined as the plan joins them (lzq_goal_join).
#include <lzq_protocol.h>
#include <math.h>

#include "lz_advice_private.h"
#include "lz_place.h"

gboolean
lz_need_is_asked(const LzNeed *need)
{
  return need->index >= 0 && need->goal.has[need->index] &&
         need->goal.band[need->index].side != LZQ_AT_OR_BELOW;
}

double
lz_need_target(const LzNeed *need)
{
  return lz_need_is_asked(need) ? need->goal.band[need->index].target : NAN;
}

double
lz_need_smaller(double a, double b)
{
  return isnan(a) ? b : fmin(a, isnan(b) ? INFINITY : b);
}

static void
join_edges(LzNeed *need, const lzq_phase *phase, lzq_analyte analyte, gboolean asked)
{
  for (uint32_t b = 0; b < phase->n_bands; b++) {
    const lzq_band *band = &phase->bands[b];
    if (band->analyte != analyte)
      continue;
    if (band->side != LZQ_AT_OR_BELOW)
      need->harm = lz_need_smaller(need->harm, band->harm);
    if (!asked)
      continue;
    if (band->side == LZQ_AT_OR_BELOW) {
      need->below = lz_need_smaller(need->below, band->works);
    } else {
      need->plan = lz_need_smaller(need->plan, band->plan);
      need->form = band->form;
    }
  }
}

// Calls take for each lot with a course in a water at a minute: the phase that it asks for, or
// NULL, and the one that it is in.
typedef void (*TakePhase)(gpointer data, const lzq_lot_credit *lot, const lzq_phase *asked,
                          const lzq_phase *own);

static void
each_phase(LzDesk *desk, uint32_t system, lzq_minute at, TakePhase take, gpointer data)
{
  lzq_arena arena;
  const lzq_credit *credit = lz_desk_credit_at(desk, at);
  if (desk->model->courses == 0)
    return;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_snapshot *s = lz_model_view(desk->model);
  if (credit || lzq_credit_of_book(lz_desk_book(desk), s, at, &arena, &credit, NULL) == LZQ_OK)
    for (uint32_t i = 0; i < credit->n_lots; i++) {
      const lzq_lot_credit *lot = &credit->lots[i];
      if (lot->system != system || !lot->has_course || lot->released || lot->merged || lot->dead ||
          lot->n_visits == 0)
        continue;
      const lzq_phase *phases = &s->phases[s->protocols[lot->protocol].first_phase];
      const uint32_t asked = lzq_phase_asked(s, lot);
      take(data, lot, asked == LZQ_NONE ? NULL : &phases[asked],
           lot->served ? NULL : &phases[lot->phase]);
    }
  lzq_arena_free(&arena);
}

typedef struct {
  LzNeed need;
  lzq_analyte analyte;
} NeedOf;

static void
take_need(gpointer data, const lzq_lot_credit *lot, const lzq_phase *asked, const lzq_phase *own)
{
  NeedOf *of = data;
  if (asked) {
    lzq_goal_join(&of->need.goal, asked, 0); // which lot it is is not asked for
    join_edges(&of->need, asked, of->analyte, TRUE);
  }
  if (own && own != asked)
    join_edges(&of->need, own, of->analyte, FALSE);
}

LzNeed
lz_need_of(LzDesk *desk, uint32_t system, lzq_analyte analyte, lzq_minute at)
{
  NeedOf of = {{.goal = lzq_goal_none(), .index = -1, .plan = NAN, .harm = NAN, .below = NAN},
               analyte};
  each_phase(desk, system, at, take_need, &of);
  const lzq_goal *goal = &of.need.goal;
  if (analyte == LZQ_SALINITY)
    of.need.index = LZQ_SAL;
  else if (goal->has[LZQ_MED] && goal->band[LZQ_MED].analyte == analyte)
    of.need.index = LZQ_MED;
  return of.need;
}

typedef struct {
  lzq_analyte medicine;
  LzOnce once;
} OnceOf;

static void
take_once(gpointer data, const lzq_lot_credit *lot, const lzq_phase *phase, const lzq_phase *own)
{
  OnceOf *of = data;
  if (!phase || phase != own || !lzq_phase_doses(phase) || phase->medicine != of->medicine ||
      lot->visits[lot->n_visits - 1].given_at != LZQ_NEVER)
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

static void
take_smaller(double *least, double value)
{
  if (value > 0)
    *least = isnan(*least) ? value : fmin(*least, value);
}

static void
take_pace(gpointer data, const lzq_lot_credit *lot, const lzq_phase *asked, const lzq_phase *own)
{
  LzSalinityPace *pace = data;
  const lzq_phase *phase = asked ? asked : own; // fish bear what they bear wherever they stand
  if (!phase)
    return;
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
