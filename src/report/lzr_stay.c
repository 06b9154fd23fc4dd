// SPDX-License-Identifier: GPL-3.0-or-later
// A lot begins at its receipt or split, goes where moves take it, and ends by release, merge or
// death.
#include "lzr_stay.h"

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

static void
stand_from(LzrBuild *build, GArray *stays, uint32_t lot, uint32_t tank, lzq_minute at)
{
  const lzq_snapshot *snapshot = lz_desk_snapshot(build->desk);
  if (stays->len)
    g_array_index(stays, LzrStay, stays->len - 1).to = at;
  if (tank == LZQ_NONE || tank >= snapshot->n_tanks)
    return;
  LzrStay stay = {.system = snapshot->tanks[tank].system,
                  .tank = tank,
                  .lot = lot,
                  .from = at,
                  .to = LZQ_NEVER};
  g_array_append_val(stays, stay);
}

// Where a lot split off begins: the tank that the split names, else where the other lot stood.
static uint32_t
first_tank(LzrBuild *build, LzEntry *origin)
{
  if (lz_entry_has(origin, "tank"))
    return lzr_index(build, origin, "tank", "tank");
  if (strcmp(lz_entry_kind(origin), "split") != 0)
    return LZQ_NONE;
  uint32_t tank = LZQ_NONE;
  g_autoptr(GArray) other = lzr_stays(build, lzr_index(build, origin, "lot", "lot"));
  for (guint i = 0; i < other->len; i++)
    if (g_array_index(other, LzrStay, i).from <= lz_entry_at(origin))
      tank = g_array_index(other, LzrStay, i).tank;
  return tank;
}

// When the lot ends here: released or merged, or LZQ_NEVER.
static lzq_minute
end_of(LzrBuild *build, uint32_t lot)
{
  static const char *const ends[] = {"release", "merge"};
  lzq_minute end = LZQ_NEVER;
  for (guint k = 0; k < G_N_ELEMENTS(ends); k++) {
    g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, ends[k], 0, LZQ_NEVER);
    for (guint i = 0; i < facts->len; i++)
      if (lzr_index(build, facts->pdata[i], "lot", "lot") == lot)
        end = MIN(end, lz_entry_at(facts->pdata[i]));
  }
  return end <= lz_desk_now(build->desk) ? end : LZQ_NEVER;
}

GArray *
lzr_stays(LzrBuild *build, uint32_t lot)
{
  GArray *stays = g_array_new(FALSE, TRUE, sizeof(LzrStay));
  LzEntry *origin = lzr_origin(build, lot);
  if (!origin)
    return stays;
  lzq_minute end = end_of(build, lot);
  stand_from(build, stays, lot, first_tank(build, origin), lz_entry_at(origin));
  g_autoptr(GPtrArray) moves =
      lz_desk_facts(build->desk, "move", lz_entry_at(origin), lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < moves->len; i++)
    if (lzr_index(build, moves->pdata[i], "lot", "lot") == lot &&
        lz_entry_at(moves->pdata[i]) <= end)
      stand_from(build, stays, lot, lzr_index(build, moves->pdata[i], "tank", "tank"),
                 lz_entry_at(moves->pdata[i]));
  if (end != LZQ_NEVER)
    stand_from(build, stays, lot, LZQ_NONE, end);
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
