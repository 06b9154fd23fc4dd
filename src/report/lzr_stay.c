// SPDX-License-Identifier: GPL-3.0-or-later
// A lot begins at its receipt or split, goes where moves take it, and ends by release, merge or
// death.
#include "lzr_stay.h"

#include <lz_chart_data.h>
#include <string.h>

LzEntry *
lzr_origin(LzrBuild *build, uint32_t lot)
{
  return lz_desk_entity(build->desk, "lot", lz_desk_id(build->desk, "lot", lot));
}

LzEntry *
lzr_receipt(LzrBuild *build, uint32_t lot)
{
  LzEntry *origin = lzr_origin(build, lot);
  for (int depth = 0; origin && depth < 64 && strcmp(lz_entry_kind(origin), "split") == 0; depth++)
    origin = lz_desk_entity(build->desk, "lot", lz_entry_int(origin, "lot"));
  return origin;
}

// A part begins where its parent stands, and is in its own tank in the same minute: that is no
// stay.
GArray *
lzr_stays(LzrBuild *build, uint32_t lot)
{
  GArray *stays = g_array_new(FALSE, TRUE, sizeof(LzrStay));
  g_autoptr(GArray) all = lz_lot_stays(build->desk, lot);
  for (guint i = 0; i < all->len; i++) {
    const LzLotStay *one = &g_array_index(all, LzLotStay, i);
    const LzrStay stay = {one->system, one->tank, lot, one->from, one->to};
    if (one->from < one->to || i + 1 == all->len)
      g_array_append_val(stays, stay);
  }
  return stays;
}

gboolean
lzr_stood_in(const GArray *stays, uint32_t system, lzq_minute at)
{
  for (guint i = 0; i < stays->len; i++) {
    const LzrStay *stay = &g_array_index(stays, LzrStay, i);
    if (stay->system == system && at >= stay->from && (at < stay->to || at == stay->from))
      return TRUE;
  }
  return FALSE;
}

gboolean
lzr_lot_has(LzrBuild *build, uint32_t lot, const GArray *stays, LzEntry *fact)
{
  if (!lz_entry_has(fact, "lot")) {
    uint32_t system = lzr_index(build, fact, "system", "system");
    return system != LZQ_NONE && lzr_stood_in(stays, system, lz_entry_at(fact));
  }
  return lzr_index(build, fact, "lot", "lot") == lot ||
         (strcmp(lz_entry_kind(fact), "merge") == 0 &&
          lzr_index(build, fact, "into", "lot") == lot);
}

GPtrArray *
lzr_lot_facts(LzrBuild *build, uint32_t lot, const GArray *stays, const char *kind)
{
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  lzq_minute from = stays->len ? g_array_index(stays, LzrStay, 0).from : 0;
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, kind, from, lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < facts->len; i++)
    if (lzr_lot_has(build, lot, stays, facts->pdata[i]))
      g_ptr_array_add(out, lz_entry_ref(facts->pdata[i]));
  return out;
}
