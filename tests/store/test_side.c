// SPDX-License-Identifier: GPL-3.0-or-later
// Outside the chain: names that can be erased without a trace, PINs, half-typed input, the cache.
#include "store_fixture.h"

#include <lzs_sum.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void
create_small(void)
{
  fixture_create();
  append_small_station();
}

typedef struct {
  int n;
  int64_t number;
  char a[80], b[80];
} row;

static bool
keep_name(void *ctx, int64_t person, const lzs_identity *who)
{
  row *r = ctx;
  r->n++;
  r->number = person;
  snprintf(r->a, sizeof r->a, "%s", who->name);
  snprintf(r->b, sizeof r->b, "%s", who->initials != NULL ? who->initials : "-");
  return true;
}

static bool
keep_draft(void *ctx, const char *key, const char *value, int64_t at_ms)
{
  row *r = ctx;
  r->n++;
  r->number = at_ms;
  snprintf(r->a, sizeof r->a, "%s", key);
  snprintf(r->b, sizeof r->b, "%s", value);
  return true;
}

static void
keep_bytes(void *ctx, int64_t entry, const void *bytes, size_t size)
{
  row *r = ctx;
  r->n = (int)size;
  r->number = entry;
  memcpy(r->a, bytes, size);
}

static row
names(void)
{
  row r = {0};
  assert_ok(lzs_names(fx.store, keep_name, &r, &fx.error));
  return r;
}

// Whether the bytes stand anywhere in the file or its log.
static bool
on_disk(const char *text)
{
  char command[256];
  snprintf(command, sizeof command, "grep -q -a -r '%s' '%s'", text, fx.folder);
  return system(command) == 0;
}

START_TEST(names_are_set_changed_and_erased)
{
  ck_assert_int_eq(names().n, 0);
  assert_ok(lzs_name_set(fx.store, 2, &(lzs_identity){"Zwetana Quint", "ZQ", NULL}, &fx.error));
  row r = names();
  ck_assert_int_eq(r.number, 2);
  ck_assert_str_eq(r.a, "Zwetana Quint");
  ck_assert_str_eq(r.b, "ZQ");
  assert_ok(lzs_name_set(fx.store, 2, &(lzs_identity){"Zwetana Quint-Ode", NULL, NULL}, &fx.error));
  r = names();
  ck_assert_int_eq(r.n, 1);
  ck_assert_str_eq(r.b, "-");
  ck_assert(on_disk("Zwetana"));
  assert_ok(lzs_name_set(fx.store, 2, NULL, &fx.error));
  ck_assert_int_eq(names().n, 0);
  ck_assert(!on_disk("Zwetana"));
  lzs_verify_result v; // and the chain does not mind
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
}
END_TEST

START_TEST(only_people_have_names)
{
  assert_status(lzs_name_set(fx.store, 3, &(lzs_identity){"Blue", "B", NULL}, &fx.error),
                LZS_BAD_INPUT);
  assert_status(lzs_name_set(fx.store, 99, &(lzs_identity){"Nobody", "N", NULL}, &fx.error),
                LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, "person");
  assert_status(lzs_name_set(fx.store, 2, &(lzs_identity){"\xFF", "N", NULL}, &fx.error),
                LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, "name");
}
END_TEST

