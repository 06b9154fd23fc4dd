// SPDX-License-Identifier: GPL-3.0-or-later
// Out of memory at the Nth allocation, for every N until the work succeeds: the store's own
// allocations (wrapped by the linker) and SQLite's (its own hooks) are counted together. Each time
// the answer is a status, nothing is half written, and the same call then succeeds with memory
// again.
#include "store_fixture.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static long countdown; // 0 = never fail
static long failures;

static bool
fail_now(void)
{
  if (countdown == 0 || --countdown > 0)
    return false;
  countdown = 1; // and every one after it: memory does not come back by itself
  failures++;
  return true;
}

// The linker sends the store's calls here (-Wl,--wrap).
void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *block, size_t size);
char *__real_strdup(const char *text);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);
void *__wrap_realloc(void *block, size_t size);
char *__wrap_strdup(const char *text);

void *
__wrap_malloc(size_t size)
{
  return fail_now() ? NULL : __real_malloc(size);
}

void *
__wrap_calloc(size_t n, size_t size)
{
  return fail_now() ? NULL : __real_calloc(n, size);
}

void *
__wrap_realloc(void *block, size_t size)
{
  return fail_now() ? NULL : __real_realloc(block, size);
}

char *
__wrap_strdup(const char *text)
{
  return fail_now() ? NULL : __real_strdup(text);
}

static sqlite3_mem_methods sqlite_own;

static void *
sqlite_malloc(int size)
{
  return fail_now() ? NULL : sqlite_own.xMalloc(size);
}

static void *
sqlite_realloc(void *block, int size)
{
  return fail_now() ? NULL : sqlite_own.xRealloc(block, size);
}

static void
hook_sqlite(void)
{
  sqlite3_shutdown();
  sqlite3_config(SQLITE_CONFIG_GETMALLOC, &sqlite_own);
  sqlite3_mem_methods hooked = sqlite_own;
  hooked.xMalloc = sqlite_malloc;
  hooked.xRealloc = sqlite_realloc;
  sqlite3_config(SQLITE_CONFIG_MALLOC, &hooked);
  sqlite3_initialize();
}

static void
setup(void)
{
  hook_sqlite();
  fixture_create();
  append_small_station();
}

static lzs_entry two[2]; // made before memory ends: Check itself needs some
static bool handle_fits; // a handle came back exactly when all went well

static bool
count(void *ctx, const lzs_entry *entry)
{
  ++*(int *)ctx;
  return true;
}

static int64_t
entries_there(void)
{
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  return v.entries;
}

// What each kind of call answers when memory ends after n allocations.
static lzs_status
act(int what, lzs_error *error)
{
  lzs_verify_result v;
  char copy[160];
  int n = 0;
  lzs_store *other = NULL;
  lzs_status status = LZS_OK;
  snprintf(copy, sizeof copy, "%s/copy.lazaret", fx.folder);
  switch (what) {
  case 0: return lzs_append(fx.store, two, 2, error);
  case 1: return lzs_read(fx.store, 0, count, &n, error);
  case 2: return lzs_verify(fx.store, &v, error);
  case 3: return lzs_draft_set(fx.store, "key", "value", 1, error);
  case 4: return lzs_backup(fx.store, copy, error);
  case 5:
    status = lzs_open(fx.file, &fx.options, &other, error);
    handle_fits = (status == LZS_OK) == (other != NULL);
    lzs_close(other);
    return status;
  default: return LZS_INTERNAL;
  }
}

START_TEST(every_allocation_fails_once)
{
  int64_t before = entries_there();
  long n = 0;
  lzs_status status = LZS_NO_MEMORY;
  while (status != LZS_OK) {
    fixture_reopen(); // kept statements are made anew, so that their memory is asked for again
    memset(&fx.error, 0, sizeof fx.error);
    two[0] = a_reading(3, 0.4);
    two[1] = a_reading(3, 0.5);
    handle_fits = true;
    n += n < 300 ? 1 : 127; // a back-up verifies: thousands, all alike
    countdown = n;
    status = act(_i, &fx.error);
    countdown = 0;
    ck_assert(handle_fits);
    ck_assert_msg(status == LZS_OK || status == LZS_NO_MEMORY, "allocation %ld: %s (%s)", n,
                  lzs_status_name(status), fx.error.detail);
    ck_assert_int_lt(n, 200000);
    if (status != LZS_OK) {
      ck_assert_int_eq(fx.error.status, LZS_NO_MEMORY);
      if (n % 16 == 0)
        ck_assert_int_eq(entries_there(), before);
    }
  }
  ck_assert_int_gt(n, 1);
  ck_assert_int_eq(entries_there(), before + (_i == 0 ? 2 : 0));
  printf("call %d: allocations 1 to %ld failed\n", _i, n - 1);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store without memory");
  TCase *t = tcase_create("memory");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, setup, fixture_teardown);
  tcase_add_loop_test(t, every_allocation_fails_once, 0, 6);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
