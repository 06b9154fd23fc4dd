// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of contacts: the lots that may have carried a parasite into or out of a water where it was
// seen in the look-back.
#include <glib/gi18n-lib.h>

#include "lz_contacts.h"
#include "lz_rows_private.h"

void
lz_rows_contacts(LzDesk *desk)
{
  LzRowList *list = desk->lists[LZ_LIST_CONTACTS];
  lz_row_list_begin(list);
  g_autoptr(GPtrArray) all =
      desk->plan ? lz_contacts_list(desk, desk->plan->credit) : g_ptr_array_new();
  for (guint i = 0; i < all->len; i++) {
    LzContact *c = all->pdata[i];
    g_autofree char *key = g_strdup_printf("%" G_GINT64_FORMAT ":%u:%d:%u", c->info.sighting,
                                           c->info.lot, (int)c->info.how, c->info.system);
    // Translators: lot, what brought it near the sighting
    char *detail = g_strdup_printf(_("Lot %1$s %2$s"), c->info.code, c->info.what);
    lz_row_set(lz_row_list_row(list, key), g_strdup(c->info.code), detail, &c->info, sizeof c->info,
               g_ptr_array_ref(c->texts));
  }
  lz_row_list_end(list);
}
