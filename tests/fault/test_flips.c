// SPDX-License-Identifier: GPL-3.0-or-later
// A station file with one to three bytes changed at random, or cut short at random: whenever any
// row of it differs from what was written, opening or verifying says so, and where; the others are
// harmless, and counted. A salvage of each damaged file keeps every entry that can be shown to be
// sound, verifies, and accounts for every other one. LAZARET_FLIPS sets how many, LAZARET_SEED
// repeats them.
#include "store_fixture.h"

#include "lzs_db.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define FLIPS    1000
#define READINGS 300
#define ENTRIES  (4 + READINGS + 40)

static unsigned seed;
static uint8_t *sound, *damaged;
static size_t size;
static uint8_t hashes[ENTRIES + 1][32]; // of every entry as written
static char *wanted;                    // every row of the file as one text

static const char all_rows[] =
    "SELECT group_concat(t, char(10)) FROM ("
    "SELECT 'e' || quote(id) || quote(kind) || quote(happened_min) || quote(offset_min) || "
    "quote(recorded_ms) || quote(who) || quote(witness) || quote(reason) || quote(pc) || "
    "quote(pc_seq) || quote(corrects) || quote(voided) || quote(entity) || quote(hash) AS t FROM "
    "entry "
    "UNION ALL SELECT 'r' || quote(id) || quote(system) || quote(analyte) || quote(value) || "
    "quote(typed) || quote(unit) || quote(instrument) FROM reading "
    "UNION ALL SELECT 's' || quote(id) || quote(name) || quote(volume_l) || quote(role) FROM "
    "system "
    "UNION ALL SELECT 'n' || quote(id) || quote(words) FROM note "
    "UNION ALL SELECT 'p' || quote(id) || quote(role) || quote(active) FROM person "
    "UNION ALL SELECT 't' || quote(id) || quote(name) || quote(zone) FROM station "
    "UNION ALL SELECT 'i' || quote(id) || quote(name) || quote(method) FROM instrument "
    "UNION ALL SELECT 'c' || quote(id) || quote(uid) FROM pc "
    "UNION ALL SELECT 'd' || quote(person) || quote(name) || quote(initials) || quote(contact) "
    "FROM identity "
    "UNION ALL SELECT 'h' || quote(person) || quote(hash) FROM pin "
    "UNION ALL SELECT 'f' || quote(key) || quote(value) || quote(at_ms) FROM draft "
    "UNION ALL SELECT 'q' || type || name || coalesce(sql, '') FROM sqlite_schema)";

static char *
rows_of(sqlite3 *db)
{
  sqlite3_stmt *stmt = NULL;
  char *text = NULL;
  if (sqlite3_prepare_v2(db, all_rows, -1, &stmt, NULL) == SQLITE_OK &&
      sqlite3_step(stmt) == SQLITE_ROW && sqlite3_column_text(stmt, 0) != NULL)
    text = strdup((const char *)sqlite3_column_text(stmt, 0));
  sqlite3_finalize(stmt);
  return text;
}

static bool
keep_hash(void *ctx, const lzs_entry *entry)
{
  ck_assert_int_le(entry->id, ENTRIES);
  memcpy(hashes[entry->id], entry->hash, 32);
  return true;
}

static void
write_station(void)
{
  append_small_station();
  for (int i = 0; i < READINGS; i++) {
    lzs_entry e = a_reading(3, 0.3 + i * 0.001);
    e.reason = i % 7 == 0 ? "second look" : NULL;
    append_ok(&e, 1);
  }
  assert_ok(lzs_pc_renew(fx.store, &fx.error)); // a second chain
  for (int i = 0; i < 40; i++) {
    lzs_entry e = entry_of(LZS_NOTE);
    e.who = 2;
    put_text(&e, "words",
             i % 10 == 0 ? "the left pump hums, looked at the bearing, it is dry" : "fed");
    append_ok(&e, 1);
  }
  assert_ok(lzs_name_set(fx.store, 2, &(lzs_identity){"Ada Example", "AE", "ada@example.org"},
                         &fx.error));
  assert_ok(lzs_pin_set(fx.store, 2, "2468", &fx.error));
  assert_ok(lzs_draft_set(fx.store, "dose", "12,5", 1, &fx.error));
  assert_ok(lzs_read(fx.store, 0, keep_hash, NULL, &fx.error));
  wanted = rows_of(fx.store->db);
  ck_assert_ptr_nonnull(wanted);
}

static void
setup(void)
{
  const char *given = getenv("LAZARET_SEED");
  seed = given != NULL ? (unsigned)strtoul(given, NULL, 10) : (unsigned)time(NULL);
  printf("LAZARET_SEED=%u\n", seed);
  fx.options.place = LZS_PLACE_NETWORK;
  fixture_create();
  write_station();
  lzs_close(fx.store);
  fx.store = NULL;
  FILE *in = fopen(fx.file, "rb");
  sound = malloc(1 << 22);
  damaged = malloc(1 << 22);
  size = fread(sound, 1, 1 << 22, in);
  fclose(in);
}

static void
teardown(void)
{
  free(sound);
  free(damaged);
  free(wanted);
  fixture_teardown();
}

