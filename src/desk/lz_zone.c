// SPDX-License-Identifier: GPL-3.0-or-later
// Local time to UTC and back over GTimeZone. The two offsets that a local time may have are found
// by asking the zone at both sides of it: no rule of any zone is known here.
#include "lz_zone.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>

#include "lz_error.h"

struct _LzZone {
  grefcount refs;
  GTimeZone *tz;
  char *name;
};

LzZone *
lz_zone_new(const char *iana_name, GError **error)
{
  g_autoptr(GTimeZone) tz = g_time_zone_new_identifier(iana_name);
  if (!tz) {
    g_set_error(
        error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
        _("zone: “%s” is no time zone here; accepted is an IANA name such as Europe/Berlin"),
        iana_name);
    return NULL;
  }
  LzZone *zone = g_new0(LzZone, 1);
  g_ref_count_init(&zone->refs);
  zone->tz = g_steal_pointer(&tz);
  zone->name = g_strdup(iana_name);
  return zone;
}

LzZone *
lz_zone_ref(LzZone *zone)
{
  g_ref_count_inc(&zone->refs);
  return zone;
}

void
lz_zone_unref(LzZone *zone)
{
  if (!zone || !g_ref_count_dec(&zone->refs))
    return;
  g_time_zone_unref(zone->tz);
  g_free(zone->name);
  g_free(zone);
}

const char *
lz_zone_name(const LzZone *zone)
{
  return zone->name;
}

static int64_t
floor_div(int64_t a, int64_t b)
{
  int64_t q = a / b;
  return q * b > a ? q - 1 : q;
}

// Days since 1970-01-01 of a proleptic Gregorian date, and back (H. Hinnant, "chrono-compatible
// low-level date algorithms", 2013).
static int64_t
days_from_civil(int64_t year, int month, int day)
{
  year -= month <= 2;
  int64_t era = floor_div(year, 400);
  int64_t yoe = year - era * 400;
  int64_t doy = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  int64_t doe = yoe * 365 + yoe / 4 - yoe / 100 + doy;
  return era * 146097 + doe - 719468;
}

static void
civil_from_days(int64_t days, LzLocal *out)
{
  days += 719468;
  int64_t era = floor_div(days, 146097);
  int64_t doe = days - era * 146097;
  int64_t yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
  int64_t doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
  int64_t mp = (5 * doy + 2) / 153;
  out->day = (int)(doy - (153 * mp + 2) / 5 + 1);
  out->month = (int)(mp < 10 ? mp + 3 : mp - 9);
  out->year = (int)(yoe + era * 400 + (out->month <= 2));
}

int
lz_zone_offset(LzZone *zone, lzq_minute at)
{
  int interval = g_time_zone_find_interval(zone->tz, G_TIME_TYPE_UNIVERSAL, at * 60);
  if (interval < 0)
    return 0;
  return (int)floor_div(g_time_zone_get_offset(zone->tz, interval), 60);
}

LzLocal
lz_zone_local(LzZone *zone, lzq_minute at)
{
  LzLocal local = {.offset_min = lz_zone_offset(zone, at)};
  int64_t wall = at + local.offset_min;
  int64_t days = floor_div(wall, LZQ_DAY);
  int of_day = (int)(wall - days * LZQ_DAY);
  civil_from_days(days, &local);
  local.hour = of_day / 60;
  local.minute = of_day % 60;
  local.weekday = (int)(floor_div(days + 3, 7) * -7 + days + 3) + 1; // 1970-01-01 was a Thursday
  return local;
}

static gboolean
local_is_valid(const LzLocal *l)
{
  return l->year >= 1900 && l->year <= 2500 && l->month >= 1 && l->month <= 12 && l->day >= 1 &&
         l->day <= g_date_get_days_in_month((GDateMonth)l->month, (GDateYear)l->year) &&
         l->hour >= 0 && l->hour <= 23 && l->minute >= 0 && l->minute <= 59;
}

