// SPDX-License-Identifier: GPL-3.0-or-later
// The walk of one lot over the runs of its water: which minutes earn, when credit lapses, when a
// phase ends. Piece by piece: within a piece the answer does not change, so every minute in it is
// computed.
#include "lzq_walk.h"

static bool
in_place(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  if (!lzq_walk_present(lot))
    return false;
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  switch (phase->place) {
  case LZQ_PLACE_ROLE: return walk->snapshot->systems[lot->system].role == phase->role;
  case LZQ_PLACE_NEXT_CLEAN: return lot->system != lot->stage.began_in;
  case LZQ_PLACE_STAY: return true;
  }
  return false;
}

lzq_minute
lzq_walk_placed(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  if (lot->stage.placed_at != LZQ_NEVER || !in_place(walk, lot))
    return lot->stage.placed_at;
  return lzq_walk_phase(walk, lot)->place == LZQ_PLACE_STAY ? lot->stage.start : lot->cursor;
}

// Finds the sweeps of the lot's water and phase, placed at minute t.
static bool
bind(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute t)
{
  const lzq_protocol *protocol = &walk->snapshot->protocols[lot->stage.protocol];
  const uint32_t phase = protocol->first_phase + lot->stage.phase;
  for (uint32_t b = 0; b < walk->snapshot->phases[phase].n_bands; b++) {
    lot->sweeps[b] = lzq_book_sweep(walk->book, lot->system, phase, b, &walk->scratch, walk->arena);
    if (!lot->sweeps[b]) {
      walk->no_memory = true;
      return false;
    }
    lot->runs[b] = lzq_sweep_find(lot->sweeps[b], t);
  }
  lot->bound = true;
  return true;
}

lzq_answer
lzq_walk_answer(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute t)
{
  lzq_answer answer = {.to = LZQ_NEVER, .why = LZQ_WHY_PLACE};
  if (!in_place(walk, lot) || (!lot->bound && !bind(walk, lot, t)))
    return answer;
  answer.why = LZQ_WHY_NONE;
  answer.firm = true;
  const uint32_t n = lzq_walk_phase(walk, lot)->n_bands;
  for (uint32_t b = 0; b < n; b++) {
    const lzq_sweep *sweep = lot->sweeps[b];
    size_t i = lot->runs[b];
    while (i + 1 < sweep->n_runs && sweep->runs[i + 1].from <= t)
      i++;
    lot->runs[b] = i;
    if (i + 1 < sweep->n_runs && sweep->runs[i + 1].from < answer.to)
      answer.to = sweep->runs[i + 1].from;
    answer.firm = answer.firm && sweep->runs[i].firm;
    if (answer.why == LZQ_WHY_NONE && sweep->runs[i].why != LZQ_WHY_NONE) {
      answer.why = sweep->runs[i].why;
      answer.band = (uint8_t)b;
    }
  }
  answer.firm = answer.firm && answer.why == LZQ_WHY_NONE;
  return answer;
}

static bool
is_signed(const lzq_phase *phase, const lzq_stage *stage)
{
  switch (phase->sign) {
  case LZQ_SIGN_PERSON: return stage->signed_person || stage->signed_vet;
  case LZQ_SIGN_VET: return stage->signed_vet;
  case LZQ_SIGN_NOBODY: return true;
  }
  return true;
}

// When the phase's medicine was given first, if that was before `to`; the lot stands where it does
// from the cursor up to there. A dose is that of the water, a bath is noted when it acts.
static lzq_minute
given_before(const lzq_walk *walk, const lzq_lot_walk *lot, lzq_minute to)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  if (lot->stage.given_at != LZQ_NEVER || !lzq_phase_gives(phase) ||
      phase->kind == LZQ_PHASE_BATH || !lzq_walk_present(lot))
    return lot->stage.given_at;
  return lzq_book_dose(walk->book, lot->system, phase->medicine, lot->cursor, to);
}

lzq_minute
lzq_walk_given(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  return given_before(walk, lot, lot->cursor + 1);
}

// First minute in from .. to-1 at which the phase ends, if every minute of the piece earns or none
// does. LZQ_NEVER = in none of them.
static lzq_minute
end_in_piece(const lzq_walk *walk, const lzq_lot_walk *lot, lzq_minute from, lzq_minute to,
             lzq_minute placed_at, lzq_minute given_at, bool earns)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  const lzq_stage *stage = &lot->stage;
  if (placed_at == LZQ_NEVER || (phase->reach && !earns) || !is_signed(phase, stage) ||
      stage->eaten_days < phase->eating_days || (lzq_phase_gives(phase) && given_at == LZQ_NEVER))
    return LZQ_NEVER;
  lzq_minute at = lzq_latest(from, placed_at + phase->min_elapsed_min);
  if (lzq_phase_gives(phase)) // a dose acts from then on; a bath is over when it is entered
    at = lzq_latest(at, given_at + (phase->kind == LZQ_PHASE_BATH ? 0 : phase->min_elapsed_min));
  at = lzq_latest(at, lzq_latest(stage->start, lot->last_sighting) + phase->quiet_min);
  const int64_t lacks = phase->min_credit_min - stage->accepted_min - stage->credit_min;
  if (lacks > 0)
    at = earns ? lzq_latest(at, from + lacks) : LZQ_NEVER;
  return at < to ? at : LZQ_NEVER;
}

// First minute at or after `from` at which the transfer into the phase, or its dose, is too late;
// LZQ_NEVER = it is not, or the lot would go back to the phase that it is in.
static lzq_minute
late_from(const lzq_walk *walk, const lzq_lot_walk *lot, lzq_minute from, lzq_minute placed_at,
          lzq_minute given_at)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  const lzq_stage *stage = &lot->stage;
  const lzq_minute last = lzq_owed_by(phase, stage->phase, stage->start, stage->due);
  if (last == LZQ_NEVER || lzq_has_got(phase, placed_at, given_at, last))
    return LZQ_NEVER;
  return lzq_latest(from, last + 1);
}

