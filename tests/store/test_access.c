// SPDX-License-Identifier: GPL-3.0-or-later
// Where the file lies and who may write it: network drives, files and folders that are read-only.
#include "store_fixture.h"

#include "lzs_file.h"

#include <stdio.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static bool
exists(const char *suffix)
{
  char path[160];
  snprintf(path, sizeof path, "%s%s", fx.file, suffix);
  return access(path, F_OK) == 0;
}

static void
close_store(void)
{
  lzs_close(fx.store);
  fx.store = NULL;
}

START_TEST(a_network_drive_gets_a_rollback_journal)
{
  fx.options.place = LZS_PLACE_NETWORK;
  fx.options.busy_ms = -1;
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  ck_assert(!exists("-wal"));
  ck_assert(!exists("-shm"));
  lzs_store *other;
  assert_status(lzs_open(fx.file, &fx.options, &other, &fx.error), LZS_BUSY); // held alone
  fixture_reopen();
  lzs_entry e = a_reading(3, 0.4);
  append_ok(&e, 1);
  close_store();
  fx.options.place = LZS_PLACE_LOCAL; // copied to a disk: a log again
  fixture_reopen();
  append_ok(&e, 1);
  ck_assert(exists("-wal"));
  close_store();
  fx.options.place = LZS_PLACE_NETWORK;
  fixture_reopen();
  append_ok(&e, 1);
  ck_assert(!exists("-wal"));
}
END_TEST

START_TEST(a_temporary_folder_is_local)
{
  ck_assert(!lzs_file_on_network("/tmp"));
  ck_assert(!lzs_file_on_network("/no/such/folder"));
}
END_TEST

START_TEST(read_only_by_wish)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  fx.options.read_only = true;
  lzs_store *reader;
  assert_ok(lzs_open(fx.file, &fx.options, &reader, &fx.error));
  ck_assert(lzs_is_read_only(reader));
  int64_t last;
  assert_ok(lzs_last_id(reader, &last, &fx.error));
  ck_assert_int_eq(last, 4);
  lzs_entry e = a_reading(3, 0.4);
  assert_status(lzs_append(reader, &e, 1, &fx.error), LZS_READ_ONLY);
  assert_status(lzs_draft_set(reader, "k", "v", 0, &fx.error), LZS_READ_ONLY);
  append_ok(&e, 1); // and it sees what others write
  assert_ok(lzs_last_id(reader, &last, &fx.error));
  ck_assert_int_eq(last, 5);
  lzs_close(reader);
}
END_TEST

// Root may write anything, so the reader is somebody else.
static int
as_nobody(int (*act)(void))
{
  fflush(NULL);
  pid_t pid = fork();
  if (pid == 0) {
    if (getuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
      _exit(99);
    _exit(act());
  }
  int status = 0;
  waitpid(pid, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 100;
}

static int
read_and_fail_to_write(void)
{
  lzs_store *store;
  lzs_error error;
  lzs_verify_result v;
  lzs_entry e = a_reading(3, 0.4);
  if (lzs_open(fx.file, &fx.options, &store, &error) != LZS_OK)
    return 1;
  if (!lzs_is_read_only(store))
    return 2;
  if (lzs_verify(store, &v, &error) != LZS_OK || v.entries != 4)
    return 3;
  if (lzs_append(store, &e, 1, &error) != LZS_READ_ONLY)
    return 4;
  lzs_close(store);
  return 0;
}

START_TEST(a_file_that_cannot_be_written_is_read)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  close_store();
  chmod(fx.folder, 0777);
  chmod(fx.file, 0444);
  ck_assert_int_eq(as_nobody(read_and_fail_to_write), 0);
  chmod(fx.file, 0666);
  chmod(fx.folder, 0555);
  ck_assert_int_eq(as_nobody(read_and_fail_to_write), 0);
  chmod(fx.folder, 0755);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store access");
  TCase *t = tcase_create("access");
  tcase_add_checked_fixture(t, fixture_setup, fixture_teardown);
  tcase_add_test(t, a_network_drive_gets_a_rollback_journal);
  tcase_add_test(t, a_temporary_folder_is_local);
  tcase_add_test(t, read_only_by_wish);
  tcase_add_test(t, a_file_that_cannot_be_written_is_read);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
