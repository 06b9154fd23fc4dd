// SPDX-License-Identifier: GPL-3.0-or-later
// Back-ups made by themselves: what is kept with age, and that only back-ups of this station are
// ever taken away.
#include "lab.h"

#include <lz_backups.h>

#define HOUR 60
#define DAY  1440
#define NOW  29557920 // 2026-03-14 08:00 UTC

START_TEST(thinned_out_with_age)
{
  enum { N = 400 * 24 };
  static lzq_minute made[N];
  static gboolean keep[N];
  int young = 0, weeks = 0, older = 0;
  for (int i = 0; i < N; i++)
    made[i] = NOW - (lzq_minute)(N - 1 - i) * HOUR;
  lz_backups_choose(made, N, NOW, keep);
  for (int i = 0; i < N; i++) {
    lzq_minute age = NOW - made[i];
    if (age < 2 * DAY)
      young += keep[i];
    else if (age < 14 * DAY)
      weeks += keep[i];
    else
      older += keep[i];
  }
  ck_assert_int_eq(young, 48);           // all of two days
  ck_assert(weeks >= 11 && weeks <= 13); // one a day
  ck_assert(older >= 12 && older <= 14); // one a month of 386 days
  ck_assert(keep[N - 1]);                // the newest always
  made[0] = NOW - 900 * DAY;
  lz_backups_choose(made, 1, NOW, keep);
  ck_assert(keep[0]); // even an old one, when it is the only one
}
END_TEST

START_TEST(only_its_own_go)
{
  Lab lab;
  lab_open(&lab, "2027-03-14 08:00");
  lab_station(&lab);
  g_autofree char *folder = g_build_filename(lab.folder, "copies", NULL);
  g_autofree char *other = g_build_filename(folder, "holiday.lazaret", NULL);
  g_autofree char *first = NULL;
  ck_assert(lz_backups_newest(lab.path, folder) == LZQ_LONG_AGO);
  ck_assert(lz_backups_make(lab.path, folder, NOW - 40 * DAY, &first, NULL));
  ck_assert(g_file_set_contents(other, "photos", -1, NULL));
  ck_assert(lz_backups_make(lab.path, folder, NOW - 40 * DAY + HOUR, NULL, NULL));
  ck_assert(lz_backups_make(lab.path, folder, NOW, NULL, NULL));
  ck_assert_int_eq(lz_backups_newest(lab.path, folder), NOW);
  ck_assert(!g_file_test(first, G_FILE_TEST_EXISTS)); // a later one of that day is kept for it
  ck_assert(g_file_test(other, G_FILE_TEST_EXISTS));
  gboolean wrong = FALSE;
  g_free(lz_desk_backup_state(lab.desk, &wrong));
  ck_assert(wrong); // nobody started them for this desk
  lab_close(&lab);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("desk back-ups");
  TCase *t = tcase_create("back-ups");
  tcase_set_timeout(t, 60);
  tcase_add_test(t, thinned_out_with_age);
  tcase_add_test(t, only_its_own_go);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return lab_run(suite());
}
