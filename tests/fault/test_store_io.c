// SPDX-License-Identifier: GPL-3.0-or-later
// The disk says no at the Nth write, sync or truncation, or at the Nth read, for every N until the
// work succeeds. A VFS that stands before SQLite's own counts the calls. Each time the answer is a
// status, and after the disk has come back the file opens, verifies, and holds all of the call's
// entries or none.
#include "store_fixture.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static long countdown; // 0 = never fail
static int failure;    // SQLITE_IOERR_... or SQLITE_FULL
static bool reads;     // the Nth read fails, not the Nth write

typedef struct {
  sqlite3_file base;
  sqlite3_file *real;
} shim_file;

static sqlite3_vfs shim_vfs, *real_vfs;
static sqlite3_io_methods shim_io;

#define REAL(f)            (((shim_file *)(f))->real)
#define PASS(f, call, ...) REAL(f)->pMethods->call(REAL(f), ##__VA_ARGS__)

static bool
fail_now(bool read)
{
  if (read != reads || countdown == 0 || --countdown > 0)
    return false;
  countdown = 1; // the disk stays away
  return true;
}

static int
shim_close(sqlite3_file *f)
{
  int code = PASS(f, xClose);
  sqlite3_free(REAL(f));
  return code;
}

static int
shim_read(sqlite3_file *f, void *to, int n, sqlite3_int64 at)
{
  return fail_now(true) ? SQLITE_IOERR_READ : PASS(f, xRead, to, n, at);
}

static int
shim_write(sqlite3_file *f, const void *from, int n, sqlite3_int64 at)
{
  if (fail_now(false)) {
    PASS(f, xWrite, from, n / 2, at); // half of it may have got there
    return failure;
  }
  return PASS(f, xWrite, from, n, at);
}

static int
shim_truncate(sqlite3_file *f, sqlite3_int64 size)
{
  return fail_now(false) ? SQLITE_IOERR_TRUNCATE : PASS(f, xTruncate, size);
}

static int
shim_sync(sqlite3_file *f, int flags)
{
  return fail_now(false) ? SQLITE_IOERR_FSYNC : PASS(f, xSync, flags);
}

static int
shim_size(sqlite3_file *f, sqlite3_int64 *out)
{
  return PASS(f, xFileSize, out);
}

static int
shim_lock(sqlite3_file *f, int level)
{
  return PASS(f, xLock, level);
}

static int
shim_unlock(sqlite3_file *f, int level)
{
  return PASS(f, xUnlock, level);
}

static int
shim_reserved(sqlite3_file *f, int *out)
{
  return PASS(f, xCheckReservedLock, out);
}

static int
shim_control(sqlite3_file *f, int op, void *arg)
{
  return PASS(f, xFileControl, op, arg);
}

static int
shim_sector(sqlite3_file *f)
{
  return PASS(f, xSectorSize);
}

static int
shim_traits(sqlite3_file *f)
{
  return PASS(f, xDeviceCharacteristics);
}

static int
shim_shm_map(sqlite3_file *f, int page, int size, int extend, void volatile **out)
{
  return PASS(f, xShmMap, page, size, extend, out);
}

static int
shim_shm_lock(sqlite3_file *f, int offset, int n, int flags)
{
  return PASS(f, xShmLock, offset, n, flags);
}

static void
shim_shm_barrier(sqlite3_file *f)
{
  PASS(f, xShmBarrier);
}

static int
shim_shm_unmap(sqlite3_file *f, int remove)
{
  return PASS(f, xShmUnmap, remove);
}

static int
shim_open(sqlite3_vfs *vfs, const char *name, sqlite3_file *f, int flags, int *out)
{
  shim_file *file = (shim_file *)f;
  file->base.pMethods = NULL;
  file->real = sqlite3_malloc(real_vfs->szOsFile);
  if (file->real == NULL)
    return SQLITE_NOMEM;
  memset(file->real, 0, (size_t)real_vfs->szOsFile);
  int code = real_vfs->xOpen(real_vfs, name, file->real, flags, out);
  if (code == SQLITE_OK)
    file->base.pMethods = &shim_io;
  else
    sqlite3_free(file->real);
  return code;
}

static void
register_shim(void)
{
  real_vfs = sqlite3_vfs_find(NULL);
  shim_io = (sqlite3_io_methods){
      .iVersion = 2,
      .xClose = shim_close,
      .xRead = shim_read,
      .xWrite = shim_write,
      .xTruncate = shim_truncate,
      .xSync = shim_sync,
      .xFileSize = shim_size,
      .xLock = shim_lock,
      .xUnlock = shim_unlock,
      .xCheckReservedLock = shim_reserved,
      .xFileControl = shim_control,
      .xSectorSize = shim_sector,
      .xDeviceCharacteristics = shim_traits,
      .xShmMap = shim_shm_map,
      .xShmLock = shim_shm_lock,
      .xShmBarrier = shim_shm_barrier,
      .xShmUnmap = shim_shm_unmap,
  };
  shim_vfs = *real_vfs;
  shim_vfs.zName = "failing";
  shim_vfs.szOsFile = sizeof(shim_file);
  shim_vfs.xOpen = shim_open;
  ck_assert_int_eq(sqlite3_vfs_register(&shim_vfs, 1), SQLITE_OK);
}

static void
setup(void)
{
  register_shim();
  fixture_setup();
}

