// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of tanks: who stands in each.
#include <glib/gi18n-lib.h>

#include "lz_format.h"
#include "lz_rows_private.h"

static void
count_fish(LzDesk *desk, LzTankInfo *tanks, guint n)
{
  for (uint32_t i = 0; i < desk->standing->len; i++) {
    const LzStanding *s = lz_rows_standing(desk, i);
    if (s->tank >= n)
      continue;
    LzTankInfo *tank = &tanks[s->tank];
    tank->heads += s->heads;
    tank->lots++;
    if (tank->lot == LZQ_NONE)
      tank->lot = i;
  }
}

static char *
detail_of(LzDesk *desk, const LzTankInfo *tank)
{
  if (tank->lots == 0)
    return g_strdup(_("No fish in it"));
  g_autofree char *heads =
      g_strdup_printf(ngettext("%d fish", "%d fish", (unsigned long)tank->heads), (int)tank->heads);
  if (tank->lots == 1)
    // Translators: number of fish, lot
    return g_strdup_printf(_("%1$s of lot %2$s"), heads, lz_desk_name(desk, "lot", tank->lot));
  return g_strdup_printf(ngettext("%1$s of %2$d lot", "%1$s of %2$d lots", (unsigned)tank->lots),
                         heads, tank->lots);
}

void
lz_rows_tanks(LzDesk *desk)
{
  LzModel *m = desk->model;
  LzRowList *list = desk->lists[LZ_LIST_TANKS];
  guint n = m->by_kind[LZS_TANK]->len;
  g_autofree LzTankInfo *tanks = g_new0(LzTankInfo, n + 1);
  for (uint32_t i = 0; i < n; i++)
    tanks[i].lot = LZQ_NONE;
  count_fish(desk, tanks, n);
  lz_row_list_begin(list);
  for (uint32_t i = 0; i < n; i++) {
    const LzEntity *entity = m->by_kind[LZS_TANK]->pdata[i];
    const lzq_tank *t = &g_array_index(m->tanks, lzq_tank, i);
    GPtrArray *texts = lz_rows_texts();
    char key[24];
    g_snprintf(key, sizeof key, "%" G_GINT64_FORMAT, entity->id);
    tanks[i].index = i;
    tanks[i].id = entity->id;
    tanks[i].system = t->system;
    tanks[i].number = t->number;
    tanks[i].volume_l = t->volume_l;
    tanks[i].name = lz_rows_text(texts, entity->label);
    lz_row_set(lz_row_list_row(list, key), g_strdup(entity->label), detail_of(desk, &tanks[i]),
               &tanks[i], sizeof tanks[i], texts);
  }
  lz_row_list_end(list);
}
