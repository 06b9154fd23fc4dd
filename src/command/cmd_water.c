// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE water: what each water holds now, its band, and the dose that is due.
#include "lzc.h"
#include "lzc_machine.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <lz_estimate.h>
#include <lz_format.h>
#include <lz_rows.h>
#include <lz_words.h>

static const char *const columns[] = {
    "system",        "analyte",     "estimate",    "low",       "high",   "unit",
    "read_at",       "band_low",    "band_high",   "plan",      "harm",   "leaves_low",
    "leaves_likely", "leaves_high", "dose_amount", "dose_unit", "bottle", "state",
    "volume_l",      "mean",        "loss_per_h",  "next_test", "because"};
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

static char *
iso(lzq_minute at)
{
  return at == LZQ_NEVER || at == LZQ_LONG_AGO ? g_strdup("") : lz_format_iso(at);
}

static void
put_csv(LzDesk *desk, const LzSystemInfo *s, int a)
{
  LzDoseAdvice dose =
      a == 0 && s->has_band[0] ? lz_desk_advise_dose(desk, s->index, 0) : (LzDoseAdvice){0};
  gboolean give = dose.possible && dose.ml > 0;
  LzEstimate e;
  lzq_analyte analyte = a == 0 ? LZQ_COPPER : LZQ_SALINITY;
  gboolean known = lz_desk_estimate(desk, s->index, analyte, lz_desk_now(desk), &e) && e.known;
  const lzq_band *band = &s->band[a];
  // What the last reading says, carried by exact mass balance; the filter's mean stands beside it.
  g_autofree char *level = lzc_number(s->level[a]);
  g_autofree char *low_80 = lzc_number(known ? e.low : s->level[a]);
  g_autofree char *high_80 = lzc_number(known ? e.high : s->level[a]);
  g_autofree char *read = lz_format_iso(s->read_at[a]);
  g_autofree char *low = lzc_number(edge(s, a, FALSE));
  g_autofree char *high = lzc_number(edge(s, a, TRUE));
  g_autofree char *plan = lzc_number(s->has_band[a] ? band->plan : NAN);
  g_autofree char *harm = lzc_number(s->has_band[a] ? band->harm : NAN);
  g_autofree char *exit_low = iso(known ? e.exit_low : LZQ_NEVER);
  g_autofree char *exit_likely = iso(known ? e.exit_likely : LZQ_NEVER);
  g_autofree char *exit_high = iso(known ? e.exit_high : LZQ_NEVER);
  g_autofree char *amount = lzc_number(give ? dose.ml : NAN);
  g_autofree char *volume = lzc_number(s->volume_l);
  g_autofree char *mean = lzc_number(known ? e.mean : NAN);
  g_autofree char *loss = lzc_number(known ? e.loss_per_h : NAN);
  g_autofree char *test = iso(known ? e.next_test : LZQ_NEVER);
  g_autofree char *words = known ? lz_estimate_exit_words(desk, &e, lz_desk_now(desk)) : NULL;
  const char *why = words ? words : a == 0 && dose.why ? dose.why : "";
  const char *cells[] = {s->name,
                         lzc_word_analyte(analyte),
                         level,
                         low_80,
                         high_80,
                         lz_words_analyte_unit(analyte),
                         read,
                         low,
                         high,
                         plan,
                         harm,
                         exit_low,
                         exit_likely,
                         exit_high,
                         amount,
                         give ? lzc_word_unit(LZQ_UNIT_ML) : "",
                         give ? lz_desk_name(desk, "bottle", dose.bottle) : "",
                         marks[s->mark[a]],
                         volume,
                         mean,
                         loss,
                         test,
                         why};
  G_STATIC_ASSERT(G_N_ELEMENTS(cells) == G_N_ELEMENTS(columns));
  lzc_csv(cells, G_N_ELEMENTS(cells));
}

static void
put_estimate(LzDesk *desk, const LzSystemInfo *s, lzq_analyte analyte)
{
  LzEstimate e;
  if (!lz_desk_estimate(desk, s->index, analyte, lz_desk_now(desk), &e) || !e.known)
    return;
  g_autofree char *low = lz_format_level(analyte, e.low), *high = lz_format_level(analyte, e.high);
  g_autofree char *exit = lz_estimate_exit_words(desk, &e, lz_desk_now(desk));
  g_autofree char *volume = lz_estimate_volume_words(desk, s->index, &e);
  printf(_("    now between %s and %s (80 %%)\n"), low, high);
  if (exit)
    printf("    %s\n", exit);
  if (volume)
    printf("    %s\n", volume);
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
    put_estimate(desk, s, analyte);
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
