// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE water: what each water holds now by the estimator, with its limits (80 %),
// its band and when that is left, and the dose that is due. `carried` is the exact mass balance
// from the last reading, with no loss assumed.
#include "lzc.h"
#include "lzc_machine.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <lz_dose_now.h>
#include <lz_estimate.h>
#include <lz_format.h>
#include <lz_other_water.h>
#include <lz_rows.h>
#include <lz_words.h>

static const char *const columns[] = {
    "system",        "analyte",       "estimate",       "low",
    "high",          "unit",          "read_at",        "band_low",
    "band_high",     "plan",          "harm",           "leaves_low",
    "leaves_likely", "leaves_high",   "dose_amount",    "dose_unit",
    "bottle",        "state",         "volume_l",       "carried",
    "loss_per_h",    "beyond_now",    "next_test",      "volume_learnt_l",
    "because",       "top_up_at",     "top_up_amount",  "top_up_unit",
    "fixed_test",    "rounds_spared", "chance_at_test", "chance_at_fixed",
    "dose_because",  "new_water_l"};
// of waters that nobody doses
static const char *const concerns[] = {[LZ_CONCERN_UNKNOWN] = "unknown",
                                       [LZ_CONCERN_NONE] = "good",
                                       [LZ_CONCERN_WATCH] = "watch",
                                       [LZ_CONCERN_ACT] = "act"};
static const char *const marks[] = {
    [LZ_MARK_NONE] = "no_band",  [LZ_MARK_IN_BAND] = "in_band", [LZ_MARK_EDGE] = "at_edge",
    [LZ_MARK_HIGH] = "high",     [LZ_MARK_LOW] = "low",         [LZ_MARK_OLD] = "old",
    [LZ_MARK_UNREAD] = "unread", [LZ_MARK_HARM] = "harm",       [LZ_MARK_DOUBT] = "harm"};

// One water's analyte: copper and salinity with the band and mark of their row.
typedef struct {
  LzDesk *desk;
  const LzSystemInfo *system;
  lzq_analyte analyte;
  gboolean has_band;
  lzq_band band;
  LzEstimate estimate;
  LzDoseNow dose; // cleared by put_analyte
} Line;

static Line
line_of(LzDesk *desk, const lzq_plan *at_once, const LzSystemInfo *s, lzq_analyte analyte)
{
  Line line = {.desk = desk, .system = s, .analyte = analyte};
  if (analyte <= LZQ_SALINITY) {
    line.has_band = s->has_band[analyte] && !lzq_plan_torn(lz_desk_plan(desk), s->index, analyte);
    line.band = s->band[analyte];
  }
  lz_desk_estimate(desk, s->index, analyte, lz_desk_now(desk), &line.estimate);
  lz_desk_dose_now(desk, at_once, s->index, analyte, &line.dose);
  return line;
}

// Copper and salinity always; what else an estimator models once something is known of it, and what
// else the lots there ask for.
static gboolean
is_shown(const Line *line)
{
  return line->analyte <= LZQ_SALINITY || line->estimate.known || line->dose.asked;
}

static double
edge(const Line *line, gboolean upper)
{
  const lzq_band *b = &line->band;
  if (!line->has_band)
    return NAN;
  if (b->side == LZQ_BETWEEN)
    return upper ? b->works_high : b->works;
  return (b->side == LZQ_AT_OR_BELOW) == upper ? b->works : b->plan;
}

static double
carried(const Line *line)
{
  if (line->analyte <= LZQ_SALINITY)
    return line->system->level[line->analyte];
  return line->analyte == LZQ_TEMPERATURE ? line->system->temperature : NAN;
}

// What the next test will ask for if it reads as expected, mL of the bottle that is dosed from.
static double
top_up_ml(const Line *line, uint32_t *bottle)
{
  const lzq_snapshot *s = lz_desk_snapshot(line->desk);
  if (line->analyte != LZQ_COPPER || !line->has_band)
    return NAN;
  *bottle = lz_desk_advise_dose(line->desk, line->system->index, LZQ_COPPER, 0).bottle;
  if (*bottle >= s->n_bottles)
    return NAN;
  return line->estimate.top_up_mg / s->bottles[*bottle].strength_mg_ml;
}

// Cells of one row, in the order of the columns.
static void
add_text(GPtrArray *cells, const char *text)
{
  g_ptr_array_add(cells, g_strdup(text));
}

static void
add_number(GPtrArray *cells, double value)
{
  g_ptr_array_add(cells, lzc_number(value));
}

static void
add_minute(GPtrArray *cells, lzq_minute at)
{
  g_ptr_array_add(cells, lz_format_iso(at));
}

