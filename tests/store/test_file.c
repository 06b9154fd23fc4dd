// SPDX-License-Identifier: GPL-3.0-or-later
// The file as a thing on a disk: made, opened, refused, shared, full.
#define _GNU_SOURCE
#include "store_fixture.h"

#include "lzs_db.h"
#include "lzs_file.h"
#include "lzs_migrate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool
exists(const char *suffix)
{
  char path[160];
  snprintf(path, sizeof path, "%s%s", fx.file, suffix);
  return access(path, F_OK) == 0;
}

static void
write_file(const char *path, const void *bytes, size_t n)
{
  FILE *f = fopen(path, "wb");
  ck_assert_ptr_nonnull(f);
  ck_assert_int_eq(fwrite(bytes, 1, n, f), n);
  fclose(f);
}

static void
assert_open(lzs_status expected)
{
  lzs_store *store = (lzs_store *)1;
  assert_status(lzs_open(fx.file, &fx.options, &store, &fx.error), expected);
  ck_assert_ptr_null(store);
  ck_assert_int_gt(strlen(fx.error.value), 0);
}

// On another connection, with the store closed.
static void
raw(const char *sql)
{
  sqlite3 *db;
  ck_assert_int_eq(sqlite3_open(fx.file, &db), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
  sqlite3_close(db);
}

static void
close_store(void)
{
  lzs_close(fx.store);
  fx.store = NULL;
}

START_TEST(create_refuses_an_existing_file)
{
  write_file(fx.file, "mine", 4);
  lzs_store *store;
  assert_status(lzs_create(fx.file, &fx.options, &store, &fx.error), LZS_EXISTS);
  ck_assert_str_eq(fx.error.value, fx.file);
  char kept[5] = "";
  size_t n;
  assert_ok(lzs_file_read(fx.file, kept, 4, &n, &fx.error));
  ck_assert_str_eq(kept, "mine");
}
END_TEST

START_TEST(create_leaves_nothing_when_it_fails)
{
  lzs_store *store;
  char path[160];
  snprintf(path, sizeof path, "%s/none/quay.lazaret", fx.folder);
  lzs_status status = lzs_create(path, &fx.options, &store, &fx.error);
  ck_assert(status == LZS_IO || status == LZS_NOT_FOUND);
  ck_assert_str_eq(fx.error.value, path);
  ck_assert_ptr_null(store);
  ck_assert_int_ne(access(path, F_OK), 0);
}
END_TEST

START_TEST(other_files_are_refused)
{
  assert_open(LZS_NOT_FOUND);
  write_file(fx.file, "", 0);
  assert_open(LZS_NOT_STATION);
  char junk[8192];
  memset(junk, 'j', sizeof junk);
  write_file(fx.file, junk, sizeof junk);
  assert_open(LZS_NOT_STATION);
  unlink(fx.file);
  raw("CREATE TABLE t (x)"); // somebody else's SQLite file
  assert_open(LZS_NOT_STATION);
  ck_assert_str_eq(fx.error.field, "application_id");
  unlink(fx.file);
  ck_assert_int_eq(mkdir(fx.file, 0700), 0);
  assert_open(LZS_NOT_STATION);
}
END_TEST

START_TEST(a_newer_file_is_left_alone)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  close_store();
  raw("PRAGMA user_version = 2");
  struct stat before, after;
  stat(fx.file, &before);
  assert_open(LZS_TOO_NEW);
  ck_assert_str_eq(fx.error.field, "user_version");
  ck_assert_str_eq(fx.error.value, "2");
  fx.options.read_only = true;
  assert_open(LZS_TOO_NEW);
  stat(fx.file, &after);
  ck_assert_int_eq(before.st_mtim.tv_nsec, after.st_mtim.tv_nsec);
  ck_assert_int_eq(before.st_size, after.st_size);
}
END_TEST

START_TEST(strange_names_work)
{
  snprintf(fx.file, sizeof fx.file, "%s/a?b#c%%20 d'e\"f.lazaret", fx.folder);
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  fixture_reopen();
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  ck_assert_int_eq(v.entries, 4);
}
END_TEST

START_TEST(closing_leaves_one_file)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  ck_assert(exists("-wal"));
  lzs_store *second;
  assert_ok(lzs_open(fx.file, &fx.options, &second, &fx.error));
  lzs_close(second);
  ck_assert(exists("-wal")); // somebody still has it open
  close_store();
  ck_assert(!exists("-wal"));
  ck_assert(!exists("-shm"));
  fixture_reopen();
  int64_t last;
  assert_ok(lzs_last_id(fx.store, &last, &fx.error));
  ck_assert_int_eq(last, 4);
}
END_TEST

