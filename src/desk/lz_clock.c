// SPDX-License-Identifier: GPL-3.0-or-later
// Where "now" comes from: see lz_clock.h.
#include "lz_clock.h"

typedef enum { CLOCK_REAL, CLOCK_FIXED, CLOCK_OFFSET } ClockKind;

struct _LzClock {
  gatomicrefcount refs;
  ClockKind kind;
  int64_t minutes; // the minute at which it stands, or the offset
};

static LzClock *
clock_new(ClockKind kind, int64_t minutes)
{
  LzClock *clock = g_new0(LzClock, 1);
  g_atomic_ref_count_init(&clock->refs);
  clock->kind = kind;
  clock->minutes = minutes;
  return clock;
}

LzClock *
lz_clock_new_real(void)
{
  return clock_new(CLOCK_REAL, 0);
}

LzClock *
lz_clock_new_fixed(int64_t minute)
{
  return clock_new(CLOCK_FIXED, minute);
}

LzClock *
lz_clock_new_offset(int64_t offset_minutes)
{
  return clock_new(CLOCK_OFFSET, offset_minutes);
}

LzClock *
lz_clock_ref(LzClock *clock)
{
  g_atomic_ref_count_inc(&clock->refs);
  return clock;
}

void
lz_clock_unref(LzClock *clock)
{
  if (clock && g_atomic_ref_count_dec(&clock->refs))
    g_free(clock);
}

gboolean
lz_clock_is_real(const LzClock *clock)
{
  return clock->kind == CLOCK_REAL;
}

int64_t
lz_clock_now_ms(const LzClock *clock)
{
  if (clock->kind == CLOCK_FIXED)
    return clock->minutes * 60000;
  int64_t offset = clock->kind == CLOCK_OFFSET ? clock->minutes * 60000 : 0;
  return g_get_real_time() / 1000 + offset;
}

int64_t
lz_clock_now(const LzClock *clock)
{
  int64_t ms = lz_clock_now_ms(clock);
  return ms >= 0 ? ms / 60000 : -((-ms + 59999) / 60000);
}

void
lz_clock_set(LzClock *clock, int64_t minute)
{
  g_return_if_fail(clock->kind == CLOCK_FIXED);
  clock->minutes = minute;
}