START_TEST(pins_fit_or_do_not)
{
  bool fits = true;
  assert_ok(lzs_pin_check(fx.store, 2, "4711", &fits, &fx.error));
  ck_assert(!fits); // none set
  assert_ok(lzs_pin_check(fx.store, 2, NULL, &fits, &fx.error));
  ck_assert(fits);
  assert_ok(lzs_pin_set(fx.store, 2, "4711", &fx.error));
  assert_ok(lzs_pin_check(fx.store, 2, "4711", &fits, &fx.error));
  ck_assert(fits);
  static const char *const wrong[] = {"4712", "471", "47111", " 4711", ""};
  for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
    assert_ok(lzs_pin_check(fx.store, 2, wrong[i], &fits, &fx.error));
    ck_assert_msg(!fits, "'%s'", wrong[i]);
  }
  assert_ok(lzs_pin_check(fx.store, 2, NULL, &fits, &fx.error));
  ck_assert(!fits);
  assert_ok(lzs_pin_set(fx.store, 2, "0815", &fx.error));
  assert_ok(lzs_pin_check(fx.store, 2, "4711", &fits, &fx.error));
  ck_assert(!fits);
  assert_ok(lzs_pin_set(fx.store, 2, NULL, &fx.error));
  assert_ok(lzs_pin_check(fx.store, 2, NULL, &fits, &fx.error));
  ck_assert(fits);
}
END_TEST

// RFC 9106 names the function; the stored form is that of the reference implementation.
START_TEST(pins_are_argon2id)
{
  sqlite3 *raw;
  sqlite3_stmt *stmt;
  assert_ok(lzs_pin_set(fx.store, 2, "4711", &fx.error));
  ck_assert_int_eq(sqlite3_open(fx.file, &raw), SQLITE_OK);
  ck_assert_int_eq(sqlite3_prepare_v2(raw, "SELECT hash FROM pin", -1, &stmt, NULL), SQLITE_OK);
  ck_assert_int_eq(sqlite3_step(stmt), SQLITE_ROW);
  const char *hash = (const char *)sqlite3_column_text(stmt, 0);
  ck_assert_msg(strncmp(hash, "$argon2id$v=19$", 15) == 0, "%s", hash);
  sqlite3_finalize(stmt);
  sqlite3_close(raw);
}
END_TEST

START_TEST(bad_pins_are_refused)
{
  char pin[200];
  memset(pin, '1', 129);
  pin[129] = '\0';
  assert_status(lzs_pin_set(fx.store, 2, "", &fx.error), LZS_BAD_INPUT);
  assert_status(lzs_pin_set(fx.store, 2, pin, &fx.error), LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.value, ""); // never in a log
  assert_status(lzs_pin_set(fx.store, 3, "1234", &fx.error), LZS_BAD_INPUT);
}
END_TEST

START_TEST(drafts_survive_and_go)
{
  assert_ok(lzs_draft_set(fx.store, "dose/3", "12,", 1000, &fx.error));
  assert_ok(lzs_draft_set(fx.store, "dose/3", "12,5", 2000, &fx.error));
  fixture_reopen();
  row r = {0};
  assert_ok(lzs_drafts(fx.store, keep_draft, &r, &fx.error));
  ck_assert_int_eq(r.n, 1);
  ck_assert_str_eq(r.a, "dose/3");
  ck_assert_str_eq(r.b, "12,5");
  ck_assert_int_eq(r.number, 2000);
  assert_ok(lzs_draft_set(fx.store, "dose/3", NULL, 0, &fx.error));
  r = (row){0};
  assert_ok(lzs_drafts(fx.store, keep_draft, &r, &fx.error));
  ck_assert_int_eq(r.n, 0);
}
END_TEST

START_TEST(cache_gives_back_bytes)
{
  row r = {0};
  assert_status(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error), LZS_NOT_FOUND);
  assert_ok(lzs_cache_set(fx.store, "cp", 4, "a\0b", 3, &fx.error));
  assert_ok(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error));
  ck_assert_int_eq(r.n, 3);
  ck_assert_int_eq(r.number, 4);
  ck_assert_mem_eq(r.a, "a\0b", 3);
  assert_ok(lzs_cache_set(fx.store, "cp", 5, "c", 1, &fx.error));
  assert_ok(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error));
  ck_assert_int_eq(r.number, 5);
  assert_ok(lzs_cache_set(fx.store, "cp", 0, NULL, 0, &fx.error));
  assert_status(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error), LZS_NOT_FOUND);
}
END_TEST

