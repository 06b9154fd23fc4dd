// SPDX-License-Identifier: GPL-3.0-or-later
// Credit of every lot: the record in order, sorted by what it is about, replayed act by act.
#include "lzq_credit.h"

#include <stdlib.h>

#include "lzq_model_check.h"
#include "lzq_walk.h"

static bool
start_walk(lzq_walk *walk)
{
  const lzq_snapshot *snapshot = walk->snapshot;
  walk->lots = LZQ_NEW(walk->arena, lzq_lot_walk, snapshot->n_lots);
  walk->first_in = LZQ_NEW(walk->arena, uint32_t, snapshot->n_systems);
  walk->sighted_at = LZQ_NEW(walk->arena, lzq_minute, snapshot->n_systems);
  if (!walk->lots || !walk->first_in || !walk->sighted_at)
    return false;
  for (uint32_t i = 0; i < snapshot->n_systems; i++) {
    walk->first_in[i] = LZQ_NONE;
    walk->sighted_at[i] = LZQ_NEVER;
  }
  for (uint32_t i = 0; i < snapshot->n_lots; i++)
    walk->lots[i] = (lzq_lot_walk){
        .system = LZQ_NONE,
        .tank = LZQ_NONE,
        .received_at = LZQ_NEVER,
        .released_at = LZQ_NEVER,
        .last_sighting = LZQ_LONG_AGO,
        .last_given = LZQ_LONG_AGO,
        .listed_at = LZQ_LONG_AGO,
        .served_at = LZQ_NEVER,
        .served_firm = LZQ_NEVER,
        .stage = {.firm = LZQ_LONG_AGO, .last_firm = LZQ_LONG_AGO},
        .cursor = LZQ_LONG_AGO,
        .settled_at = LZQ_NEVER,
        .clear_since = LZQ_NEVER,
        .unclear_at = LZQ_LONG_AGO,
        .free_since = LZQ_NEVER,
        .next = LZQ_NONE,
        .previous = LZQ_NONE,
        .visit = LZQ_NONE,
        .span = LZQ_NONE,
    };
  return true;
}

static int
ignored_order(const void *left, const void *right)
{
  const lzq_ignored *a = left, *b = right;
  if (a->at != b->at)
    return a->at < b->at ? -1 : 1;
  if (a->kind != b->kind)
    return a->kind < b->kind ? -1 : 1;
  return a->entry < b->entry ? -1 : a->entry > b->entry;
}

// In the order of acting: feeds were looked at when their lot was.
static void
order_ignored(lzq_walk *walk)
{
  for (size_t i = 1; i < walk->n_ignored; i++)
    if (ignored_order(&walk->ignored[i - 1], &walk->ignored[i]) > 0) {
      qsort(walk->ignored, walk->n_ignored, sizeof *walk->ignored, ignored_order);
      return;
    }
}

// Acts in their order, then every lot up to `until`.
static void
replay(lzq_walk *walk, lzq_minute until)
{
  for (size_t i = 0; i < walk->book->deeds.n && !walk->no_memory;)
    i = lzq_acts_apply(walk, i);
  for (uint32_t l = 0; l < walk->snapshot->n_lots && !walk->no_memory; l++) {
    lzq_lot_walk *lot = &walk->lots[l];
    lzq_feeds_act(walk, lot, NULL);
    lzq_walk_to(walk, lot, until);
    lzq_walk_settle(walk, lot, true);
    if (lzq_walk_active(lot)) {
      lot->stage.placed_at = lzq_walk_placed(walk, lot);
      lzq_visit_close(walk, lot, LZQ_NEVER, LZQ_LEFT_NOT);
    }
  }
  order_ignored(walk);
}

static void
describe(lzq_lot_walk *lot, const lzq_snapshot *snapshot, lzq_lot_credit *out)
{
  const lzq_stage *stage = &lot->stage;
  const bool present = lzq_walk_present(lot);
  out->has_course = lot->has_course;
  out->served = lot->served;
  out->released = lot->released;
  out->merged = lot->merged;
  out->merged_into = lot->merged ? lot->merged_into : LZQ_NONE;
  out->dead = lot->dead;
  out->protocol = lot->has_course ? stage->protocol : LZQ_NONE;
  out->phase = lot->has_course ? stage->phase : LZQ_NONE;
  out->system = present ? lot->system : LZQ_NONE;
  out->tank = present ? lot->tank : LZQ_NONE;
  out->heads = lot->heads;
  out->received_at = lot->received_at;
  out->released_at = lot->released_at;
  out->last_sighting = lot->last_sighting;
  out->served_at = lot->served ? lot->served_at : LZQ_NEVER;
  out->firm_at = lot->served ? lot->served_firm : LZQ_NEVER;
  if (lot->served) {
    out->phase = snapshot->protocols[stage->protocol].n_phases;
  } else if (lot->has_course) {
    out->credit_min = stage->credit_min;
    out->open_min = stage->open_min;
    out->accepted_min = stage->accepted_min;
    out->run_min = stage->run_min;
  }
}

