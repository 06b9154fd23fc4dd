// SPDX-License-Identifier: GPL-3.0-or-later
// Durations and local times for people, ISO 8601 for machines.
#include <glib/gi18n-lib.h>

#include "lz_format.h"

#define DASH "\xe2\x80\x93"

static void
append_part(GString *out, const char *format, int64_t value)
{
  if (out->len)
    g_string_append_c(out, ' ');
  g_string_append_printf(out, format, (int)value);
}

char *
lz_format_duration(int64_t minutes)
{
  if (minutes < 0) {
    g_autofree char *rest = lz_format_duration(-minutes);
    return g_strconcat("\xe2\x88\x92", rest, NULL);
  }
  int64_t d = minutes / LZQ_DAY, h = minutes / 60 % 24, m = minutes % 60;
  GString *out = g_string_new(NULL);
  if (d)
    append_part(out, _("%d d"), d);
  if (h)
    append_part(out, _("%d h"), h);
  if (m || out->len == 0)
    append_part(out, _("%d min"), m);
  return g_string_free(out, FALSE);
}

static gboolean
is_time(lzq_minute at)
{
  return at != LZQ_NEVER && at != LZQ_LONG_AGO && at > -100000000 && at < 300000000;
}

const char *
lz_format_weekday(int weekday)
{
  static const char *const names[] = {N_("Mon"), N_("Tue"), N_("Wed"), N_("Thu"),
                                      N_("Fri"), N_("Sat"), N_("Sun")};
  return _(names[CLAMP(weekday, 1, 7) - 1]);
}

const char *
lz_format_month(int month)
{
  static const char *const names[] = {
      N_("Jan"), N_("Feb"), N_("Mar"), N_("Apr"), NC_("short month", "May"),
      N_("Jun"), N_("Jul"), N_("Aug"), N_("Sep"), N_("Oct"),
      N_("Nov"), N_("Dec")};
  return month == 5 ? C_("short month", "May") : _(names[CLAMP(month, 1, 12) - 1]);
}

char *
lz_format_date(LzZone *zone, lzq_minute at)
{
  if (!is_time(at))
    return g_strdup(DASH);
  LzLocal l = lz_zone_local(zone, at);
  // Translators: weekday, day, month, as in "Thu 18 Mar"
  return g_strdup_printf(_("%1$s %2$d %3$s"), lz_format_weekday(l.weekday), l.day,
                         lz_format_month(l.month));
}

char *
lz_format_clock(LzZone *zone, lzq_minute at)
{
  if (!is_time(at))
    return g_strdup(DASH);
  LzLocal l = lz_zone_local(zone, at);
  return g_strdup_printf("%02d:%02d", l.hour, l.minute);
}

char *
lz_format_time(LzZone *zone, lzq_minute at)
{
  if (!is_time(at))
    return g_strdup(DASH);
  g_autofree char *date = lz_format_date(zone, at);
  g_autofree char *clock = lz_format_clock(zone, at);
  // Translators: date and clock, as in "Thu 18 Mar 22:59"
  return g_strdup_printf(_("%1$s %2$s"), date, clock);
}

char *
lz_format_when(LzZone *zone, lzq_minute at, lzq_minute now)
{
  if (!is_time(at))
    return g_strdup(DASH);
  int32_t ahead = lz_zone_day(zone, at) - lz_zone_day(zone, now);
  g_autofree char *clock = lz_format_clock(zone, at);
  if (ahead == 0)
    return g_strdup_printf(_("today %s"), clock);
  if (ahead == 1)
    return g_strdup_printf(_("tomorrow %s"), clock);
  if (ahead == -1)
    return g_strdup_printf(_("yesterday %s"), clock);
  return lz_format_time(zone, at);
}

char *
lz_format_stamp(LzZone *zone, lzq_minute at)
{
  if (at == LZQ_NEVER || at == LZQ_LONG_AGO)
    return g_strdup("–");
  LzLocal l = lz_zone_local(zone, at);
  return g_strdup_printf("%04d-%02d-%02d %02d:%02d", l.year, l.month, l.day, l.hour, l.minute);
}

char *
lz_format_full(LzZone *zone, lzq_minute at)
{
  if (!is_time(at))
    return g_strdup(DASH);
  LzLocal l = lz_zone_local(zone, at);
  return g_strdup_printf("%04d-%02d-%02d %02d:%02d %c%02d:%02d", l.year, l.month, l.day, l.hour,
                         l.minute, l.offset_min < 0 ? '-' : '+', ABS(l.offset_min) / 60,
                         ABS(l.offset_min) % 60);
}

char *
lz_format_iso(lzq_minute at)
{
  if (!is_time(at))
    return g_strdup("");
  g_autoptr(GDateTime) time = g_date_time_new_from_unix_utc(at * 60);
  return g_date_time_format(time, "%Y-%m-%dT%H:%MZ");
}
