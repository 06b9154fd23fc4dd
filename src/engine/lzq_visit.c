// SPDX-License-Identifier: GPL-3.0-or-later
// Stays of lots in phases: how one begins and ends, what it counted, and when that became firm.
#include "lzq_walk.h"

#include "lzq_bath.h"

#include "lzq_sort.h"

void
lzq_visit_fold(lzq_lot_walk *lot)
{
  lzq_stage *stage = &lot->stage;
  if (stage->last_firm != LZQ_LONG_AGO) {
    stage->firm = lzq_latest(stage->firm, stage->last_firm + 1);
    for (uint32_t b = 0; b < LZQ_MAX_BANDS && lot->sweeps[b]; b++)
      stage->firm = lzq_latest(stage->firm, lzq_sweep_next(lot->sweeps[b], stage->last_firm));
    stage->last_firm = LZQ_LONG_AGO;
  }
  for (uint32_t b = 0; b < LZQ_MAX_BANDS; b++)
    lot->sweeps[b] = NULL;
  lot->bound = false;
}

void
lzq_visit_open(lzq_walk *walk, lzq_lot_walk *lot)
{
  lzq_visit_slot *slots =
      lzq_grow(walk->arena, walk->visits, walk->n_visits, &walk->visit_capacity, sizeof *slots);
  if (!slots || walk->n_visits >= LZQ_NONE) {
    walk->no_memory = true;
    return;
  }
  walk->visits = slots;
  slots[walk->n_visits] = (lzq_visit_slot){
      .visit = {.protocol = lot->stage.protocol,
                .phase = lot->stage.phase,
                .end = LZQ_NEVER,
                .firm_at = LZQ_NEVER},
      .lot = (uint32_t)(lot - walk->lots),
      .older = lot->visit,
      .index = lot->n_visits++,
  };
  lot->visit = (uint32_t)walk->n_visits++;
}

void
lzq_visit_copy(lzq_walk *walk, const lzq_lot_walk *from, lzq_lot_walk *to)
{
  lzq_visit_open(walk, to);
  if (!walk->no_memory && from->visit != LZQ_NONE)
    walk->visits[to->visit].visit = walk->visits[from->visit].visit;
}

static lzq_minute *
ends_new(lzq_walk *walk)
{
  lzq_minute *ends = LZQ_NEW(walk->arena, lzq_minute, LZQ_MAX_PHASES);
  for (uint32_t p = 0; ends && p < LZQ_MAX_PHASES; p++)
    ends[p] = LZQ_LONG_AGO;
  walk->no_memory = walk->no_memory || !ends;
  return ends;
}

lzq_minute
lzq_visit_ends(const lzq_lot_walk *lot)
{
  lzq_minute firm = LZQ_LONG_AGO;
  for (uint32_t p = 0; lot->ends && p < lot->stage.phase; p++)
    firm = lzq_latest(firm, lot->ends[p]);
  return firm;
}

void
lzq_visit_begin(lzq_walk *walk, lzq_lot_walk *lot, uint32_t protocol, uint32_t phase,
                lzq_minute start)
{
  lzq_visit_fold(lot);
  if (!lot->ends && !(lot->ends = ends_new(walk)))
    return;
  lot->stage = (lzq_stage){
      .protocol = protocol,
      .phase = phase,
      .began_in = lzq_walk_present(lot) ? lot->system : LZQ_NONE,
      .start = start,
      .course_from = start,
      .placed_at = LZQ_NEVER,
      .credit_from = LZQ_NEVER,
      .given_at = LZQ_NEVER,
      .look_from = LZQ_NEVER,
      .due = LZQ_NEVER,
      .next_due = LZQ_NEVER,
      .first_lapse = LZQ_NEVER,
      .last_lapse = LZQ_NEVER,
      .firm = LZQ_LONG_AGO,
      .last_firm = LZQ_LONG_AGO,
  };
  lzq_visit_open(walk, lot);
  lzq_visit_recall(walk, lot);
}

void
lzq_visit_close(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at, lzq_left left)
{
  if (lot->visit == LZQ_NONE || walk->no_memory)
    return;
  const lzq_stage *stage = &lot->stage;
  lzq_visit *visit = &walk->visits[lot->visit].visit;
  visit->start = stage->start;
  visit->course_from = stage->course_from;
  visit->placed_at = stage->placed_at;
  visit->given_at = stage->given_at;
  if (stage->given_at != LZQ_NEVER)
    lot->last_given = lzq_latest(lot->last_given, stage->given_at);
  visit->due = stage->due;
  visit->next_due = stage->next_due;
  visit->end = at;
  visit->credit_from = stage->credit_from;
  visit->credit_min = stage->credit_min;
  visit->open_min = stage->open_min;
  visit->accepted_min = stage->accepted_min;
  visit->first_lapse = stage->first_lapse;
  visit->last_lapse = stage->last_lapse;
  visit->lapses = stage->lapses;
  visit->bathed = stage->bathed;
  visit->left = (uint8_t)left;
}

