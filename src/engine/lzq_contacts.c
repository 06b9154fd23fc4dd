// SPDX-License-Identifier: GPL-3.0-or-later
// Contacts: every stay in the look-back is held against the water of the sighting, against the
// waters near it, and against the times that the lots of that water spent elsewhere.
#include "lzq_contacts.h"

#include "lzq_model_check.h"
#include "lzq_sort.h"

#define DEFAULT_DAYS 14
enum { NEAR_NET = 1, NEAR_NEIGHBOUR = 2 };

// Minutes from .. to, both included.
typedef struct {
  uint32_t system;
  lzq_minute from, to;
} period;

typedef struct {
  const lzq_snapshot *snapshot;
  const lzq_credit *credit;
  const lzq_contact_query *query;
  lzq_arena *arena;
  lzq_minute since;
  uint8_t *near;     // by system
  bool *in_water;    // by lot
  bool *uncoursed;   // by lot
  period *elsewhere; // of the lots in that water, by system and time, none touching another
  size_t n_elsewhere, elsewhere_capacity;
  lzq_contact *found;
  size_t n_found, found_capacity;
} finder;

lzq_minute
lzq_contact_since(const lzq_station *station, lzq_minute at)
{
  const int64_t days = station->contact_days > 0 ? station->contact_days : DEFAULT_DAYS;
  return at - days * LZQ_DAY;
}

// The part of a stay in the look-back; false = none.
static bool
in_look_back(const finder *f, const lzq_water_stay *stay, period *out)
{
  *out = (period){stay->system, stay->from > f->since ? stay->from : f->since,
                  stay->to < f->query->at ? stay->to : f->query->at};
  return out->from <= out->to;
}

static bool
start(finder *f)
{
  const lzq_snapshot *s = f->snapshot;
  f->near = LZQ_NEW(f->arena, uint8_t, s->n_systems);
  f->in_water = LZQ_NEW(f->arena, bool, s->n_lots);
  f->uncoursed = LZQ_NEW(f->arena, bool, s->n_lots);
  if (!f->near || !f->in_water || !f->uncoursed)
    return false;
  const uint32_t set = s->systems[f->query->system].net_set;
  for (uint32_t i = 0; i < s->n_systems; i++)
    f->near[i] = set && s->systems[i].net_set == set ? NEAR_NET : 0;
  for (uint32_t i = 0; i < f->query->n_neighbours; i++)
    f->near[f->query->neighbours[i]] |= NEAR_NEIGHBOUR;
  for (size_t i = 0; i < f->credit->n_uncoursed; i++)
    if (f->credit->uncoursed[i].at == f->query->at)
      f->uncoursed[f->credit->uncoursed[i].lot] = true;
  for (uint32_t l = 0; l < s->n_lots; l++) {
    const lzq_lot_credit *lot = &f->credit->lots[l];
    for (uint32_t i = 0; i < lot->n_stays && !lot->merged; i++)
      if (lot->stays[i].system == f->query->system && lot->stays[i].from <= f->query->at &&
          lot->stays[i].to >= f->query->at)
        f->in_water[l] = true;
  }
  return true;
}

static bool
list_elsewhere(finder *f)
{
  for (uint32_t l = 0; l < f->snapshot->n_lots; l++) {
    const lzq_lot_credit *lot = &f->credit->lots[l];
    for (uint32_t i = 0; i < lot->n_stays && f->in_water[l]; i++) {
      period time;
      if (lot->stays[i].system == f->query->system || !in_look_back(f, &lot->stays[i], &time))
        continue;
      period *list =
          lzq_grow(f->arena, f->elsewhere, f->n_elsewhere, &f->elsewhere_capacity, sizeof *list);
      if (!list)
        return false;
      f->elsewhere = list;
      list[f->n_elsewhere++] = time;
    }
  }
  return true;
}

// By system and time, with periods that meet made one.
static bool
sort_elsewhere(finder *f)
{
  const size_t n = f->n_elsewhere;
  lzq_key *keys = LZQ_NEW(f->arena, lzq_key, n);
  period *sorted = LZQ_NEW(f->arena, period, n);
  if (!keys || !sorted)
    return false;
  for (size_t i = 0; i < n; i++)
    keys[i] = (lzq_key){f->elsewhere[i].from, i};
  if (lzq_sort_keys(&keys, n, f->arena) != LZQ_OK)
    return false;
  for (size_t i = 0; i < n; i++)
    keys[i].key = f->elsewhere[keys[i].index].system;
  if (lzq_sort_keys(&keys, n, f->arena) != LZQ_OK)
    return false;
  f->n_elsewhere = 0;
  for (size_t i = 0; i < n; i++) {
    const period next = f->elsewhere[keys[i].index];
    period *last = f->n_elsewhere ? &sorted[f->n_elsewhere - 1] : NULL;
    if (!last || last->system != next.system || last->to < next.from)
      sorted[f->n_elsewhere++] = next;
    else if (last->to < next.to)
      last->to = next.to;
  }
  f->elsewhere = sorted;
  return true;
}