// As somebody who knows the sum that tells damage: it proves nothing.
static void
craft(const char *sql)
{
  sqlite3 *raw;
  ck_assert_int_eq(sqlite3_open(fx.file, &raw), SQLITE_OK);
  assert_ok(lzs_sum_register(raw, &fx.error));
  char *message = NULL;
  int code = sqlite3_exec(raw, sql, NULL, NULL, &message);
  if (code == SQLITE_OK)
    code = sqlite3_exec(raw, "UPDATE cache SET sum = lzs_sum(key, entry, value)", NULL, NULL,
                        &message);
  ck_assert_msg(code == SQLITE_OK, "%s: %s", sql, message);
  sqlite3_close(raw);
}

// What the row holds may be anybody's: only what this PC sealed, for that entry and under that key,
// is believed.
START_TEST(cache_believes_its_own_pc_only)
{
  static const char *const crafted[] = {
      "UPDATE cache SET value = zeroblob(40) WHERE key = 'cp'", // not sealed
      "UPDATE cache SET value = x'00' WHERE key = 'cp'",        // shorter than a seal
      "UPDATE cache SET value = CAST(substr(value, 1, 34) || x'7a' AS BLOB) WHERE key = 'cp'",
      "UPDATE cache SET entry = 5 WHERE key = 'cp'",
      "DELETE FROM cache WHERE key = 'cp'; UPDATE cache SET key = 'cp'", // what stood under another
  };
  for (size_t i = 0; i < sizeof crafted / sizeof crafted[0]; i++) {
    row r = {0};
    assert_ok(lzs_cache_set(fx.store, "cp", 4, "abc", 3, &fx.error));
    assert_ok(lzs_cache_set(fx.store, "other", 4, "abc", 3, &fx.error));
    craft("UPDATE cache SET entry = entry"); // the seal alone decides
    assert_ok(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error));
    craft(crafted[i]);
    assert_status(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error), LZS_NOT_FOUND);
  }
  // another PC, or this one without its key
  row r = {0};
  assert_ok(lzs_cache_set(fx.store, "cp", 4, "abc", 3, &fx.error));
  char path[512];
  snprintf(path, sizeof path, "%s/pc-key", fx.pc);
  ck_assert_int_eq(unlink(path), 0);
  assert_status(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error), LZS_NOT_FOUND);
  assert_ok(lzs_cache_set(fx.store, "new", 4, "abc", 3, &fx.error));
  assert_status(lzs_cache_get(fx.store, "cp", keep_bytes, &r, &fx.error), LZS_NOT_FOUND);
  assert_ok(lzs_cache_get(fx.store, "new", keep_bytes, &r, &fx.error));
}
END_TEST

static bool
write_from_a_read(void *ctx, const lzs_entry *entry)
{
  assert_status(lzs_draft_set(fx.store, "k", "v", 0, &fx.error), LZS_INTERNAL);
  assert_status(lzs_names(fx.store, keep_name, ctx, &fx.error), LZS_INTERNAL);
  return true;
}

START_TEST(callbacks_may_not_call_back)
{
  row r = {0};
  assert_ok(lzs_read(fx.store, 0, write_from_a_read, &r, &fx.error));
  assert_ok(lzs_draft_set(fx.store, "k", "v", 0, &fx.error));
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store side");
  TCase *t = tcase_create("side");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, create_small, fixture_teardown);
  tcase_add_test(t, names_are_set_changed_and_erased);
  tcase_add_test(t, only_people_have_names);
  tcase_add_test(t, pins_fit_or_do_not);
  tcase_add_test(t, pins_are_argon2id);
  tcase_add_test(t, bad_pins_are_refused);
  tcase_add_test(t, drafts_survive_and_go);
  tcase_add_test(t, cache_gives_back_bytes);
  tcase_add_test(t, cache_believes_its_own_pc_only);
  tcase_add_test(t, callbacks_may_not_call_back);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
