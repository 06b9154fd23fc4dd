// SPDX-License-Identifier: GPL-3.0-or-later
// Shift slots: the next one, also beyond those handed in. Later ones repeat the last week handed in
// (a Sunday without people stays one), or the last day if there is no week; an hour off after a
// clock change, which the next plan puts right. Without any slot every minute is one.
#include <math.h>

#include "lzq_plan_work.h"

lzq_minute
lzq_later(lzq_minute t, int64_t by)
{
  if (t == LZQ_NEVER || by == INT64_MAX)
    return LZQ_NEVER;
  if (by > 0 && t > LZQ_NEVER - by)
    return LZQ_NEVER;
  if (by < 0 && t < LZQ_LONG_AGO - by)
    return LZQ_LONG_AGO;
  return t + by;
}

typedef enum { SLOT_ANY, SLOT_TEST, SLOT_MORNING } lzq_slot_kind;

static bool is_morning(const lzq_snapshot *snap, uint32_t i);

// The first one at or after t, repeated at least once.
static lzq_minute
next_by_pattern(const lzq_work *work, lzq_minute t, lzq_slot_kind kind)
{
  const uint32_t first = work->snap->n_slots - work->n_pattern;
  lzq_minute best = LZQ_NEVER;
  for (uint32_t i = 0; i < work->n_pattern; i++) {
    const lzq_slot *slot = &work->pattern[i];
    if ((kind == SLOT_TEST && !slot->test) ||
        (kind == SLOT_MORNING && !is_morning(work->snap, first + i)))
      continue;
    int64_t times = (t - slot->at + work->period - 1) / work->period;
    lzq_minute at = slot->at + (times < 1 ? 1 : times) * work->period;
    if (at < best)
      best = at;
  }
  return best;
}

static void
pattern_prepare(lzq_work *work)
{
  const lzq_snapshot *snap = work->snap;
  work->slots_end = snap->slots[snap->n_slots - 1].at;
  work->period = snap->slots[0].at <= work->slots_end - 7 * LZQ_DAY ? 7 * LZQ_DAY : LZQ_DAY;
  uint32_t first = snap->n_slots;
  while (first > 0 && snap->slots[first - 1].at > work->slots_end - work->period)
    first--;
  work->pattern = &snap->slots[first];
  work->n_pattern = snap->n_slots - first;
}

void
lzq_slots_prepare(lzq_work *work)
{
  const lzq_snapshot *snap = work->snap;
  lzq_minute test_before = LZQ_LONG_AGO;
  work->test_gap_min = 0;
  work->slot_gap_min = LZQ_DAY;
  work->n_pattern = 0;
  work->slots_end = LZQ_LONG_AGO;
  for (uint32_t i = 0; i < snap->n_slots; i++) {
    lzq_minute at = snap->slots[i].at;
    if (i > 0 && at - snap->slots[i - 1].at < work->slot_gap_min)
      work->slot_gap_min = (int32_t)(at - snap->slots[i - 1].at);
    if (snap->slots[i].test) {
      if (test_before != LZQ_LONG_AGO && at - test_before > work->test_gap_min)
        work->test_gap_min = at - test_before > INT32_MAX ? INT32_MAX : (int32_t)(at - test_before);
      test_before = at;
    }
  }
  if (work->slot_gap_min < 1)
    work->slot_gap_min = 1;
  if (snap->n_slots == 0)
    return;
  pattern_prepare(work);
  lzq_minute wrap =
      test_before == LZQ_LONG_AGO ? LZQ_NEVER : next_by_pattern(work, test_before + 1, SLOT_TEST);
  if (wrap != LZQ_NEVER && wrap - test_before > work->test_gap_min)
    work->test_gap_min = wrap - test_before > INT32_MAX ? INT32_MAX : (int32_t)(wrap - test_before);
}

