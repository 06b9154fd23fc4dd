// SPDX-License-Identifier: GPL-3.0-or-later
// The demo's story in the zone of the PC, whatever it is and whenever it is told: its people come
// at half past seven and at five by their own clock, and nothing lies ahead of now.
#include <glib/gstdio.h>
#include <lz_demo.h>
#include <lz_setup.h>

#include "lab.h"

static const struct {
  const char *zone, *at;
} told[] = {
    {"Europe/Berlin", "2026-11-26 07:20"},    {"Europe/Berlin", "2026-03-29 12:00"},
    {"America/New_York", "2026-11-02 00:05"}, {"Asia/Kolkata", "2026-06-01 23:55"},
    {"Pacific/Auckland", "2026-09-27 17:30"}, {"UTC", "2026-11-26 07:20"},
};

START_TEST(told_by_the_clock_on_the_wall)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp("lazaret-demo-XXXXXX", NULL);
  g_autofree char *path = g_build_filename(folder, "demo.lazaret", NULL);
  g_setenv("TZ", told[_i].zone, TRUE);
  g_autoptr(LzClock) clock = lz_setup_clock(told[_i].at, &error);
  ck_assert_msg(clock != NULL, "%s", error ? error->message : "");
  const LzDeskOptions options = {.clock = clock, .pc_folder = folder};
  LzDesk *desk = lz_demo_make(path, 1, &options, &error);
  ck_assert_msg(desk != NULL, "%s", error ? error->message : "");
  ck_assert_str_eq(lz_zone_name(lz_desk_zone(desk)), told[_i].zone);
  ck_assert(lz_desk_is_practice(desk));
  g_autoptr(GPtrArray) readings = lz_desk_entries(desk, "reading", 0, 0, NULL);
  ck_assert_uint_gt(readings->len, 500);
  for (guint i = 0; i < readings->len; i++) {
    lzq_minute at = lz_entry_at(readings->pdata[i]);
    int32_t day = lz_zone_day(lz_desk_zone(desk), at);
    lzq_minute midnight = lz_zone_day_start(lz_desk_zone(desk), day);
    ck_assert_int_le(at, lz_clock_now(clock));
    ck_assert_msg(at - midnight >= 5 * 60 && at - midnight < 20 * 60, "read at night");
  }
  lz_desk_close(desk);
  g_object_unref(desk);
  lab_remove(folder);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-demo");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 120);
  tcase_add_loop_test(all, told_by_the_clock_on_the_wall, 0, G_N_ELEMENTS(told));
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
