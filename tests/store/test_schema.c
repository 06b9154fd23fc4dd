// SPDX-License-Identifier: GPL-3.0-or-later
// The file's tables against the table of kinds, and every way of changing an entry refused by the
// file itself: through the store's own connection, with plain SQL.
#include "store_fixture.h"

#include "lzs_db.h"
#include "lzs_migrate.h"

#include <stdio.h>
#include <string.h>

static int64_t
number(const char *sql)
{
  int64_t out = -1;
  assert_ok(lzs_db_int(fx.store->db, sql, &out, &fx.error));
  return out;
}

static const char *
sql_type(lzs_type type)
{
  if (type == LZS_T_REAL)
    return "REAL";
  return type == LZS_T_TEXT || type == LZS_T_WORD ? "TEXT" : "INTEGER";
}

START_TEST(columns_are_the_kinds_fields)
{
  const lzs_kind_spec *spec = lzs_kind_get((lzs_kind)_i);
  char sql[120];
  snprintf(sql, sizeof sql, "SELECT name, type FROM pragma_table_info('%s') ORDER BY cid",
           spec->name);
  sqlite3_stmt *stmt;
  ck_assert_int_eq(sqlite3_prepare_v2(fx.store->db, sql, -1, &stmt, NULL), SQLITE_OK);
  ck_assert_int_eq(sqlite3_step(stmt), SQLITE_ROW);
  ck_assert_str_eq((const char *)sqlite3_column_text(stmt, 0), "id");
  for (size_t i = 0; i < spec->n_fields; i++) {
    ck_assert_msg(sqlite3_step(stmt) == SQLITE_ROW, "%s has no column for %s", spec->name,
                  spec->fields[i].name);
    ck_assert_str_eq((const char *)sqlite3_column_text(stmt, 0), spec->fields[i].name);
    ck_assert_str_eq((const char *)sqlite3_column_text(stmt, 1), sql_type(spec->fields[i].type));
  }
  ck_assert_msg(sqlite3_step(stmt) == SQLITE_DONE, "%s has a column too many", spec->name);
  sqlite3_finalize(stmt);
}
END_TEST

// A reference must be a foreign key, and to the right table: lots may come from a split.
START_TEST(references_are_keys)
{
  const lzs_kind_spec *spec = lzs_kind_get((lzs_kind)_i);
  int references = 1; // id itself
  for (size_t i = 0; i < spec->n_fields; i++) {
    const lzs_field *field = &spec->fields[i];
    if (field->type != LZS_T_REF)
      continue;
    references++;
    char sql[240];
    snprintf(sql, sizeof sql,
             "SELECT count(*) FROM pragma_foreign_key_list('%s') WHERE \"from\" = '%s' AND "
             "\"table\" = '%s' AND \"to\" = 'id'",
             spec->name, field->name,
             field->ref == LZS_LOT ? "entry" : lzs_kind_get(field->ref)->name);
    ck_assert_msg(number(sql) == 1, "%s.%s", spec->name, field->name);
  }
  char sql[120];
  snprintf(sql, sizeof sql, "SELECT count(*) FROM pragma_foreign_key_list('%s')", spec->name);
  ck_assert_int_eq(number(sql), references);
}
END_TEST

START_TEST(every_table_is_known_and_strict)
{
  ck_assert_int_eq(number("SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND "
                          "type = 'table' AND name NOT LIKE 'sqlite_%' AND strict = 0"),
                   0);
  // The kinds and: entry, pc, salvaged, identity, pin, draft, picture, cache.
  ck_assert_int_eq(number("SELECT count(*) FROM sqlite_schema WHERE type = 'table'"),
                   LZS_N_KINDS + 8);
}
END_TEST

START_TEST(kinds_fit_their_limits)
{
  for (int k = 0; k < LZS_N_KINDS; k++) {
    const lzs_kind_spec *spec = lzs_kind_get((lzs_kind)k);
    ck_assert_int_eq(spec->kind, k);
    ck_assert_int_le(spec->n_fields, LZS_MAX_FIELDS);
    ck_assert_ptr_null(spec->fields[spec->n_fields].name);
    ck_assert_ptr_eq(lzs_kind_find(spec->name), spec);
    ck_assert_ptr_eq(lzs_kind_find(spec->plural), spec);
    for (size_t i = 0; i < spec->n_fields; i++) {
      ck_assert_int_eq(lzs_kind_field(spec, spec->fields[i].name), (int)i);
      ck_assert_ptr_nonnull(spec->fields[i].help);
      ck_assert((spec->fields[i].words != NULL) == (spec->fields[i].type == LZS_T_WORD));
    }
  }
  ck_assert_ptr_null(lzs_kind_find("entry"));
  ck_assert_int_eq(lzs_kind_field(lzs_kind_get(LZS_READING), "colour"), -1);
}
END_TEST

