// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE retention: what the station need not keep any longer. It deletes nothing.
#include "lzc.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include <lz_format.h>
#include <lz_retention.h>

static const char *const columns[] = {"what", "name", "last", "entries"};

static void
put(LzDesk *desk, const LzPast *past, gboolean csv)
{
  gboolean lot = past->kind == LZ_PAST_LOT;
  if (csv) {
    g_autofree char *last = lz_format_iso(past->last);
    g_autofree char *entries = g_strdup_printf("%u", past->entries);
    const char *cells[] = {lot ? "lot" : "person", past->name, last, entries};
    lzc_csv(cells, G_N_ELEMENTS(cells));
    return;
  }
  g_autofree char *last = lz_format_stamp(lz_desk_zone(desk), past->last);
  printf(lot ? ngettext("lot %1$s: %2$u entry, the last of %3$s\n",
                        "lot %1$s: %2$u entries, the last of %3$s\n", past->entries)
             : ngettext("%1$s, who no longer works here: %2$u entry, the last of %3$s; the name "
                        "can be erased (record person erase=yes)\n",
                        "%1$s, who no longer works here: %2$u entries, the last of %3$s; the name "
                        "can be erased (record person erase=yes)\n",
                        past->entries),
         past->name, past->entries, last);
}

int
lzc_retention(const char *path, int argc, char **argv)
{
  g_auto(LzcReading) r = {NULL};
  int status = LZC_DONE;
  guint old;
  if (!lzc_reading_begin(&r, path, "retention", "",
                         _("What is past the years for which it must be kept."), LZC_READS_ALL,
                         &argc, &argv, &status))
    return status;
  LzDesk *desk = r.desk;
  g_autoptr(GArray) past = lz_retention_past(desk, &old);
  GError *error = NULL;
  if (!lz_desk_readable(desk, &error))
    return lzc_fail(error);
  g_autofree char *limit = lz_format_stamp(lz_desk_zone(desk), lz_retention_limit(desk));
  int years = lz_retention_years(desk);
  if (r.csv)
    lzc_csv(columns, G_N_ELEMENTS(columns));
  else
    printf(ngettext("Kept for %1$d year, so from %2$.10s on. %3$u of the ledger's entries are "
                    "older; nothing is deleted by itself.\n",
                    "Kept for %1$d years, so from %2$.10s on. %3$u of the ledger's entries are "
                    "older; nothing is deleted by itself.\n",
                    (gulong)years),
           years, limit, old);
  for (guint i = 0; i < past->len; i++)
    put(desk, &g_array_index(past, LzPast, i), r.csv);
  if (!r.csv && !past->len)
    printf("%s\n", _("No lot and no name is past that."));
  return LZC_DONE;
}
