// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_medicine.h.
#include "lz_medicine.h"

#include <math.h>

#include "lz_desk_private.h"

#define N_KINDS 4

static const lzs_kind kinds[N_KINDS] = {LZS_STOCK, LZS_DOSE, LZS_BATH, LZS_FEED};

// Of one bottle, by kind, in the order of entry: so that sums that went on and sums made anew are
// the same to the last bit.
typedef struct {
  int64_t bottle;
  double ml[N_KINDS];
} Sum;

struct _LzMedicineSums {
  guint rebuilds; // of the model
  guint seen[N_KINDS];
  LzEntry *last[N_KINDS]; // the last seen of each
  lzq_minute latest;      // minute among all that count
  GHashTable *of_bottle;  // &sum->bottle -> Sum (owned)
};

// What went in (positive) or out of the bottle in one entry, mL.
static double
moved_ml(const LzEntry *e, double strength)
{
  switch (e->kind) {
  case LZS_STOCK: return lz_entry_number(e, "change_ml");
  case LZS_DOSE:
  case LZS_BATH:
    return lz_entry_has(e, "amount_ml") ? -lz_entry_number(e, "amount_ml")
                                        : -lz_entry_number(e, "amount_mg") / strength;
  case LZS_FEED: return -lz_entry_number(e, "medicine_mg") / strength;
  default: return 0;
  }
}

static void
add(LzMedicineUse *use, const LzEntry *e, double ml)
{
  if (e->kind == LZS_STOCK) {
    gboolean thrown = g_strcmp0(lz_entry_text(e, "why"), "disposed") == 0;
    *(ml > 0 ? &use->in_ml : thrown ? &use->thrown_ml : &use->lost_ml) += fabs(ml);
    return;
  }
  use->given_ml -= ml;
  if (use->first == LZQ_LONG_AGO || e->at < use->first)
    use->first = e->at;
  use->last = MAX(use->last, e->at);
}

// The entry that holds for a first entry, if it names a bottle; *id says which.
static const LzEntry *
of_bottle(const LzModel *m, LzEntry *first, int64_t *id)
{
  const LzEntry *e = first->corrects ? NULL : lz_model_in_force(m, first);
  *id = e ? lz_entry_int(e, "bottle") : 0;
  return *id ? e : NULL;
}

static double
strength_of(const LzModel *m, int64_t bottle)
{
  const uint32_t index = lz_model_index(m, LZS_BOTTLE, bottle);
  return index < m->bottles->len ? g_array_index(m->bottles, lzq_bottle, index).strength_mg_ml
                                 : NAN;
}

static double
left_of(const LzModel *m, int64_t bottle, const double ml[N_KINDS])
{
  double left = lz_entry_number(lz_model_entity(m, bottle)->now, "volume_ml");
  for (gsize k = 0; k < N_KINDS; k++)
    left += ml[k];
  return left;
}

LzMedicineUse
lz_desk_medicine_use(LzDesk *desk, int64_t id, lzq_minute from, lzq_minute until)
{
  LzMedicineUse use = {
      .opened_ml = NAN, .left_ml = NAN, .first = LZQ_LONG_AGO, .last = LZQ_LONG_AGO};
  const LzModel *m = desk->model;
  const LzEntity *bottle = lz_model_entity(m, id);
  g_return_val_if_fail(bottle != NULL, use);
  const double strength = strength_of(m, id);
  double sums[N_KINDS] = {0};
  use.opened_ml = lz_entry_number(bottle->now, "volume_ml");
  for (gsize k = 0; k < N_KINDS; k++)
    for (guint i = 0; i < lz_model_naming_bottles(m, kinds[k])->len; i++) {
      int64_t named;
      const LzEntry *e = of_bottle(m, lz_model_naming_bottles(m, kinds[k])->pdata[i], &named);
      if (!e || named != id || e->at >= until)
        continue;
      double ml = moved_ml(e, strength);
      ml = isfinite(ml) ? ml : 0;
      sums[k] += ml;
      if (e->at >= from)
        add(&use, e, ml);
    }
  use.left_ml = left_of(m, id, sums);
  return use;
}

// --- sums that go on

