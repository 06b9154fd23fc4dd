// SPDX-License-Identifier: GPL-3.0-or-later
// What each lot needs: its move, the tests that make an end firm, feed and medicine of its phase,
// the scrape after a sighting, a signature, an acceptance of what was left short, and its release.
#include <math.h>

#include "lzq_balance.h"
#include "lzq_bath.h"
#include "lzq_plan_work.h"

static lzq_task *
lot_task(lzq_work *work, lzq_task_kind kind, uint32_t lot, uint32_t system, lzq_minute at,
         lzq_because because)
{
  lzq_task *task = lzq_task_add(work, kind, system, at);
  if (!task)
    return NULL;
  task->lot = lot;
  task->tank = work->credit->lots[lot].tank;
  task->because = because;
  return task;
}

static void
move_task(lzq_work *work, const lzq_move *move)
{
  if (move->at == LZQ_NEVER || move->at > work->now + LZQ_LOOK_MIN)
    return;
  lzq_task *task = lot_task(work, LZQ_TASK_MOVE, move->lot, move->from, move->at, move->because);
  if (!task)
    return;
  task->state = move->state;
  task->to_system = move->to;
  task->deadline = move->deadline;
  task->tank = move->tank;
  task->amount = work->credit->lots[move->lot].heads;
  task->unit = LZQ_UNIT_HEADS;
}

// A reading of the water that a lot has left still speaks for its last minutes there: not once
// changes have left less than half of it, or it was emptied.
static bool
still_speaks(const lzq_work *work, uint32_t system, lzq_minute since)
{
  const lzq_water_state *water = &work->waters[system];
  const lzq_book_water *book = lzq_book_water_of(work->book, system);
  double kept = 1;
  if (!book || water->state == LZQ_STATE_DISINFECTING || water->state == LZQ_STATE_EMPTY)
    return false;
  for (size_t i = book->facts.n; i-- > 0;) {
    const lzq_fact *fact = (const lzq_fact *)lzq_list_at(&book->facts, i);
    if (fact->mark.at < since)
      break;
    if (fact->mark.kind == LZQ_REC_CHANGE)
      kept *=
          1 - lzq_changed_share(fact->amount, water->volume_l, fact->mark.flags & LZQ_FACT_DRIP);
  }
  return kept >= 0.5 - LZQ_EDGE;
}

// The tests of a water that the lot has left, where minutes that it earned there wait for the next
// reading: without it neither the end of that phase nor of the present one becomes firm.
static void
left_waters(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  for (uint32_t i = credit->n_spans; i-- > 0;) {
    const lzq_span *span = &credit->spans[i];
    if (span->why != LZQ_WHY_NONE || span->firm || span->system == credit->system ||
        span->system >= work->snap->n_systems || span->visit >= credit->n_visits)
      continue;
    const lzq_visit *visit = &credit->visits[span->visit];
    const bool waits = visit->left == LZQ_LEFT_NOT ||
                       (visit->left == LZQ_LEFT_ENDED && visit->firm_at == LZQ_NEVER);
    const lzq_phase *phase = lzq_phase_at(work->snap, visit->protocol, visit->phase);
    if (!waits || !phase || !still_speaks(work, span->system, span->to))
      continue;
    for (uint32_t b = 0; b < phase->n_bands; b++) {
      const uint8_t a = (uint8_t)phase->bands[b].analyte;
      if (work->waters[span->system].read[a].at >= span->to - 1)
        continue;
      lzq_task *task =
          lot_task(work, LZQ_TASK_TEST, lot, span->system, lzq_slot_next(work, work->now, true),
                   (lzq_because){LZQ_BECAUSE_TEST_ENDS_PHASE, {a, 0, 0, 0}});
      if (!task)
        return;
      task->analyte = a;
      task->tank = LZQ_NONE; // it stands there no more
    }
  }
}

// The reading that makes a provisional end firm: of every analyte that the phase has a band on.
static void
end_tests(lzq_work *work, uint32_t lot, const lzq_phase *phase, lzq_minute end)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (!phase || end == LZQ_NEVER || end > work->now + LZQ_LOOK_MIN ||
      credit->system >= work->snap->n_systems)
    return;
  lzq_minute at = lzq_slot_next(work, end > work->now ? end : work->now, true);
  for (uint32_t i = 0; i < phase->n_bands && at != LZQ_NEVER; i++) {
    uint8_t a = (uint8_t)phase->bands[i].analyte;
    lzq_minute next = at;
    if (work->waters[credit->system].read[a].at == at)
      next = lzq_slot_next(work, lzq_later(at, 1), true);
    lzq_task *task = lot_task(work, LZQ_TASK_TEST, lot, credit->system, next,
                              (lzq_because){LZQ_BECAUSE_TEST_ENDS_PHASE, {a, 0, 0, 0}});
    if (task)
      task->analyte = a;
  }
}

