// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE water: what each water holds now, its band, and the dose that is due.
#include "lzc.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <lz_format.h>
#include <lz_rows.h>
#include <lz_words.h>

static const char *const columns[] = {
    "system",      "analyte",   "estimate", "low",   "high",       "unit",          "read_at",
    "band_low",    "band_high", "plan",     "harm",  "leaves_low", "leaves_likely", "leaves_high",
    "dose_amount", "dose_unit", "bottle",   "state", "volume_l"};
static const char *const marks[] = {
    [LZ_MARK_NONE] = "no_band",  [LZ_MARK_IN_BAND] = "in_band", [LZ_MARK_EDGE] = "at_edge",
    [LZ_MARK_HIGH] = "high",     [LZ_MARK_LOW] = "low",         [LZ_MARK_OLD] = "old",
    [LZ_MARK_UNREAD] = "unread", [LZ_MARK_HARM] = "harm"};

static double
edge(const LzSystemInfo *s, int a, gboolean upper)
{
  const lzq_band *b = &s->band[a];
  if (!s->has_band[a])
    return NAN;
  if (b->side == LZQ_BETWEEN)
    return upper ? b->works_high : b->works;
  return (b->side == LZQ_AT_OR_BELOW) == upper ? b->works : b->plan;
}

static void
put_csv(LzDesk *desk, const LzSystemInfo *s, int a)
{
  LzDoseAdvice dose =
      a == 0 && s->has_band[0] ? lz_desk_advise_dose(desk, s->index, 0) : (LzDoseAdvice){0};
  gboolean give = dose.possible && dose.ml > 0;
  g_autofree char *level = lz_format_machine(s->level[a]);
  g_autofree char *read = lz_format_iso(s->read_at[a]);
  g_autofree char *low = lz_format_machine(edge(s, a, FALSE));
  g_autofree char *high = lz_format_machine(edge(s, a, TRUE));
  g_autofree char *plan = lz_format_machine(s->has_band[a] ? s->band[a].plan : NAN);
  g_autofree char *harm = lz_format_machine(s->has_band[a] ? s->band[a].harm : NAN);
  g_autofree char *amount = lz_format_machine(give ? dose.ml : NAN);
  g_autofree char *volume = lz_format_machine(s->volume_l);
  const char *cells[] = {s->name,
                         a == 0 ? "copper" : "salinity",
                         level,
                         level,
                         level,
                         a == 0 ? "mg/L" : "",
                         read,
                         low,
                         high,
                         plan,
                         harm,
                         "",
                         "",
                         "",
                         amount,
                         give ? "mL" : "",
                         give ? lz_desk_name(desk, "bottle", dose.bottle) : "",
                         marks[s->mark[a]],
                         volume};
  G_STATIC_ASSERT(G_N_ELEMENTS(cells) == G_N_ELEMENTS(columns));
  lzc_csv(cells, G_N_ELEMENTS(cells));
}

static void
put_text(LzDesk *desk, const LzSystemInfo *s, LzRow *row)
{
  g_autofree char *volume = lz_format_amount(s->volume_l, LZQ_UNIT_L);
  printf("%s, %s, %s. %s\n", s->name, lz_words_role(s->role), volume, lz_row_detail(row));
  for (int a = 0; a < 2; a++) {
    lzq_analyte analyte = a == 0 ? LZQ_COPPER : LZQ_SALINITY;
    g_autofree char *level = lz_format_level(analyte, s->level[a]);
    g_autofree char *read = lz_format_full(lz_desk_zone(desk), s->read_at[a]);
    if (s->read_at[a] == LZQ_LONG_AGO)
      printf(_("  %s: never read\n"), lz_words_analyte(analyte));
    else
      printf(_("  %s %s %s, read %s, %s\n"), lz_words_analyte(analyte), level,
             lz_words_analyte_unit(analyte), read, marks[s->mark[a]]);
  }
  if (!s->has_band[0])
    return;
  LzDoseAdvice dose = lz_desk_advise_dose(desk, s->index, 0);
  if (dose.possible && dose.ml > 0) {
    g_autofree char *ml = lz_format_amount(dose.ml, LZQ_UNIT_ML);
    g_autofree char *after = lz_format_level(LZQ_COPPER, dose.level_after);
    printf(_("  to add now: %s of %s, %s mg/L after it\n"), ml,
           lz_desk_name(desk, "bottle", dose.bottle), after);
  } else if (dose.why) {
    printf("  %s\n", dose.why);
  }
}

int
lzc_water(const char *path, int argc, char **argv)
{
  g_autofree char *at = NULL, *system = NULL, *format = NULL;
  gboolean csv = FALSE, shown = FALSE;
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"at", 0, 0, G_OPTION_ARG_STRING, &at, N_("as of this local time (default: now)"),
       N_("TIME")},
      {"system", 0, 0, G_OPTION_ARG_STRING, &system, N_("this system only"), N_("SYSTEM")},
      {"format", 0, 0, G_OPTION_ARG_STRING, &format, N_("text or csv"), N_("FORMAT")},
      {NULL}};
  if (!lzc_options("water", "", _("Prints what each water holds and needs."), entries, &argc, &argv,
                   &status))
    return status;
  if (argc > 1)
    return lzc_wrong(_("“%s” is not understood. Accepted: options only."), argv[1]);
  if (!lzc_format_is_csv(format, &csv, &status))
    return status;
  g_autoptr(LzDesk) desk = lzc_open_reading(path, at, &status);
  if (!desk)
    return status;
  if (csv)
    lzc_csv(columns, G_N_ELEMENTS(columns));
  GListModel *systems = lz_desk_systems(desk);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    if (system && strcmp(info->name, system) != 0)
      continue;
    shown = TRUE;
    if (csv) {
      put_csv(desk, info, 0);
      put_csv(desk, info, 1);
    } else {
      put_text(desk, info, LZ_ROW(row));
    }
  }
  if (system && !shown)
    return lzc_wrong(_("The station has no system “%s”."), system);
  return LZC_DONE;
}
