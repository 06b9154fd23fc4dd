// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_reach.h. Entries as they are in force; where the fish stood comes from lz_place.h.
#include "lz_reach.h"

#include <math.h>

#include "lz_desk_private.h"
#include "lz_place.h"

static LzReach *
reach_of(GArray *all, uint32_t bottle, uint32_t lot, lzq_minute at)
{
  for (guint i = 0; i < all->len; i++) {
    LzReach *one = &g_array_index(all, LzReach, i);
    if (one->bottle == bottle && one->lot == lot)
      return one;
  }
  LzReach fresh = {.bottle = bottle, .lot = lot, .first = at, .last = at};
  g_array_append_val(all, fresh);
  return &g_array_index(all, LzReach, all->len - 1);
}

static double
mg_of(const LzModel *m, const LzEntry *e)
{
  const LzEntity *bottle = lz_model_entity(m, lz_entry_int(e, "bottle"));
  double mg = lz_entry_number(e, e->kind == LZS_FEED ? "medicine_mg" : "amount_mg");
  double ml = e->kind == LZS_FEED ? NAN : lz_entry_number(e, "amount_ml");
  if (isnan(mg))
    mg = ml * lz_model_strength(bottle->now);
  return isnan(mg) ? 0 : mg;
}

static void
count(GArray *all, uint32_t bottle, uint32_t lot, const LzEntry *e, const LzPlace *place, double mg)
{
  LzReach *reach = reach_of(all, bottle, lot, e->at);
  reach->first = MIN(reach->first, e->at);
  if (e->at >= reach->last)
    reach->heads = place->heads;
  reach->last = MAX(reach->last, e->at);
  reach->times++;
  reach->mg += mg;
}

static void
add_entry(GArray *all, LzModel *m, const LzEntry *e, uint32_t bottle)
{
  double mg = mg_of(m, e);
  uint32_t system =
      e->kind == LZS_DOSE ? lz_model_index(m, LZS_SYSTEM, lz_entry_int(e, "system")) : LZQ_NONE;
  uint32_t one =
      e->kind == LZS_DOSE ? LZQ_NONE : lz_model_index(m, LZS_LOT, lz_entry_int(e, "lot"));
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    if (one != LZQ_NONE && lot != one)
      continue;
    LzPlace place = lz_place_of(m, lot, e->at);
    if ((lot == one || (system != LZQ_NONE && place.system == system)) && place.heads > 0 &&
        !place.released && !place.merged)
      count(all, bottle, lot, e, &place, mg);
  }
}

static int
by_bottle_and_lot(gconstpointer a, gconstpointer b)
{
  const LzReach *ra = a, *rb = b;
  if (ra->bottle != rb->bottle)
    return ra->bottle < rb->bottle ? -1 : 1;
  return ra->lot < rb->lot ? -1 : ra->lot > rb->lot;
}

static gboolean
is_of(const LzEntity *bottle, const char *name)
{
  return g_strcmp0(lz_entry_text(bottle->now, "batch"), name) == 0 ||
         g_strcmp0(bottle->label, name) == 0;
}

gboolean
lz_desk_has_batch(LzDesk *desk, const char *name)
{
  const GPtrArray *bottles = desk->model->by_kind[LZS_BOTTLE];
  for (guint i = 0; i < bottles->len; i++)
    if (is_of(bottles->pdata[i], name))
      return TRUE;
  return FALSE;
}

GArray *
lz_desk_reached(LzDesk *desk, const char *name)
{
  LzModel *m = desk->model;
  GArray *all = g_array_new(FALSE, FALSE, sizeof(LzReach));
  for (guint i = 0; i < m->entries->len; i++) {
    LzEntry *first = lz_model_kept(m, i); // what names a bottle is never left in the file
    if (!first || first->corrects ||
        (first->kind != LZS_DOSE && first->kind != LZS_BATH && first->kind != LZS_FEED))
      continue;
    const LzEntry *e = lz_model_in_force(m, first);
    const LzEntity *bottle = e ? lz_model_entity(m, lz_entry_int(e, "bottle")) : NULL;
    if (bottle && e->at <= desk->now && // as of another moment nothing was given after it
        is_of(bottle, name))
      add_entry(all, m, e, bottle->index);
  }
  g_array_sort(all, by_bottle_and_lot);
  return all;
}
