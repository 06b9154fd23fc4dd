// SPDX-License-Identifier: GPL-3.0-or-later
// The last-in rule: a lot may go when every lot that shared its water since it entered its last
// phase has served. Who shared is a question of overlapping stays, answered for all lots of a water
// at once: stays enter a Fenwick tree of maxima in falling order of their end, questions come in
// falling order of their beginning. O(n log n) in stays, however many lots share one water.
#include "lzq_walk.h"

#include "lzq_sort.h"

// One lot's stay in the water that is looked at.
typedef struct {
  uint32_t system, lot;
  lzq_minute from, to, since;
} sharing;

// A lot and since when it holds nobody: the later, the longer it holds; LZQ_NEVER = it still does.
typedef struct {
  lzq_minute clear_since;
  uint32_t lot; // LZQ_NONE = nobody
} holder;

typedef struct {
  const lzq_walk *walk;
  lzq_arena *arena;
  sharing *items;
  size_t n;
  holder *tree;  // Fenwick tree over stays in rising order of their beginning
  holder *worst; // by lot
} judge;

static holder
worse(holder a, holder b)
{
  if (a.lot == LZQ_NONE)
    return b;
  if (b.lot == LZQ_NONE || a.clear_since > b.clear_since)
    return a;
  if (a.clear_since < b.clear_since)
    return b;
  return a.lot < b.lot ? a : b;
}

static lzq_status
list_sharings(judge *j)
{
  const lzq_walk *walk = j->walk;
  size_t n = 0, filled = 0;
  for (uint32_t l = 0; l < walk->snapshot->n_lots; l++) {
    for (const lzq_stay *stay = walk->lots[l].stays; stay; stay = stay->older)
      n += stay->from < stay->to;
    n += lzq_walk_present(&walk->lots[l]);
  }
  sharing *all = LZQ_NEW(j->arena, sharing, n);
  if (!all)
    return LZQ_NO_MEMORY;
  for (uint32_t l = 0; l < walk->snapshot->n_lots; l++) {
    const lzq_lot_walk *lot = &walk->lots[l];
    for (const lzq_stay *stay = lot->stays; stay; stay = stay->older)
      if (stay->from < stay->to)
        all[filled++] = (sharing){stay->system, l, stay->from, stay->to, stay->since};
    if (lzq_walk_present(lot))
      all[filled++] = (sharing){lot->system, l, lot->stay_from, LZQ_NEVER, lot->stay_from};
  }
  j->items = all;
  j->n = n;
  return LZQ_OK;
}

// By water, and within one by the beginning.
static lzq_status
sort_sharings(judge *j)
{
  lzq_key *keys = LZQ_NEW(j->arena, lzq_key, j->n);
  sharing *sorted = LZQ_NEW(j->arena, sharing, j->n);
  if (!keys || !sorted)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < j->n; i++)
    keys[i] = (lzq_key){j->items[i].from, i};
  if (lzq_sort_keys(&keys, j->n, j->arena) != LZQ_OK)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < j->n; i++)
    keys[i].key = j->items[keys[i].index].system;
  if (lzq_sort_keys(&keys, j->n, j->arena) != LZQ_OK)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < j->n; i++)
    sorted[i] = j->items[keys[i].index];
  j->items = sorted;
  return LZQ_OK;
}

static void
tree_add(holder *tree, size_t n, size_t place, holder one)
{
  for (size_t i = place + 1; i <= n; i += i & (0 - i))
    tree[i] = worse(tree[i], one);
}

// The worst among the first `count` stays.
static holder
tree_ask(const holder *tree, size_t count)
{
  holder found = {LZQ_LONG_AGO, LZQ_NONE};
  for (size_t i = count; i > 0; i -= i & (0 - i))
    found = worse(found, tree[i]);
  return found;
}

// How many of the stays begin before t.
static size_t
begun_before(const sharing *items, size_t n, lzq_minute t)
{
  size_t low = 0, high = n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (items[middle].from < t)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

// A stay as a question: who shared it from `from` on, and held after `since`?
typedef struct {
  const sharing *item;
  lzq_minute from, since;
} question;

typedef struct {
  question *items;
  size_t n, capacity;
} questions;

static bool
add_question(judge *j, questions *asked, const sharing *item, lzq_minute from, lzq_minute since)
{
  if (item->to <= from)
    return true; // it was over before
  question *items = lzq_grow(j->arena, asked->items, asked->n, &asked->capacity, sizeof *items);
  if (!items)
    return false;
  asked->items = items;
  items[asked->n++] = (question){item, from, since};
  return true;
}

// A stay asks from its beginning or that of the lot's last phase; and where merged lots had entered
// theirs earlier, from there as well, but only for what still held at the merge.
static bool
ask_for(judge *j, questions *asked, const sharing *item)
{
  const lzq_lot_walk *lot = &j->walk->lots[item->lot];
  if (!lot->served)
    return true;
  const lzq_minute start = lot->last_phase_start;
  if (!add_question(j, asked, item, item->from > start ? item->from : start, item->since))
    return false;
  for (const lzq_earlier *e = lot->earlier; e; e = e->older) {
    const lzq_minute before = e->older ? e->older->from : start;
    if (item->from < before &&
        !add_question(j, asked, item, item->from > e->from ? item->from : e->from,
                      item->since > e->at ? item->since : e->at))
      return false;
  }
  return true;
}

static lzq_status
judge_system(judge *j, const sharing *items, size_t n)
{
  lzq_key *ends = LZQ_NEW(j->arena, lzq_key, n);
  questions asked = {0};
  if (!ends)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < n; i++) {
    j->tree[i + 1] = (holder){LZQ_LONG_AGO, LZQ_NONE};
    ends[i] = (lzq_key){-items[i].to, i};
    if (!ask_for(j, &asked, &items[i]))
      return LZQ_NO_MEMORY;
  }
  lzq_key *order = LZQ_NEW(j->arena, lzq_key, asked.n);
  if (!order)
    return LZQ_NO_MEMORY;
  for (size_t i = 0; i < asked.n; i++)
    order[i] = (lzq_key){-asked.items[i].from, i};
  if (lzq_sort_keys(&ends, n, j->arena) != LZQ_OK ||
      lzq_sort_keys(&order, asked.n, j->arena) != LZQ_OK)
    return LZQ_NO_MEMORY;
  for (size_t q = 0, entered = 0; q < asked.n; q++) {
    const question *ask = &asked.items[order[q].index];
    for (; entered < n && -ends[entered].key > ask->from; entered++) {
      const sharing *one = &items[ends[entered].index];
      const lzq_minute clear_since = j->walk->lots[one->lot].clear_since;
      // A lot that was clear when it came held nobody by that.
      if (clear_since > one->since)
        tree_add(j->tree, n, ends[entered].index, (holder){clear_since, one->lot});
    }
    const holder found = tree_ask(j->tree, begun_before(items, n, ask->item->to));
    if (found.lot != LZQ_NONE && found.clear_since > ask->from && found.clear_since > ask->since)
      j->worst[ask->item->lot] = worse(j->worst[ask->item->lot], found);
  }
  return LZQ_OK;
}