// Phases that have ended and still wait for the reading that makes it firm.
static void
open_ends(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  for (uint32_t i = credit->n_visits; i-- > 0;) {
    const lzq_visit *visit = &credit->visits[i];
    if (visit->left == LZQ_LEFT_NOT)
      continue;
    if (visit->left != LZQ_LEFT_ENDED || visit->firm_at != LZQ_NEVER)
      return;
    end_tests(work, lot, lzq_phase_at(work->snap, visit->protocol, visit->phase), work->now);
  }
}

static void
release_task(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  const lzq_lot_plan *plan = &work->lots[lot];
  if (credit->released || plan->release_earliest == LZQ_NEVER ||
      plan->release_earliest > work->now + LZQ_LOOK_MIN)
    return;
  lzq_minute t = plan->release_earliest > work->now ? plan->release_earliest : work->now;
  lzq_minute at = credit->releasable_at != LZQ_NEVER ? work->now : lzq_visit_next(work, t, false);
  lzq_task *task = lot_task(work, LZQ_TASK_RELEASE, lot, credit->system, at,
                            (lzq_because){LZQ_BECAUSE_SERVED, {(double)plan->served, 0, 0, 0}});
  if (!task)
    return;
  bool ready = credit->releasable_at != LZQ_NEVER;
  task->state = ready ? LZQ_TASK_DUE : LZQ_TASK_WAITS;
  if (!ready && plan->n_waits > 0)
    task->because = plan->because;
  task->amount = credit->heads;
  task->unit = LZQ_UNIT_HEADS;
}

// The bath is made up beside the system. In water warmer than 21 °C, or not read, formalin stays at
// the lower published level whatever the protocol says (Francis-Floyd, UF/IFAS VM061).
static void
bath_task(lzq_work *work, uint32_t lot, const lzq_phase *phase, lzq_minute at)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  double t_c = work->waters[credit->system].level[LZQ_TEMPERATURE];
  double level = lzq_bath_level(phase, t_c);
  lzq_amount amount = {.amount = NAN};
  if (phase->medicine == LZQ_FORMALIN) {
    lzq_bath_formalin(100, level, LZQ_PPM_WEIGHT, &amount);
    amount.amount =
        lzq_measure_down(amount.amount, 0.1); // as it is shown: 13.9 would be 150.1 mg/L
  } else {
    uint32_t bottle = lzq_bottle_for(work, phase->medicine, LZQ_FORM_NONE);
    if (bottle != LZQ_NONE)
      lzq_bath_liquid(100, level, work->snap->bottles[bottle].strength_mg_ml, &amount);
  }
  lzq_task *task =
      lot_task(work, LZQ_TASK_BATH, lot, credit->system, at,
               (lzq_because){LZQ_BECAUSE_BATH, {phase->medicine, level, amount.amount, t_c}});
  if (!task)
    return;
  task->amount = phase->bath_min;
  task->unit = LZQ_UNIT_MIN;
  task->analyte = (uint8_t)phase->medicine;
  task->level_after = level;
}

// A medicine that the phase has a band on is dosed by the water's programme, one without a band by
// lzq_plan_once.c.
static void
bath_tasks(lzq_work *work, uint32_t lot, const lzq_phase *phase, const lzq_visit *visit)
{
  if (phase->kind == LZQ_PHASE_BATH && lzq_phase_gives(phase) && visit->given_at == LZQ_NEVER &&
      lzq_lot_served_here(work, lot)) // else in the water before it
    bath_task(work, lot, phase, lzq_visit_next(work, work->now, false));
}

// Fish that are watched are looked at while they feed, every day (common practice: the health check
// is done at feeding).
static void
inspect_task(lzq_work *work, uint32_t lot)
{
  lot_task(work, LZQ_TASK_INSPECT, lot, work->credit->lots[lot].system, lzq_feed_next(work, lot),
           (lzq_because){LZQ_BECAUSE_LOOK, {0}});
}