static void
add_level(GPtrArray *cells, const Line *line)
{
  const LzEstimate *e = &line->estimate;
  gboolean own = line->analyte <= LZQ_SALINITY;
  add_text(cells, line->system->name);
  add_text(cells, lzc_word_analyte(line->analyte));
  add_number(cells, e->mean);
  add_number(cells, e->low);
  add_number(cells, e->high);
  add_text(cells, lz_words_analyte_unit(line->analyte));
  add_minute(cells, own ? line->system->read_at[line->analyte] : LZQ_NEVER);
  add_number(cells, edge(line, FALSE));
  add_number(cells, edge(line, TRUE));
  add_number(cells, line->has_band ? line->band.plan : NAN);
  add_number(cells, line->has_band ? line->band.harm : NAN);
  add_minute(cells, e->exit_low);
  add_minute(cells, e->exit_likely);
  add_minute(cells, e->exit_high);
}

static void
put_csv(const Line *line)
{
  const LzEstimate *e = &line->estimate;
  const LzSystemInfo *s = line->system;
  const LzDoseNow *dose = &line->dose;
  gboolean own = line->analyte <= LZQ_SALINITY;
  uint32_t bottle = LZQ_NONE;
  double later = top_up_ml(line, &bottle);
  g_autofree char *words = lz_estimate_exit_words(line->desk, e, lz_desk_now(line->desk));
  g_autoptr(GPtrArray) cells = g_ptr_array_new_with_free_func(g_free);
  add_level(cells, line);
  gboolean from_bottle = dose->give && dose->bottle != LZQ_NONE;
  add_number(cells, dose->give ? dose->amount : NAN);
  add_text(cells, dose->give ? lzc_word_unit(dose->unit) : "");
  add_text(cells, from_bottle ? lz_desk_name(line->desk, "bottle", dose->bottle) : "");
  add_text(cells, marks[own ? s->mark[line->analyte] : LZ_MARK_NONE]);
  add_number(cells, s->volume_l);
  add_number(cells, carried(line));
  add_number(cells, e->loss_per_h);
  add_number(cells, e->beyond_now);
  add_minute(cells, e->next_test);
  add_number(cells, e->volume_differs ? e->volume_l : NAN);
  add_text(cells, words ? words : !dose->give && dose->why ? dose->why : "");
  add_minute(cells, isnan(later) ? LZQ_NEVER : e->next_test);
  add_number(cells, later);
  add_text(cells, isnan(later) ? "" : lzc_word_unit(LZQ_UNIT_ML));
  add_minute(cells, e->next_test == LZQ_NEVER ? LZQ_NEVER : e->fixed_test);
  add_number(cells, e->next_test == LZQ_NEVER ? NAN : e->rounds_spared);
  add_number(cells, e->chance_at_test);
  add_number(cells, e->chance_at_fixed);
  add_text(cells, dose->why ? dose->why : "");
  add_number(cells, dose->give && dose->new_water_l > 0 ? dose->new_water_l : NAN);
  g_assert(cells->len == G_N_ELEMENTS(columns));
  lzc_csv((const char *const *)cells->pdata, cells->len);
}

// "0.490 mg/L", "21.4".
static char *
level_text(lzq_analyte analyte, double value)
{
  g_autofree char *level = lz_format_level(analyte, value);
  const char *unit = lz_words_analyte_unit(analyte);
  return g_strdup_printf("%s%s%s", level, *unit ? " " : "", unit);
}

static void
put_estimate(const Line *line)
{
  const LzEstimate *e = &line->estimate;
  if (!e->known)
    return;
  g_autofree char *mean = level_text(line->analyte, e->mean);
  g_autofree char *low = lz_format_level(line->analyte, e->low);
  g_autofree char *high = lz_format_level(line->analyte, e->high);
  printf(_("    now about %s, %s to %s (8 in 10)\n"), mean, low, high);
  g_autofree char *leaves = lz_estimate_exit_words(line->desk, e, lz_desk_now(line->desk));
  g_autofree char *volume = lz_estimate_volume_words(line->desk, line->system->index, e);
  if (leaves)
    printf("    %s\n", leaves);
  if (volume)
    printf("    %s\n", volume);
}

static void
put_level(const Line *line)
{
  const LzSystemInfo *s = line->system;
  const char *name = lz_words_analyte(line->analyte);
  if (line->analyte > LZQ_SALINITY) {
    printf("  %s\n", name);
  } else if (s->read_at[line->analyte] == LZQ_LONG_AGO) {
    printf(_("  %s: never read\n"), name);
  } else {
    g_autofree char *level = level_text(line->analyte, s->level[line->analyte]);
    g_autofree char *read = lz_format_full(lz_desk_zone(line->desk), s->read_at[line->analyte]);
    g_autofree char *was = level_text(line->analyte, s->read[line->analyte]);
    const char *mark = marks[s->mark[line->analyte]];
    if (g_str_equal(level, was))
      printf(_("  %s %s, read %s, %s\n"), name, level, read, mark);
    else // something was done since: what was read, and what is there now
      printf(_("  %1$s %2$s now, estimated; %3$s was read %4$s, %5$s\n"), name, level, was, read,
             mark);
  }
  put_estimate(line);
}

