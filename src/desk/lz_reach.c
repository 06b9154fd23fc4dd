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
  LzReach fresh = {.bottle = bottle, .lot = lot, .as = LZQ_NONE, .first = at, .last = at};
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

typedef struct {
  GArray *all; // LzReach
  LzModel *model;
  lzq_minute now;
  uint32_t bottle;
  const LzEntry *given;
  double mg;
  GHashTable *done; // lots that it was counted for
} Given;

static void
count(Given *g, uint32_t lot, int32_t heads, uint32_t as)
{
  LzReach *reach = reach_of(g->all, g->bottle, lot, g->given->at);
  if (g->given->at < reach->first || !reach->times)
    reach->as = as;
  reach->first = MIN(reach->first, g->given->at);
  if (g->given->at >= reach->last)
    reach->heads = heads;
  reach->last = MAX(reach->last, g->given->at);
  reach->times++;
  reach->mg += g->mg;
  g_hash_table_add(g->done, GUINT_TO_POINTER(lot));
}

// The lots in which the fish of a lot went on after that. Those that join fish of another lot are
// not told apart from them: all are counted.
static void
follow(Given *g, uint32_t lot, lzq_minute at, uint64_t id, uint32_t as)
{
  const GArray *own = g->model->of_lot->pdata[lot];
  for (guint i = 0; i < own->len; i++) {
    const uint32_t index = g_array_index(own, uint32_t, i);
    const lzq_record *r = &g_array_index(g->model->records, lzq_record, index);
    const uint64_t first = (r->corrects ? r->corrects : r->id) / LZ_RECORDS_PER_ENTRY;
    const gboolean goes_on =
        (r->kind == LZQ_REC_SPLIT || r->kind == LZQ_REC_MERGE) && r->lot == lot;
    if (!goes_on || !lz_model_record_holds(g->model, index) || r->at > g->now || r->at < at ||
        (r->at == at && first <= id) || g_hash_table_contains(g->done, GUINT_TO_POINTER(r->other)))
      continue;
    LzPlace place = lz_place_of(g->model, r->other, r->at);
    count(g, r->other, place.heads, as);
    follow(g, r->other, r->at, first, as);
  }
}

static void
add_entry(Given *g)
{
  const LzEntry *e = g->given;
  LzModel *m = g->model;
  uint32_t system =
      e->kind == LZS_DOSE ? lz_model_index(m, LZS_SYSTEM, lz_entry_int(e, "system")) : LZQ_NONE;
  uint32_t one =
      e->kind == LZS_DOSE ? LZQ_NONE : lz_model_index(m, LZS_LOT, lz_entry_int(e, "lot"));
  g_hash_table_remove_all(g->done);
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    if (one != LZQ_NONE && lot != one)
      continue;
    LzPlace place = lz_place_of(m, lot, e->at);
    if ((lot == one || (system != LZQ_NONE && place.system == system)) && place.heads > 0 &&
        !place.released && !place.merged)
      count(g, lot, place.heads, LZQ_NONE);
  }
  g_autoptr(GList) reached = g_hash_table_get_keys(g->done);
  for (GList *l = reached; l; l = l->next)
    follow(g, GPOINTER_TO_UINT(l->data), e->at, (uint64_t)(e->corrects ? e->corrects : e->id),
           GPOINTER_TO_UINT(l->data));
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
  g_autoptr(GHashTable) done = g_hash_table_new(NULL, NULL);
  Given given = {.all = all, .model = m, .now = desk->now, .done = done};
  for (guint i = 0; i < m->entries->len; i++) {
    LzEntry *first = lz_model_kept(m, i); // what names a bottle is never left in the file
    if (!first || first->corrects ||
        (first->kind != LZS_DOSE && first->kind != LZS_BATH && first->kind != LZS_FEED))
      continue;
    const LzEntry *e = lz_model_in_force(m, first);
    const LzEntity *bottle = e ? lz_model_entity(m, lz_entry_int(e, "bottle")) : NULL;
    if (bottle && e->at <= desk->now && // as of another moment nothing was given after it
        is_of(bottle, name)) {
      given.given = e;
      given.bottle = bottle->index;
      given.mg = mg_of(m, e);
      add_entry(&given);
    }
  }
  g_array_sort(all, by_bottle_and_lot);
  return all;
}
