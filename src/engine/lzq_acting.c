// SPDX-License-Identifier: GPL-3.0-or-later
// The facts of a water in the order in which they act on it. They are kept in the order in which
// they happened; a dose in new water happens when it is mixed and acts with its change
// (lzq_new_water.h). One pass; a dose that waits is looked for once more when it comes in, among
// the facts since it was mixed.
#include "lzq_book_work.h"

#define ALL LZQ_N_ANALYTES

void
lzq_acting_begin(lzq_acting *acting, const lzq_list *facts, const lzq_cut *cut)
{
  *acting = (lzq_acting){.facts = facts, .next = cut ? cut->n : 0};
  if (cut)
    acting->waits = cut->waits;
  else
    lzq_new_water_begin(&acting->waits);
}

static lzq_fact *
fact_at(const lzq_acting *acting, size_t i)
{
  return (lzq_fact *)(void *)lzq_list_at(acting->facts, i);
}

static void
let_in(lzq_acting *acting, uint8_t analyte, lzq_minute at, const lzq_fact *with)
{
  acting->letting_in = acting->n_held > 0;
  acting->analyte = analyte;
  acting->cursor = acting->first;
  acting->end = acting->next;
  acting->at = at;
  acting->with = with;
  acting->last = !with && acting->next == acting->facts->n;
}

static bool
next_let_in(lzq_acting *acting, lzq_acted *out)
{
  while (acting->cursor < acting->end) {
    lzq_fact *fact = fact_at(acting, acting->cursor++);
    if (!(fact->mark.flags & LZQ_FACT_WAITS) ||
        (acting->analyte != ALL && fact->mark.analyte != acting->analyte))
      continue;
    fact->mark.flags &= (uint8_t)~LZQ_FACT_WAITS;
    acting->n_held--;
    *out = (lzq_acted){fact, acting->at, acting->with, acting->last};
    return true;
  }
  acting->letting_in = false;
  return false;
}

// The first that has waited long enough by that minute. False = none has.
static bool
over_by(lzq_acting *acting, lzq_minute by)
{
  uint8_t first = ALL;
  lzq_minute at = LZQ_NEVER;
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    const lzq_minute over = lzq_new_water_over(&acting->waits, (uint8_t)a);
    if (over < at) {
      at = over;
      first = (uint8_t)a;
    }
  }
  if (first == ALL || at > by)
    return false;
  lzq_new_water_let_in(&acting->waits, first);
  let_in(acting, first, at, NULL);
  return true;
}

static bool
waits(lzq_acting *acting, lzq_fact *fact)
{
  const lzq_mark *mark = &fact->mark;
  if (mark->kind != LZQ_REC_DOSE || !lzq_new_water_dose(&acting->waits, mark->analyte, mark->at,
                                                        fact->amount, mark->flags & LZQ_FACT_DRIP))
    return false;
  if (acting->n_held++ == 0)
    acting->first = acting->next - 1;
  fact->mark.flags |= LZQ_FACT_WAITS;
  return true;
}

bool
lzq_acting_next(lzq_acting *acting, lzq_acted *out)
{
  for (;;) {
    if (acting->letting_in && next_let_in(acting, out))
      return true;
    const bool more = acting->next < acting->facts->n;
    lzq_fact *fact = more ? fact_at(acting, acting->next) : NULL;
    if (acting->n_held > 0 &&
        over_by(acting, more ? lzq_dosed_before(fact->mark.at, fact->mark.kind) : LZQ_NEVER))
      continue;
    if (!more)
      return false;
    acting->next++;
    if (waits(acting, fact))
      continue;
    if (fact->mark.kind == LZQ_REC_CHANGE && fact->amount > 0) {
      lzq_new_water_change(&acting->waits, fact->mark.at);
      let_in(acting, ALL, fact->mark.at, fact);
    }
    *out = (lzq_acted){fact, fact->mark.at, NULL, false};
    return true;
  }
}

double
lzq_acted_mg(const lzq_acted *acted, double volume_l)
{
  const lzq_fact *with = acted->with;
  return with ? lzq_brought_in(acted->fact->amount, with->amount, volume_l,
                               with->mark.flags & LZQ_FACT_DRIP)
              : acted->fact->amount;
}
