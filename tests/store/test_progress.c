// SPDX-License-Identifier: GPL-3.0-or-later
// Long work tells how far it is and can be stopped: a stopped back-up leaves the older copy and
// nothing else, and what others write meanwhile does not get into the copy. A stopped append or
// salvage has written nothing.
#include "store_fixture.h"

#include <dirent.h>
#include <stdio.h>
#include <string.h>

#define READINGS 30000

static char copy_path[160];

typedef struct {
  double shares[1000];
  int n, stop_at;    // 0 = never
  lzs_store *writer; // writes one reading at each call
} hearing;

static bool
hear(void *ctx, double share)
{
  hearing *h = ctx;
  lzs_error error;
  ck_assert_int_lt(h->n, 1000);
  h->shares[h->n++] = share;
  if (h->writer != NULL) {
    lzs_entry e = a_reading(3, 0.4);
    assert_ok(lzs_append(h->writer, &e, 1, &error));
  }
  return h->n != h->stop_at;
}

static void
create_long(void)
{
  static lzs_entry batch[1000];
  fixture_create();
  append_small_station();
  snprintf(copy_path, sizeof copy_path, "%s/copy.lazaret", fx.folder);
  for (int n = 0; n < READINGS; n += 1000) {
    for (int i = 0; i < 1000; i++)
      batch[i] = a_reading(3, 0.4);
    append_ok(batch, 1000);
  }
}

static void
rises_to_one(const hearing *h)
{
  ck_assert_int_gt(h->n, 20);
  ck_assert(h->shares[0] >= 0 && h->shares[h->n - 1] == 1);
  for (int i = 1; i < h->n; i++)
    ck_assert(h->shares[i] >= h->shares[i - 1]);
}

static int64_t
entries_of_copy(void)
{
  lzs_store *copy;
  lzs_verify_result v;
  assert_ok(lzs_open(copy_path, &fx.options, &copy, &fx.error));
  assert_ok(lzs_verify(copy, &v, &fx.error));
  lzs_close(copy);
  return v.entries;
}

START_TEST(shares_rise_to_one)
{
  lzs_verify_result v;
  for (int again = 0; again < 2; again++) {
    hearing h = {0};
    lzs_set_progress(fx.store, hear, &h);
    assert_ok(lzs_verify(fx.store, &v, &fx.error));
    rises_to_one(&h);
    h.n = 0;
    assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
    rises_to_one(&h);
  }
  ck_assert_int_eq(entries_of_copy(), v.entries);
}
END_TEST

START_TEST(what_others_write_meanwhile_stays_out)
{
  lzs_store *writer;
  int64_t before, after;
  assert_ok(lzs_last_id(fx.store, &before, &fx.error));
  assert_ok(lzs_open(fx.file, &fx.options, &writer, &fx.error));
  hearing h = {.writer = writer};
  lzs_set_progress(fx.store, hear, &h);
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
  rises_to_one(&h);
  ck_assert_int_eq(entries_of_copy(), before);
  lzs_set_progress(fx.store, NULL, NULL);
  assert_ok(lzs_last_id(fx.store, &after, &fx.error));
  ck_assert_int_eq(after, before + h.n);
  lzs_close(writer);
}
END_TEST

static int
files_in_folder(void)
{
  DIR *folder = opendir(fx.folder);
  int n = 0;
  while (readdir(folder) != NULL)
    n++;
  closedir(folder);
  return n;
}

START_TEST(stopped_anywhere_leaves_the_older_copy)
{
  lzs_verify_result v;
  int64_t kept;
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
  kept = entries_of_copy();
  lzs_entry e = a_reading(3, 0.4);
  append_ok(&e, 1);
  const int files = files_in_folder();
  for (int stop = 1; stop < 200; stop += 7) {
    hearing h = {.stop_at = stop};
    lzs_set_progress(fx.store, hear, &h);
    lzs_status status = lzs_backup(fx.store, copy_path, &fx.error);
    if (h.n < stop) {
      assert_ok(status); // it has fewer steps than that
      ck_assert_int_gt(stop, 21);
      break;
    }
    assert_status(status, LZS_STOPPED);
    ck_assert_int_eq(files_in_folder(), files);
    lzs_set_progress(fx.store, NULL, NULL);
    ck_assert_int_eq(entries_of_copy(), kept);
    h = (hearing){.stop_at = stop};
    lzs_set_progress(fx.store, hear, &h);
    status = lzs_verify(fx.store, &v, &fx.error);
    assert_status(status, h.n < stop ? LZS_OK : LZS_STOPPED);
    append_ok(&e, 1); // and no lock is left behind
  }
}
END_TEST

static void
append_many(lzs_status expected, int64_t added)
{
  static lzs_entry batch[1000];
  int64_t before, after;
  for (int i = 0; i < 1000; i++)
    batch[i] = a_reading(3, 0.4);
  assert_ok(lzs_last_id(fx.store, &before, &fx.error));
  assert_status(lzs_append(fx.store, batch, 1000, &fx.error), expected);
  assert_ok(lzs_last_id(fx.store, &after, &fx.error));
  ck_assert_int_eq(after, before + added);
}

START_TEST(an_append_is_whole_or_stopped)
{
  hearing h = {0};
  lzs_set_progress(fx.store, hear, &h);
  append_many(LZS_OK, 1000);
  rises_to_one(&h);
  const int steps = h.n;
  for (int stop = 1; stop <= steps; stop += 9) {
    h = (hearing){.stop_at = stop};
    append_many(LZS_STOPPED, 0);
  }
  h = (hearing){.stop_at = steps + 1};
  append_many(LZS_OK, 1000);
}
END_TEST

static lzs_status
salvage(const char *to, hearing *h)
{
  lzs_options options = {.progress = hear, .progress_ctx = h};
  lzs_salvage_result result;
  return lzs_salvage(fx.file, to, &options, NULL, NULL, &result, &fx.error);
}

START_TEST(a_salvage_is_whole_or_nothing)
{
  hearing h = {0};
  lzs_close(fx.store);
  fx.store = NULL;
  const int files = files_in_folder();
  assert_ok(salvage(copy_path, &h));
  rises_to_one(&h);
  ck_assert_int_gt(entries_of_copy(), READINGS);
  const int steps = h.n;
  remove(copy_path);
  for (int stop = 1; stop <= steps; stop += 13) {
    h = (hearing){.stop_at = stop};
    assert_status(salvage(copy_path, &h), LZS_STOPPED);
    ck_assert_int_eq(files_in_folder(), files);
  }
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("store progress");
  TCase *t = tcase_create("progress");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, create_long, fixture_teardown);
  tcase_add_test(t, shares_rise_to_one);
  tcase_add_test(t, what_others_write_meanwhile_stays_out);
  tcase_add_test(t, stopped_anywhere_leaves_the_older_copy);
  tcase_add_test(t, an_append_is_whole_or_stopped);
  tcase_add_test(t, a_salvage_is_whole_or_nothing);
  suite_add_tcase(s, t);
  return run_suite(s);
}
