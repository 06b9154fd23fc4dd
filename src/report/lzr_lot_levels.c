// SPDX-License-Identifier: GPL-3.0-or-later
// The levels of a lot's water, a line a day: every reading, and what the estimator holds for the
// hours between two readings.
#include <glib/gi18n-lib.h>
#include <math.h>

#include <lz_chart_data.h>
#include <lz_format.h>
#include <lz_words.h>

#include "lzr_lot.h"

#define FEW_ANALYTES 5 // that fit beside each other with two readings a day

// The estimator's level over the lot's stays, by time.
typedef struct {
  lzq_analyte analyte; // LZQ_N_ANALYTES = none is told
  GArray *points;      // LzChartPoint
} Estimate;

// One analyte of one station day: "07:40 0.492, 17:02 0.501"; suspect ones in brackets.
static const char *
day_levels(LzrBuild *build, const GPtrArray *readings, int32_t day, lzq_analyte analyte)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < readings->len; i++) {
    LzEntry *reading = readings->pdata[i];
    if (lzr_reading_analyte(reading) != analyte ||
        lz_zone_day(lz_desk_zone(build->desk), lz_entry_at(reading)) != day)
      continue;
    gboolean suspect = lz_entry_int(reading, "suspect") != 0;
    g_autofree char *clock = lz_format_clock(lz_desk_zone(build->desk), lz_entry_at(reading));
    g_autofree char *value = lz_format_level(analyte, lz_entry_number(reading, "value"));
    g_string_append_printf(text, "%s%s\u00a0%s%s%s", text->len ? ", " : "", clock,
                           suspect ? "(" : "", value, suspect ? ")" : "");
  }
  return text->len ? lzr_keep(build, g_strdup(text->str)) : "";
}

static gboolean
was_measured(const GPtrArray *readings, lzq_analyte analyte)
{
  for (guint i = 0; i < readings->len; i++)
    if (lzr_reading_analyte(readings->pdata[i]) == analyte)
      return TRUE;
  return FALSE;
}

// Between two doings of one minute: new water that the dose had been mixed into is no dip.
static gboolean
within_a_minute(const GArray *points, guint i)
{
  lzq_minute at = g_array_index(points, LzChartPoint, i).at;
  return i > 0 && i + 1 < points->len && g_array_index(points, LzChartPoint, i - 1).at == at &&
         g_array_index(points, LzChartPoint, i + 1).at == at;
}

static void
add_stay(LzrBuild *build, Estimate *estimate, const LzrStay *stay)
{
  lzq_minute to = MIN(stay->to, lz_desk_now(build->desk));
  if (stay->from >= to)
    return;
  g_autoptr(LzChartData) data =
      lz_chart_data_new(build->desk, stay->system, estimate->analyte, stay->from, to);
  for (guint i = 0; i < data->estimate->len; i++) {
    LzChartPoint point = g_array_index(data->estimate, LzChartPoint, i);
    if (point.at >= stay->from && point.at <= to && isfinite(point.level) &&
        !within_a_minute(data->estimate, i))
      g_array_append_val(estimate->points, point);
  }
}

// Of what the course has a band for: the line of the chart.
static Estimate
estimate_of(LzrBuild *build, const LzrLot *lot)
{
  const lzq_band *band = lzr_lot_band(build, lot);
  Estimate estimate = {.analyte = band ? band->analyte : LZQ_N_ANALYTES,
                       .points = g_array_new(FALSE, FALSE, sizeof(LzChartPoint))};
  for (guint i = 0; band && i < lot->way->len; i++)
    add_stay(build, &estimate, &g_array_index(lot->way, LzrStay, i));
  return estimate;
}

// "0.455 to 0.500": the lowest and the highest of that day.
static const char *
day_estimate(LzrBuild *build, const Estimate *estimate, int32_t day)
{
  double low = INFINITY, high = -INFINITY;
  for (guint i = 0; i < estimate->points->len; i++) {
    const LzChartPoint *point = &g_array_index(estimate->points, LzChartPoint, i);
    if (lz_zone_day(lz_desk_zone(build->desk), point->at) != day)
      continue;
    low = fmin(low, point->level);
    high = fmax(high, point->level);
  }
  if (low > high)
    return "";
  g_autofree char *from = lz_format_level(estimate->analyte, low);
  g_autofree char *to = lz_format_level(estimate->analyte, high);
  return lzr_printf(build, _("%1$s to %2$s"), from, to);
}