#define NOTHING_ML 0.05 // as a syringe shows it

static void
forget(LzMedicineSums *sums, const LzModel *m)
{
  g_hash_table_remove_all(sums->of_bottle);
  sums->rebuilds = m->rebuilds;
  sums->latest = LZQ_LONG_AGO;
  for (gsize k = 0; k < N_KINDS; k++) {
    sums->seen[k] = 0;
    g_clear_pointer(&sums->last[k], lz_entry_unref);
  }
}

// Whether everything entered since only adds to what was counted.
static gboolean
goes_on(const LzMedicineSums *sums, const LzModel *m)
{
  gboolean same = sums->rebuilds == m->rebuilds;
  for (gsize k = 0; same && k < N_KINDS; k++) {
    const GPtrArray *all = lz_model_naming_bottles(m, kinds[k]);
    const guint seen = sums->seen[k];
    same = seen <= all->len && (seen == 0 || all->pdata[seen - 1] == sums->last[k]);
    for (guint i = seen; same && seen && i < all->len; i++)
      same = ((const LzEntry *)all->pdata[i])->corrects == 0;
  }
  return same;
}

static void
count(LzMedicineSums *sums, const LzModel *m, gsize k, LzEntry *first)
{
  int64_t id;
  const LzEntry *e = of_bottle(m, first, &id);
  if (!e)
    return;
  Sum *sum = g_hash_table_lookup(sums->of_bottle, &id);
  if (!sum) {
    sum = g_new0(Sum, 1);
    sum->bottle = id;
    g_hash_table_insert(sums->of_bottle, &sum->bottle, sum);
  }
  const double ml = moved_ml(e, strength_of(m, id));
  sum->ml[k] += isfinite(ml) ? ml : 0;
  sums->latest = MAX(sums->latest, e->at);
}

static void
follow(LzMedicineSums *sums, const LzModel *m)
{
  if (!goes_on(sums, m))
    forget(sums, m);
  for (gsize k = 0; k < N_KINDS; k++) {
    const GPtrArray *all = lz_model_naming_bottles(m, kinds[k]);
    for (; sums->seen[k] < all->len; sums->seen[k]++)
      count(sums, m, k, all->pdata[sums->seen[k]]);
    LzEntry *last = all->len ? lz_entry_ref(all->pdata[all->len - 1]) : NULL;
    g_clear_pointer(&sums->last[k], lz_entry_unref);
    sums->last[k] = last;
  }
}

double
lz_medicine_left(LzDesk *desk, int64_t bottle, lzq_minute until)
{
  static const double none[N_KINDS] = {0};
  LzMedicineSums *sums = desk->medicine;
  g_return_val_if_fail(lz_model_entity(desk->model, bottle) != NULL, NAN);
  follow(sums, desk->model);
  if (sums->latest >= until) // entered ahead of its time
    return lz_desk_medicine_use(desk, bottle, 0, until).left_ml;
  const Sum *sum = g_hash_table_lookup(sums->of_bottle, &bottle);
  return left_of(desk->model, bottle, sum ? sum->ml : none);
}

void
lz_medicine_mark_spent(LzDesk *desk, lzq_minute at)
{
  const LzModel *m = desk->model;
  for (guint i = 0; i < m->bottles->len; i++) {
    const LzEntity *bottle = lz_model_entity_at(m, LZS_BOTTLE, i);
    g_array_index(m->bottles, lzq_bottle, i).spent =
        bottle && lz_medicine_left(desk, bottle->id, at + 1) < NOTHING_ML;
  }
}

LzMedicineSums *
lz_medicine_sums_new(void)
{
  LzMedicineSums *sums = g_new0(LzMedicineSums, 1);
  sums->of_bottle = g_hash_table_new_full(g_int64_hash, g_int64_equal, NULL, g_free);
  sums->latest = LZQ_LONG_AGO;
  return sums;
}

void
lz_medicine_sums_free(LzMedicineSums *sums)
{
  for (gsize k = 0; k < N_KINDS; k++)
    g_clear_pointer(&sums->last[k], lz_entry_unref);
  g_hash_table_unref(sums->of_bottle);
  g_free(sums);
}
