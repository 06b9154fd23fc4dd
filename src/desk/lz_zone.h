// SPDX-License-Identifier: GPL-3.0-or-later
// The station's time zone (IANA name, GTimeZone). Inside, time is UTC minutes; local time exists
// only at the edges. A local time that occurs twice must be told which; one that does not exist is
// refused.
#ifndef LZ_ZONE_H
#define LZ_ZONE_H

#include <glib.h>
#include <lzq_model.h>

typedef struct _LzZone LzZone; // reference counted

// LZ_DESK_ERROR_USAGE if there is no such zone on this machine.
LzZone *lz_zone_new(const char *iana_name, GError **error);
LzZone *lz_zone_ref(LzZone *zone);
void lz_zone_unref(LzZone *zone);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzZone, lz_zone_unref)
const char *lz_zone_name(const LzZone *zone);

// Minutes that the wall clock is ahead of UTC at that minute.
int lz_zone_offset(LzZone *zone, lzq_minute at);

typedef struct {
  int year, month, day; // 1..12, 1..31
  int hour, minute;
  int weekday; // 1 Monday .. 7 Sunday
  int offset_min;
} LzLocal;

LzLocal lz_zone_local(LzZone *zone, lzq_minute at);

// Local to UTC. LZ_DESK_ERROR_USAGE: no such date, or a local time that the clock skipped (the
// message says from when to when). LZ_DESK_ERROR_AMBIGUOUS_TIME: it occurred twice, and the message
// names both offsets. `want_offset` (minutes) chooses, LZ_ZONE_ANY asks.
#define LZ_ZONE_ANY G_MAXINT
gboolean lz_zone_to_utc(LzZone *zone, const LzLocal *local, int want_offset, lzq_minute *out,
                        GError **error);

// A typed time: "07:30" (today in the zone at `now`), "2027-03-01 09:30", "2027-03-01T09:30",
// "2027-03-01" (00:00), each may end in an offset "+02:00", "+0200" or "Z", "first" or "second".
gboolean lz_zone_parse(LzZone *zone, const char *text, lzq_minute now, lzq_minute *out,
                       GError **error);
// The same where whole days are meant: a day without a clock time begins at its midnight, or, with
// `end`, ends at the next one.
gboolean lz_zone_parse_day(LzZone *zone, const char *text, lzq_minute now, gboolean end,
                           lzq_minute *out, GError **error);

// Station day number: days since 1970-01-01 in local dates.
int32_t lz_zone_day(LzZone *zone, lzq_minute at);
// The UTC minute at which that local date begins.
lzq_minute lz_zone_day_start(LzZone *zone, int32_t day);

// "07:30 17:00" into UTC slots from `from` (inclusive) to `until` (exclusive), rising. Behind
// "except" stand the rounds for which nobody is there: a day ("sun", "2027-12-24" or
// "2027-12-24..2027-12-26"), all of it or the times behind it ("except sun 17:00"). A slot that
// the clock skips falls on the next minute that exists; one that occurs twice is the first. NULL or
// "" text = "07:30 17:00". Returns an array of lzq_slot.
GArray *lz_zone_slots(LzZone *zone, const char *text, lzq_minute from, lzq_minute until,
                      GError **error);

// First minute after an expiry "2027-03" or "2027-03-14"; LZQ_NEVER where it is not written so, or
// NULL.
lzq_minute lz_expiry_end(LzZone *zone, const char *expiry);

#endif