static void
assert_refused(const char *format, const char *table)
{
  char sql[300];
  snprintf(sql, sizeof sql, format, table, table, table);
  lzs_status status = lzs_db_exec(fx.store->db, sql, &fx.error);
  ck_assert_msg(status == LZS_REFUSED && fx.error.sys_code == SQLITE_CONSTRAINT_TRIGGER,
                "%s: %s %s", sql, lzs_status_name(status), fx.error.detail);
}

// One row of each append-only table, then every statement that could change it. Keys are deferred
// so that the row needs nothing to refer to, and everything is rolled back.
static void
try_to_change(const char *table)
{
  static const char *const attempts[] = {
      "UPDATE \"%s\" SET id = id",
      "UPDATE \"%s\" SET id = id + 1000000",
      "DELETE FROM \"%s\"",
      "REPLACE INTO \"%s\" SELECT * FROM \"%s\"",
      "INSERT OR REPLACE INTO \"%s\" SELECT * FROM \"%s\" LIMIT 1",
      "INSERT INTO \"%s\" SELECT * FROM \"%s\" WHERE true ON CONFLICT (id) DO UPDATE SET id = id",
      "UPDATE OR REPLACE \"%s\" SET id = id",
      "UPDATE OR IGNORE \"%s\" SET id = id",
  };
  for (size_t i = 0; i < sizeof attempts / sizeof attempts[0]; i++)
    assert_refused(attempts[i], table);
}

START_TEST(no_row_can_be_changed)
{
  append_small_station();
  const char *table = _i < LZS_N_KINDS    ? lzs_kind_get((lzs_kind)_i)->name
                      : _i == LZS_N_KINDS ? "entry"
                                          : "pc";
  if (_i < LZS_N_KINDS) { // only the id may not be NULL
    char sql[120];
    snprintf(sql, sizeof sql, "INSERT OR IGNORE INTO \"%s\" (id) VALUES (1)", table);
    assert_ok(lzs_db_exec(fx.store->db, sql, &fx.error));
  }
  try_to_change(table);
}
END_TEST

START_TEST(a_row_needs_its_entry)
{
  append_small_station();
  assert_status(
      lzs_db_exec(fx.store->db, "INSERT INTO note (id, words) VALUES (99, 'x')", &fx.error),
      LZS_REFUSED);
  ck_assert_int_eq(fx.error.sys_code, SQLITE_CONSTRAINT_FOREIGNKEY);
}
END_TEST

START_TEST(every_connection_is_set_up)
{
  static const struct {
    const char *pragma;
    int64_t value;
  } wanted[] = {
      {"PRAGMA recursive_triggers", 1},
      {"PRAGMA foreign_keys", 1},
      {"PRAGMA synchronous", 2},
      {"PRAGMA trusted_schema", 0},
      {"PRAGMA cell_size_check", 1},
      {"PRAGMA secure_delete", 1},
      {"PRAGMA busy_timeout", 5000},
      {"PRAGMA user_version", 1},
      {"PRAGMA application_id", LZS_APPLICATION_ID},
      {"SELECT journal_mode = 'wal' FROM pragma_journal_mode", 1},
  };
  for (int round = 0; round < 2; round++) { // as made, and as opened
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
      ck_assert_msg(number(wanted[i].pragma) == wanted[i].value, "%s", wanted[i].pragma);
    int defensive = 0;
    sqlite3_db_config(fx.store->db, SQLITE_DBCONFIG_DEFENSIVE, -1, &defensive);
    ck_assert_int_eq(defensive, 1);
    fixture_reopen();
  }
}
END_TEST

// The header as file(1) and a hex editor see it: SQLite's file format, section 1.3.
START_TEST(header_tells_a_station_file)
{
  unsigned char header[100];
  FILE *f = fopen(fx.file, "rb");
  ck_assert_ptr_nonnull(f);
  ck_assert_int_eq(fread(header, 1, sizeof header, f), sizeof header);
  fclose(f);
  ck_assert_mem_eq(header, "SQLite format 3", 16);
  ck_assert_mem_eq(header + 68, "LZRT", 4);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store schema");
  TCase *t = tcase_create("schema");
  tcase_add_checked_fixture(t, fixture_create, fixture_teardown);
  tcase_add_loop_test(t, columns_are_the_kinds_fields, 0, LZS_N_KINDS);
  tcase_add_loop_test(t, references_are_keys, 0, LZS_N_KINDS);
  tcase_add_test(t, every_table_is_known_and_strict);
  tcase_add_test(t, kinds_fit_their_limits);
  tcase_add_loop_test(t, no_row_can_be_changed, 0, LZS_N_KINDS + 2);
  tcase_add_test(t, a_row_needs_its_entry);
  tcase_add_test(t, every_connection_is_set_up);
  tcase_add_test(t, header_tells_a_station_file);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
