// SPDX-License-Identifier: GPL-3.0-or-later
// When one phase ends: the water is brought to what it needs, credit runs while planned tests keep
// it, and the last of its conditions to hold is the reason for the date.
#include <math.h>

#include "lzq_plan_work.h"

bool
lzq_waits_for_firm(const lzq_phase *phase)
{
  return phase->kind == LZQ_PHASE_COPPER_OUT || phase->kind == LZQ_PHASE_RAISE;
}

// --- credit ahead

static int32_t
shortest_gap(const lzq_phase *phase)
{
  int32_t gap = INT32_MAX - 1;
  for (uint32_t i = 0; i < phase->n_bands; i++)
    if (phase->bands[i].gap_min < gap)
      gap = phase->bands[i].gap_min;
  return gap;
}

// The minute at which `need` more minutes of credit are complete, every planned test kept: the
// water serves from `from`, its last reading counts up to and including covered_to. Where the slots
// leave a stretch without a test so long that the phase restarts, the count begins again after it;
// *lapse names the last such stretch.
static lzq_minute
credit_end(const lzq_work *work, lzq_minute from, lzq_minute covered_to, int64_t need,
           const lzq_phase *phase, lzq_because *lapse)
{
  const int32_t gap = shortest_gap(phase);
  const bool restarts = phase->lapse == LZQ_LAPSE_RESTART && phase->lapse_min >= 0;
  bool earned = need < phase->min_credit_min; // else there is nothing to lose
  lzq_minute t = from;
  int64_t got = 0;
  if (from == LZQ_NEVER)
    return LZQ_NEVER;
  for (int i = 0; i < 20000; i++) {
    lzq_minute test = lzq_slot_next(work, t > work->now ? lzq_later(t, 1) : work->now, true);
    lzq_minute to = lzq_later(covered_to, 1);
    bool every = work->snap->n_slots == 0 || (i > 0 && work->test_gap_min <= gap + 1);
    if (every || (test <= to && work->test_gap_min <= gap + 1))
      return lzq_later(t, need - got);
    if (test == LZQ_NEVER)
      return to - t >= need - got ? lzq_later(t, need - got) : LZQ_NEVER;
    to = test < to ? test : to;
    if (to > t) {
      if (got + (to - t) >= need)
        return lzq_later(t, need - got);
      got += to - t;
    }
    const lzq_minute lost_from = to > t ? to : t;
    earned = earned || got > 0;
    if (restarts && earned && test - lost_from > phase->lapse_min) {
      *lapse = (lzq_because){
          LZQ_BECAUSE_WILL_LAPSE,
          {(double)lost_from, (double)test, (double)(test - lost_from), (double)phase->lapse_min}};
      need = phase->min_credit_min;
      got = 0;
      earned = false;
    }
    t = test;
    covered_to = lzq_later(test, gap);
    if (t > work->now + LZQ_FAR_MIN)
      return LZQ_NEVER;
  }
  return LZQ_NEVER;
}

static lzq_minute
covered_to(const lzq_water_state *water, const lzq_phase *phase)
{
  lzq_minute to = LZQ_NEVER;
  for (uint32_t i = 0; i < phase->n_bands; i++) {
    lzq_minute band_to =
        lzq_later(water->read[phase->bands[i].analyte].at, phase->bands[i].gap_min);
    to = band_to < to ? band_to : to;
  }
  return to;
}

// --- one phase

static void
later_of(lzq_outcome *out, lzq_minute t, lzq_because_code code, double n0, double n1)
{
  if (t > out->end) {
    out->end = t;
    out->because = (lzq_because){code, {n0, n1, 0, 0}};
  }
}

