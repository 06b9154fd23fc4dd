// SPDX-License-Identifier: GPL-3.0-or-later
// The late release: its 90 % quantile if each planned test is missed, independently, with the
// station's share. Exact by a dynamic programme over test slots (no sampling): a missed confirming
// test makes the next step of a rise wait for the next test, a missed rhythm test costs what the
// gap rule takes (and the whole credit where a lapse restarts), a missed last test keeps the end
// provisional. Branches less likely than 1e-6 are dropped and count as later than everything.
#include <stdlib.h>

#include "lzq_plan_work.h"

#define TOO_RARE   1e-6
#define MAX_POINTS 4096
#define MAX_STATES 4096
#define MAX_STEPS  100000 // of states over slots, for one lot: beyond it the date cannot be said

typedef struct {
  lzq_minute t, firm; // end of the leg, and the minute from which it is firm
  double p;
} lzq_chance;

typedef struct {
  lzq_chance *items;
  uint32_t n;
  double rare; // dropped below this; grows only where a list would not fit
} lzq_chances;

typedef struct {
  lzq_minute at, covered; // last test made, and the last minute that it serves
  int64_t credit;
  double p;
} lzq_held;

typedef struct {
  lzq_work *work;
  double missed;
  lzq_chances now, next;
  lzq_held *held, *made;
  uint32_t n_held;
  uint32_t steps; // left
} lzq_late;

static int
by_time(const void *a, const void *b)
{
  const lzq_chance *x = a, *y = b;
  if (x->t != y->t)
    return x->t < y->t ? -1 : 1;
  return x->firm < y->firm ? -1 : x->firm > y->firm;
}

static void
merge(lzq_chances *all)
{
  if (all->n == 0)
    return;
  qsort(all->items, all->n, sizeof *all->items, by_time);
  uint32_t n = 0;
  for (uint32_t i = 1; i < all->n; i++) {
    if (by_time(&all->items[n], &all->items[i]) == 0)
      all->items[n].p += all->items[i].p;
    else
      all->items[++n] = all->items[i];
  }
  all->n = n + 1;
}

// Makes room for half of the list, since sorting it at every further branch costs seconds: equal
// chances become one, then the rarest go.
static void
thin(lzq_chances *all)
{
  merge(all);
  for (all->rare = all->rare > 0 ? all->rare : TOO_RARE; all->n > MAX_POINTS / 2;) {
    uint32_t n = 0;
    all->rare *= 10;
    for (uint32_t i = 0; i < all->n; i++)
      if (all->items[i].p >= all->rare)
        all->items[n++] = all->items[i];
    all->n = n;
  }
}

static void
add(lzq_chances *all, lzq_minute t, lzq_minute firm, double p)
{
  if (p < TOO_RARE || p < all->rare)
    return;
  if (all->n == MAX_POINTS)
    thin(all);
  all->items[all->n++] = (lzq_chance){t, firm, p};
}

// The minute t becomes firm by the first test made at or after it; adds one chance for each number
// missed.
static void
add_firm(lzq_late *late, lzq_minute t, lzq_minute firm, double p, lzq_minute from)
{
  lzq_minute test = lzq_slot_next(late->work, from, true);
  for (double q = p; q >= TOO_RARE && test != LZQ_NEVER; q *= late->missed) {
    add(&late->next, t, test > firm ? test : firm, q * (1 - late->missed));
    test = lzq_slot_next(late->work, lzq_later(test, 1), true);
  }
}

// --- the end of a leg from one start

typedef struct {
  const lzq_leg *leg;
  lzq_minute placed, start, firm; // of this chance
} lzq_from;

static void
end_leg(lzq_late *late, const lzq_from *from, lzq_minute t, double p)
{
  const lzq_leg *leg = from->leg;
  const lzq_phase *phase = leg->phase;
  lzq_minute end = t, elapsed = lzq_later(from->placed, phase->min_elapsed_min);
  lzq_minute quiet = lzq_later(leg->current ? leg->quiet_from : from->start, phase->quiet_min);
  end = elapsed > end ? elapsed : end;
  end = quiet > end ? quiet : end;
  if (phase->eating_days > 0 || phase->sign != LZQ_SIGN_NOBODY || lzq_phase_gives(phase)) {
    // days, signatures, doses and baths do not hang on tests: they keep their distance
    lzq_minute kept = leg->current ? leg->end : lzq_later(from->placed, leg->end - leg->placed);
    end = kept > end ? kept : end;
    if (phase->sign != LZQ_SIGN_NOBODY)
      end = lzq_slot_next(late->work, end, false);
  }
  if (phase->n_bands > 0 && (phase->min_credit_min > 0 || phase->reach))
    add_firm(late, end, from->firm, p, phase->reach ? lzq_later(end, 1) : end);
  else
    add(&late->next, end, from->firm, p);
}

