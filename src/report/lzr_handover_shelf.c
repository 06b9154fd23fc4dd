// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks 7 and 8 of the handover: what may not be trusted, and what will be missing.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_handover.h"

#define USE_DAYS 14 // what was taken in so many days says how long the rest lasts

static void
instruments(LzrBuild *build)
{
  GListModel *instruments = lz_desk_instruments(build->desk);
  lzr_heading(build, "7", _("Instruments out of check"), NULL);
  for (guint i = 0; i < g_list_model_get_n_items(instruments); i++) {
    g_autoptr(LzInstrumentRow) row = g_list_model_get_item(instruments, i);
    const LzInstrumentInfo *info = lz_instrument_row_info(row);
    if (!info->ever_checked || info->ok)
      continue;
    g_autofree char *at = lz_format_time(lz_desk_zone(build->desk), info->checked_at);
    lzr_line(
        build, LZD_MARK_NONE, lzr_printf(build, "%s:", info->name),
        lzr_printf(build, _("failed %s; its readings since the last good check are suspect."), at));
  }
  lzr_none(build, _("None."));
}

// Days that a bottle lasts as it was used of late; NAN if it was not.
static double
days_left(LzrBuild *build, const LzBottleInfo *info)
{
  lzq_minute now = lz_desk_now(build->desk);
  g_autoptr(GPtrArray) doses =
      lz_desk_facts(build->desk, "dose", now - USE_DAYS * LZQ_DAY, now + 1);
  double used = 0;
  for (guint i = 0; i < doses->len; i++)
    if (lz_entry_int(doses->pdata[i], "bottle") == info->id &&
        lz_entry_has(doses->pdata[i], "amount_ml"))
      used += lz_entry_number(doses->pdata[i], "amount_ml");
  return used > 0 && info->left_ml >= 0 ? info->left_ml * USE_DAYS / used : NAN;
}

static void
bottle_line(LzrBuild *build, const LzBottleInfo *info, gboolean expired)
{
  g_autoptr(GString) words = g_string_new(NULL);
  g_autofree char *left = lz_format_amount(info->left_ml, LZQ_UNIT_ML);
  double days = days_left(build, info);
  if (!isnan(info->left_ml))
    g_string_append_printf(words, _("%s left"), left);
  if (!isnan(days))
    g_string_append_printf(words,
                           ngettext(", for about %d day as it was used of late",
                                    ", for about %d days as it was used of late", (gulong)days),
                           (int)days);
  if (info->expiry && *info->expiry)
    g_string_append_printf(words,
                           expired ? _("%1$sexpired %2$s: do not use") : _("%1$sexpires %2$s"),
                           words->len ? ", " : "", info->expiry);
  lzr_line(build, LZD_MARK_NONE, lzr_printf(build, "%s:", info->name),
           lzr_printf(build, "%s.", words->str));
}

static void
bottles(LzrBuild *build)
{
  GListModel *bottles = lz_desk_bottles(build->desk);
  const char *today = lzr_day(build, lz_desk_now(build->desk));
  lzr_heading(build, "8", _("Stock below reorder"), NULL);
  for (guint i = 0; i < g_list_model_get_n_items(bottles); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(bottles, i);
    const LzBottleInfo *info = lz_bottle_row_info(row);
    gboolean empty = !isnan(info->left_ml) && info->left_ml <= 0;
    gboolean expired = info->expiry && *info->expiry && strcmp(info->expiry, today) < 0 && !empty;
    if (info->low || expired)
      bottle_line(build, info, expired);
  }
  lzr_none(build, _("None."));
}

void
lzr_handover_shelf(LzrBuild *build)
{
  instruments(build);
  bottles(build);
}