// Brings *water to what the phase needs; the minute from which a reading shows it.
static lzq_minute
water_ready(lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
            lzq_water_state *water, lzq_minute t, lzq_because *why)
{
  bool shared = walker->current && lzq_lot_served_here(work, walker->lot);
  lzq_programme own;
  lzq_goal goal = shared ? work->goals[walker->system] : lzq_goal_of_phase(phase, walker->lot);
  *why = (lzq_because){LZQ_BECAUSE_NONE, {0}};
  if (phase->n_bands == 0)
    return t;
  if (t > work->now) { // planned tests keep the readings young
    for (uint32_t i = 0; i < phase->n_bands; i++) {
      uint8_t a = (uint8_t)phase->bands[i].analyte;
      double level = lzq_analyte_carried((lzq_analyte)a) ? water->guess[a] : phase->bands[i].target;
      water->read[a] = (lzq_last_reading){t, level, water->read[a].error};
      water->level[a] = level;
      water->carried_error[a] = water->read[a].error;
      water->doubt[a].at = LZQ_LONG_AGO;
    }
  }
  bool serves = lzq_water_serves(work, water, phase, t, why);
  if (serves)
    return t;
  if (shared && goal.lot_a != LZQ_NONE) {
    uint32_t other = goal.lot_a == walker->lot ? goal.lot_b : goal.lot_a;
    *why = (lzq_because){LZQ_BECAUSE_NO_COMMON_BAND,
                         {other == LZQ_NONE ? -1 : (double)other, goal.conflict_analyte, 0, 0}};
    return LZQ_NEVER;
  }
  if (!shared)
    lzq_programme_make(work, walker->system, water, &goal, t, &own);
  const lzq_programme *programme = shared ? &work->programmes[walker->system] : &own;
  if (programme->because.code != LZQ_BECAUSE_NONE)
    *why = programme->because;
  lzq_programme_apply(water, &goal, programme);
  walker->leg->waits_test = true;
  walker->leg->n_visits = programme->n;
  for (uint32_t i = 0; i < programme->n; i++)
    walker->leg->visit_at[i] = programme->steps[i].at;
  return programme->effective_at;
}

// From when the next day of eating can come: today's has been, if the lot was fed today.
static lzq_minute
eats_from(const lzq_work *work, const lzq_walker *walker, lzq_minute t)
{
  if (walker->current)
    t = lzq_feed_next(work, walker->lot);
  return walker->placed_at > t ? walker->placed_at : t;
}

lzq_minute
lzq_given_early(const lzq_work *work, uint32_t lot, uint32_t system, const lzq_phase *phase,
                lzq_minute start)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (!lzq_phase_doses(phase) || credit->system != system || credit->n_stays == 0 ||
      start == LZQ_NEVER)
    return LZQ_NEVER;
  const lzq_minute at = work->waters[system].dose_at[phase->medicine];
  if (at == LZQ_LONG_AGO || at >= start || at < start - lzq_early_min(phase) ||
      at < credit->stays[credit->n_stays - 1].from)
    return LZQ_NEVER;
  for (uint32_t i = 0; i < credit->n_visits; i++)
    if (credit->visits[i].given_at != LZQ_NEVER && credit->visits[i].given_at >= at)
      return LZQ_NEVER;
  return at;
}

lzq_minute
lzq_given_next(const lzq_work *work, const lzq_water_state *water, const lzq_phase *phase,
               lzq_minute t)
{
  if (phase->kind == LZQ_PHASE_MEDICATE && water->dose_at[phase->medicine] != LZQ_LONG_AGO) {
    const lzq_minute again = lzq_later(water->dose_at[phase->medicine], phase->min_elapsed_min);
    t = again > t ? again : t;
  }
  return lzq_visit_next(work, t, false);
}

// A medicine dosed once acts from its dose, which is planned for the next visit; a bath takes its
// minutes there.
static void
wait_for_medicine(const lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                  const lzq_water_state *water, lzq_minute t, lzq_outcome *out)
{
  if (!lzq_phase_gives(phase))
    return;
  const bool given = walker->given_at != LZQ_NEVER;
  const uint32_t torn = walker->current && !given ? lzq_once_torn(work, walker->lot) : LZQ_NONE;
  if (torn != LZQ_NONE) {
    out->end = LZQ_NEVER;
    out->because = (lzq_because){LZQ_BECAUSE_NO_COMMON_BAND, {torn, phase->medicine, 0, 0}};
    return;
  }
  const lzq_minute from = given ? walker->given_at : lzq_given_next(work, water, phase, t);
  int64_t lasts = phase->min_elapsed_min;
  if (phase->kind == LZQ_PHASE_BATH)
    lasts = given ? 0 : phase->bath_min;
  later_of(out, lzq_later(from, lasts), LZQ_BECAUSE_ELAPSED,
           (double)(work->now > from ? work->now - from : 0), (double)lasts);
}

