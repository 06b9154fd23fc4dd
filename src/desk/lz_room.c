// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_room.h. Weight that is not known is never taken for none: the line says of how many.
#include "lz_room.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_desk_private.h"
#include "lz_format.h"
#include "lz_place.h"
#include "lz_rows.h"

#define SHOWN_G_PER_L 0.005 // less than this over a limit would be said to be over by 0

static gboolean
is_dense(double density, double most)
{
  return density - most >= SHOWN_G_PER_L;
}

LzCrowd
lz_room_now(LzDesk *desk, uint32_t system)
{
  LzModel *m = desk->model;
  LzCrowd crowd = {0};
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    LzPlace place = lz_place_of(m, lot, desk->now);
    double mass = g_array_index(m->lots, lzq_lot, lot).mean_mass_g;
    if (place.system != system || !lz_place_lives(&place))
      continue;
    crowd.heads += place.heads;
    if (!(mass > 0))
      continue;
    crowd.weighed += place.heads;
    crowd.grams += place.heads * mass;
  }
  return crowd;
}

static char *
heads_words(int heads, int most)
{
  if (heads <= most)
    // Translators: fish that there would be; fish that the system may hold
    return g_strdup_printf(_("Fits: %1$d of at most %2$d fish."), heads, most);
  return g_strdup_printf(ngettext("Over by %1$d fish: %2$d, at most %3$d.",
                                  "Over by %1$d fish: %2$d, at most %3$d.",
                                  (unsigned long)(heads - most)),
                         heads - most, heads, most);
}

static char *
grams_words(const LzCrowd *all, double volume_l, double most)
{
  double density = all->grams / volume_l;
  int unknown = all->heads - all->weighed;
  g_autofree char *is = lz_format_short(density, 2), *may = lz_format_short(most, 2);
  g_autofree char *over = lz_format_short(density - most, 2);
  if (is_dense(density, most))
    return g_strdup_printf(_("Over by %1$s g per litre: %2$s, at most %3$s."), over, is, may);
  if (unknown == 0)
    return g_strdup_printf(_("Fits: %1$s of at most %2$s g per litre."), is, may);
  return g_strdup_printf(
      ngettext("At least %1$s of at most %2$s g per litre: the weight of %3$d fish is not known.",
               "At least %1$s of at most %2$s g per litre: the weight of %3$d fish is not known.",
               (unsigned long)unknown),
      is, may, unknown);
}

char *
lz_room_words(LzDesk *desk, uint32_t system, const LzCrowd *coming, gboolean *over)
{
  const LzSystemInfo *info = lz_desk_system_info(desk, system);
  LzEntry *entry = info ? lz_desk_entity(desk, "system", info->id) : NULL;
  GString *words = g_string_new(NULL);
  LzCrowd all = lz_room_now(desk, system);
  if (over)
    *over = FALSE;
  if (!entry)
    return g_string_free(words, FALSE);
  double heads = lz_entry_number(entry, "max_heads");
  double grams = lz_entry_number(entry, "max_g_per_l");
  if (coming) {
    all.heads += coming->heads;
    all.weighed += coming->weighed;
    all.grams += coming->grams;
  }
  if (heads > 0) {
    g_autofree char *text = heads_words(all.heads, (int)heads);
    g_string_append(words, text);
  }
  if (grams > 0 && info->volume_l > 0) {
    g_autofree char *text = grams_words(&all, info->volume_l, grams);
    g_string_append_printf(words, "%s%s", words->len ? "\n" : "", text);
  }
  if (over)
    *over = all.heads > heads || is_dense(all.grams / info->volume_l, grams);
  return g_string_free(words, FALSE);
}