static void
feed_task(lzq_work *work, uint32_t lot, const lzq_phase *phase)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (phase->eating_days <= work->eaten[lot]) {
    if (phase->kind == LZQ_PHASE_OBSERVE)
      inspect_task(work, lot);
    return;
  }
  lzq_task *task =
      lot_task(work, LZQ_TASK_FEED, lot, credit->system, lzq_feed_next(work, lot),
               (lzq_because){LZQ_BECAUSE_EATING, {work->eaten[lot], phase->eating_days, 0, 0}});
  double mass_g = work->snap->lots[lot].mean_mass_g;
  if (task && phase->kind == LZQ_PHASE_FEED && phase->dose_level > 0 && isfinite(mass_g)) {
    task->dose_mg = phase->dose_level * mass_g / 1000 * credit->heads; // mg per kg of fish and day
    task->amount = task->dose_mg / 1000;
    task->unit = LZQ_UNIT_G;
  }
}

// What a phase was left short of, as far as somebody may still accept it.
static void
accept_task(lzq_work *work, uint32_t lot)
{
  const lzq_short *left = work->short_of[lot];
  if (!left || left->acceptable_min <= 0)
    return;
  lzq_task *task = lot_task(work, LZQ_TASK_ACCEPT, lot, work->credit->lots[lot].system, work->now,
                            lzq_because_short(work, left));
  if (task) {
    task->amount = (double)left->acceptable_min;
    task->unit = LZQ_UNIT_MIN;
  }
}

static void
sighting_task(lzq_work *work, uint32_t lot, const lzq_visit *visit)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  lzq_minute seen = credit->last_sighting;
  if (seen == LZQ_LONG_AGO || seen < visit->start || seen < work->now - LZQ_DAY ||
      work->scraped_at[lot] >= seen)
    return;
  lot_task(work, LZQ_TASK_SCRAPE, lot, credit->system, work->now,
           (lzq_because){LZQ_BECAUSE_SIGHTING, {(double)seen, credit->system, 0, 0}});
}

static void
sign_task(lzq_work *work, uint32_t lot, const lzq_phase *phase)
{
  const lzq_lot_plan *plan = &work->lots[lot];
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  if (phase->sign == LZQ_SIGN_NOBODY || work->signed_off[lot])
    return;
  for (uint32_t i = 0; i < plan->n_segments; i++) {
    const lzq_segment *segment = &plan->segments[i];
    if (segment->past || segment->phase != credit->phase || segment->end == LZQ_NEVER ||
        segment->end > work->now + LZQ_LOOK_MIN || segment->because.code != LZQ_BECAUSE_SIGN)
      continue;
    lot_task(work, LZQ_TASK_SIGN, lot, credit->system, segment->end, segment->because);
  }
}

static void
course_tasks(lzq_work *work, uint32_t lot)
{
  const lzq_lot_credit *credit = &work->credit->lots[lot];
  const lzq_lot_plan *plan = &work->lots[lot];
  if (!credit->has_course || credit->served || credit->n_visits == 0 ||
      credit->system >= work->snap->n_systems)
    return;
  const lzq_visit *visit = &credit->visits[credit->n_visits - 1];
  const lzq_phase *phase = lzq_phase_at(work->snap, credit->protocol, credit->phase);
  if (!phase || visit->left != LZQ_LEFT_NOT)
    return;
  sighting_task(work, lot, visit);
  bath_tasks(work, lot, phase, visit);
  feed_task(work, lot, phase);
  accept_task(work, lot);
  sign_task(work, lot, phase);
  if (!lzq_lot_served_here(work, lot)) // still in the water of the phase before, or apart
    return;
  for (uint32_t i = 0; i < plan->n_segments; i++)
    if (!plan->segments[i].past && plan->segments[i].phase == credit->phase && phase->n_bands > 0 &&
        phase->min_credit_min > 0)
      end_tests(work, lot, phase, plan->segments[i].end);
}

void
lzq_tasks_of_lots(lzq_work *work)
{
  for (uint32_t i = 0; i < work->n_moves && !work->failed; i++)
    move_task(work, &work->moves[i]);
  for (uint32_t lot = 0; lot < work->snap->n_lots && !work->failed; lot++) {
    const lzq_lot_credit *credit = &work->credit->lots[lot];
    if (!credit->has_course || credit->merged || credit->dead || credit->released)
      continue;
    course_tasks(work, lot);
    open_ends(work, lot);
    left_waters(work, lot);
    release_task(work, lot);
  }
  lzq_once_tasks(work);
}
