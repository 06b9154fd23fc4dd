// SPDX-License-Identifier: GPL-3.0-or-later
// A real file of every released schema (tests/data/schema/NNN.lazaret, made by make_station at the
// time) opens today: every entry is there, the chains verify, and its tables are those of a new
// file.
#include "store_fixture.h"

#include "lzs_migrate.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

// What make_station wrote in each version; a line is added with every file, never changed.
static const struct {
  int version;
  int64_t entries, chains;
} released[] = {{1, 46, 2}};

static void
copy_released(int version)
{
  const char *data = getenv("LAZARET_TEST_DATA");
  char command[400];
  ck_assert_msg(data != NULL, "set LAZARET_TEST_DATA to tests/data");
  snprintf(command, sizeof command, "cp '%s/schema/%03d.lazaret' '%s' && chmod 644 '%s'", data,
           version, fx.file, fx.file);
  ck_assert_int_eq(system(command), 0);
}

// All of sqlite_schema as one text, in order of name.
static char *
schema_of(const char *path)
{
  sqlite3 *db;
  sqlite3_stmt *stmt;
  ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
  ck_assert_int_eq(
      sqlite3_prepare_v2(db,
                         "SELECT group_concat(s, char(10)) FROM (SELECT type || ' ' || "
                         "name || ' ' || coalesce(sql, '') AS s FROM sqlite_schema "
                         "ORDER BY type, name)",
                         -1, &stmt, NULL),
      SQLITE_OK);
  ck_assert_int_eq(sqlite3_step(stmt), SQLITE_ROW);
  char *text = strdup((const char *)sqlite3_column_text(stmt, 0));
  sqlite3_finalize(stmt);
  sqlite3_close(db);
  return text;
}

static bool
count(void *ctx, const lzs_entry *entry)
{
  ++*(int64_t *)ctx;
  return true;
}

START_TEST(opens_today)
{
  copy_released(released[_i].version);
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  ck_assert_int_eq(v.entries, released[_i].entries);
  ck_assert_int_eq(v.chains, released[_i].chains);
  ck_assert_int_eq(v.pictures, 1);
  ck_assert_int_eq(v.missing, 0);
  int64_t n = 0;
  assert_ok(lzs_read(fx.store, 0, count, &n, &fx.error));
  ck_assert_int_eq(n, v.entries);
  lzs_entry e = a_reading(LZS_SYSTEM + 1, 0.4);
  append_ok(&e, 1);
  ck_assert_int_eq(e.id, n + 1);
}
END_TEST

START_TEST(equals_a_new_file)
{
  copy_released(released[_i].version);
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  char path[128];
  snprintf(path, sizeof path, "%s/new.lazaret", fx.folder);
  lzs_store *fresh;
  assert_ok(lzs_create(path, &fx.options, &fresh, &fx.error));
  lzs_close(fresh);
  char *old_text = schema_of(fx.file), *new_text = schema_of(path);
  ck_assert_str_eq(old_text, new_text);
  free(old_text);
  free(new_text);
}
END_TEST

START_TEST(every_version_has_its_file)
{
  ck_assert_int_eq(sizeof released / sizeof released[0], lzs_schema_n);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store released");
  TCase *t = tcase_create("released");
  int n = sizeof released / sizeof released[0];
  tcase_add_checked_fixture(t, fixture_setup, fixture_teardown);
  tcase_add_loop_test(t, opens_today, 0, n);
  tcase_add_loop_test(t, equals_a_new_file, 0, n);
  tcase_add_test(t, every_version_has_its_file);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