// How many of those periods lie before the system's minute: end before it, or begin up to it.
static size_t
count_before(const finder *f, uint32_t system, lzq_minute minute, bool begin)
{
  size_t low = 0, high = f->n_elsewhere;
  while (low < high) {
    const size_t middle = low + (high - low) / 2;
    const period *one = &f->elsewhere[middle];
    const bool before = begin ? one->from <= minute : one->to < minute;
    if (one->system < system || (one->system == system && before))
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

// First and last minute that `time` shares with a lot of that water; false = none.
static bool
shared_elsewhere(const finder *f, const period *time, period *out)
{
  const size_t first = count_before(f, time->system, time->from, false);
  const size_t end = count_before(f, time->system, time->to, true);
  if (first >= end)
    return false;
  *out = *time;
  if (f->elsewhere[first].from > out->from)
    out->from = f->elsewhere[first].from;
  if (f->elsewhere[end - 1].to < out->to)
    out->to = f->elsewhere[end - 1].to;
  return true;
}

static bool
add(finder *f, uint32_t lot, const period *time, lzq_contact_how how)
{
  const lzq_lot_credit *credit = &f->credit->lots[lot];
  lzq_contact *list = lzq_grow(f->arena, f->found, f->n_found, &f->found_capacity, sizeof *list);
  if (!list)
    return false;
  f->found = list;
  list[f->n_found++] = (lzq_contact){
      .lot = lot,
      .system = time->system,
      .from = time->from,
      .to = time->to,
      .how = (uint8_t)how,
      .uncoursed = how == LZQ_CONTACT_WATER && f->uncoursed[lot],
      .system_now = credit->system,
      .released = credit->released,
      .dead = credit->dead,
  };
  return true;
}

// Whatever one stay makes the lot.
static bool
judge_stay(finder *f, uint32_t lot, const lzq_water_stay *stay)
{
  period time, shared;
  if (!in_look_back(f, stay, &time))
    return true;
  if (stay->system == f->query->system)
    return add(f, lot, &time, f->in_water[lot] ? LZQ_CONTACT_WATER : LZQ_CONTACT_MOVED_OUT);
  if (f->in_water[lot])
    return true;
  if (shared_elsewhere(f, &time, &shared) && !add(f, lot, &shared, LZQ_CONTACT_FORMER))
    return false;
  const uint8_t near = f->near[stay->system];
  return (!(near & NEAR_NET) || add(f, lot, &time, LZQ_CONTACT_NET)) &&
         (!(near & NEAR_NEIGHBOUR) || add(f, lot, &time, LZQ_CONTACT_NEIGHBOUR));
}

// By how, lot and system, with the entries of one such made one.
static bool
publish(finder *f, lzq_contacts *out)
{
  const size_t n = f->n_found;
  lzq_key *keys = LZQ_NEW(f->arena, lzq_key, n);
  lzq_contact *items = LZQ_NEW(f->arena, lzq_contact, n);
  if (!keys || !items)
    return false;
  for (size_t i = 0; i < n; i++)
    keys[i] = (lzq_key){f->found[i].system, i};
  if (lzq_sort_keys(&keys, n, f->arena) != LZQ_OK)
    return false;
  for (size_t i = 0; i < n; i++) {
    const lzq_contact *one = &f->found[keys[i].index];
    keys[i].key = (int64_t)one->how << 32 | one->lot;
  }
  if (lzq_sort_keys(&keys, n, f->arena) != LZQ_OK)
    return false;
  for (size_t i = 0; i < n; i++) {
    const lzq_contact *one = &f->found[keys[i].index];
    lzq_contact *last = out->n ? &items[out->n - 1] : NULL;
    if (!last || last->how != one->how || last->lot != one->lot || last->system != one->system) {
      items[out->n++] = *one;
      continue;
    }
    last->from = one->from < last->from ? one->from : last->from;
    last->to = one->to > last->to ? one->to : last->to;
  }
  out->items = items;
  return true;
}

static lzq_status
check(const lzq_snapshot *snapshot, const lzq_credit *credit, const lzq_contact_query *query,
      lzq_fault *fault)
{
  if (query->system >= snapshot->n_systems)
    return lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, 0, 0, "system", query->system);
  if (!lzq_minute_ok(query->at) || query->at > credit->until)
    return lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, 0, 0, "at", (double)query->at);
  for (uint32_t i = 0; i < query->n_neighbours; i++)
    if (query->neighbours[i] >= snapshot->n_systems)
      return lzq_fault_set(fault, LZQ_FAULT_ARGUMENT, i, 0, "neighbours", query->neighbours[i]);
  return LZQ_OK;
}

lzq_status
lzq_contacts_make(const lzq_snapshot *snapshot, const lzq_credit *credit,
                  const lzq_contact_query *query, lzq_arena *arena, const lzq_contacts **out,
                  lzq_fault *fault)
{
  *out = NULL;
  const lzq_status status = check(snapshot, credit, query, fault);
  if (status != LZQ_OK)
    return status;
  finder f = {.snapshot = snapshot,
              .credit = credit,
              .query = query,
              .arena = arena,
              .since = lzq_contact_since(&snapshot->station, query->at)};
  lzq_contacts *contacts = LZQ_NEW(arena, lzq_contacts, 1);
  if (!contacts || !start(&f) || !list_elsewhere(&f) || !sort_elsewhere(&f))
    return LZQ_NO_MEMORY;
  for (uint32_t l = 0; l < snapshot->n_lots; l++) {
    const lzq_lot_credit *lot = &credit->lots[l];
    for (uint32_t i = 0; i < lot->n_stays && !lot->merged; i++)
      if (!judge_stay(&f, l, &lot->stays[i]))
        return LZQ_NO_MEMORY;
  }
  contacts->from = f.since;
  contacts->to = query->at;
  if (!publish(&f, contacts))
    return LZQ_NO_MEMORY;
  *out = contacts;
  return LZQ_OK;
}