lzq_outcome
lzq_phase_end(lzq_work *work, lzq_walker *walker, const lzq_phase *phase, lzq_water_state *water)
{
  lzq_minute t = walker->t > walker->placed_at ? walker->t : walker->placed_at;
  if (lzq_waits_for_firm(phase) && phase->n_bands > 0 && walker->firm_at > t)
    t = walker->firm_at;
  lzq_outcome out = {.end = t, .because = {LZQ_BECAUSE_NONE, {0}}};
  lzq_because why;
  walker->leg->waits_firm = lzq_waits_for_firm(phase) && phase->n_bands > 0;
  walker->leg->t = t;
  out.effective = water_ready(work, walker, phase, water, t, &why);
  int64_t gap_run = out.effective == LZQ_NEVER ? 0 : out.effective - t;
  if (phase->lapse == LZQ_LAPSE_RESTART && phase->lapse_min >= 0 && walker->credit_min > 0 &&
      walker->run_min + gap_run > phase->lapse_min)
    walker->credit_min = 0;
  int64_t need = phase->min_credit_min - walker->credit_min;
  walker->leg->effective = walker->leg->last_test = out.effective;
  walker->leg->need = need;
  walker->leg->covered_to = covered_to(water, phase);
  if (need > 0) {
    lzq_because lapse = {LZQ_BECAUSE_NONE, {0}};
    lzq_minute end = phase->n_bands == 0 ? lzq_later(out.effective, need)
                                         : credit_end(work, out.effective, covered_to(water, phase),
                                                      need, phase, &lapse);
    later_of(&out, end, LZQ_BECAUSE_CREDIT_RUNS, (double)walker->credit_min,
             (double)phase->min_credit_min);
    if (lapse.code != LZQ_BECAUSE_NONE && why.code == LZQ_BECAUSE_NONE)
      why = lapse;
    if (why.code != LZQ_BECAUSE_NONE && out.because.code == LZQ_BECAUSE_CREDIT_RUNS) {
      out.because = why;
      if (why.code == LZQ_BECAUSE_CREDIT_WAITS) {
        out.because.n[0] = (double)walker->credit_min;
        out.because.n[1] = (double)phase->min_credit_min;
      }
    }
    if (end == LZQ_NEVER && out.effective != LZQ_NEVER)
      out.because = (lzq_because){LZQ_BECAUSE_CANNOT_HOLD, {phase->bands[0].analyte, 0, 0, 0}};
  }
  if (phase->reach && out.effective > out.end) {
    out.end = out.effective;
    out.because = why;
  }
  later_of(&out, lzq_later(walker->stood_at, phase->min_elapsed_min), LZQ_BECAUSE_ELAPSED,
           (double)(work->now > walker->stood_at ? work->now - walker->stood_at : 0),
           (double)phase->min_elapsed_min);
  wait_for_medicine(work, walker, phase, water, t, &out);
  lzq_minute quiet = walker->last_sighting > walker->start ? walker->last_sighting : walker->start;
  walker->leg->quiet_from = quiet;
  walker->leg->placed = walker->stood_at;
  later_of(&out, lzq_later(quiet, phase->quiet_min), LZQ_BECAUSE_QUIET,
           (double)(work->now > quiet ? work->now - quiet : 0), (double)phase->quiet_min);
  if (phase->eating_days > walker->eaten)
    later_of(&out,
             lzq_day_nth(work, eats_from(work, walker, t), phase->eating_days - walker->eaten),
             LZQ_BECAUSE_EATING, walker->eaten, phase->eating_days);
  return out;
}

void
lzq_phase_sign_off(lzq_work *work, const lzq_walker *walker, const lzq_phase *phase,
                   lzq_outcome *out)
{
  if (phase->sign == LZQ_SIGN_NOBODY || out->end == LZQ_NEVER ||
      (walker->current && work->signed_off[walker->lot]))
    return;
  lzq_minute at = lzq_visit_next(work, out->end, false);
  if (at > out->end || out->because.code == LZQ_BECAUSE_NONE) {
    out->end = at;
    out->because = (lzq_because){LZQ_BECAUSE_SIGN, {phase->sign == LZQ_SIGN_VET, 0, 0, 0}};
  }
}