// The pools hold all lots' visits and spans in the order in which they were made; a lot's own come
// together, in the same order.
static bool
gather_lists(lzq_walk *walk, lzq_lot_credit *out)
{
  const uint32_t n = walk->snapshot->n_lots;
  lzq_visit *visits = LZQ_NEW(walk->arena, lzq_visit, walk->n_visits);
  lzq_span *spans = LZQ_NEW(walk->arena, lzq_span, walk->n_spans);
  size_t *visit_place = LZQ_NEW(walk->arena, size_t, n);
  size_t *span_place = LZQ_NEW(walk->arena, size_t, n);
  if (!visits || !spans || !visit_place || !span_place)
    return false;
  for (size_t i = 0; i < walk->n_visits; i++)
    out[walk->visits[i].lot].n_visits++;
  for (size_t i = 0; i < walk->n_spans; i++)
    out[walk->spans[i].lot].n_spans++;
  size_t visit = 0, span = 0;
  for (uint32_t l = 0; l < n; l++) {
    visit_place[l] = visit;
    span_place[l] = span;
    out[l].visits = visits + visit;
    out[l].spans = spans + span;
    visit += out[l].n_visits;
    span += out[l].n_spans;
  }
  for (size_t i = 0; i < walk->n_visits; i++)
    visits[visit_place[walk->visits[i].lot]++] = walk->visits[i].visit;
  for (uint32_t l = 0; l < n; l++)
    out[l].n_spans = 0;
  for (size_t i = 0; i < walk->n_spans; i++) {
    lzq_lot_credit *lot = &out[walk->spans[i].lot];
    lzq_span *place = &spans[span_place[walk->spans[i].lot]];
    // What was accepted after it had been written down may now be one with what came before.
    if (!lot->n_spans || !lzq_visit_join(place - 1, &walk->spans[i].span)) {
      *place = walk->spans[i].span;
      span_place[walk->spans[i].lot]++;
      lot->n_spans++;
    }
  }
  return true;
}

// Where each lot stood, in the order in which it came to it.
static bool
gather_stays(const lzq_walk *walk, lzq_lot_credit *out)
{
  const uint32_t n_lots = walk->snapshot->n_lots;
  size_t n = 0;
  for (uint32_t l = 0; l < n_lots; l++) {
    for (const lzq_stay *stay = walk->lots[l].stays; stay; stay = stay->older)
      out[l].n_stays++;
    out[l].n_stays += lzq_walk_present(&walk->lots[l]);
    n += out[l].n_stays;
  }
  lzq_water_stay *stays = LZQ_NEW(walk->arena, lzq_water_stay, n);
  if (!stays)
    return false;
  for (uint32_t l = 0; l < n_lots; l++) {
    const lzq_lot_walk *lot = &walk->lots[l];
    uint32_t place = out[l].n_stays;
    out[l].stays = stays;
    if (lzq_walk_present(lot))
      stays[--place] = (lzq_water_stay){lot->stay_from, LZQ_NEVER, lot->system};
    for (const lzq_stay *stay = lot->stays; stay; stay = stay->older)
      stays[--place] = (lzq_water_stay){stay->from, stay->to, stay->system};
    stays += out[l].n_stays;
  }
  return true;
}

static lzq_status
publish(lzq_walk *walk, lzq_minute until, const lzq_credit **out)
{
  const uint32_t n = walk->snapshot->n_lots;
  lzq_credit *credit = LZQ_NEW(walk->arena, lzq_credit, 1);
  lzq_lot_credit *lots = LZQ_NEW(walk->arena, lzq_lot_credit, n);
  if (!credit || !lots)
    return LZQ_NO_MEMORY;
  for (uint32_t l = 0; l < n; l++)
    describe(&walk->lots[l], walk->snapshot, &lots[l]);
  if (!gather_lists(walk, lots) || !gather_stays(walk, lots) ||
      lzq_lastin_judge(walk, lots) != LZQ_OK)
    return LZQ_NO_MEMORY;
  *credit = (lzq_credit){.until = until,
                         .lots = lots,
                         .n_lots = n,
                         .uncoursed = walk->uncoursed,
                         .n_uncoursed = walk->n_uncoursed,
                         .ignored = walk->ignored,
                         .n_ignored = walk->n_ignored};
  *out = credit;
  return LZQ_OK;
}

lzq_status
lzq_credit_of_book(lzq_book *book, const lzq_snapshot *snapshot, lzq_minute until, lzq_arena *arena,
                   const lzq_credit **out, lzq_fault *fault)
{
  *out = NULL;
  if (!lzq_minute_ok(until))
    return lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, 0, 0, "until", (double)until);
  lzq_walk walk = {.snapshot = snapshot, .arena = arena};
  const lzq_status status = lzq_book_for(book, snapshot, until, arena, &walk.book, fault);
  if (status != LZQ_OK)
    return status;
  if (!start_walk(&walk))
    return LZQ_NO_MEMORY;
  replay(&walk, until);
  return walk.no_memory ? LZQ_NO_MEMORY : publish(&walk, until, out);
}

lzq_status
lzq_credit_run(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until, lzq_arena *arena,
               const lzq_credit **out, lzq_fault *fault)
{
  lzq_snapshot known = *snapshot;
  *out = NULL;
  if (snapshot->n_records && snapshot->records &&
      snapshot->records[snapshot->n_records - 1].id > known_id) {
    const lzq_status status = lzq_snapshot_check(snapshot, fault);
    if (status != LZQ_OK)
      return status;
    while (known.n_records && snapshot->records[known.n_records - 1].id > known_id)
      known.n_records--;
  }
  return lzq_credit_of_book(NULL, &known, until, arena, out, fault);
}