lzq_minute
lzq_visit_firm(lzq_lot_walk *lot, lzq_minute at)
{
  lzq_visit_fold(lot);
  const lzq_stage *stage = &lot->stage;
  if (stage->open_min > 0)
    return LZQ_NEVER;
  return lzq_latest(at, lzq_latest(stage->firm, lzq_visit_ends(lot)));
}

// The minute that a reach needed must be confirmed too, though it belongs to the next phase.
static void
add_reach_minute(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at)
{
  const lzq_answer answer = lzq_walk_answer(walk, lot, at);
  if (!answer.firm) {
    lot->stage.firm = LZQ_NEVER;
    return;
  }
  const uint32_t n = lzq_walk_phase(walk, lot)->n_bands;
  for (uint32_t b = 0; b < n; b++)
    lot->stage.firm = lzq_latest(lot->stage.firm, lzq_sweep_next(lot->sweeps[b], at));
}

// The phase that begins at `at` may have its dose already.
static lzq_minute
given_early(const lzq_walk *walk, const lzq_lot_walk *lot, lzq_minute at)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  if (!lzq_phase_doses(phase) || !lzq_walk_present(lot))
    return LZQ_NEVER;
  const lzq_minute from = lzq_latest(at - lzq_early_min(phase), lot->stay_from);
  return lzq_book_dose(walk->book, lot->system, phase->medicine,
                       lzq_latest(from, lot->last_given + 1), at);
}

void
lzq_visit_end_phase(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at)
{
  lzq_stage *stage = &lot->stage;
  if (lzq_walk_phase(walk, lot)->reach)
    add_reach_minute(walk, lot, at);
  const lzq_minute firm = lzq_visit_firm(lot, at);
  lot->ends[stage->phase] = firm;
  lzq_visit_close(walk, lot, at, LZQ_LEFT_ENDED);
  if (walk->no_memory)
    return;
  walk->visits[lot->visit].visit.firm_at = firm;
  if (stage->phase + 1 < walk->snapshot->protocols[stage->protocol].n_phases) {
    const lzq_stage before = *stage;
    lzq_visit_begin(walk, lot, stage->protocol, stage->phase + 1, at);
    stage->course_from = before.course_from;
    stage->look_from = before.look_from;
    stage->given_at = given_early(walk, lot, at);
    stage->next_due = before.next_due;
    lzq_hand_on_due(lzq_walk_phase(walk, lot), stage->phase, at, &stage->due, &stage->next_due);
    lzq_visit_clock_early(walk, lot);
    return;
  }
  lot->served = true;
  lot->served_at = at;
  lot->served_firm = firm;
  lot->last_phase_start = stage->start < stage->look_from ? stage->start : stage->look_from;
  lot->earlier = NULL;
  lot->free_since = firm;
  lzq_place_clear(walk, lot, at, true);
}

void
lzq_visit_accept_open(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at)
{
  lzq_stage *stage = &lot->stage;
  lzq_visit_fold(lot);
  if (stage->open_min > 0 || stage->firm > at)
    stage->firm = at;
  stage->open_min = 0;
  for (uint32_t p = 0; lot->ends && p < LZQ_MAX_PHASES; p++)
    if (lot->ends[p] > at)
      lot->ends[p] = at;
  if (lot->served && lot->served_firm > at)
    lot->served_firm = at;
  if (lot->served && lot->free_since > at)
    lot->free_since = at;
  for (uint32_t i = lot->span; i != LZQ_NONE; i = walk->spans[i].older) {
    if (i < lot->accepted_spans)
      break;
    walk->spans[i].span.firm = walk->spans[i].span.why == LZQ_WHY_NONE;
  }
  lot->accepted_spans = (uint32_t)walk->n_spans;
  for (uint32_t i = lot->visit; i != LZQ_NONE; i = walk->visits[i].older) {
    if (walk->visits[i].index < lot->accepted_visits)
      break;
    lzq_visit *visit = &walk->visits[i].visit;
    visit->open_min = 0;
    if (visit->left == LZQ_LEFT_ENDED && visit->firm_at > at)
      visit->firm_at = at;
  }
  lot->accepted_visits = lzq_walk_active(lot) && lot->n_visits ? lot->n_visits - 1 : lot->n_visits;
}