// Answers the new size.
static size_t
damage(void)
{
  memcpy(damaged, sound, size);
  if (rand_r(&seed) % 5 == 0)
    return (size_t)rand_r(&seed) % size;
  for (int n = 1 + rand_r(&seed) % 3; n > 0; n--) {
    size_t at =
        rand_r(&seed) % 6 == 0 ? (size_t)rand_r(&seed) % 8192 : (size_t)rand_r(&seed) % size;
    damaged[at] ^= (uint8_t)(1 + rand_r(&seed) % 255);
  }
  return size;
}

static void
put_file(const char *path, const uint8_t *bytes, size_t n)
{
  FILE *out = fopen(path, "wb");
  ck_assert_ptr_nonnull(out);
  ck_assert_uint_eq(fwrite(bytes, 1, n, out), n);
  fclose(out);
}

// Whether opening and verifying find something; then error says where.
static bool
is_found(void)
{
  lzs_verify_result v;
  memset(&fx.error, 0, sizeof fx.error);
  fx.options.read_only = true;
  lzs_status status = lzs_open(fx.file, &fx.options, &fx.store, &fx.error);
  if (status == LZS_OK)
    status = lzs_verify(fx.store, &v, &fx.error);
  fx.options.read_only = false;
  ck_assert(status == LZS_OK || fx.error.entry != 0 || fx.error.field[0] != '\0');
  return status != LZS_OK;
}

static bool
is_changed(void)
{
  sqlite3 *db = NULL;
  char *now =
      sqlite3_open_v2(fx.file, &db, SQLITE_OPEN_READONLY, NULL) == SQLITE_OK ? rows_of(db) : NULL;
  bool changed = now == NULL || strcmp(now, wanted) != 0;
  free(now);
  sqlite3_close(db);
  return changed;
}

typedef struct {
  int64_t next;
  int64_t sound, other;
} account;

static bool
is_other(void *ctx, int64_t id, lzs_fate fate, const lzs_entry *entry)
{
  ((account *)ctx)->other += fate > LZS_KEPT_DOUBTFUL;
  return true;
}

// A kept entry is as it was written, or it is said not to be proven.
static bool
is_as_written(void *ctx, const lzs_entry *entry)
{
  account *a = ctx;
  a->sound += entry->id <= ENTRIES && memcmp(entry->hash, hashes[entry->id], 32) == 0;
  a->next++;
  return true;
}

static void
salvage(lzs_salvage_result *out, bool *any)
{
  char to[160];
  account a = {0};
  lzs_options options = {.place = LZS_PLACE_NETWORK};
  lzs_verify_result v;
  snprintf(to, sizeof to, "%s/salvaged.lazaret", fx.folder);
  unlink(to);
  lzs_status status = lzs_salvage(fx.file, to, &options, is_other, &a, out, &fx.error);
  *any = status == LZS_OK;
  if (status != LZS_OK) {
    ck_assert_msg(status == LZS_CORRUPT, "%s: %s", lzs_status_name(status), fx.error.detail);
    ck_assert_int_ne(access(to, F_OK), 0);
    return;
  }
  lzs_store *store;
  assert_ok(lzs_open(to, &options, &store, &fx.error));
  assert_ok(lzs_verify(store, &v, &fx.error));
  assert_ok(lzs_read(store, 0, is_as_written, &a, &fx.error));
  lzs_close(store);
  ck_assert_int_eq(v.entries, out->kept);
  ck_assert_int_ge(a.sound, out->kept - out->doubtful - out->unproven);
  ck_assert_int_eq(out->lost, a.other);
}

START_TEST(whatever_changes_a_row_is_found)
{
  const char *many = getenv("LAZARET_FLIPS");
  int n = many != NULL ? atoi(many) : FLIPS;
  int found = 0, harmless = 0, changed = 0, empty = 0, whole = 0, salvaged = 0;
  int64_t lost = 0, unsure = 0;
  for (int i = 0; i < n; i++) {
    put_file(fx.file, damaged, damage());
    bool said = is_found(), differs;
    lzs_close(fx.store);
    fx.store = NULL;
    differs = is_changed();
    ck_assert_msg(said || !differs, "damage %d changes a row and is not found", i);
    found += said;
    harmless += !said;
    changed += differs;
    if (i % 8 != 0 && (!said || i % 2 != 0))
      continue;
    lzs_salvage_result r;
    bool any;
    salvage(&r, &any);
    salvaged++;
    empty += !any;
    whole += any && r.kept == ENTRIES && r.unproven + r.doubtful == 0;
    lost += any ? r.lost : 0;
    unsure += any ? r.unproven + r.doubtful : 0;
  }
  printf(
      "%d damaged files of %zu bytes: %d found (%d with a row changed), %d harmless; %d salvaged: "
      "%d kept "
      "whole, %d with nothing left, %.1f of %d entries lost and %.2f unproven or doubtful on "
      "average\n",
      n, size, found, changed, harmless, salvaged, whole, empty, (double)lost / salvaged, ENTRIES,
      (double)unsure / salvaged);
  ck_assert_int_gt(found, n / 4);
  ck_assert_int_gt(harmless, 0);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("damaged files");
  TCase *t = tcase_create("flips");
  tcase_set_timeout(t, 280);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_test(t, whatever_changes_a_row_is_found);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  // Thousands of files, none of which has to outlive the test: a disk would only slow it down.
  if (access("/dev/shm", W_OK) == 0)
    setenv("TMPDIR", "/dev/shm", 1);
  return run_suite(suite());
}
