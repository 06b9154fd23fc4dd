// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_people.h"

#include "lz_lookup.h"

#define IDLE_MIN 3 // where the station says nothing

const LzPersonInfo *
lz_people_find(LzDesk *desk, const char *initials)
{
  GListModel *people = lz_desk_people(desk);
  g_autofree char *wanted = g_utf8_casefold(initials, -1);
  for (guint i = 0; i < g_list_model_get_n_items(people); i++) {
    g_autoptr(LzPersonRow) row = g_list_model_get_item(people, i); // the model keeps it alive
    const LzPersonInfo *info = lz_person_row_info(row);
    g_autofree char *has = g_utf8_casefold(info->initials, -1);
    if (info->active && *has && g_strcmp0(has, wanted) == 0)
      return info;
  }
  return NULL;
}

gboolean
lz_people_ask_pins(LzDesk *desk)
{
  LzEntry *station = lz_lookup_station(desk);
  return station && lz_entry_int(station, "pins") == 1;
}

int
lz_people_idle_min(LzDesk *desk)
{
  LzEntry *station = lz_lookup_station(desk);
  return station && lz_entry_has(station, "idle_min") ? (int)lz_entry_int(station, "idle_min")
                                                      : IDLE_MIN;
}
