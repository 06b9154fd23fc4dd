// SPDX-License-Identifier: GPL-3.0-or-later
// The clock is handed in: the real one, one that stands at a minute, or one that runs with an
// offset (a demo, a test). Whatever is not the real clock marks a file that it writes as practice,
// for good.
#ifndef LZ_CLOCK_H
#define LZ_CLOCK_H

#include <glib.h>
#include <stdint.h>

typedef struct _LzClock LzClock; // reference counted

LzClock *lz_clock_new_real(void);
LzClock *lz_clock_new_fixed(int64_t minute); // stands at this UTC minute until lz_clock_set
LzClock *lz_clock_new_offset(int64_t offset_minutes); // real time plus so many minutes
LzClock *lz_clock_ref(LzClock *clock);
void lz_clock_unref(LzClock *clock);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzClock, lz_clock_unref)

gboolean lz_clock_is_real(const LzClock *clock);
int64_t lz_clock_now(const LzClock *clock);        // UTC minutes since 1970, rounded down
int64_t lz_clock_now_ms(const LzClock *clock);     // UTC milliseconds
void lz_clock_set(LzClock *clock, int64_t minute); // fixed clocks only

#endif