static void
put_dose(const Line *line)
{
  uint32_t bottle = LZQ_NONE;
  double later = top_up_ml(line, &bottle);
  g_autofree char *words = lz_dose_now_words(line->desk, line->analyte, &line->dose);
  if (words)
    printf("    %s\n", words);
  if (line->dose.give && line->dose.why)
    printf("      %s\n", line->dose.why);
  if (isnan(later))
    return;
  g_autofree char *ml = lz_format_amount(later, LZQ_UNIT_ML);
  g_autofree char *expected = lz_format_level(LZQ_COPPER, line->estimate.expected);
  g_autofree char *when =
      lz_format_when(lz_desk_zone(line->desk), line->estimate.next_test, lz_desk_now(line->desk));
  printf(_("    or %1$s, if the test then reads %2$s as expected: %3$s of %4$s\n"), when, expected,
         ml, lz_desk_name(line->desk, "bottle", bottle));
}

static void
put_analyte(const Line *line, gboolean csv)
{
  if (csv) {
    put_csv(line);
    return;
  }
  put_level(line);
  put_dose(line);
}

// A row of a water that nobody doses: the columns that mean something for it.
static void
put_other_csv(const LzSystemInfo *s, const LzOtherWater *item)
{
  g_autofree char *value = lzc_number(item->value), *low = lzc_number(item->low);
  g_autofree char *high = lzc_number(item->high), *read = lz_format_iso(item->read_at);
  g_autofree char *volume = lzc_number(s->volume_l);
  const char *cells[G_N_ELEMENTS(columns)] = {s->name, item->code, value, low,
                                              high,    item->unit, read};
  for (gsize i = 7; i < G_N_ELEMENTS(columns); i++)
    cells[i] = g_str_equal(columns[i], "state")      ? concerns[item->concern]
               : g_str_equal(columns[i], "volume_l") ? volume
               : g_str_equal(columns[i], "because")  ? item->meaning
                                                     : "";
  lzc_csv(cells, G_N_ELEMENTS(columns));
}

static void
put_other_text(const LzOtherWater *item)
{
  g_autofree char *value = lz_format_number(item->value, item->decimals);
  g_autofree char *low = lz_format_number(item->low, item->decimals);
  g_autofree char *high = lz_format_number(item->high, item->decimals);
  const char *gap = *item->unit ? " " : "";
  if (isnan(item->value))
    printf("  %s\n", item->name);
  else if (isnan(item->low))
    printf("  %s %s%s%s\n", item->name, value, gap, item->unit);
  else
    printf(_("  %1$s %2$s%3$s%4$s, %5$s to %6$s by the errors stated\n"), item->name, value, gap,
           item->unit, low, high);
  printf("    %s\n", item->meaning);
}

static void
put_others(LzDesk *desk, const LzSystemInfo *s, gboolean csv)
{
  g_autoptr(GPtrArray) all = lz_desk_other_water(desk, s->index, lz_desk_now(desk));
  for (guint i = 0; i < all->len; i++) {
    if (csv)
      put_other_csv(s, all->pdata[i]);
    else
      put_other_text(all->pdata[i]);
  }
}

static void
put_system(LzDesk *desk, const lzq_plan *at_once, LzSystemRow *row, gboolean csv)
{
  const LzSystemInfo *s = lz_system_row_info(row);
  g_autofree char *volume = lz_format_amount(s->volume_l, LZQ_UNIT_L);
  if (!csv)
    printf("%s, %s, %s. %s\n", s->name, lz_words_role(s->role), volume, lz_row_detail(LZ_ROW(row)));
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    Line line = line_of(desk, at_once, s, (lzq_analyte)a);
    if (is_shown(&line))
      put_analyte(&line, csv);
    lz_dose_now_clear(&line.dose);
  }
  put_others(desk, s, csv);
}

int
lzc_water(const char *path, int argc, char **argv)
{
  g_auto(LzcReading) r = {NULL};
  gboolean shown = FALSE;
  int status = LZC_DONE;
  if (!lzc_reading_begin(&r, path, "water", "", _("Prints what each water holds and needs."),
                         LZC_READS_SYSTEM, &argc, &argv, &status))
    return status;
  LzDesk *desk = r.desk;
  if (r.csv)
    lzc_csv(columns, G_N_ELEMENTS(columns));
  lzq_arena arena;
  const lzq_plan *at_once = lz_desk_plan_at_once(desk, &arena, NULL);
  GListModel *systems = lz_desk_systems(desk);
  for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
    g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
    const LzSystemInfo *info = lz_system_row_info(row);
    if (r.system && strcmp(info->name, r.system) != 0)
      continue;
    shown = TRUE;
    put_system(desk, at_once, row, r.csv);
  }
  lzq_arena_free(&arena);
  if (r.system && !shown)
    return lzc_wrong(_("The station has no system “%s”."), r.system);
  return LZC_DONE;
}
