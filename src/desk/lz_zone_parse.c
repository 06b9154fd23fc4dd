// SPDX-License-Identifier: GPL-3.0-or-later
// Times as people type them, and a station's test slots resolved to UTC.
#include "lz_zone.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "lz_error.h"

#define DEFAULT_SLOTS "07:30 17:00"

static gboolean
refuse_text(const char *text, GError **error)
{
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
              _("time: “%s” is no time; accepted is 07:30, 2027-03-01 09:30, or the same with the "
                "clock's offset behind it, as in 2027-03-01 09:30 +01:00"),
              text);
  return FALSE;
}

// Takes "+02:00", "+0200", "Z", "first" or "second" off the end; *which is -1, 0 or 1.
static gboolean
take_offset(char *text, int *offset, int *which)
{
  *offset = LZ_ZONE_ANY;
  *which = -1;
  gsize n = strlen(text);
  if (g_str_has_suffix(text, "first") || g_str_has_suffix(text, "second")) {
    *which = g_str_has_suffix(text, "second");
    text[n - (*which ? 6 : 5)] = '\0';
  } else if (n > 5 && (text[n - 1] == 'Z' || text[n - 1] == 'z')) {
    *offset = 0;
    text[n - 1] = '\0';
  } else {
    // the sign stands behind the time's colon, so that a date's dashes are not mistaken for it
    char *colon = strchr(text, ':');
    char *sign = colon ? strpbrk(colon, "+-") : NULL;
    if (sign) {
      int hours = 0, minutes = 0, used = 0;
      if (sscanf(sign + 1, "%2d:%2d%n", &hours, &minutes, &used) != 2 &&
          sscanf(sign + 1, "%2d%2d%n", &hours, &minutes, &used) != 2)
        return FALSE;
      if (sign[1 + used] != '\0' || hours > 15 || minutes > 59)
        return FALSE;
      *offset = (hours * 60 + minutes) * (*sign == '-' ? -1 : 1);
      *sign = '\0';
    }
  }
  g_strchomp(text);
  return TRUE;
}

static gboolean
read_clock(const char *text, LzLocal *local)
{
  int seconds = 0, used = 0;
  if (sscanf(text, "%2d:%2d%n", &local->hour, &local->minute, &used) != 2)
    return FALSE;
  if (text[used] == ':') // seconds are read and left out: time runs in whole minutes
    return sscanf(text + used, ":%2d%n", &seconds, &used) == 1 && seconds < 60;
  return text[used] == '\0';
}

static gboolean
read_local(LzZone *zone, const char *text, lzq_minute now, LzLocal *local)
{
  int used = 0;
  if (sscanf(text, "%4d-%2d-%2d%n", &local->year, &local->month, &local->day, &used) == 3 &&
      used >= 8) {
    const char *rest = text + used;
    if (*rest == '\0')
      return TRUE;
    if (*rest != ' ' && *rest != 'T' && *rest != 't')
      return FALSE;
    while (*rest == ' ' || *rest == 'T' || *rest == 't')
      rest++;
    return read_clock(rest, local);
  }
  LzLocal today = lz_zone_local(zone, now);
  local->year = today.year;
  local->month = today.month;
  local->day = today.day;
  return read_clock(text, local);
}

// The first or the second of the two minutes that a local time may mean.
static gboolean
choose(LzZone *zone, const LzLocal *local, int which, lzq_minute *out, GError **error)
{
  g_autoptr(GError) asked = NULL;
  if (lz_zone_to_utc(zone, local, LZ_ZONE_ANY, out, &asked))
    return TRUE;
  if (!g_error_matches(asked, LZ_DESK_ERROR, LZ_DESK_ERROR_AMBIGUOUS_TIME)) {
    g_propagate_error(error, g_steal_pointer(&asked));
    return FALSE;
  }
  lzq_minute wall;
  if (!lz_zone_to_utc(zone, local, 0, &wall, error))
    return FALSE;
  int offset = lz_zone_offset(zone, which ? wall + LZQ_DAY : wall - LZQ_DAY);
  return lz_zone_to_utc(zone, local, offset, out, error);
}

gboolean
lz_zone_parse(LzZone *zone, const char *text, lzq_minute now, lzq_minute *out, GError **error)
{
  g_autofree char *copy = g_strstrip(g_strdup(text));
  LzLocal local = {0};
  int offset, which;
  if (!take_offset(copy, &offset, &which) || !read_local(zone, copy, now, &local))
    return refuse_text(text, error);
  if (which >= 0)
    return choose(zone, &local, which, out, error);
  return lz_zone_to_utc(zone, &local, offset, out, error);
}

// "07:30 17:00" into minutes of the day, rising.
static GArray *
slot_minutes(const char *text, GError **error)
{
  g_autoptr(GArray) minutes = g_array_new(FALSE, FALSE, sizeof(int));
  g_auto(GStrv) words = g_strsplit_set(text, " ,;", -1);
  for (guint i = 0; words[i]; i++) {
    LzLocal local = {0};
    if (!*words[i])
      continue;
    if (!read_clock(words[i], &local) || local.hour < 0 || local.hour > 23 || local.minute < 0 ||
        local.minute > 59) {
      g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                  _("slots: “%s” is no time of day; accepted is for example 07:30 17:00"),
                  words[i]);
      return NULL;
    }
    int minute = local.hour * 60 + local.minute;
    guint at = 0;
    while (at < minutes->len && g_array_index(minutes, int, at) < minute)
      at++;
    if (at == minutes->len || g_array_index(minutes, int, at) != minute)
      g_array_insert_val(minutes, at, minute);
  }
  return g_steal_pointer(&minutes);
}

// A slot that the clock skips falls on the first minute that exists behind it.
static lzq_minute
slot_at(LzZone *zone, int32_t day, int minute)
{
  LzLocal local = lz_zone_local(zone, lz_zone_day_start(zone, day));
  for (; minute < LZQ_DAY; minute++) {
    lzq_minute at;
    local.hour = minute / 60;
    local.minute = minute % 60;
    if (choose(zone, &local, 0, &at, NULL))
      return at;
  }
  return lz_zone_day_start(zone, day + 1);
}

GArray *
lz_zone_slots(LzZone *zone, const char *text, lzq_minute from, lzq_minute until, GError **error)
{
  g_autoptr(GArray) minutes = slot_minutes(text && *text ? text : DEFAULT_SLOTS, error);
  if (!minutes)
    return NULL;
  g_autoptr(GArray) slots = g_array_new(FALSE, TRUE, sizeof(lzq_slot));
  for (int32_t day = lz_zone_day(zone, from); lz_zone_day_start(zone, day) < until; day++)
    for (guint i = 0; i < minutes->len; i++) {
      lzq_slot slot = {
          .at = slot_at(zone, day, g_array_index(minutes, int, i)), .day = day, .test = true};
      gboolean rises =
          slots->len == 0 || g_array_index(slots, lzq_slot, slots->len - 1).at < slot.at;
      if (slot.at >= from && slot.at < until && rises)
        g_array_append_val(slots, slot);
    }
  return g_steal_pointer(&slots);
}

gboolean
lz_zone_parse_day(LzZone *zone, const char *text, lzq_minute now, gboolean end, lzq_minute *out,
                  GError **error)
{
  if (!lz_zone_parse(zone, text, now, out, error))
    return FALSE;
  if (end && strlen(text) == strlen("2027-03-01"))
    *out = lz_zone_day_start(zone, lz_zone_day(zone, *out) + 1);
  return TRUE;
}