// Loop index: which failure, and with which journal.
static const struct {
  int failure;
  lzs_place place;
  lzs_status said;
} cases[] = {
    {SQLITE_IOERR_WRITE, LZS_PLACE_LOCAL, LZS_IO},
    {SQLITE_FULL, LZS_PLACE_LOCAL, LZS_FULL},
    {SQLITE_IOERR_WRITE, LZS_PLACE_NETWORK, LZS_IO},
    {SQLITE_FULL, LZS_PLACE_NETWORK, LZS_FULL},
};

static int64_t
entries_there(void)
{
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  return v.entries;
}

START_TEST(every_write_fails_once)
{
  failure = cases[_i].failure;
  fx.options.place = cases[_i].place;
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  int64_t before = 4;
  long n = 0;
  lzs_status status = LZS_IO;
  while (status != LZS_OK) {
    enum { N = 200 };
    lzs_entry e[N];
    for (int i = 0; i < N; i++)
      e[i] = a_reading(3, 0.4);
    fixture_reopen();
    countdown = ++n;
    status = lzs_append(fx.store, e, N, &fx.error);
    ck_assert_msg(status == LZS_OK || status == cases[_i].said || status == LZS_IO, "write %ld: %s",
                  n, lzs_status_name(status));
    lzs_close(fx.store); // with the disk still away
    countdown = 0;
    assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
    int64_t now = entries_there();
    // What was refused may have reached the file whole, never by half; acknowledged is there.
    ck_assert_msg(now == before + N || (now == before && status != LZS_OK), "write %ld: %ld", n,
                  (long)(now - before));
    before = now;
    ck_assert_int_lt(n, 5000);
  }
  ck_assert_int_gt(n, 2);
  printf("case %d: %ld failures one after the other\n", _i, n - 1);
}
END_TEST

static bool
count_one(void *n, const lzs_entry *entry)
{
  ++*(int64_t *)n;
  return true;
}

// What a store is asked for, each from a file just opened, so that nothing is in memory yet.
static lzs_status
ask(int what, lzs_store *store, int64_t *n)
{
  lzs_entry e = a_reading(3, 0.4);
  lzs_verify_result v;
  char copy[200];
  snprintf(copy, sizeof copy, "%s/copy.lazaret", fx.folder);
  switch (what) {
  case 0: return LZS_OK; // to open it
  case 1: return lzs_read(store, 0, count_one, n, &fx.error);
  case 2: return lzs_verify(store, &v, &fx.error);
  case 3: return lzs_backup(store, copy, &fx.error);
  default: return lzs_append(store, &e, 1, &fx.error);
  }
}

// A read that fails is said as one: never a short answer, never a file called changed, and nothing
// written by halves.
START_TEST(every_read_fails_once)
{
  static const char *const names[] = {"open", "read", "verify", "back-up", "append"};
  assert_ok(lzs_create(fx.file, &fx.options, &fx.store, &fx.error));
  append_small_station();
  for (int i = 0; i < 300; i++) {
    lzs_entry e = a_reading(3, 0.4);
    append_ok(&e, 1);
  }
  lzs_close(fx.store);
  fx.store = NULL;
  long n = 0;
  lzs_status status = LZS_IO;
  reads = true;
  while (status != LZS_OK) {
    int64_t seen = 0;
    countdown = ++n;
    status = lzs_open(fx.file, &fx.options, &fx.store, &fx.error);
    if (status == LZS_OK)
      status = ask(_i, fx.store, &seen);
    ck_assert_msg(status == LZS_OK || status == LZS_IO, "%s, read %ld: %s, %s", names[_i], n,
                  lzs_status_name(status), fx.error.detail);
    ck_assert(status != LZS_OK || _i != 1 || seen == 304);
    lzs_close(fx.store);
    fx.store = NULL;
    ck_assert_int_lt(n, 5000);
  }
  countdown = 0;
  assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
  ck_assert_int_eq(entries_there(), _i == 4 ? 305 : 304);
  ck_assert_int_gt(n, 2);
  printf("%s: %ld failed reads one after the other\n", names[_i], n - 1);
}
END_TEST

START_TEST(a_failed_creation_leaves_nothing)
{
  failure = SQLITE_IOERR_WRITE;
  long n = 0;
  lzs_status status = LZS_IO;
  while (status != LZS_OK) {
    countdown = ++n;
    status = lzs_create(fx.file, &fx.options, &fx.store, &fx.error);
    countdown = 0;
    if (status != LZS_OK) {
      char command[200];
      snprintf(command, sizeof command, "test -z \"$(ls -A '%s')\"", fx.folder);
      // The file is there only if it was complete, and then it opens.
      if (system(command) != 0)
        assert_ok(lzs_open(fx.file, &fx.options, &fx.store, &fx.error));
      lzs_close(fx.store);
      fx.store = NULL;
      remove(fx.file);
    }
    ck_assert_int_lt(n, 5000);
  }
  printf("creation: %ld failures one after the other\n", n - 1);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store on a failing disk");
  TCase *t = tcase_create("disk");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, setup, fixture_teardown);
  tcase_add_loop_test(t, every_write_fails_once, 0, sizeof cases / sizeof cases[0]);
  tcase_add_loop_test(t, every_read_fails_once, 0, 5);
  tcase_add_test(t, a_failed_creation_leaves_nothing);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