START_TEST(a_pc_is_made_at_the_first_write)
{
  char path[128], first[64] = "", again[64] = "";
  size_t n;
  snprintf(path, sizeof path, "%s/pc-id", fx.pc);
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  ck_assert_int_ne(access(path, F_OK), 0);
  append_small_station();
  struct stat st;
  ck_assert_int_eq(stat(path, &st), 0);
  ck_assert_int_eq(st.st_mode & 07777, 0600);
  assert_ok(lzs_file_read(path, first, sizeof first - 1, &n, &fx.error));
  ck_assert_int_eq(n, 33);
  fixture_reopen();
  lzs_entry e = a_reading(3, 0.4);
  append_ok(&e, 1);
  ck_assert_int_eq(e.pc_seq, 5); // the same chain
  assert_ok(lzs_pc_renew(fx.store, &fx.error));
  assert_ok(lzs_file_read(path, again, sizeof again - 1, &n, &fx.error));
  ck_assert_str_ne(first, again);
  append_ok(&e, 1);
  ck_assert_int_eq(e.pc_seq, 1); // a new one
}
END_TEST

START_TEST(a_broken_pc_id_is_said)
{
  char path[128];
  snprintf(path, sizeof path, "%s/pc-id", fx.pc);
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  mkdir(fx.pc, 0700);
  write_file(path, "not an id", 9);
  lzs_entry e = a_station();
  assert_status(lzs_append(fx.store, &e, 1, &fx.error), LZS_CORRUPT);
  ck_assert_str_eq(fx.error.field, "pc_folder");
  ck_assert_str_eq(fx.error.value, path);
}
END_TEST

START_TEST(writing_needs_a_pc_folder)
{
  fx.options.pc_folder = NULL;
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  lzs_entry e = a_station();
  assert_status(lzs_append(fx.store, &e, 1, &fx.error), LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, "pc_folder");
}
END_TEST

START_TEST(data_version_moves_with_every_commit)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  lzs_store *second;
  assert_ok(lzs_open(fx.file, &fx.options, &second, &fx.error));
  int64_t mine = lzs_data_version(fx.store), theirs = lzs_data_version(second);
  ck_assert_int_eq(mine, lzs_data_version(fx.store));
  lzs_entry e = a_reading(3, 0.4);
  append_ok(&e, 1);
  ck_assert_int_ne(mine, lzs_data_version(fx.store));
  ck_assert_int_ne(theirs, lzs_data_version(second));
  mine = lzs_data_version(fx.store);
  theirs = lzs_data_version(second);
  lzs_entry bad = a_reading(3, 1e9);
  assert_status(lzs_append(fx.store, &bad, 1, &fx.error), LZS_BAD_INPUT);
  ck_assert_int_eq(mine, lzs_data_version(fx.store));
  ck_assert_int_eq(theirs, lzs_data_version(second));
  lzs_close(second);
}
END_TEST

START_TEST(a_held_file_is_busy)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  sqlite3 *other;
  ck_assert_int_eq(sqlite3_open(fx.file, &other), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(other, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
  close_store();
  fx.options.busy_ms = -1;
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  lzs_entry e = a_reading(3, 0.4);
  assert_status(lzs_append(fx.store, &e, 1, &fx.error), LZS_BUSY);
  ck_assert_int_eq(sqlite3_exec(other, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
  append_ok(&e, 1);
  sqlite3_close(other);
}
END_TEST

START_TEST(a_full_disk_loses_nothing)
{
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  int64_t pages;
  char sql[60];
  assert_ok(lzs_db_int(fx.store->db, "PRAGMA page_count", &pages, &fx.error));
  snprintf(sql, sizeof sql, "PRAGMA max_page_count = %d", (int)pages + 2);
  assert_ok(lzs_db_exec(fx.store->db, sql, &fx.error));
  enum { N = 2000 };
  lzs_entry *e = calloc(N, sizeof *e);
  for (int i = 0; i < N; i++)
    e[i] = a_reading(3, 0.4);
  assert_status(lzs_append(fx.store, e, N, &fx.error), LZS_FULL);
  ck_assert_int_eq(e[0].id, 0);
  int64_t last;
  assert_ok(lzs_last_id(fx.store, &last, &fx.error));
  ck_assert_int_eq(last, 4);
  assert_ok(lzs_db_exec(fx.store->db, "PRAGMA max_page_count = 100000", &fx.error));
  append_ok(e, N); // room again: the same entries go in
  ck_assert_int_eq(e[N - 1].id, 4 + N);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  free(e);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store file");
  TCase *t = tcase_create("file");
  tcase_add_checked_fixture(t, fixture_setup, fixture_teardown);
  tcase_add_test(t, create_refuses_an_existing_file);
  tcase_add_test(t, create_leaves_nothing_when_it_fails);
  tcase_add_test(t, other_files_are_refused);
  tcase_add_test(t, a_newer_file_is_left_alone);
  tcase_add_test(t, strange_names_work);
  tcase_add_test(t, closing_leaves_one_file);
  tcase_add_test(t, a_pc_is_made_at_the_first_write);
  tcase_add_test(t, a_broken_pc_id_is_said);
  tcase_add_test(t, writing_needs_a_pc_folder);
  tcase_add_test(t, data_version_moves_with_every_commit);
  tcase_add_test(t, a_held_file_is_busy);
  tcase_add_test(t, a_full_disk_loses_nothing);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
