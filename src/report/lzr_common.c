// SPDX-License-Identifier: GPL-3.0-or-later
// Words, times and amounts as every sheet prints them, and the head and foot that all share.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include <lz_format.h>
#include <lz_words.h>

#include "lzr_sheet.h"

const char *
lzr_keep(LzrBuild *build, char *text)
{
  g_ptr_array_add(build->kept, text);
  return text;
}

const char *
lzr_printf(LzrBuild *build, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  char *text = g_strdup_vprintf(format, args);
  va_end(args);
  return lzr_keep(build, text);
}

void
lzr_heading(LzrBuild *build, const char *number, const char *text, const char *aside)
{
  lzr_begin(build);
  build->pending.number = number;
  build->pending.text = text;
  build->pending.aside = aside;
}

// On the fullest page a heading is a bold line without its rule.
void
lzr_begin(LzrBuild *build)
{
  const char *number = build->pending.number, *text = build->pending.text;
  build->pending.text = NULL;
  if (!text)
    return;
  if (build->density < LZR_LINE_FOR_HEADING)
    lzd_sheet_heading(build->page, number, text, build->pending.aside);
  else
    lzr_line(build, LZD_MARK_NONE, lzr_printf(build, "%s  %s.", number ? number : "", text),
             build->pending.aside);
}

void
lzr_none(LzrBuild *build, const char *words)
{
  const char *number = build->pending.number, *text = build->pending.text;
  build->pending.aside = words;
  if (text && build->density >= LZR_LINE_FOR_NONE) {
    build->pending.text = NULL;
    lzr_line(build, LZD_MARK_NONE, lzr_printf(build, "%s  %s.", number ? number : "", text), words);
  }
  lzr_begin(build);
}

// Whether the first letter, or any, runs from right to left.
static gboolean
has_right_to_left(const char *text, gboolean any)
{
  gboolean found = FALSE;
  for (const char *p = text; *p && !found; p = g_utf8_next_char(p)) {
    gunichar letter = g_utf8_get_char(p);
    if (!g_unichar_isalpha(letter))
      continue;
    GUnicodeScript script = g_unichar_get_script(letter);
    found = script == G_UNICODE_SCRIPT_ARABIC || script == G_UNICODE_SCRIPT_HEBREW ||
            script == G_UNICODE_SCRIPT_SYRIAC || script == G_UNICODE_SCRIPT_THAANA;
    if (!any)
      break;
  }
  return found;
}

// A sentence of ours that begins with a right-to-left name still runs from left to right.
static const char *
left_to_right(LzrBuild *build, const char *text)
{
  return has_right_to_left(text, FALSE) ? lzr_printf(build, "\u200e%s", text) : text;
}

// The same before a date: behind Arabic letters 2027-03-01 would be drawn as 01-03-2027.
const char *
lzr_name(LzrBuild *build, const char *name)
{
  return has_right_to_left(name, TRUE) ? lzr_printf(build, "\u200e%s\u200e", name) : name;
}

void
lzr_line(LzrBuild *build, lzd_mark mark, const char *bold, const char *plain)
{
  lzd_run runs[2];
  size_t n = 0;
  lzr_begin(build);
  bold = bold ? left_to_right(build, bold) : NULL;
  if (bold)
    runs[n++] = (lzd_run){.text = plain ? lzr_printf(build, "%s ", lzr_name(build, bold)) : bold,
                          .bold = true,
                          .role = LZD_TEXT};
  if (plain)
    runs[n++] = (lzd_run){.text = plain, .role = LZD_TEXT};
  lzd_sheet_text(build->page, mark, runs, n);
}

lzd_mark
lzr_band_mark(LzMark mark)
{
  switch (mark) {
  case LZ_MARK_NONE: return LZD_MARK_NONE;
  case LZ_MARK_IN_BAND: return LZD_BAND_IN;
  case LZ_MARK_EDGE: return LZD_BAND_EDGE_LOW;
  case LZ_MARK_HIGH:
  case LZ_MARK_HARM:
  case LZ_MARK_DOUBT: return LZD_BAND_HIGH;
  case LZ_MARK_LOW: return LZD_BAND_LOW;
  case LZ_MARK_OLD: return LZD_BAND_OLD;
  case LZ_MARK_UNREAD: return LZD_BAND_UNKNOWN;
  }
  return LZD_MARK_NONE;
}

unsigned
lzr_water(const LzSystemInfo *info)
{
  return (info->copper_in ? LZD_WATER_COPPER : 0) | (info->salt_low ? LZD_WATER_LOW_SALT : 0);
}

// The station's lines for the head of its sheets and its approval number, on one line.
static const char *
address(LzrBuild *build)
{
  g_autoptr(GArray) stations = lz_desk_entities(build->desk, "station");
  if (!stations->len)
    return NULL;
  LzEntry *station = lz_desk_entity(build->desk, "station", g_array_index(stations, int64_t, 0));
  const char *text = station ? lz_entry_text(station, "address") : NULL;
  const char *number = station ? lz_entry_text(station, "registration") : NULL;
  g_auto(GStrv) lines = g_strsplit(text ? text : "", "\n", -1);
  g_autofree char *joined = g_strjoinv(", ", lines);
  gboolean both = *joined && number && *number;
  const char *line = lzr_printf(build, "%s%s%s", joined, both ? ", " : "", number ? number : "");
  return *line ? line : NULL;
}

