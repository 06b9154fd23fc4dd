// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_lookup.h"

#include <glib/gi18n.h>
#include <math.h>

unsigned
lz_water_bits(const LzSystemInfo *system)
{
  return (system->copper_in ? LZD_WATER_COPPER : 0u) | (system->salt_low ? LZD_WATER_LOW_SALT : 0u);
}

unsigned
lz_lookup_water(LzDesk *desk, uint32_t system)
{
  const LzSystemInfo *info = lz_desk_system_info(desk, system);
  return info ? lz_water_bits(info) : 0;
}

static const struct {
  lzd_mark sign;
  const char *word;
} marks[] = {
    [LZ_MARK_NONE] = {LZD_MARK_NONE, ""},
    [LZ_MARK_IN_BAND] = {LZD_BAND_IN, N_("in band")},
    [LZ_MARK_EDGE] = {LZD_BAND_EDGE_LOW, N_("at the edge")},
    [LZ_MARK_HIGH] = {LZD_BAND_HIGH, N_("high")},
    [LZ_MARK_LOW] = {LZD_BAND_LOW, N_("low")},
    [LZ_MARK_OLD] = {LZD_BAND_OLD, N_("old")},
    [LZ_MARK_UNREAD] = {LZD_BAND_UNKNOWN, N_("never read")},
    [LZ_MARK_HARM] = {LZD_BAND_HIGH, N_("harms: change water")},
    [LZ_MARK_DOUBT] = {LZD_BAND_HIGH, N_("may harm: test again at once")},
};

lzd_mark
lz_band_sign(LzMark mark)
{
  return (size_t)mark < G_N_ELEMENTS(marks) ? marks[mark].sign : LZD_MARK_NONE;
}

const char *
lz_band_word(LzMark mark)
{
  if ((size_t)mark >= G_N_ELEMENTS(marks) || !*marks[mark].word)
    return "";
  return _(marks[mark].word);
}

lzd_mark
lz_band_sign_at(LzMark mark, const lzq_band *band, double level)
{
  if ((mark == LZ_MARK_HARM || mark == LZ_MARK_DOUBT) && band->side == LZQ_AT_OR_BELOW)
    return LZD_BAND_LOW; // salinity harms where it is too low
  if (mark != LZ_MARK_EDGE)
    return lz_band_sign(mark);
  double upper = band->side == LZQ_BETWEEN       ? band->works_high
                 : band->side == LZQ_AT_OR_BELOW ? band->works
                                                 : band->plan;
  return isfinite(upper) && fabs(level - upper) < fabs(level - band->works) + LZQ_EDGE
             ? LZD_BAND_EDGE_HIGH
             : LZD_BAND_EDGE_LOW;
}

const char *
lz_lookup_first_tank(LzDesk *desk, const char *system)
{
  GListModel *tanks = lz_desk_tanks(desk);
  uint32_t index = lz_desk_index(desk, "system", lz_desk_find(desk, "system", system));
  for (guint i = 0; i < g_list_model_get_n_items(tanks); i++) {
    g_autoptr(LzTankRow) row = g_list_model_get_item(tanks, i);
    if (lz_tank_row_info(row)->system == index)
      return lz_tank_row_info(row)->name;
  }
  return NULL;
}

LzEntry *
lz_lookup_station(LzDesk *desk)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, "station");
  return ids && ids->len ? lz_desk_entity(desk, "station", g_array_index(ids, int64_t, 0)) : NULL;
}