void
lzq_walk_set_back(lzq_walk *walk, lzq_lot_walk *lot, lzq_left why, uint32_t back, lzq_minute at)
{
  const uint32_t protocol = lot->stage.protocol;
  lzq_visit_close(walk, lot, at, why);
  lzq_visit_begin(walk, lot, protocol, back, at);
}

// How many minutes without credit may still come before one that lapses; INT64_MAX = any number.
static int64_t
lapses_after(const lzq_phase *phase, const lzq_stage *stage)
{
  if (phase->lapse_min < 0 || stage->credit_min <= 0 || stage->run_lapsed)
    return INT64_MAX;
  return phase->lapse_min > stage->run_min ? phase->lapse_min - stage->run_min : 0;
}

static void
lapse(lzq_stage *stage, const lzq_phase *phase, lzq_minute at)
{
  if (!stage->lapses++)
    stage->first_lapse = at;
  stage->last_lapse = at;
  stage->run_lapsed = true;
  if (phase->lapse != LZQ_LAPSE_RESTART)
    return;
  stage->credit_min = stage->open_min = stage->accepted_min = 0;
  stage->credit_from = LZQ_NEVER;
  stage->firm = stage->last_firm = LZQ_LONG_AGO;
}

// Counts the minutes from the cursor up to to-1, all of one answer.
static void
count_piece(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute to, const lzq_answer *answer)
{
  const lzq_phase *phase = lzq_walk_phase(walk, lot);
  lzq_stage *stage = &lot->stage;
  const int64_t minutes = to - lot->cursor;
  if (minutes <= 0)
    return;
  lzq_visit_span(walk, lot, to, answer);
  if (answer->why == LZQ_WHY_NONE) {
    if (stage->credit_from == LZQ_NEVER)
      stage->credit_from = lot->cursor;
    stage->credit_min += minutes;
    stage->run_min = 0;
    stage->run_lapsed = false;
    if (answer->firm)
      stage->last_firm = to - 1;
    else
      stage->open_min += minutes;
  } else {
    const int64_t before = lapses_after(phase, stage);
    if (before < minutes)
      lapse(stage, phase, lot->cursor + before);
    stage->run_min += minutes;
  }
  lot->cursor = to;
}

// End of the piece that begins at the cursor: the answer's, but a minute that lapses is the last of
// its piece, because the credit is another one behind it.
static lzq_minute
piece_end(const lzq_phase *phase, const lzq_lot_walk *lot, const lzq_answer *answer, lzq_minute to)
{
  if (answer->to < to)
    to = answer->to;
  if (answer->why != LZQ_WHY_NONE) {
    const int64_t before = lapses_after(phase, &lot->stage);
    if (before < to - lot->cursor)
      to = lot->cursor + before + 1;
  }
  return to;
}

static void
take_given(lzq_lot_walk *lot, lzq_minute at, lzq_minute before)
{
  if (at < before)
    lot->stage.given_at = at;
}

void
lzq_walk_to(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute to)
{
  while (lot->cursor < to && lzq_walk_active(lot) && !walk->no_memory) {
    const lzq_phase *phase = lzq_walk_phase(walk, lot);
    lot->stage.placed_at = lzq_walk_placed(walk, lot);
    const lzq_answer answer = lzq_walk_answer(walk, lot, lot->cursor);
    const lzq_minute stop = piece_end(phase, lot, &answer, to);
    const lzq_minute given_at = given_before(walk, lot, stop);
    const lzq_minute end = end_in_piece(walk, lot, lot->cursor, stop, lot->stage.placed_at,
                                        given_at, answer.why == LZQ_WHY_NONE);
    const lzq_minute late = late_from(walk, lot, lot->cursor, lot->stage.placed_at, given_at);
    if (late < stop && late <= end) {
      count_piece(walk, lot, late, &answer);
      take_given(lot, given_at, late);
      lzq_walk_set_back(walk, lot, LZQ_LEFT_LATE, phase->sighting_to, late);
      continue;
    }
    count_piece(walk, lot, end < stop ? end : stop, &answer);
    take_given(lot, given_at, end < stop ? end + 1 : stop);
    if (end != LZQ_NEVER)
      lzq_visit_end_phase(walk, lot, end);
  }
  lot->cursor = to;
}

void
lzq_walk_settle(lzq_walk *walk, lzq_lot_walk *lot, bool whole)
{
  const lzq_minute t = lot->cursor;
  lot->settled_at = t;
  while (lzq_walk_active(lot) && !walk->no_memory) {
    // For this question only: records of this minute may still move it.
    const lzq_minute placed_at = lzq_walk_placed(walk, lot);
    const lzq_minute given_at = given_before(walk, lot, t + 1);
    if (whole && late_from(walk, lot, t, placed_at, given_at) == t) {
      lzq_walk_set_back(walk, lot, LZQ_LEFT_LATE, lzq_walk_phase(walk, lot)->sighting_to, t);
      continue;
    }
    const lzq_answer answer = lzq_walk_answer(walk, lot, t);
    const bool ends =
        end_in_piece(walk, lot, t, t + 1, placed_at, given_at, answer.why == LZQ_WHY_NONE) == t;
    if (whole || ends)
      lot->stage.given_at = given_at;
    if (!ends)
      return;
    lot->stage.placed_at = placed_at;
    lzq_visit_end_phase(walk, lot, t);
  }
}