static void
level_rows(LzrBuild *build, const GPtrArray *readings, const Estimate *estimate,
           const lzq_analyte *shown, guint n)
{
  LzZone *zone = lz_desk_zone(build->desk);
  int32_t last = lz_zone_day(zone, lz_entry_at(readings->pdata[readings->len - 1]));
  for (int32_t day = lz_zone_day(zone, lz_entry_at(readings->pdata[0])); day <= last; day++) {
    lzd_cell cells[LZQ_N_ANALYTES + 2] = {{.text = lzr_day(build, lz_zone_day_start(zone, day))}};
    gboolean any = FALSE;
    guint at = 1;
    for (guint a = 0; a < n; a++) {
      const char *levels = day_levels(build, readings, day, shown[a]);
      any |= *levels != 0;
      cells[at++].text = levels;
      if (shown[a] == estimate->analyte)
        cells[at++].text = day_estimate(build, estimate, day);
    }
    if (any)
      lzd_sheet_row(build->page, cells, at);
  }
}

// A column for each analyte that was read at all, and one for the estimate behind its own. Copper
// is read twice a day and gets the room for it, as long as the others fit beside it.
static guint
level_columns(LzrBuild *build, lzd_column *columns, const Estimate *estimate,
              const lzq_analyte *shown, guint n)
{
  guint at = 0;
  columns[at++] = (lzd_column){_("day"), 64, LZD_START};
  for (guint i = 0; i < n; i++) {
    const char *unit = lz_words_analyte_unit(shown[i]);
    double width = n > FEW_ANALYTES           ? 0
                   : shown[i] == LZQ_COPPER   ? 126
                   : shown[i] == LZQ_SALINITY ? 0
                                              : 70;
    columns[at++] =
        (lzd_column){lzr_printf(build, "%s%s%s", lz_words_analyte(shown[i]),
                                *unit ? width > 0 && width < 80 ? "\n" : " " : "", unit),
                     width, LZD_START};
    if (shown[i] == estimate->analyte)
      columns[at++] = (lzd_column){_("estimated"), n > FEW_ANALYTES ? 0 : 76, LZD_START};
  }
  return at;
}

// Of the waters that all of the fish were in: what joined later has its own record.
static GPtrArray *
readings_of(LzrBuild *build, const LzrLot *lot)
{
  GPtrArray *all = lzr_family_facts(build, lot, "reading");
  for (guint i = all->len; i-- > 0;)
    if (lzr_lot_part(build, lot, all->pdata[i])->some)
      g_ptr_array_remove_index(all, i);
  return all;
}

void
lzr_lot_levels(LzrBuild *build, const LzrLot *lot)
{
  lzq_analyte shown[LZQ_N_ANALYTES];
  lzd_column columns[LZQ_N_ANALYTES + 2] = {{NULL}};
  guint n = 0;
  g_autoptr(GPtrArray) readings = readings_of(build, lot);
  Estimate estimate = estimate_of(build, lot);
  for (int a = 0; a < LZQ_N_ANALYTES; a++)
    if (was_measured(readings, (lzq_analyte)a))
      shown[n++] = (lzq_analyte)a;
  lzr_heading(build, NULL, _("Levels measured and estimated"),
              _("in brackets: suspect, not used alone; estimated: lowest and highest of the day"));
  if (n) {
    guint wide = level_columns(build, columns, &estimate, shown, n);
    lzr_begin(build);
    lzd_sheet_table(build->page, columns, wide, true);
    level_rows(build, readings, &estimate, shown, n);
    lzd_sheet_end_table(build->page);
  }
  lzr_none(build, _("Nothing was measured."));
  g_array_unref(estimate.points);
}
