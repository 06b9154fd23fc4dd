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

// Whether it has digits where the form has 0, and the form's other signs.
static gboolean
has_form(const char *text, const char *form)
{
  for (; *form; text++, form++)
    if (*form == '0' ? !g_ascii_isdigit(*text) : *text != *form)
      return FALSE;
  return TRUE;
}

static int
digits(const char *text, int n)
{
  int number = 0;
  for (int i = 0; i < n; i++)
    number = number * 10 + (text[i] - '0');
  return number;
}

// As a program writes it, 2027-03-01T09:30+01:00: of a table there are many. FALSE = in another
// form.
static gboolean
read_written(const char *text, LzLocal *local, int *offset)
{
  if (!has_form(text, "0000-00-00T00:00") || !(has_form(text + 16, "+00:00") || text[16] == '-') ||
      !has_form(text + 17, "00:00") || text[22] != '\0')
    return FALSE;
  const int hours = digits(text + 17, 2), minutes = digits(text + 20, 2);
  *local = (LzLocal){.year = digits(text, 4),
                     .month = digits(text + 5, 2),
                     .day = digits(text + 8, 2),
                     .hour = digits(text + 11, 2),
                     .minute = digits(text + 14, 2)};
  *offset = (hours * 60 + minutes) * (text[16] == '-' ? -1 : 1);
  return hours <= 15 && minutes <= 59;
}

gboolean
lz_zone_parse(LzZone *zone, const char *text, lzq_minute now, lzq_minute *out, GError **error)
{
  LzLocal local = {0};
  int offset, which;
  if (read_written(text, &local, &offset))
    return lz_zone_to_utc(zone, &local, offset, out, error);
  g_autofree char *copy = g_strstrip(g_strdup(text));
  if (!take_offset(copy, &offset, &which) || !read_local(zone, copy, now, &local))
    return refuse_text(text, error);
  if (which >= 0)
    return choose(zone, &local, which, out, error);
  return lz_zone_to_utc(zone, &local, offset, out, error);
}

// What `slots` says: the usual minutes of a day, and the rounds for which nobody is there.
typedef struct {
  int weekday; // 1 Monday .. 7 Sunday, 0 = the days from `first` to `last`
  int32_t first, last;
  int minute; // of the day, -1 = the whole day
} Absence;

typedef struct {
  GArray *minutes, *absences;
} Rounds;