void
lzr_head(LzrBuild *build, const char *title, const char *about)
{
  LzZone *zone = lz_desk_zone(build->desk);
  lzq_minute now = lz_desk_now(build->desk);
  g_autofree char *full = lz_format_full(zone, now), *date = lz_format_date(zone, now);
  g_autoptr(GString) right = g_string_new(NULL);
  g_string_append_printf(right, _("Printed %s"), full);
  if (build->options->number)
    g_string_append_printf(right, _(", sheet %04u"), build->options->number);
  g_string_append(right, _(", page {page} of {pages}"));
  lzd_sheet_head(build->page, title,
                 lzr_printf(build, "%s, %s", lzr_name(build, lz_desk_station_name(build->desk)),
                            about ? about : date),
                 right->str, lzr_printf(build, _("Data until %s"), full));
  const char *lines = address(build);
  if (lines)
    lzr_line(build, LZD_MARK_NONE, NULL, lines);
  if (lz_desk_is_practice(build->desk))
    lzd_sheet_line(build->page, _("PRACTICE: not a record of real fish."), true);
}

void
lzr_foot(LzrBuild *build, const char *first_words)
{
  lzd_sheet_foot(build->page,
                 lzr_printf(build, "%s%s%s", first_words ? first_words : "", first_words ? " " : "",
                            _("Local rules and a veterinarian decide on medicines.")),
                 NULL);
}

const char *
lzr_initials(LzrBuild *build, LzEntry *entry)
{
  return lz_desk_person_initials(build->desk, lz_entry_who(entry));
}

const char *
lzr_witness(LzrBuild *build, LzEntry *entry)
{
  int64_t witness = lz_entry_witness(entry);
  return witness ? lz_desk_person_initials(build->desk, witness) : "";
}

const char *
lzr_short_time(LzrBuild *build, lzq_minute at)
{
  LzZone *zone = lz_desk_zone(build->desk);
  if (at == LZQ_NEVER || at == LZQ_LONG_AGO)
    return "–";
  if (lz_zone_day(zone, at) == lz_zone_day(zone, lz_desk_now(build->desk)))
    return lzr_keep(build, lz_format_clock(zone, at));
  return lzr_keep(build, lz_format_time(zone, at));
}

const char *
lzr_day(LzrBuild *build, lzq_minute at)
{
  if (at == LZQ_NEVER || at == LZQ_LONG_AGO)
    return "–";
  LzLocal l = lz_zone_local(lz_desk_zone(build->desk), at);
  return lzr_printf(build, "%04d-%02d-%02d", l.year, l.month, l.day);
}

const char *
lzr_minute(LzrBuild *build, lzq_minute at)
{
  return lzr_keep(build, lz_format_stamp(lz_desk_zone(build->desk), at));
}

const char *
lzr_stamp(LzrBuild *build, LzEntry *entry)
{
  return lzr_printf(build, "%s%s", lzr_minute(build, lz_entry_at(entry)),
                    lz_entry_corrects(entry) ? "*" : "");
}

const char *
lzr_level(LzrBuild *build, lzq_analyte analyte, double level)
{
  const char *unit = lz_words_analyte_unit(analyte);
  g_autofree char *number = lz_format_level(analyte, level);
  if (analyte == LZQ_SALINITY)
    return lzr_printf(build, _("salinity %s"), number);
  return lzr_printf(build, "%s%s%s", number, *unit ? "\u00a0" : "", unit);
}

const char *
lzr_duration_short(LzrBuild *build, int64_t minutes)
{
  return lzr_keep(build, lz_format_duration(minutes >= LZQ_DAY ? minutes - minutes % 60 : minutes));
}

const char *
lzr_or(const char *text, const char *instead)
{
  return text && *text ? text : instead;
}

const char *
lzr_flag(const char *code)
{
  return code && g_utf8_strlen(code, -1) <= 12 ? code : NULL;
}

const char *
lzr_ref(LzrBuild *build, LzEntry *entry, const char *field, const char *kind)
{
  if (!entry || !lz_entry_has(entry, field))
    return "";
  return lz_desk_name_of(build->desk, kind, lz_entry_int(entry, field));
}

const char *
lzr_count(LzrBuild *build, LzEntry *entry, const char *field)
{
  if (!entry || !lz_entry_has(entry, field))
    return "–";
  return lzr_keep(build, lz_format_number(lz_entry_number(entry, field), 0));
}

const char *
lzr_real(LzrBuild *build, LzEntry *entry, const char *field, int decimals)
{
  if (!entry || !lz_entry_has(entry, field))
    return "–";
  return lzr_keep(build, lz_format_short(lz_entry_number(entry, field), decimals));
}

uint32_t
lzr_index(LzrBuild *build, LzEntry *entry, const char *field, const char *kind)
{
  return lz_entry_has(entry, field) ? lz_desk_index(build->desk, kind, lz_entry_int(entry, field))
                                    : LZQ_NONE;
}

lzq_analyte
lzr_reading_analyte(LzEntry *entry)
{
  const int analyte = lz_entry_word(entry, "analyte");
  return analyte < 0 ? LZQ_N_ANALYTES : (lzq_analyte)analyte;
}
