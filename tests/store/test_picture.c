// SPDX-License-Identifier: GPL-3.0-or-later
// Photographs: kept under the hash of their bytes, never changed, found damaged or missing, carried
// by a back-up and by a salvage.
#include "store_fixture.h"

#include <sqlite3.h>
#include <stdio.h>
#include <string.h>

static const char spot[] = "\xff\xd8\xff white spot";

static void
create_small(void)
{
  fixture_create();
  append_small_station();
}

static void
see(const char *name)
{
  lzs_entry e = entry_of(LZS_SIGHTING);
  e.who = 2;
  put_int(&e, "system", 3);
  put_text(&e, "photo", name);
  append_ok(&e, 1);
}

static void
keep_text(void *ctx, const void *bytes, size_t size)
{
  memcpy(ctx, bytes, size);
}

static void
run_sql(const char *sql)
{
  sqlite3 *db;
  ck_assert_int_eq(sqlite3_open(fx.file, &db), SQLITE_OK);
  ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s", sqlite3_errmsg(db));
  sqlite3_close(db);
}

// A disk that changes a byte knows no trigger: they stand aside, and are put back as they were.
static void
damage(const char *sql)
{
  lzs_close(fx.store);
  fx.store = NULL;
  char all[600];
  snprintf(all, sizeof all,
           "DROP TRIGGER picture_update; DROP TRIGGER picture_delete; %s;"
           "CREATE TRIGGER picture_update BEFORE UPDATE ON \"picture\"\n"
           "  BEGIN SELECT RAISE(ABORT, 'append only'); END;"
           "CREATE TRIGGER picture_delete BEFORE DELETE ON \"picture\"\n"
           "  BEGIN SELECT RAISE(ABORT, 'append only'); END;",
           sql);
  run_sql(all);
  fixture_reopen();
}

static lzs_verify_result
verify(lzs_status wanted)
{
  lzs_verify_result found;
  assert_status(lzs_verify(fx.store, &found, &fx.error), wanted);
  return found;
}

