// SPDX-License-Identifier: GPL-3.0-or-later
// One water, one month: a row for each day, as the sheet that hangs beside the system. Values, not
// ticks; days to come stay empty for the pen.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_sheet.h"

typedef struct {
  GPtrArray *readings, *doses, *changes;
  lzq_minute from, to; // of the day
  uint32_t system;
} Day;

static gboolean
is_of(LzrBuild *build, const Day *day, LzEntry *entry)
{
  return lz_entry_at(entry) >= day->from && lz_entry_at(entry) < day->to &&
         lzr_index(build, entry, "system", "system") == day->system;
}

// The last reading of the day's half (0 whole, 1 before noon, 2 after).
static const char *
last_reading(LzrBuild *build, const Day *day, lzq_analyte analyte, int half)
{
  for (guint i = day->readings->len; i-- > 0;) {
    LzEntry *reading = day->readings->pdata[i];
    gboolean after = lz_zone_local(lz_desk_zone(build->desk), lz_entry_at(reading)).hour >= 12;
    if (!is_of(build, day, reading) || lzr_reading_analyte(reading) != analyte ||
        (half == 1 && after) || (half == 2 && !after))
      continue;
    g_autofree char *value = lz_format_level(analyte, lz_entry_number(reading, "value"));
    gboolean suspect = lz_entry_int(reading, "suspect") != 0;
    return lzr_printf(build, "%s%s%s", suspect ? "(" : "", value, suspect ? ")" : "");
  }
  return "";
}

static const char *
sum_of(LzrBuild *build, const Day *day, const GPtrArray *facts, const char *field)
{
  double sum = 0;
  for (guint i = 0; i < facts->len; i++)
    if (is_of(build, day, facts->pdata[i]) && lz_entry_has(facts->pdata[i], field))
      sum += lz_entry_number(facts->pdata[i], field);
  return sum > 0 ? lzr_keep(build, lz_format_short(sum, 1)) : "";
}

// Who wrote anything about that water on that day, each once.
static const char *
hands(LzrBuild *build, const Day *day)
{
  const GPtrArray *lists[] = {day->readings, day->doses, day->changes};
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint k = 0; k < G_N_ELEMENTS(lists); k++)
    for (guint i = 0; i < lists[k]->len; i++) {
      const char *initials = lzr_initials(build, lists[k]->pdata[i]);
      if (is_of(build, day, lists[k]->pdata[i]) && !strstr(text->str, initials))
        g_string_append_printf(text, "%s%s", text->len ? " " : "", initials);
    }
  return lzr_keep(build, g_strdup(text->str));
}

static void
day_row(LzrBuild *build, const Day *day, int number)
{
  lzd_cell cells[] = {
      {.text = lzr_printf(build, "%d", number), .bold = true},
      {.text = last_reading(build, day, LZQ_COPPER, 1)},
      {.text = last_reading(build, day, LZQ_COPPER, 2)},
      {.text = last_reading(build, day, LZQ_SALINITY, 0)},
      {.text = last_reading(build, day, LZQ_TEMPERATURE, 0)},
      {.text = last_reading(build, day, LZQ_PH, 0)},
      {.text = last_reading(build, day, LZQ_AMMONIA, 0)},
      {.text = last_reading(build, day, LZQ_NITRITE, 0)},
      {.text = sum_of(build, day, day->doses, "amount_ml"), .bold = true},
      {.text = sum_of(build, day, day->changes, "litres"), .bold = true},
      {.text = hands(build, day)},
  };
  lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
}

static lzq_minute
first_of_month(LzrBuild *build, LzLocal *out)
{
  lzq_minute at = build->options->from ? build->options->from : lz_desk_now(build->desk);
  LzZone *zone = lz_desk_zone(build->desk);
  *out = lz_zone_local(zone, at);
  return lz_zone_day_start(zone, lz_zone_day(zone, at) - (out->day - 1));
}

void
lzr_month(LzrBuild *build)
{
  lzd_column columns[] = {
      {_("day"), 26, LZD_START},     {_("copper am"), 52, LZD_END}, {_("pm"), 44, LZD_END},
      {_("salinity"), 44, LZD_END},  {_("temp. °C"), 46, LZD_END},  {_("pH"), 36, LZD_END},
      {_("ammonia N"), 64, LZD_END}, {_("nitrite N"), 46, LZD_END}, {_("dose mL"), 48, LZD_END},
      {_("change L"), 50, LZD_END},  {_("initials"), 0, LZD_END}};
  LzZone *zone = lz_desk_zone(build->desk);
  LzLocal local;
  lzq_minute first = first_of_month(build, &local), now = lz_desk_now(build->desk);
  const LzSystemInfo *info = lz_desk_system_info(build->desk, build->options->system);
  g_autofree char *litres = lz_format_amount(info ? info->volume_l : NAN, LZQ_UNIT_L);
  Day day = {.system = build->options->system};
  lzr_head(
      build,
      lzr_printf(build, _("%1$s, %2$04d-%3$02d"), info ? info->name : "?", local.year, local.month),
      lzr_printf(build, _("%1$s net, %2$s"), litres, info ? lz_words_role(info->role) : ""));
  lzr_foot(build, _("Last reading of the day or half day; (suspect); sums."));
  int days = g_date_get_days_in_month((GDateMonth)local.month, (GDateYear)local.year);
  int32_t begin = lz_zone_day(zone, first);
  day.readings = lz_desk_facts(build->desk, "reading", first, now + 1);
  day.doses = lz_desk_facts(build->desk, "dose", first, now + 1);
  day.changes = lz_desk_facts(build->desk, "change", first, now + 1);
  lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
  for (int d = 0; d < days; d++) {
    day.from = lz_zone_day_start(zone, begin + d);
    day.to = lz_zone_day_start(zone, begin + d + 1);
    day_row(build, &day, d + 1);
  }
  lzd_sheet_end_table(build->page);
  g_ptr_array_unref(day.readings);
  g_ptr_array_unref(day.doses);
  g_ptr_array_unref(day.changes);
}