static int
by_credit(const void *a, const void *b)
{
  const lzq_held *x = a, *y = b;
  return (x->credit > y->credit) - (x->credit < y->credit);
}

static int32_t
gap_of(const lzq_phase *phase)
{
  int32_t gap = INT32_MAX - 1;
  for (uint32_t i = 0; i < phase->n_bands; i++)
    gap = phase->bands[i].gap_min < gap ? phase->bands[i].gap_min : gap;
  return gap;
}

// A test was made: what cannot be missed any more ends the leg, the rest waits for the next test.
static void
hold_made(lzq_late *late, const lzq_from *from, lzq_held state)
{
  int64_t need = from->leg->phase->min_credit_min - state.credit;
  if (need <= state.covered + 1 - state.at)
    end_leg(late, from, lzq_later(state.at, need), state.p);
  else if (state.p >= TOO_RARE && late->n_held < MAX_STATES)
    late->held[late->n_held++] = state;
}

// One test slot for every state that waits: made with the share of tests kept, else it waits on.
// Those made in one slot with equal credit are one state.
static void
hold_slot(lzq_late *late, const lzq_from *from, lzq_minute slot, int32_t gap)
{
  const lzq_phase *phase = from->leg->phase;
  uint32_t waiting = 0, n_made = 0;
  late->steps -= late->steps > late->n_held ? late->n_held : late->steps;
  for (uint32_t i = 0; i < late->n_held; i++) {
    lzq_held state = late->held[i];
    int64_t lost = slot > state.covered + 1 ? slot - state.covered - 1 : 0;
    int64_t credit = state.credit + (slot - state.at) - lost;
    if (phase->lapse == LZQ_LAPSE_RESTART && phase->lapse_min >= 0 && lost > phase->lapse_min)
      credit = 0;
    late->made[n_made++] =
        (lzq_held){slot, lzq_later(slot, gap), credit, state.p * (1 - late->missed)};
    state.p *= late->missed;
    if (state.p >= TOO_RARE)
      late->held[waiting++] = state;
  }
  late->n_held = waiting;
  qsort(late->made, n_made, sizeof *late->made, by_credit);
  for (uint32_t i = 0; i < n_made;) {
    lzq_held state = late->made[i++];
    while (i < n_made && late->made[i].credit == state.credit)
      state.p += late->made[i++].p;
    hold_made(late, from, state);
  }
}

static void
hold_leg(lzq_late *late, const lzq_from *from, lzq_minute effective, lzq_minute covered, double p)
{
  const lzq_phase *phase = from->leg->phase;
  int64_t has = phase->min_credit_min - from->leg->need;
  int32_t gap = gap_of(phase);
  if (from->leg->need <= 0 || phase->n_bands == 0 || late->work->snap->n_slots == 0) {
    end_leg(late, from, lzq_later(effective, from->leg->need > 0 ? from->leg->need : 0), p);
    return;
  }
  late->n_held = 0;
  hold_made(late, from, (lzq_held){effective, covered, has, p});
  lzq_minute slot = lzq_slot_next(late->work, lzq_later(effective, 1), true);
  while (late->n_held > 0 && late->steps > 0 && slot != LZQ_NEVER &&
         slot <= late->work->now + LZQ_FAR_MIN) {
    hold_slot(late, from, slot, gap);
    slot = lzq_slot_next(late->work, lzq_later(slot, 1), true);
  }
}

// --- visits that wait for their confirming tests

// Visit i at `at`; the test after it may be missed, and the next visit waits for the one that is
// made.
static void
visits(lzq_late *late, const lzq_from *from, uint32_t i, lzq_minute at, double p)
{
  const lzq_leg *leg = from->leg;
  int32_t gap = gap_of(leg->phase);
  bool last = i + 1 >= leg->n_visits;
  lzq_minute mixed = lzq_later(at, last ? leg->last_test - leg->visit_at[i] : 60);
  lzq_minute test = last ? mixed : lzq_slot_next(late->work, mixed, true);
  for (; p >= TOO_RARE && test != LZQ_NEVER; p *= late->missed) {
    double made = p * (1 - late->missed);
    if (made < 1e-9) // a rise that waits this long is far beyond the quantile
      return;
    if (last) {
      hold_leg(late, from, test, lzq_later(test, gap), made);
    } else {
      lzq_minute next = lzq_later(at, leg->visit_at[i + 1] - leg->visit_at[i]);
      next = lzq_slot_next(late->work, next > test ? next : test, false);
      visits(late, from, i + 1, next, made);
    }
    test = lzq_slot_next(late->work, lzq_later(test, 1), true);
  }
}

