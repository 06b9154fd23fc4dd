// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE reach BATCH: every lot that a batch of medicine, or one bottle, reached.
#include "lzc.h"
#include "lzc_machine.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include <lz_format.h>
#include <lz_reach.h>

static const char *const columns[] = {"bottle", "lot", "first", "last", "times", "heads", "mg"};

static void
put(LzDesk *desk, const LzReach *reach, gboolean csv)
{
  const char *bottle = lz_desk_name(desk, "bottle", reach->bottle);
  const char *lot = lz_desk_name(desk, "lot", reach->lot);
  g_autofree char *times = g_strdup_printf("%d", reach->times);
  g_autofree char *heads = g_strdup_printf("%d", reach->heads);
  if (csv) {
    g_autofree char *first = lz_format_iso(reach->first), *last = lz_format_iso(reach->last);
    g_autofree char *mg = lzc_number(reach->mg);
    const char *cells[] = {bottle, lot, first, last, times, heads, mg};
    lzc_csv(cells, G_N_ELEMENTS(cells));
    return;
  }
  g_autofree char *first = lz_format_full(lz_desk_zone(desk), reach->first),
                  *last = lz_format_full(lz_desk_zone(desk), reach->last);
  g_autofree char *mg = lz_format_short(reach->mg, 1);
  // Translators: bottle; lot; fish; times given; first; last; mg
  printf(_("%1$s: lot %2$s, %3$s fish, given %4$s times, %5$s to %6$s, %7$s mg\n"), bottle, lot,
         heads, times, first, last, mg);
}

int
lzc_reach(const char *path, int argc, char **argv)
{
  g_auto(LzcReading) r = {NULL};
  int status = LZC_DONE;
  if (!lzc_reading_begin(&r, path, "reach", "BATCH",
                         _("Every lot that a batch, or one bottle, reached."), LZC_READS_ALL, &argc,
                         &argv, &status))
    return status;
  if (argc != 2)
    return lzc_wrong(_("reach: say one batch, or the number of one bottle"));
  LzDesk *desk = r.desk;
  if (!lz_desk_has_batch(desk, argv[1]))
    return lzc_wrong(_("The station has no batch and no bottle “%s”."), argv[1]);
  g_autoptr(GArray) all = lz_desk_reached(desk, argv[1]);
  if (r.csv)
    lzc_csv(columns, G_N_ELEMENTS(columns));
  for (guint i = 0; i < all->len; i++)
    put(desk, &g_array_index(all, LzReach, i), r.csv);
  if (!r.csv && all->len == 0)
    printf(_("%s reached no fish.\n"), argv[1]);
  return LZC_DONE;
}