static gboolean
refuse_skipped(LzZone *zone, const LzLocal *l, int before, int after, GError **error)
{
  // the clock jumps from the skipped hour's beginning by after - before minutes
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              ngettext("time: %02d:%02d on %04d-%02d-%02d does not exist in %s: the clock goes "
                       "forward by %d minute there; give the time that the clock showed",
                       "time: %02d:%02d on %04d-%02d-%02d does not exist in %s: the clock goes "
                       "forward by %d minutes there; give the time that the clock showed",
                       (unsigned long)(after - before)),
              l->hour, l->minute, l->year, l->month, l->day, zone->name, after - before);
  return FALSE;
}

static gboolean
refuse_ambiguous(LzZone *zone, const LzLocal *l, int first, int second, GError **error)
{
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_AMBIGUOUS_TIME,
              _("time: %02d:%02d on %04d-%02d-%02d occurs twice in %s; say which: %02d:%02d "
                "%+03d:%02d (first) or %02d:%02d %+03d:%02d (second)"),
              l->hour, l->minute, l->year, l->month, l->day, zone->name, l->hour, l->minute,
              first / 60, ABS(first) % 60, l->hour, l->minute, second / 60, ABS(second) % 60);
  return FALSE;
}

gboolean
lz_zone_to_utc(LzZone *zone, const LzLocal *local, int want_offset, lzq_minute *out, GError **error)
{
  if (!local_is_valid(local)) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("time: there is no %04d-%02d-%02d %02d:%02d; accepted is a date and time such as "
                  "2027-03-01 09:30"),
                local->year, local->month, local->day, local->hour, local->minute);
    return FALSE;
  }
  int64_t wall = days_from_civil(local->year, local->month, local->day) * LZQ_DAY +
                 local->hour * 60 + local->minute;
  if (want_offset != LZ_ZONE_ANY) {
    *out = wall - want_offset;
    return TRUE;
  }
  // Offsets in force a day before and a day after: a change between them makes one of two cases.
  int early = lz_zone_offset(zone, wall - LZQ_DAY), late = lz_zone_offset(zone, wall + LZQ_DAY);
  gboolean first = lz_zone_offset(zone, wall - early) == early;
  gboolean second = lz_zone_offset(zone, wall - late) == late;
  if (!first && !second)
    return refuse_skipped(zone, local, early, late, error);
  if (first && second && early != late)
    return refuse_ambiguous(zone, local, early, late, error);
  *out = wall - (first ? early : late);
  return TRUE;
}

int32_t
lz_zone_day(LzZone *zone, lzq_minute at)
{
  return (int32_t)floor_div(at + lz_zone_offset(zone, at), LZQ_DAY);
}

lzq_minute
lz_zone_day_start(LzZone *zone, int32_t day)
{
  int64_t wall = (int64_t)day * LZQ_DAY;
  lzq_minute at = wall - lz_zone_offset(zone, wall - LZQ_DAY);
  // midnight skipped or doubled: the first minute that belongs to the date
  while (lz_zone_day(zone, at) < day)
    at++;
  while (lz_zone_day(zone, at - 1) >= day)
    at--;
  return at;
}

lzq_minute
lz_expiry_end(LzZone *zone, const char *expiry)
{
  int year = 0, month = 0, day = 0;
  int n = expiry ? sscanf(expiry, "%4d-%2d-%2d", &year, &month, &day) : 0;
  if (n < 2 || !g_date_valid_dmy((GDateDay)(n == 3 ? day : 1), (GDateMonth)month, (GDateYear)year))
    return LZQ_NEVER;
  g_autoptr(GDate) date =
      g_date_new_dmy((GDateDay)(n == 3 ? day : 1), (GDateMonth)month, (GDateYear)year);
  if (n == 3)
    g_date_add_days(date, 1);
  else
    g_date_add_months(date, 1);
  g_autofree char *text = g_strdup_printf("%04d-%02d-%02d 00:00", g_date_get_year(date),
                                          g_date_get_month(date), g_date_get_day(date));
  lzq_minute at = LZQ_NEVER;
  return lz_zone_parse(zone, text, 0, &at, NULL) ? at : LZQ_NEVER;
}
