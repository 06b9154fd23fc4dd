// SPDX-License-Identifier: GPL-3.0-or-later
// Ticks fall on local hours, days, first days of the week and firsts of the month, so that a day
// with 23 or 25 hours keeps its midnight.
#include "lz_time_axis.h"

#include <glib/gi18n.h>
#include <lz_format.h>

#include "lz_settings.h"

#define APART 72.0 // pixels between two ticks, at text scale 1
#define MOST  400  // ticks of one axis

char *
lz_time_text(LzZone *zone, lzq_minute at, const char *directives)
{
  LzLocal l = lz_zone_local(zone, at);
  g_autoptr(GDateTime) date = g_date_time_new_utc(l.year, l.month, l.day, l.hour, l.minute, 0);
  if (!date)
    return g_strdup("");
  // strftime's names come with a locale that this machine may not have; the desk's are translated.
  g_autoptr(GString) named = g_string_new(directives);
  g_string_replace(named, "%a", lz_format_weekday(l.weekday), 0);
  g_string_replace(named, "%b", lz_format_month(l.month), 0);
  return g_date_time_format(date, named->str);
}

static void
add(LzTimeAxis *axis, lzq_minute at, char *label, bool strong)
{
  lzd_time_tick tick = {at, label, strong};
  g_ptr_array_add(axis->labels, label);
  g_array_append_val(axis->ticks, tick);
}

static void
fill_hours(LzTimeAxis *axis, LzZone *zone, lzd_window window, int step_min)
{
  int32_t day = lz_zone_day(zone, window.from);
  for (; axis->ticks->len < MOST; day++) {
    lzq_minute start = lz_zone_day_start(zone, day), end = lz_zone_day_start(zone, day + 1);
    if (start >= window.to)
      return;
    for (lzq_minute at = start; at < end; at += step_min) {
      // After a clock change keep to the wall clock's round hours.
      lzq_minute shown = at + lz_zone_offset(zone, start) - lz_zone_offset(zone, at);
      if (shown < window.from || shown > window.to || shown >= end)
        continue;
      add(axis, shown,
          shown == start ? lz_time_text(zone, shown, _("%a %-d %b"))
                         : lz_time_text(zone, shown, "%H:%M"),
          shown == start);
    }
  }
}

static void
fill_days(LzTimeAxis *axis, LzZone *zone, lzd_window window, int step, lzq_minute now)
{
  int32_t today = lz_zone_day(zone, now);
  int first = lz_settings_first_day();
  for (int32_t day = lz_zone_day(zone, window.from); axis->ticks->len < MOST; day++) {
    lzq_minute at = lz_zone_day_start(zone, day);
    if (at > window.to)
      return;
    LzLocal local = lz_zone_local(zone, at);
    bool wanted = step == 1 || (step == 2 && day % 2 == 0) || (step == 7 && local.weekday == first);
    if (!wanted)
      continue;
    // Translators: strftime directives of a day under a chart: "Mon 1".
    add(axis, at, lz_time_text(zone, at, step == 7 ? _("%a %-d %b") : _("%a %-d")), day == today);
  }
}

static void
fill_months(LzTimeAxis *axis, LzZone *zone, lzd_window window, int step)
{
  for (int32_t day = lz_zone_day(zone, window.from); axis->ticks->len < MOST; day++) {
    lzq_minute at = lz_zone_day_start(zone, day);
    if (at > window.to)
      return;
    LzLocal local = lz_zone_local(zone, at);
    if (local.day == 1 && (local.month - 1) % step == 0)
      add(axis, at, step == 12 ? lz_time_text(zone, at, "%Y") : lz_time_text(zone, at, _("%b %Y")),
          local.month == 1);
  }
}

void
lz_time_axis_fill(LzTimeAxis *axis, LzZone *zone, lzd_window window, double pixels, double scale,
                  lzq_minute now)
{
  lz_time_axis_clear(axis);
  axis->ticks = g_array_new(FALSE, FALSE, sizeof(lzd_time_tick));
  axis->labels = g_ptr_array_new_with_free_func(g_free);
  lzd_time_step step = lzd_ticks_time(window.to - window.from, pixels, APART * scale);
  axis->label_between = step == LZD_STEP_DAY;
  switch (step) {
  case LZD_STEP_10_MIN:
  case LZD_STEP_HOUR:
  case LZD_STEP_3_HOURS:
  case LZD_STEP_6_HOURS:
  case LZD_STEP_12_HOURS: fill_hours(axis, zone, window, (int)lzd_time_step_length(step)); break;
  case LZD_STEP_DAY: fill_days(axis, zone, window, 1, now); break;
  case LZD_STEP_2_DAYS: fill_days(axis, zone, window, 2, now); break;
  case LZD_STEP_WEEK: fill_days(axis, zone, window, 7, now); break;
  case LZD_STEP_MONTH: fill_months(axis, zone, window, 1); break;
  case LZD_STEP_QUARTER: fill_months(axis, zone, window, 3); break;
  default: fill_months(axis, zone, window, 12);
  }
}

void
lz_time_axis_clear(LzTimeAxis *axis)
{
  g_clear_pointer(&axis->ticks, g_array_unref);
  g_clear_pointer(&axis->labels, g_ptr_array_unref);
}