lzq_minute
lzq_slot_next(const lzq_work *work, lzq_minute t, bool test)
{
  const lzq_snapshot *snap = work->snap;
  if (t == LZQ_NEVER || t > work->now + 2 * LZQ_FAR_MIN)
    return LZQ_NEVER;
  if (snap->n_slots == 0)
    return t;
  uint32_t low = 0, high = snap->n_slots;
  while (low < high) {
    uint32_t middle = low + (high - low) / 2;
    if (snap->slots[middle].at < t)
      low = middle + 1;
    else
      high = middle;
  }
  for (; low < snap->n_slots; low++)
    if (!test || snap->slots[low].test)
      return snap->slots[low].at;
  return next_by_pattern(work, t, test ? SLOT_TEST : SLOT_ANY);
}

lzq_minute
lzq_visit_next(const lzq_work *work, lzq_minute t, bool test)
{
  lzq_minute at = lzq_slot_next(work, t, test);
  // only the present minute can still belong to a slot that has begun
  if (t == work->now && at != t) {
    lzq_minute begun = lzq_slot_next(work, t - LZQ_AT_WORK_MIN, test);
    if (begun <= t)
      return t;
  }
  return at;
}

// Of the first day handed in the morning may be missing: its first slot is one if the next day's
// first is at the same hour, within the hour of a clock change.
static bool
is_morning(const lzq_snapshot *snap, uint32_t i)
{
  if (i > 0)
    return snap->slots[i].day != snap->slots[i - 1].day;
  while (++i < snap->n_slots)
    if (snap->slots[i].day != snap->slots[0].day) {
      int64_t apart = (snap->slots[i].at - snap->slots[0].at) % LZQ_DAY;
      return apart <= 60 || apart >= LZQ_DAY - 60;
    }
  return true;
}

lzq_minute
lzq_morning_next(const lzq_work *work, lzq_minute t)
{
  const lzq_snapshot *snap = work->snap;
  const lzq_minute begun = lzq_visit_next(work, t, false) == t ? t - LZQ_AT_WORK_MIN : t;
  lzq_minute last = LZQ_LONG_AGO;
  for (uint32_t i = 0; i < snap->n_slots; i++) {
    if (!is_morning(snap, i))
      continue;
    last = snap->slots[i].at;
    if (last >= begun)
      return last > t ? last : t;
  }
  lzq_minute later = LZQ_NEVER;
  if (last != LZQ_LONG_AGO && t <= work->now + 2 * LZQ_FAR_MIN)
    later = next_by_pattern(work, t, SLOT_MORNING);
  return later != LZQ_NEVER ? later : lzq_visit_next(work, t, false);
}

lzq_minute
lzq_move_next(const lzq_work *work, const lzq_phase *phase, lzq_minute t)
{
  return phase->early ? lzq_morning_next(work, t) : lzq_visit_next(work, t, false);
}

lzq_minute
lzq_day_nth(const lzq_work *work, lzq_minute t, int32_t n)
{
  const lzq_snapshot *snap = work->snap;
  bool begun = false;
  int32_t day = 0, count = 0;
  if (n <= 0)
    return t;
  for (uint32_t i = 0; i < snap->n_slots; i++) {
    if (snap->slots[i].at < t || (begun && snap->slots[i].day == day))
      continue;
    begun = true;
    day = snap->slots[i].day;
    if (++count == n)
      return snap->slots[i].at;
  }
  if (snap->n_slots == 0)
    return lzq_later(t, (int64_t)n * LZQ_DAY);
  lzq_minute at = count > 0 ? work->slots_end : lzq_slot_next(work, t, false);
  for (count += count == 0; count < n && at != LZQ_NEVER; count++)
    at = next_by_pattern(work, lzq_later(at, 1), SLOT_MORNING);
  return at;
}

lzq_minute
lzq_feed_next(const lzq_work *work, uint32_t lot)
{
  const lzq_snapshot *snap = work->snap;
  const lzq_minute at = lzq_visit_next(work, work->now, false);
  int32_t day = snap->n_slots > 0 ? snap->slots[0].day : INT32_MAX;
  for (uint32_t i = 0; i < snap->n_slots && snap->slots[i].at <= at; i++)
    day = snap->slots[i].day;
  if (day > work->fed_on[lot])
    return at;
  for (uint32_t i = 0; i < snap->n_slots; i++)
    if (snap->slots[i].at > at && snap->slots[i].day > work->fed_on[lot])
      return snap->slots[i].at;
  return lzq_slot_next(work, lzq_later(work->slots_end, 1), false);
}