static lzq_status
judge_all(judge *j)
{
  const uint32_t n_lots = j->walk->snapshot->n_lots;
  j->worst = LZQ_NEW(j->arena, holder, n_lots);
  if (!j->worst)
    return LZQ_NO_MEMORY;
  for (uint32_t l = 0; l < n_lots; l++)
    j->worst[l] = (holder){LZQ_LONG_AGO, LZQ_NONE};
  if (!j->walk->snapshot->station.last_in)
    return LZQ_OK;
  if (list_sharings(j) != LZQ_OK || sort_sharings(j) != LZQ_OK)
    return LZQ_NO_MEMORY;
  j->tree = LZQ_NEW(j->arena, holder, j->n + 1);
  if (!j->tree)
    return LZQ_NO_MEMORY;
  for (size_t first = 0, end = 0; first < j->n; first = end) {
    while (end < j->n && j->items[end].system == j->items[first].system)
      end++;
    if (judge_system(j, j->items + first, end - first) != LZQ_OK)
      return LZQ_NO_MEMORY;
  }
  return LZQ_OK;
}

static bool
was_holding(const lzq_lot_walk *lot, lzq_minute at)
{
  if (lot->clear_since == LZQ_NEVER && lot->unclear_at <= at)
    return true;
  for (const lzq_held *held = lot->held; held; held = held->older)
    if (held->from <= at && held->to > at)
      return true;
  return false;
}

// Whether both stood in one water since the first's look-back, as counted at `at`.
static bool
had_met(const lzq_walk *walk, const lzq_lot_walk *lot, const lzq_lot_walk *other, lzq_minute at)
{
  const lzq_minute since = lzq_place_looks_back_to(walk, lot);
  for (const lzq_stay *a = lot->stays; a; a = a->older) {
    const lzq_minute from = a->from > since ? a->from : since;
    if (other->system == a->system && lzq_walk_present(other) && other->stay_from < a->to &&
        from < a->to)
      return true;
    for (const lzq_stay *b = other->stays; b; b = b->older)
      if (a->system == b->system && b->since <= at && b->from < b->to && b->from < a->to &&
          b->to > from && from < a->to)
        return true;
  }
  return false;
}

// Asked only of a lot that one holds who holds, or held, after its release.
static uint32_t
held_when_released(const lzq_walk *walk, uint32_t lot)
{
  const lzq_lot_walk *one = &walk->lots[lot];
  for (uint32_t i = 0; i < walk->snapshot->n_lots; i++)
    if (i != lot && was_holding(&walk->lots[i], one->released_at) &&
        had_met(walk, one, &walk->lots[i], one->released_at))
      return i;
  return LZQ_NONE;
}

lzq_status
lzq_lastin_judge(const lzq_walk *walk, lzq_lot_credit *out)
{
  judge j = {.walk = walk, .arena = walk->arena};
  if (judge_all(&j) != LZQ_OK)
    return LZQ_NO_MEMORY;
  for (uint32_t l = 0; l < walk->snapshot->n_lots; l++) {
    const lzq_lot_walk *lot = &walk->lots[l];
    const holder *worst = &j.worst[l];
    out[l].releasable_at = LZQ_NEVER;
    out[l].held_by = out[l].went_held_by = LZQ_NONE;
    out[l].look_from = lot->has_course ? lzq_place_looks_back_to(walk, lot) : LZQ_NEVER;
    if (lot->served && lot->released && worst->lot != LZQ_NONE &&
        worst->clear_since > lot->released_at)
      out[l].went_held_by = held_when_released(walk, l);
    if (!lot->served || lot->dead || lot->merged || lot->released)
      continue;
    lzq_minute at = lot->free_since;
    if (worst->lot != LZQ_NONE && worst->clear_since > at)
      at = worst->clear_since;
    out[l].releasable_at = at;
    if (worst->lot != LZQ_NONE && worst->clear_since == LZQ_NEVER)
      out[l].held_by = worst->lot;
  }
  return LZQ_OK;
}