void
lzq_visit_bath(const lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  if (!lzq_walk_active(lot) || lot->stage.given_at != LZQ_NEVER)
    return;
  if (lzq_bath_counts(lzq_walk_phase(walk, lot), record) != LZQ_BATH_COUNTS)
    return;
  const int64_t more = record->heads > 0 ? record->heads : lot->heads;
  const int64_t bathed = lot->stage.bathed + more;
  lot->stage.bathed = (int32_t)(bathed < lot->heads ? bathed : lot->heads);
  if (bathed >= lot->heads)
    lot->stage.given_at = record->at;
}

static void
take_sign(lzq_stage *stage, const lzq_record *record)
{
  if (record->phase != stage->phase)
    return;
  stage->signed_vet = stage->signed_vet || record->ok;
  stage->signed_person = true;
}

void
lzq_visit_sign(lzq_walk *walk, lzq_lot_walk *lot, const lzq_record *record)
{
  lzq_note *made = LZQ_NEW(walk->arena, lzq_note, 1);
  if (!made) {
    walk->no_memory = true;
    return;
  }
  *made = (lzq_note){.older = lot->signs,
                     .record = record,
                     .meant = lzq_walk_active(lot) && record->phase == lot->stage.phase};
  lot->signs = made;
  take_sign(&lot->stage, record);
}

// Phases that the lot's signs since its present one began name, a bit each: by anybody, by a vet.
static void
phases_signed(const lzq_lot_walk *lot, uint64_t phases[2])
{
  for (const lzq_note *sign = lot->signs; sign; sign = sign->older) {
    const lzq_record *record = sign->record;
    if (record->at < lot->stage.start)
      break;
    phases[0] |= UINT64_C(1) << record->phase;
    phases[1] |= record->ok ? UINT64_C(1) << record->phase : 0;
  }
}

void
lzq_visit_common_signs(lzq_walk *walk, const lzq_lot_walk *lot, lzq_lot_walk *other)
{
  uint64_t phases[2] = {0, 0};
  phases_signed(lot, phases);
  const lzq_note *kept = NULL, **last = &kept;
  for (const lzq_note *sign = other->signs; sign && !walk->no_memory; sign = sign->older) {
    if (sign->record->at < other->stage.start)
      break; // it will not count any more
    if (!(phases[sign->record->ok] >> sign->record->phase & 1))
      continue;
    lzq_note *copy = LZQ_NEW(walk->arena, lzq_note, 1);
    if (!copy) {
      walk->no_memory = true;
      return;
    }
    *copy = (lzq_note){.record = sign->record, .meant = sign->meant};
    *last = copy;
    last = &copy->older;
  }
  other->signs = kept;
}

void
lzq_visit_recall(const lzq_walk *walk, lzq_lot_walk *lot)
{
  lzq_stage *stage = &lot->stage;
  lzq_feeds_recount(walk, lot);
  stage->signed_person = stage->signed_vet = false;
  for (const lzq_note *sign = lot->signs; sign && !(stage->signed_person && stage->signed_vet);
       sign = sign->older) {
    if (sign->record->at < stage->start)
      break;
    if (sign->meant || sign->record->at == lot->cursor)
      take_sign(stage, sign->record);
  }
}

bool
lzq_visit_join(lzq_span *last, const lzq_span *next)
{
  if (last->to != next->from || last->why != next->why || last->band != next->band ||
      last->firm != next->firm || last->system != next->system || last->visit != next->visit)
    return false;
  last->to = next->to;
  return true;
}

void
lzq_visit_span(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute to, const lzq_answer *answer)
{
  const lzq_span span = {
      .from = lot->cursor,
      .to = to,
      .why = answer->why,
      .band = answer->band,
      .firm = answer->firm,
      .system = lzq_walk_present(lot) ? lot->system : LZQ_NONE,
      .visit = lot->n_visits - 1,
  };
  if (lot->span != LZQ_NONE && lzq_visit_join(&walk->spans[lot->span].span, &span))
    return;
  lzq_span_slot *slots =
      lzq_grow(walk->arena, walk->spans, walk->n_spans, &walk->span_capacity, sizeof *slots);
  if (!slots || walk->n_spans >= LZQ_NONE) {
    walk->no_memory = true;
    return;
  }
  walk->spans = slots;
  slots[walk->n_spans] = (lzq_span_slot){span, (uint32_t)(lot - walk->lots), lot->span};
  lot->span = (uint32_t)walk->n_spans++;
}