// Reference: BLAKE2b (RFC 7693) of CPython's hashlib, blake2b(b"abc", digest_size=32).
START_TEST(the_name_is_blake2b)
{
  char name[LZS_PICTURE_NAME];
  lzs_picture_name("abc", 3, name);
  ck_assert_str_eq(name, "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
}
END_TEST

START_TEST(kept_once_and_given_back)
{
  char name[LZS_PICTURE_NAME], back[64] = "";
  lzs_picture_name(spot, sizeof spot, name);
  assert_status(lzs_picture_get(fx.store, name, keep_text, back, &fx.error), LZS_NOT_FOUND);
  assert_ok(lzs_picture_add(fx.store, spot, sizeof spot, &fx.error));
  assert_ok(lzs_picture_add(fx.store, spot, sizeof spot, &fx.error));
  see(name);
  see(name);
  assert_ok(lzs_picture_get(fx.store, name, keep_text, back, &fx.error));
  ck_assert_str_eq(back, spot);
  lzs_verify_result found = verify(LZS_OK);
  ck_assert_int_eq(found.pictures, 1);
  ck_assert_int_eq(found.missing, 0);
  assert_status(lzs_picture_get(fx.store, "../x", keep_text, back, &fx.error), LZS_NOT_FOUND);
}
END_TEST

START_TEST(too_large_and_empty_are_refused)
{
  static char large[LZS_PICTURE_MOST + 1];
  assert_status(lzs_picture_add(fx.store, large, sizeof large, &fx.error), LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, "photo");
  assert_status(lzs_picture_add(fx.store, large, 0, &fx.error), LZS_BAD_INPUT);
  ck_assert_int_eq(verify(LZS_OK).pictures, 0);
}
END_TEST

START_TEST(damage_is_found_and_salvaged_around)
{
  char name[LZS_PICTURE_NAME], back[64], to[120];
  lzs_picture_name(spot, sizeof spot, name);
  assert_ok(lzs_picture_add(fx.store, spot, sizeof spot, &fx.error));
  assert_ok(lzs_picture_add(fx.store, "another", 7, &fx.error));
  see(name);
  damage("UPDATE picture SET bytes = x'ffd8ff00' WHERE length(bytes) > 7");
  verify(LZS_CORRUPT);
  ck_assert_str_eq(fx.error.field, "photo");
  assert_status(lzs_picture_get(fx.store, name, keep_text, back, &fx.error), LZS_CORRUPT);
  lzs_close(fx.store);
  fx.store = NULL;
  lzs_salvage_result kept;
  snprintf(to, sizeof to, "%s/sound.lazaret", fx.folder);
  assert_ok(lzs_salvage(fx.file, to, &fx.options, NULL, NULL, &kept, &fx.error));
  assert_ok(lzs_open(to, &fx.options, &fx.store, &fx.error));
  lzs_verify_result found = verify(LZS_OK); // the sighting is kept; its picture is known to be lost
  ck_assert_int_eq(found.pictures, 1);
  ck_assert_int_eq(found.missing, 1);
}
END_TEST

#define MANY 60
#define PAGE 4096

static void
add_numbered(int i)
{
  char picture[3 * PAGE], name[LZS_PICTURE_NAME];
  memset(picture, 'x', sizeof picture);
  snprintf(picture, sizeof picture, "photograph %04d of a tank", i);
  lzs_picture_name(picture, sizeof picture, name);
  assert_ok(lzs_picture_add(fx.store, picture, sizeof picture, &fx.error));
  see(name);
}

// The page of the file in which that one begins becomes zeros; its neighbours there go with it.
static void
lose_page_of(int i)
{
  static char page[PAGE];
  char begins[40];
  const int n = snprintf(begins, sizeof begins, "photograph %04d of", i);
  int lost = 0;
  lzs_close(fx.store);
  fx.store = NULL;
  FILE *file = fopen(fx.file, "r+b");
  ck_assert_ptr_nonnull(file);
  for (long at = 0; fread(page, 1, PAGE, file) == PAGE; at += PAGE) {
    bool here = false;
    for (int b = 0; b + n <= PAGE && !here; b++)
      here = memcmp(page + b, begins, (size_t)n) == 0;
    if (!here)
      continue;
    memset(page, 0, PAGE);
    ck_assert_int_eq(fseek(file, at, SEEK_SET), 0);
    ck_assert_int_eq(fwrite(page, 1, PAGE, file), PAGE);
    ck_assert_int_eq(fseek(file, at + PAGE, SEEK_SET), 0);
    lost++;
  }
  ck_assert_int_eq(fclose(file), 0);
  ck_assert_int_eq(lost, 1);
}

// A bad page costs the photographs on it, and none behind it.
START_TEST(a_bad_page_costs_what_lies_on_it)
{
  static const int bad[] = {0, MANY / 2, MANY - 1};
  char to[120];
  lzs_salvage_result kept;
  for (int i = 0; i < MANY; i++)
    add_numbered(i);
  lose_page_of(bad[_i]);
  snprintf(to, sizeof to, "%s/sound.lazaret", fx.folder);
  assert_ok(lzs_salvage(fx.file, to, &fx.options, NULL, NULL, &kept, &fx.error));
  assert_ok(lzs_open(to, &fx.options, &fx.store, &fx.error));
  const lzs_verify_result found = verify(LZS_OK);
  ck_assert_int_eq(found.pictures + found.missing, MANY);
  ck_assert_int_ge(found.missing, 1);
  ck_assert_int_le(found.missing, 12); // as many begin on a page at most
}
END_TEST

START_TEST(a_missing_one_is_counted)
{
  char name[LZS_PICTURE_NAME];
  lzs_picture_name(spot, sizeof spot, name);
  assert_ok(lzs_picture_add(fx.store, spot, sizeof spot, &fx.error));
  see(name);
  damage("DELETE FROM picture");
  ck_assert_int_eq(verify(LZS_OK).missing, 1);
}
END_TEST

START_TEST(nothing_changes_one)
{
  sqlite3 *db;
  assert_ok(lzs_picture_add(fx.store, spot, sizeof spot, &fx.error));
  ck_assert_int_eq(sqlite3_open(fx.file, &db), SQLITE_OK);
  ck_assert_int_ne(sqlite3_exec(db, "UPDATE picture SET bytes = x'00'", NULL, NULL, NULL), 0);
  ck_assert_int_ne(sqlite3_exec(db, "DELETE FROM picture", NULL, NULL, NULL), 0);
  sqlite3_close(db);
  ck_assert_int_eq(verify(LZS_OK).pictures, 1);
}
END_TEST

START_TEST(a_back_up_carries_it)
{
  char name[LZS_PICTURE_NAME], back[64], to[120];
  lzs_picture_name(spot, sizeof spot, name);
  assert_ok(lzs_picture_add(fx.store, spot, sizeof spot, &fx.error));
  see(name);
  snprintf(to, sizeof to, "%s/copy.lazaret", fx.folder);
  assert_ok(lzs_backup(fx.store, to, &fx.error));
  lzs_close(fx.store);
  assert_ok(lzs_open(to, &fx.options, &fx.store, &fx.error));
  assert_ok(lzs_picture_get(fx.store, name, keep_text, back, &fx.error));
  ck_assert_str_eq(back, spot);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {the_name_is_blake2b,
                                kept_once_and_given_back,
                                too_large_and_empty_are_refused,
                                damage_is_found_and_salvaged_around,
                                a_missing_one_is_counted,
                                nothing_changes_one,
                                a_back_up_carries_it,
                                NULL};
  Suite *suite = suite_create("store: photographs");
  TCase *t = tcase_create("photographs");
  tcase_add_checked_fixture(t, create_small, fixture_teardown);
  for (int i = 0; tests[i] != NULL; i++)
    tcase_add_test(t, tests[i]);
  tcase_add_loop_test(t, a_bad_page_costs_what_lies_on_it, 0, 3);
  suite_add_tcase(suite, t);
  return run_suite(suite);
}
