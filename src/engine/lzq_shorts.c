// SPDX-License-Identifier: GPL-3.0-or-later
// Phases found short. Who stopped earning is held against the acts that followed: if by what was
// known when one of them was entered the phase had ended, or if the lot stands where the next phase
// wants it, the lot has left.
#include "lzq_shorts.h"

#include "lzq_book_work.h"
#include "lzq_history.h"
#include "lzq_sort.h"

#define MOST_ACTS 8 // looked at for one lot: each may ask for a credit run as known then

typedef struct {
  const lzq_snapshot *snapshot;
  const lzq_credit *credit;
  lzq_book *book; // that the credit was made with; NULL = none at hand
  lzq_arena *arena;
  lzq_history history; // made when it is first needed: the whole record, or the book's deeds
  bool has_history, has_all;
  const lzq_credit *then; // as known when `then_id` was entered
  uint64_t then_id;
  lzq_short *found;
  size_t n, capacity;
  lzq_status status;
} finder;

static int64_t
larger(int64_t a, int64_t b)
{
  return a > b ? a : b;
}

static bool
add(finder *f, lzq_short item)
{
  lzq_short *list = lzq_grow(f->arena, f->found, f->n, &f->capacity, sizeof *list);
  if (!list) {
    f->status = LZQ_NO_MEMORY;
    return false;
  }
  f->found = list;
  list[f->n++] = item;
  return true;
}

static int64_t
credit_lacks(const lzq_phase *phase, const lzq_visit *visit)
{
  return larger(0, phase->min_credit_min - visit->credit_min - visit->accepted_min);
}

// What a phase lacks at the end of that stay, in minutes of credit or of time.
static int64_t
lacks(const lzq_phase *phase, const lzq_visit *visit, lzq_minute last_sighting)
{
  int64_t most = credit_lacks(phase, visit);
  const bool doses = lzq_phase_doses(phase);
  const lzq_minute since = doses ? larger(visit->placed_at, visit->given_at) : visit->placed_at;
  const int64_t stood = since < visit->end ? visit->end - since : 0;
  const lzq_minute quiet_from = larger(visit->start, last_sighting);
  most = larger(most, phase->min_elapsed_min - stood);
  most = larger(most, phase->quiet_min - (visit->end - quiet_from));
  return most;
}

static int64_t
later_phases(const lzq_snapshot *s, const lzq_visit *visit)
{
  int64_t sum = 0;
  for (uint32_t p = visit->phase + 1; p < s->protocols[visit->protocol].n_phases; p++) {
    const lzq_phase *phase = lzq_phase_at(s, visit->protocol, p);
    sum += larger(phase->min_credit_min, larger(phase->min_elapsed_min, phase->quiet_min));
  }
  return sum;
}

// --- released

static uint64_t
release_of(const finder *f, uint32_t lot)
{
  for (size_t i = f->history.n; i-- > 0;)
    if (f->history.items[i]->kind == LZQ_REC_RELEASE && f->history.items[i]->lot == lot)
      return f->history.order[i];
  return 0;
}

// The deeds of the book, in order already.
static lzq_status
history_of_deeds(finder *f)
{
  const lzq_list *deeds = &f->book->deeds;
  f->history = (lzq_history){.items = LZQ_NEW(f->arena, const lzq_record *, deeds->n),
                             .order = LZQ_NEW(f->arena, uint64_t, deeds->n),
                             .n = deeds->n};
  if (!f->history.items || !f->history.order)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < deeds->n; i++) {
    const lzq_record *record = &((const lzq_deed *)lzq_list_at(deeds, i))->record;
    f->history.items[i] = record;
    f->history.order[i] = record->corrects ? record->corrects : record->id;
  }
  return LZQ_OK;
}

// Only what is done to water asks for more than the deeds.
static bool
need_history(finder *f, bool waters)
{
  const bool all = waters || !f->book;
  if (!f->has_history || (all && !f->has_all)) {
    f->status =
        all ? lzq_history_make(f->snapshot, UINT64_MAX, f->credit->until, f->arena, &f->history)
            : history_of_deeds(f);
    f->has_history = true;
    f->has_all = all;
  }
  return f->status == LZQ_OK;
}

static void
look_at_released(finder *f, uint32_t lot)
{
  const lzq_lot_credit *credit = &f->credit->lots[lot];
  const lzq_visit *visit = credit->n_visits ? &credit->visits[credit->n_visits - 1] : NULL;
  const lzq_phase *phase = visit ? lzq_phase_at(f->snapshot, visit->protocol, visit->phase) : NULL;
  const bool left = visit && visit->left == LZQ_LEFT_RELEASED;
  const bool unproven = credit->served && credit->firm_at == LZQ_NEVER;
  const uint32_t held_by = left || unproven ? LZQ_NONE : credit->went_held_by;
  if (!phase || (!left && !unproven && held_by == LZQ_NONE) || !need_history(f, false))
    return;
  const lzq_short_how held = held_by != LZQ_NONE ? LZQ_SHORT_HELD : LZQ_SHORT_UNPROVEN;
  add(f, (lzq_short){.lot = lot,
                     .protocol = visit->protocol,
                     .phase = visit->phase,
                     .how = left ? LZQ_SHORT_RELEASED : held,
                     .held_by = held_by,
                     .at = credit->released_at,
                     .entry = release_of(f, lot),
                     .short_min = left ? lacks(phase, visit, credit->last_sighting) : 0,
                     .later_min = left ? later_phases(f->snapshot, visit) : 0});
}

// --- moved on

