// SPDX-License-Identifier: GPL-3.0-or-later
// Steps of the schema: all or nothing, references whole, and a copy first. The steps are made up
// here; real files of released schemas are in tests/data/schema.
#include "store_fixture.h"

#include "lzs_backup.h"
#include "lzs_migrate.h"

#include <stdio.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static sqlite3 *db;

static const char *const steps[] = {
    "CREATE TABLE a (id INTEGER PRIMARY KEY, b INTEGER REFERENCES a (id));"
    "INSERT INTO a VALUES (1, NULL), (2, 1);",
    // A table that others refer to, built anew: the usual way to change a column.
    "CREATE TABLE a2 (id INTEGER PRIMARY KEY, b INTEGER REFERENCES a (id), c TEXT);"
    "INSERT INTO a2 (id, b) SELECT id, b FROM a; DROP TABLE a; ALTER TABLE a2 RENAME TO a;",
};
static const char *const bad_sql[] = {"CREATE TABLE a (x);",
                                      "CREATE TABLE b (x); CREATE TABLE a (y);"};
static const char *const bad_reference[] = {
    "CREATE TABLE a (id INTEGER PRIMARY KEY, b INTEGER REFERENCES a (id));"
    "INSERT INTO a VALUES (1, NULL), (2, 1);",
    "DELETE FROM a WHERE id = 1;"};

static void
setup(void)
{
  fixture_setup();
  ck_assert_int_eq(sqlite3_open(fx.file, &db), SQLITE_OK);
}

static void
teardown(void)
{
  sqlite3_close(db);
  fixture_teardown();
}

static int64_t
number(const char *sql)
{
  int64_t out = -1;
  assert_ok(lzs_db_int(db, sql, &out, &fx.error));
  return out;
}

START_TEST(steps_run_in_order)
{
  assert_ok(lzs_migrate_run(db, steps, 1, &fx.error));
  ck_assert_int_eq(number("PRAGMA user_version"), 1);
  ck_assert_int_eq(number("PRAGMA application_id"), LZS_APPLICATION_ID);
  assert_ok(lzs_migrate_run(db, steps, 2, &fx.error));
  ck_assert_int_eq(number("PRAGMA user_version"), 2);
  ck_assert_int_eq(number("SELECT count(*) FROM a WHERE c IS NULL"), 2);
  ck_assert_int_eq(number("PRAGMA foreign_keys"), 1);
  assert_ok(lzs_migrate_run(db, steps, 2, &fx.error)); // nothing to do
}
END_TEST

START_TEST(both_ways_give_one_schema)
{
  assert_ok(lzs_migrate_run(db, steps, 2, &fx.error));
  int64_t fresh = number("SELECT count(*) FROM pragma_table_info('a')");
  sqlite3_close(db);
  unlink(fx.file);
  ck_assert_int_eq(sqlite3_open(fx.file, &db), SQLITE_OK);
  assert_ok(lzs_migrate_run(db, steps, 1, &fx.error));
  assert_ok(lzs_migrate_run(db, steps, 2, &fx.error));
  ck_assert_int_eq(number("SELECT count(*) FROM pragma_table_info('a')"), fresh);
}
END_TEST

START_TEST(a_failing_step_changes_nothing)
{
  assert_ok(lzs_migrate_run(db, bad_sql, 1, &fx.error));
  ck_assert_int_ne(lzs_migrate_run(db, bad_sql, 2, &fx.error), LZS_OK);
  ck_assert_int_eq(number("PRAGMA user_version"), 1);
  ck_assert_int_eq(number("SELECT count(*) FROM sqlite_schema"), 1);
  ck_assert_int_eq(sqlite3_get_autocommit(db), 1);
}
END_TEST

START_TEST(a_broken_reference_changes_nothing)
{
  assert_ok(lzs_migrate_run(db, bad_reference, 1, &fx.error));
  assert_status(lzs_migrate_run(db, bad_reference, 2, &fx.error), LZS_CORRUPT);
  ck_assert_int_eq(number("PRAGMA user_version"), 1);
  ck_assert_int_eq(number("SELECT count(*) FROM a"), 2);
}
END_TEST