static void
rounds_clear(Rounds *rounds)
{
  g_clear_pointer(&rounds->minutes, g_array_unref);
  g_clear_pointer(&rounds->absences, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Rounds, rounds_clear)

static gboolean
read_day(const char *text, int32_t *day)
{
  unsigned year, month, date;
  int used = 0;
  if (sscanf(text, "%4u-%2u-%2u%n", &year, &month, &date, &used) != 3 || text[used] != '\0' ||
      !g_date_valid_dmy((GDateDay)date, (GDateMonth)month, (GDateYear)year))
    return FALSE;
  g_autoptr(GDate) epoch = g_date_new_dmy(1, G_DATE_JANUARY, 1970);
  g_autoptr(GDate) local = g_date_new_dmy((GDateDay)date, (GDateMonth)month, (GDateYear)year);
  *day = g_date_days_between(epoch, local);
  return TRUE;
}

// "sun", "2027-12-24" or "2027-12-24..2027-12-26".
static gboolean
read_absence(const char *word, Absence *out)
{
  static const char *const names[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  *out = (Absence){.minute = -1};
  for (int i = 0; i < 7; i++)
    if (g_ascii_strcasecmp(word, names[i]) == 0) {
      out->weekday = i + 1;
      return TRUE;
    }
  g_auto(GStrv) ends = g_strsplit(word, "..", 2);
  return ends[0] && read_day(ends[0], &out->first) &&
         read_day(ends[1] ? ends[1] : ends[0], &out->last) && out->last >= out->first;
}

static gboolean
read_minute(const char *word, int *minute)
{
  LzLocal local = {0};
  if (!read_clock(word, &local) || local.hour < 0 || local.hour > 23 || local.minute < 0 ||
      local.minute > 59)
    return FALSE;
  *minute = local.hour * 60 + local.minute;
  return TRUE;
}

static void
add_minute(GArray *minutes, int minute)
{
  guint at = 0;
  while (at < minutes->len && g_array_index(minutes, int, at) < minute)
    at++;
  if (at == minutes->len || g_array_index(minutes, int, at) != minute)
    g_array_insert_val(minutes, at, minute);
}

// A time behind a day of absence: the first narrows the whole day to it, each further one is beside
// it. FALSE if no day stands before it.
static gboolean
narrow(GArray *absences, int minute)
{
  if (absences->len == 0)
    return FALSE;
  Absence *last = &g_array_index(absences, Absence, absences->len - 1);
  Absence next = *last;
  next.minute = minute;
  if (last->minute < 0)
    *last = next;
  else
    g_array_append_val(absences, next);
  return TRUE;
}

static gboolean
is_round(const GArray *minutes, int minute)
{
  for (guint i = 0; i < minutes->len; i++)
    if (g_array_index(minutes, int, i) == minute)
      return TRUE;
  return FALSE;
}

static gboolean
read_rounds(const char *text, Rounds *rounds, GError **error)
{
  g_auto(GStrv) words = g_strsplit_set(text, " ,;", -1);
  gboolean except = FALSE;
  rounds->minutes = g_array_new(FALSE, FALSE, sizeof(int));
  rounds->absences = g_array_new(FALSE, FALSE, sizeof(Absence));
  for (guint i = 0; words[i]; i++) {
    Absence absence;
    int minute;
    if (!*words[i])
      continue;
    if (!except && g_ascii_strcasecmp(words[i], "except") == 0)
      except = TRUE;
    else if (!except && read_minute(words[i], &minute))
      add_minute(rounds->minutes, minute);
    else if (except && read_absence(words[i], &absence))
      g_array_append_val(rounds->absences, absence);
    else if (!except || !read_minute(words[i], &minute) || !is_round(rounds->minutes, minute) ||
             !narrow(rounds->absences, minute)) {
      g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                  _("slots: “%s” is no time of day, or no round of this station; accepted is for "
                    "example 07:30 17:00, or with "
                    "absences 07:30 17:00 except sun 17:00 2027-12-24"),
                  words[i]);
      return FALSE;
    }
  }
  if (except && rounds->absences->len == 0) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("slots: “except” needs a day; accepted is for example 07:30 17:00 except sun"));
    return FALSE;
  }
  return TRUE;
}

static gboolean
nobody_there(const Rounds *rounds, int32_t day, int weekday, int minute)
{
  for (guint i = 0; i < rounds->absences->len; i++) {
    const Absence *a = &g_array_index(rounds->absences, Absence, i);
    gboolean that_day = a->weekday ? a->weekday == weekday : day >= a->first && day <= a->last;
    if (that_day && (a->minute < 0 || a->minute == minute))
      return TRUE;
  }
  return FALSE;
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
  g_auto(Rounds) rounds = {0};
  if (!read_rounds(text && *text ? text : DEFAULT_SLOTS, &rounds, error))
    return NULL;
  g_autoptr(GArray) slots = g_array_new(FALSE, TRUE, sizeof(lzq_slot));
  for (int32_t day = lz_zone_day(zone, from); lz_zone_day_start(zone, day) < until; day++) {
    int weekday = lz_zone_local(zone, lz_zone_day_start(zone, day)).weekday;
    for (guint i = 0; i < rounds.minutes->len; i++) {
      int minute = g_array_index(rounds.minutes, int, i);
      lzq_slot slot = {.at = slot_at(zone, day, minute), .day = day, .test = true};
      gboolean rises =
          slots->len == 0 || g_array_index(slots, lzq_slot, slots->len - 1).at < slot.at;
      if (slot.at >= from && slot.at < until && rises &&
          !nobody_there(&rounds, day, weekday, minute))
        g_array_append_val(slots, slot);
    }
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
