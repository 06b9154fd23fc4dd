// SPDX-License-Identifier: GPL-3.0-or-later
// Where a lot stands, with whom, how many fish it has, and whether it holds others under the
// last-in rule.
#include "lzq_walk.h"

void
lzq_place_clear(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at, bool clear)
{
  if (clear && lot->clear_since == LZQ_NEVER) {
    // Unclear and clear again within one minute: it was never unclear.
    if (lot->unclear_at == at) {
      lot->clear_since = lot->was_clear_since;
      return;
    }
    lot->clear_since = at;
    lzq_held *held = LZQ_NEW(walk->arena, lzq_held, 1);
    if (held)
      *held = (lzq_held){lot->held, lot->unclear_at, at};
    walk->no_memory = walk->no_memory || !held;
    lot->held = held;
  } else if (!clear && lot->clear_since != LZQ_NEVER) {
    lot->was_clear_since = lot->clear_since;
    lot->unclear_at = at;
    lot->clear_since = LZQ_NEVER;
    lot->free_since = LZQ_NEVER;
  }
}

static uint32_t
index_of(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  return (uint32_t)(lot - walk->lots);
}

static void
enter(lzq_walk *walk, lzq_lot_walk *lot, uint32_t system, lzq_minute at)
{
  const uint32_t index = index_of(walk, lot), head = walk->first_in[system];
  lot->previous = LZQ_NONE;
  lot->next = head;
  if (head != LZQ_NONE)
    walk->lots[head].previous = index;
  walk->first_in[system] = index;
  lot->stay_from = at;
}

void
lzq_place_add_stay(lzq_walk *walk, lzq_lot_walk *lot, uint32_t system, lzq_minute from,
                   lzq_minute to)
{
  if (from > to)
    return; // one that lasts no minute is kept: a sighting of that minute reaches it
  lzq_stay *stay = LZQ_NEW(walk->arena, lzq_stay, 1);
  if (!stay) {
    walk->no_memory = true;
    return;
  }
  *stay = (lzq_stay){
      .older = lot->stays, .origin = stay, .from = from, .to = to, .since = from, .system = system};
  lot->stays = stay;
}

static void
leave(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at)
{
  if (lot->previous != LZQ_NONE)
    walk->lots[lot->previous].next = lot->next;
  else
    walk->first_in[lot->system] = lot->next;
  if (lot->next != LZQ_NONE)
    walk->lots[lot->next].previous = lot->previous;
  lzq_place_add_stay(walk, lot, lot->system, lot->stay_from, at);
}

// To a tank; LZQ_NONE = not yet in any. Within one water the stay goes on.
void
lzq_place_put(lzq_walk *walk, lzq_lot_walk *lot, uint32_t tank, lzq_minute at)
{
  const uint32_t system = tank == LZQ_NONE ? LZQ_NONE : walk->snapshot->tanks[tank].system;
  lot->tank = tank;
  if (system == lot->system)
    return;
  lzq_visit_fold(lot);
  if (lot->system != LZQ_NONE)
    leave(walk, lot, at);
  lot->system = system;
  if (system != LZQ_NONE)
    enter(walk, lot, system, at);
}

// The lot's way ends here: out of the water, and it holds nobody.
void
lzq_place_depart(lzq_walk *walk, lzq_lot_walk *lot, lzq_minute at, lzq_left left)
{
  if (lzq_walk_active(lot))
    lzq_visit_close(walk, lot, at, left);
  if (lzq_walk_present(lot))
    leave(walk, lot, at);
  lzq_place_clear(walk, lot, at, true);
}

void
lzq_place_heads(lzq_walk *walk, lzq_lot_walk *lot, int64_t heads, lzq_minute at)
{
  lot->heads = heads > INT32_MAX ? INT32_MAX : (int32_t)(heads > 0 ? heads : 0);
  lot->counted = true;
  if (lot->heads == 0 && !lot->dead) {
    lzq_place_depart(walk, lot, at, LZQ_LEFT_DEAD);
    lot->dead = true;
  } else if (lot->heads > 0 && lot->dead) {
    lot->dead = lot->has_course = lot->served = false;
    lzq_visit_fold(lot);
    if (lot->system != LZQ_NONE)
      enter(walk, lot, lot->system, at);
    lzq_place_clear(walk, lot, at, false);
  }
}

// The merged fish bring along the waters in which they have been, those that both were in once:
// stays of `other` are marked first, by the stay that a copy was made of.
void
lzq_place_inherit(lzq_walk *walk, const lzq_lot_walk *lot, lzq_lot_walk *other, lzq_minute at)
{
  const uint32_t mark = ++walk->marks;
  for (lzq_stay *stay = other->stays; stay; stay = stay->older)
    stay->origin->mark = mark;
  for (lzq_stay *stay = lot->stays; stay && !walk->no_memory; stay = stay->older)
    if (stay->origin->mark != mark) {
      stay->origin->mark = mark;
      lzq_place_add_stay(walk, other, stay->system, stay->from, stay->to);
      if (!walk->no_memory && other->stays) {
        other->stays->origin = stay->origin;
        other->stays->since = at;
      }
    }
  if (lzq_walk_present(lot))
    lzq_place_add_stay(walk, other, lot->system, lot->stay_from, at);
  if (!walk->no_memory && other->stays && other->stays->to == at)
    other->stays->since = at;
}

lzq_minute
lzq_place_looks_back_to(const lzq_walk *walk, const lzq_lot_walk *lot)
{
  const lzq_stage *stage = &lot->stage;
  if (lot->served)
    return lot->earlier ? lot->earlier->from : lot->last_phase_start;
  const bool last = stage->phase + 1 == walk->snapshot->protocols[stage->protocol].n_phases;
  return last && stage->start < stage->look_from ? stage->start : stage->look_from;
}

void
lzq_place_look_back(lzq_walk *walk, const lzq_lot_walk *lot, lzq_lot_walk *other, lzq_minute at)
{
  const lzq_minute from = lzq_place_looks_back_to(walk, lot);
  if (from >= lzq_place_looks_back_to(walk, other))
    return;
  lzq_earlier *earlier = LZQ_NEW(walk->arena, lzq_earlier, 1);
  if (!earlier) {
    walk->no_memory = true;
    return;
  }
  *earlier = (lzq_earlier){.older = other->earlier, .from = from, .at = at};
  other->earlier = earlier;
}