static bool
takes_copper_out(const lzq_record *record)
{
  return record->kind == LZQ_REC_CHANGE || (record->kind == LZQ_REC_GEAR && record->ok &&
                                            lzq_gear_takes_out(record->gear, LZQ_COPPER));
}

// Since when the lot has been running without credit in its phase.
static lzq_minute
run_start(const lzq_lot_credit *credit)
{
  uint32_t i = credit->n_spans;
  while (i > 0 && credit->spans[i - 1].visit + 1 == credit->n_visits &&
         credit->spans[i - 1].why != LZQ_WHY_NONE)
    i--;
  return i < credit->n_spans ? credit->spans[i].from : LZQ_NEVER;
}

static size_t
first_at(const lzq_history *history, lzq_minute from)
{
  size_t low = 0, high = history->n;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    if (history->items[middle]->at < from)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static bool
ends_copper(const lzq_phase *next)
{
  return next && (next->kind == LZQ_PHASE_COPPER_OUT || next->kind == LZQ_PHASE_RAISE);
}

// May have taken the lot, or its water, on.
static bool
takes_on(const finder *f, uint32_t lot, const lzq_record *record, const lzq_phase *next)
{
  if (record->kind == LZQ_REC_MOVE)
    return record->lot == lot;
  return ends_copper(next) && takes_copper_out(record) &&
         record->system == f->credit->lots[lot].system;
}

// Whether by what was known when that act was entered the lot was past its phase of today.
static bool
was_past(finder *f, uint32_t lot, size_t act)
{
  const uint64_t id = f->history.order[act];
  if (!f->then || f->then_id != id) {
    f->status =
        lzq_credit_run(f->snapshot, id, f->history.items[act]->at, f->arena, &f->then, NULL);
    f->then_id = id;
    if (f->status != LZQ_OK)
      return false;
  }
  const lzq_lot_credit *then = &f->then->lots[lot], *now = &f->credit->lots[lot];
  return then->has_course && then->protocol == now->protocol &&
         (then->served || then->phase > now->phase);
}

static bool
stands_in_next(const finder *f, const lzq_lot_credit *credit, const lzq_phase *phase,
               const lzq_phase *next)
{
  if (!next || next->place != LZQ_PLACE_ROLE || credit->system >= f->snapshot->n_systems)
    return false;
  const bool same = phase->place == LZQ_PLACE_ROLE && phase->role == next->role;
  return !same && f->snapshot->systems[credit->system].role == next->role;
}

// The act by which the lot left its phase; SIZE_MAX = it has not.
static size_t
act_of_leaving(finder *f, uint32_t lot, const lzq_phase *phase, const lzq_phase *next)
{
  const lzq_lot_credit *credit = &f->credit->lots[lot];
  const bool there = stands_in_next(f, credit, phase, next);
  int tries = 0;
  for (size_t i = first_at(&f->history, run_start(credit)); i < f->history.n && tries < MOST_ACTS;
       i++)
    if (takes_on(f, lot, f->history.items[i], next)) {
      tries++;
      if (there || was_past(f, lot, i))
        return i;
      if (f->status != LZQ_OK)
        return SIZE_MAX;
    }
  return SIZE_MAX;
}

static void
look_at_living(finder *f, uint32_t lot)
{
  const lzq_lot_credit *credit = &f->credit->lots[lot];
  const lzq_visit *visit = credit->n_visits ? &credit->visits[credit->n_visits - 1] : NULL;
  const lzq_phase *phase = lzq_phase_at(f->snapshot, credit->protocol, credit->phase);
  if (!phase || !visit || visit->left != LZQ_LEFT_NOT || visit->credit_min == 0 ||
      credit->run_min == 0 || credit_lacks(phase, visit) == 0)
    return;
  const lzq_phase *next = lzq_phase_at(f->snapshot, credit->protocol, credit->phase + 1);
  if (!need_history(f, ends_copper(next)))
    return;
  const size_t act = act_of_leaving(f, lot, phase, next);
  if (act == SIZE_MAX)
    return;
  const int64_t lack = credit_lacks(phase, visit);
  const int64_t most = f->snapshot->station.accept_max_min - visit->accepted_min;
  add(f, (lzq_short){.lot = lot,
                     .protocol = visit->protocol,
                     .phase = visit->phase,
                     .how = LZQ_SHORT_LEFT,
                     .held_by = LZQ_NONE,
                     .at = f->history.items[act]->at,
                     .entry = f->history.order[act],
                     .short_min = lack,
                     .acceptable_min = lack <= most ? lack : 0});
}

lzq_status
lzq_shorts_make(const lzq_snapshot *snapshot, const lzq_credit *credit, lzq_arena *arena,
                lzq_shorts *out)
{
  return lzq_shorts_of_book(NULL, snapshot, credit, arena, out);
}

lzq_status
lzq_shorts_of_book(lzq_book *book, const lzq_snapshot *snapshot, const lzq_credit *credit,
                   lzq_arena *arena, lzq_shorts *out)
{
  finder f = {
      .snapshot = snapshot, .credit = credit, .book = book, .arena = arena, .status = LZQ_OK};
  *out = (lzq_shorts){0};
  for (uint32_t lot = 0; lot < credit->n_lots && f.status == LZQ_OK; lot++) {
    const lzq_lot_credit *c = &credit->lots[lot];
    if (c->released)
      look_at_released(&f, lot);
    else if (c->has_course && !c->served && !c->merged && !c->dead)
      look_at_living(&f, lot);
  }
  if (f.status != LZQ_OK)
    return f.status;
  *out = (lzq_shorts){f.found, f.n};
  return LZQ_OK;
}
