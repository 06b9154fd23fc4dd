// SPDX-License-Identifier: GPL-3.0-or-later
// What is past retention is listed and never deleted; a name is erased outside the chain only. Five
// years: the longest of the rules read, Reg. (EU) 2019/6 art. 108(5).
#include <check.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

#define NEXT "2036-03-10 08:00" // a clock of years after the entries were written

#define ck_says(text, part) ck_assert_msg(strstr(text, part) != NULL, "“%s” in: %s", part, text)

static Ctl *
old_station(void)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=1"));
  g_free(ctl(
      c, 0, "record person --who MK initials=OLD role=keeper name='Anna Weggang' contact='+00 7'"));
  g_free(ctl(c, 0, "record person --who MK initials=NEW role=keeper name='Bo Bleibt'"));
  g_free(ctl(c, 0,
             "record lot --who OLD --happened '2026-03-01 08:00' code=GONE tank=Blue-1/1 heads=3"));
  g_free(ctl(c, 0,
             "record lot --who NEW --happened '2026-03-01 08:10' code=HERE tank=Blue-1/1 heads=3"));
  g_free(ctl(c, 0, "record death --who OLD --happened '2026-03-02 09:00' lot=GONE heads=3"));
  g_free(ctl(c, 0, "record person --who MK --entity=OLD active=no"));
  return c;
}

START_TEST(test_what_is_past_is_listed)
{
  Ctl *c = old_station();
  g_autofree char *before = ctl(c, 0, "verify");
  g_autofree char *now = ctl(c, 0, "retention");
  ck_says(now, "Kept for 5 years");
  ck_says(now, "No lot and no name is past that.");
  g_autoptr(Table) past = ctl_table(c, "retention --format=csv --at '%s'", NEXT);
  ck_assert_uint_eq(past->rows->len, 2); // not the lot whose fish live, not who still works here
  ck_assert_int_eq(table_find(past, "what", "lot", "name", "GONE", "entries", "2", NULL), 0);
  ck_assert_int_eq(table_find(past, "what", "person", "name", "OLD", "entries", "2", NULL), 1);
  g_autofree char *words = ctl(c, 0, "retention --at '%s'", NEXT);
  ck_says(words, "from 2031-03-10 on");
  ck_says(words, "lot GONE: 2 entries");
  g_autofree char *after = ctl(c, 0, "verify");
  ck_assert_str_eq(before, after); // to look is not to touch
  ctl_free(c);
}
END_TEST

START_TEST(test_years_are_the_station_s)
{
  Ctl *c = old_station();
  g_free(ctl(c, 0,
             "record station --who MK --entity 'Test station' --reason rules retention_years=30"));
  g_autoptr(Table) past = ctl_table(c, "retention --format=csv --at '%s'", NEXT);
  ck_assert_uint_eq(past->rows->len, 0);
  g_autofree char *later = ctl(c, 0, "retention --at '2060-01-01 08:00'");
  ck_says(later, "Kept for 30 years, so from 2030-01-01 on.");
  ck_says(later, "lot GONE");
  ctl_free(c);
}
END_TEST

static char *
ask(Ctl *c, const char *sql)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;
  ck_assert_int_eq(sqlite3_open_v2(c->file, &db, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
  ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
  ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
  char *out = g_strdup((const char *)sqlite3_column_text(statement, 0));
  sqlite3_finalize(statement);
  sqlite3_close(db);
  return out;
}

// The head of the chain over the entries of before stays; the name's letters are nowhere in the
// folder any more, not in the log beside the file either.
START_TEST(test_erasing_blanks_the_name_only)
{
  Ctl *c = old_station();
  static const char hashes[] =
      "SELECT group_concat(hex(hash)) FROM (SELECT hash FROM entry ORDER BY id LIMIT 8)";
  g_autofree char *before = ask(c, hashes), *had = ask(c, "SELECT count(*) FROM entry");
  g_free(ctl(c, 0, "record person --who MK --entity=OLD erase=yes --reason 'past keeping'"));
  g_autofree char *after = ask(c, hashes), *has = ask(c, "SELECT count(*) FROM entry");
  ck_assert_str_eq(before, after);
  ck_assert_int_eq(atoi(has), atoi(had) + 1);
  g_free(ctl(c, 0, "verify"));
  g_autofree char *grep = g_strdup_printf("grep -rlaE 'Weggang|\\+00 7' '%s'", c->folder);
  ck_assert_int_ne(system(grep), 0);
  g_autofree char *names = ask(c, "SELECT count(*) FROM identity WHERE name LIKE 'Anna%'");
  ck_assert_str_eq(names, "0");
  g_autoptr(Table) past = ctl_table(c, "retention --format=csv --at '%s'", NEXT);
  ck_assert_int_eq(table_find(past, "what", "person", NULL), -1);
  ck_assert_int_eq(table_find(past, "what", "lot", "name", "GONE", NULL), 0);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *s = suite_create("command");
  TCase *t = tcase_create("retention");
  tcase_set_timeout(t, 60);
  tcase_add_test(t, test_what_is_past_is_listed);
  tcase_add_test(t, test_years_are_the_station_s);
  tcase_add_test(t, test_erasing_blanks_the_name_only);
  suite_add_tcase(s, t);
  SRunner *runner = srunner_create(s);
  srunner_set_fork_status(runner, CK_NOFORK);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
