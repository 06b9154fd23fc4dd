// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers, times and durations as people read and type them. LC_NUMERIC stays C inside: the decimal
// sign is a setting of the program. Thousands are parted by a narrow no-break space (U+202F), never
// by comma or point, and never where a machine reads (CSV). Functions returning char * give newly
// allocated text.
#ifndef LZ_FORMAT_H
#define LZ_FORMAT_H

#include <glib.h>
#include <lzq_plan.h>

#include "lz_zone.h"

// '.' or ',' for output; process-wide, default '.'.
void lz_format_set_decimal(char sign);
char lz_format_decimal(void);
// The sign that the login's own locale has, whatever the language of the program.
char lz_format_login_decimal(void);

// Fixed decimals: "0.450", "1 800"; NAN gives an en dash.
char *lz_format_number(double value, int decimals);
// At most so many decimals, no trailing zero: "68.4", "0.19".
char *lz_format_short(double value, int max_decimals);
// With a level's own number of decimals (copper 3, salinity 1, temperature 1, pH 2 ...), no unit.
char *lz_format_level(lzq_analyte analyte, double value);
// Amount with unit, rounded for the hand: 1 decimal of mL below 1,000, whole litres above 10 ...
char *lz_format_amount(double value, lzq_unit unit);
// For machines: shortest text that reads back as the same double, point, no grouping. NAN gives "".
char *lz_format_machine(double value);

// "4 d 9 h 47 min", "9 h", "0 min".
char *lz_format_duration(int64_t minutes);
// Local: "Thu 18 Mar 22:59"; date only "Thu 18 Mar"; clock "22:59"; full "2027-03-18 22:59 +01:00".
// LZQ_NEVER and LZQ_LONG_AGO give an en dash.
char *lz_format_time(LzZone *zone, lzq_minute at);
char *lz_format_date(LzZone *zone, lzq_minute at);
const char *lz_format_weekday(int weekday); // 1 is Monday: "Mon"
const char *lz_format_month(int month);     // 1 is January: "Jan"
char *lz_format_clock(LzZone *zone, lzq_minute at);
char *lz_format_full(LzZone *zone, lzq_minute at);
// "2027-03-18 22:59", local: in tables of records.
char *lz_format_stamp(LzZone *zone, lzq_minute at);
// "today 17:00", "tomorrow 07:30", else as lz_format_time.
char *lz_format_when(LzZone *zone, lzq_minute at, lzq_minute now);
// ISO 8601 UTC for machines: "2027-03-18T21:59Z"; "" for never.
char *lz_format_iso(lzq_minute at);

// A typed number: comma or point, one of them; sign; blanks around it. Refuses grouping, two
// separators, anything else (LZ_DESK_ERROR_USAGE, the sentence names the text). `rest` (may be
// NULL: then anything behind the number is refused) gets the text behind it without blanks ("gal"),
// in the caller's text.
gboolean lz_parse_number(const char *text, double *out, const char **rest, GError **error);

#endif