static void
run_leg(lzq_late *late, const lzq_leg *leg, const lzq_chance *start, bool first)
{
  lzq_from from = {.leg = leg, .start = start->t, .firm = start->firm, .placed = start->t};
  lzq_minute t = start->t;
  if (first)
    from.start = leg->quiet_from;
  if (leg->move_from != LZQ_LONG_AGO) {
    lzq_minute ready = start->firm > t ? start->firm : t;
    ready = leg->move_from > ready ? leg->move_from : ready;
    t = from.placed = lzq_move_next(late->work, leg->phase, ready);
  } else if (first) {
    from.placed = leg->placed;
  }
  if (leg->waits_firm && start->firm > t)
    t = start->firm;
  lzq_minute shift = t - leg->t; // how much later than as walked
  int32_t gap = gap_of(leg->phase);
  if (!leg->waits_test)
    hold_leg(late, &from, t, first ? leg->covered_to : lzq_later(t, gap), start->p);
  else if (leg->n_visits > 0)
    visits(late, &from, 0,
           shift == 0 ? leg->visit_at[0]
                      : lzq_slot_next(late->work, leg->visit_at[0] + shift, false),
           start->p);
  else {
    lzq_minute test = shift == 0 ? leg->effective : lzq_slot_next(late->work, t, true);
    for (double q = start->p; q >= 1e-9 && test != LZQ_NEVER; q *= late->missed) {
      hold_leg(late, &from, test, lzq_later(test, gap), q * (1 - late->missed));
      test = lzq_slot_next(late->work, lzq_later(test, 1), true);
    }
  }
}

static lzq_minute
quantile(lzq_chances *all)
{
  for (uint32_t i = 0; i < all->n; i++) // released when served and firm
    all->items[i].t = all->items[i].firm =
        all->items[i].firm > all->items[i].t ? all->items[i].firm : all->items[i].t;
  merge(all);
  double sum = 0;
  for (uint32_t i = 0; i < all->n; i++) {
    sum += all->items[i].p;
    if (sum >= 0.9 - 1e-9)
      return all->items[i].t;
  }
  return LZQ_NEVER;
}

static lzq_late *
scratch_of(lzq_work *work)
{
  if (work->late)
    return work->late;
  lzq_late *late = LZQ_NEW(work->arena, lzq_late, 1);
  lzq_chance *now = LZQ_NEW(work->arena, lzq_chance, MAX_POINTS);
  lzq_chance *next = LZQ_NEW(work->arena, lzq_chance, MAX_POINTS);
  lzq_held *held = LZQ_NEW(work->arena, lzq_held, MAX_STATES);
  lzq_held *made = LZQ_NEW(work->arena, lzq_held, MAX_STATES);
  if (!late || !now || !next || !held || !made) {
    work->failed = true;
    return NULL;
  }
  *late = (lzq_late){.work = work,
                     .missed = work->snap->station.missed_share,
                     .now = {now, 0, 0},
                     .next = {next, 0, 0},
                     .held = held,
                     .made = made};
  work->late = late;
  return late;
}

lzq_minute
lzq_late_release(lzq_work *work, const lzq_leg *legs, uint32_t n, lzq_minute first_firm)
{
  lzq_late *scratch = scratch_of(work);
  if (!scratch || scratch->missed >= 1)
    return LZQ_NEVER;
  lzq_late late = *scratch;
  late.steps = MAX_STEPS;
  if (first_firm == LZQ_LONG_AGO)
    add(&late.next, work->now, work->now, 1);
  else
    add_firm(&late, work->now, work->now, 1, first_firm);
  for (uint32_t i = 0; i < n; i++) {
    lzq_chances swap = late.now;
    late.now = late.next;
    late.next = swap;
    late.next.n = 0;
    late.next.rare = 0;
    merge(&late.now);
    for (uint32_t j = 0; j < late.now.n && late.steps > 0; j++)
      run_leg(&late, &legs[i], &late.now.items[j], i == 0);
    for (uint32_t j = 0; j < late.next.n; j++) // firm before the end says nothing more
      if (late.next.items[j].firm < late.next.items[j].t)
        late.next.items[j].firm = late.next.items[j].t;
  }
  merge(&late.next);
  return late.steps > 0 ? quantile(&late.next) : LZQ_NEVER;
}
