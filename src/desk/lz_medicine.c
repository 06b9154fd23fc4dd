// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_medicine.h.
#include "lz_medicine.h"

#include <math.h>

#include "lz_desk_private.h"

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

LzMedicineUse
lz_desk_medicine_use(LzDesk *desk, int64_t id, lzq_minute from, lzq_minute until)
{
  static const lzs_kind kinds[] = {LZS_STOCK, LZS_DOSE, LZS_BATH, LZS_FEED};
  LzMedicineUse use = {
      .opened_ml = NAN, .left_ml = NAN, .first = LZQ_LONG_AGO, .last = LZQ_LONG_AGO};
  const LzModel *m = desk->model;
  const LzEntity *bottle = lz_model_entity(m, id);
  g_return_val_if_fail(bottle != NULL, use);
  double strength = g_array_index(m->bottles, lzq_bottle, bottle->index).strength_mg_ml;
  use.opened_ml = use.left_ml = lz_entry_number(bottle->now, "volume_ml");
  for (gsize k = 0; k < G_N_ELEMENTS(kinds); k++) {
    const gsize field = (gsize)lzs_kind_field(lzs_kind_get(kinds[k]), "bottle");
    for (guint i = 0; i < m->of_kind[kinds[k]]->len; i++) {
      LzEntry *first = m->of_kind[kinds[k]]->pdata[i];
      const LzEntry *e = first->corrects ? NULL : lz_model_in_force(m, first);
      if (!e || e->at >= until || !lz_entry_is_set(e, field) || e->v[field].i != id)
        continue;
      double ml = moved_ml(e, strength);
      ml = isfinite(ml) ? ml : 0;
      use.left_ml += ml;
      if (e->at >= from)
        add(&use, e, ml);
    }
  }
  return use;
}
