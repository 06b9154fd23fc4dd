// SPDX-License-Identifier: GPL-3.0-or-later
// Sealed files: there and back at every length around a block, and refused with another passphrase
// or with any byte changed, missing or added.
#define _GNU_SOURCE
#include "store_fixture.h"

#include "lzs_seal.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PASS "three grey herons"

static char plain[160], sealed[160], back[160];

static void
setup(void)
{
  fixture_setup();
  snprintf(plain, sizeof plain, "%s/plain", fx.folder);
  snprintf(sealed, sizeof sealed, "%s/sealed", fx.folder);
  snprintf(back, sizeof back, "%s/back", fx.folder);
}

static void
put(const char *path, const uint8_t *bytes, size_t n)
{
  FILE *out = fopen(path, "wb");
  ck_assert(out != NULL && fwrite(bytes, 1, n, out) == n && fclose(out) == 0);
}

static size_t
get(const char *path, uint8_t *bytes, size_t room)
{
  FILE *in = fopen(path, "rb");
  ck_assert_ptr_nonnull(in);
  size_t n = fread(bytes, 1, room, in);
  fclose(in);
  return n;
}

static uint8_t *
some_bytes(size_t n)
{
  uint8_t *bytes = malloc(n + 1);
  for (size_t i = 0; i < n; i++)
    bytes[i] = (uint8_t)(i * 7 + i / 251);
  return bytes;
}

static const size_t lengths[] = {0, 65536, 65537};

START_TEST(there_and_back)
{
  size_t n = lengths[_i];
  uint8_t *bytes = some_bytes(n), *again = malloc(n + 100);
  put(plain, bytes, n);
  assert_ok(lzs_seal(plain, sealed, PASS, &fx.error));
  assert_ok(lzs_unseal(sealed, back, PASS, &fx.error));
  ck_assert_uint_eq(get(back, again, n + 100), n);
  ck_assert(n == 0 || memcmp(bytes, again, n) == 0);
  struct stat st;
  ck_assert_int_eq(stat(sealed, &st), 0);
  ck_assert_int_eq(st.st_mode & 0777, 0600);
  free(bytes);
  free(again);
}
END_TEST

static lzs_status
unseal_spoilt(const uint8_t *bytes, size_t n)
{
  put(sealed, bytes, n);
  lzs_status status = lzs_unseal(sealed, back, PASS, &fx.error);
  ck_assert_int_ne(access(back, F_OK), 0);
  return status;
}

START_TEST(anything_else_is_refused)
{
  uint8_t *bytes = some_bytes(70000), *whole = malloc(80000);
  put(plain, bytes, 70000);
  assert_ok(lzs_seal(plain, sealed, PASS, &fx.error));
  ck_assert_ptr_null(memmem(whole, get(sealed, whole, 80000), bytes, 64)); // nothing shows
  size_t n = get(sealed, whole, 80000);
  assert_status(lzs_unseal(sealed, back, "three grey heronz", &fx.error), LZS_REFUSED);
  assert_status(lzs_unseal(sealed, back, "short", &fx.error), LZS_BAD_INPUT);
  static const size_t places[] = {30, 64, 5000, 65618};
  for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
    whole[places[i]] ^= 0x10;
    lzs_status status = unseal_spoilt(whole, n);
    ck_assert_msg(status == LZS_REFUSED || status == LZS_NO_MEMORY, "byte %zu: %s", places[i],
                  lzs_status_name(status));
    whole[places[i]] ^= 0x10;
  }
  ck_assert_int_eq(unseal_spoilt(whole, n - 1), LZS_REFUSED);
  ck_assert_int_eq(unseal_spoilt(whole, 65618), LZS_REFUSED); // the last block is missing
  ck_assert_int_eq(unseal_spoilt(whole, n + 1), LZS_REFUSED);
  ck_assert_int_eq(unseal_spoilt(whole, 30), LZS_NOT_STATION);
  whole[8] = 2;
  ck_assert_int_eq(unseal_spoilt(whole, n), LZS_TOO_NEW);
  whole[8] = 1;
  whole[17] = 1; // wants 2^56 bytes of memory
  ck_assert_int_eq(unseal_spoilt(whole, n), LZS_REFUSED);
  free(bytes);
  free(whole);
}
END_TEST

START_TEST(nothing_is_written_over)
{
  put(plain, (const uint8_t *)"x", 1);
  put(sealed, (const uint8_t *)"y", 1);
  assert_status(lzs_seal(plain, sealed, PASS, &fx.error), LZS_EXISTS);
  assert_status(lzs_unseal(sealed, plain, PASS, &fx.error), LZS_EXISTS);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store seal");
  TCase *t = tcase_create("seal");
  tcase_set_timeout(t, 100);
  tcase_add_checked_fixture(t, setup, fixture_teardown);
  tcase_add_loop_test(t, there_and_back, 0, sizeof lengths / sizeof lengths[0]);
  tcase_add_test(t, anything_else_is_refused);
  tcase_add_test(t, nothing_is_written_over);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