START_TEST(copies_never_replace_copies)
{
  assert_ok(lzs_migrate_run(db, steps, 1, &fx.error));
  for (int i = 0; i < 3; i++)
    assert_ok(lzs_migrate_copy(db, fx.file, 1, &fx.error));
  static const char *const names[] = {".schema-1", ".schema-1-2", ".schema-1-3"};
  for (int i = 0; i < 3; i++) {
    char path[160];
    snprintf(path, sizeof path, "%s%s", fx.file, names[i]);
    ck_assert_msg(access(path, F_OK) == 0, "%s", path);
  }
}
END_TEST

static void
die(sqlite3_context *context, int n, sqlite3_value **values)
{
  kill(getpid(), SIGKILL);
}

// Killed in the middle of a step, after it has written: the old file, whole, and the step then
// runs.
START_TEST(killed_half_way)
{
  static const char *const deadly[] = {
      "CREATE TABLE a (id INTEGER PRIMARY KEY); INSERT INTO a VALUES (1), (2);",
      "CREATE TABLE b (x); INSERT INTO b SELECT id FROM a; SELECT die(); DROP TABLE a;"};
  static const char *const mended[] = {
      "CREATE TABLE a (id INTEGER PRIMARY KEY); INSERT INTO a VALUES (1), (2);",
      "CREATE TABLE b (x); INSERT INTO b SELECT id FROM a; DROP TABLE a;"};
  assert_ok(lzs_migrate_run(db, deadly, 1, &fx.error));
  sqlite3_close(db);
  pid_t pid = fork();
  if (pid == 0) {
    sqlite3_open(fx.file, &db);
    sqlite3_exec(db, "PRAGMA cache_size = 1", NULL, NULL, NULL); // pages reach the file early
    sqlite3_create_function(db, "die", 0, SQLITE_UTF8, NULL, die, NULL, NULL);
    lzs_migrate_run(db, deadly, 2, NULL);
    _exit(0);
  }
  int status;
  ck_assert_int_eq(waitpid(pid, &status, 0), pid);
  ck_assert(WIFSIGNALED(status));
  ck_assert_int_eq(sqlite3_open(fx.file, &db), SQLITE_OK);
  ck_assert_int_eq(number("PRAGMA user_version"), 1);
  ck_assert_int_eq(number("SELECT count(*) FROM sqlite_schema"), 1);
  ck_assert_int_eq(number("SELECT count(*) FROM a"), 2);
  assert_ok(lzs_migrate_run(db, mended, 2, &fx.error));
  ck_assert_int_eq(number("SELECT count(*) FROM b"), 2);
}
END_TEST

// A file as an older program would leave it: marked as a station's, with an older version.
START_TEST(opening_copies_and_migrates)
{
  char sql[80], copy[160];
  snprintf(sql, sizeof sql, "PRAGMA application_id = %d", LZS_APPLICATION_ID);
  assert_ok(lzs_db_exec(db, sql, &fx.error));
  fx.options.read_only = true;
  lzs_store *store;
  assert_status(lzs_open(fx.file, &fx.options, &store, &fx.error), LZS_READ_ONLY);
  fx.options.read_only = false;
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  ck_assert_int_eq(number("PRAGMA user_version"), lzs_schema_n);
  snprintf(copy, sizeof copy, "%s.schema-0", fx.file);
  ck_assert_int_eq(access(copy, F_OK), 0);
}
END_TEST

START_TEST(no_migration_without_its_copy)
{
  char sql[80];
  snprintf(sql, sizeof sql, "PRAGMA application_id = %d", LZS_APPLICATION_ID);
  assert_ok(lzs_db_exec(db, sql, &fx.error));
  // The copy cannot be made: its temporary name is taken by a folder that is not empty.
  char path[200];
  snprintf(path, sizeof path, "mkdir -p '%s.schema-0.part-%ld/x'", fx.file, (long)getpid());
  ck_assert_int_eq(system(path), 0);
  lzs_store *store;
  ck_assert_int_ne(lzs_open(fx.file, &fx.options, &store, &fx.error), LZS_OK);
  ck_assert_int_eq(number("PRAGMA user_version"), 0);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store migrate");
  TCase *t = tcase_create("migrate");
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_test(t, steps_run_in_order);
  tcase_add_test(t, both_ways_give_one_schema);
  tcase_add_test(t, a_failing_step_changes_nothing);
  tcase_add_test(t, a_broken_reference_changes_nothing);
  tcase_add_test(t, copies_never_replace_copies);
  tcase_add_test(t, killed_half_way);
  tcase_add_test(t, opening_copies_and_migrates);
  tcase_add_test(t, no_migration_without_its_copy);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
