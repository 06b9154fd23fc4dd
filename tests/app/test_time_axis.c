// SPDX-License-Identifier: GPL-3.0-or-later
// Ticks of a time axis fall on local midnights and Mondays also where the clock changes. Clock
// changes of Europe/Berlin in 2027: 28 March 01:00 UTC, 31 October 01:00 UTC (IANA tz database).
#include <lz_zone.h>

#include "lz_app_test.h"
#include "lz_time_axis.h"

static LzZone *zone;

static void
setup(void)
{
  zone = lz_zone_new("Europe/Berlin", NULL);
  ck_assert_ptr_nonnull(zone);
}

static void
teardown(void)
{
  g_clear_pointer(&zone, lz_zone_unref);
}

static lzq_minute
minute(const char *text)
{
  lzq_minute at = 0;
  ck_assert(lz_zone_parse(zone, text, 0, &at, NULL));
  return at;
}

START_TEST(days_begin_at_local_midnight_across_the_change)
{
  lzq_minute from = minute("2027-03-25 00:00"), to = minute("2027-03-31 00:00");
  LzTimeAxis axis = {0};
  lz_time_axis_fill(&axis, zone, (lzd_window){from, to}, 800, 1, from);
  ck_assert(axis.label_between);
  ck_assert_uint_eq(axis.ticks->len, 7);
  for (guint i = 0; i < axis.ticks->len; i++) {
    LzLocal local = lz_zone_local(zone, g_array_index(axis.ticks, lzd_time_tick, i).minute);
    ck_assert_int_eq(local.hour * 60 + local.minute, 0);
  }
  lzq_minute before = g_array_index(axis.ticks, lzd_time_tick, 3).minute;
  lzq_minute after = g_array_index(axis.ticks, lzd_time_tick, 4).minute;
  ck_assert_int_eq(after - before, 23 * 60); // 28 March has 23 hours
  lz_time_axis_clear(&axis);
}
END_TEST

START_TEST(weeks_begin_on_monday)
{
  lzq_minute from = minute("2027-03-01 00:00"), to = minute("2027-06-01 00:00");
  LzTimeAxis axis = {0};
  lz_time_axis_fill(&axis, zone, (lzd_window){from, to}, 1200, 1, from);
  ck_assert_uint_gt(axis.ticks->len, 5);
  for (guint i = 0; i < axis.ticks->len; i++)
    ck_assert_int_eq(
        lz_zone_local(zone, g_array_index(axis.ticks, lzd_time_tick, i).minute).weekday, 1);
  lz_time_axis_clear(&axis);
}
END_TEST

// From an hour to ten years: ticks in order, inside, apart, and never more than fit.
START_TEST(any_width_has_ticks_in_order)
{
  static const lzq_minute widths[] = {60,        300,       1440,       3 * 1440,    7 * 1440,
                                      30 * 1440, 90 * 1440, 365 * 1440, 1500 * 1440, 3652 * 1440};
  lzq_minute from = minute("2027-03-25 00:00");
  for (size_t w = 0; w < G_N_ELEMENTS(widths); w++) {
    LzTimeAxis axis = {0};
    lz_time_axis_fill(&axis, zone, (lzd_window){from, from + widths[w]}, 850, 1, from);
    ck_assert_uint_gt(axis.ticks->len, 0);
    ck_assert_uint_lt(axis.ticks->len, 30);
    for (guint i = 1; i < axis.ticks->len; i++)
      ck_assert_int_gt(g_array_index(axis.ticks, lzd_time_tick, i).minute,
                       g_array_index(axis.ticks, lzd_time_tick, i - 1).minute);
    lz_time_axis_clear(&axis);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("time axis");
  TCase *ticks = tcase_create("ticks");
  tcase_add_checked_fixture(ticks, setup, teardown);
  tcase_add_test(ticks, days_begin_at_local_midnight_across_the_change);
  tcase_add_test(ticks, weeks_begin_on_monday);
  tcase_add_test(ticks, any_width_has_ticks_in_order);
  suite_add_tcase(suite, ticks);
  return lz_app_test_run(suite, false);
}
