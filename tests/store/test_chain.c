// SPDX-License-Identifier: GPL-3.0-or-later
// The hash chain: the worked example of docs/store/chain.md, and every way of changing a past entry
// behind the store's back found and located.
#include "store_fixture.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MIDDLE 7 // the entry that is tampered with, of 10

static void
create_with_readings(void)
{
  fixture_create();
  append_small_station();
  for (int i = 0; i < 6; i++) {
    lzs_entry r = a_reading(3, 0.4 + 0.01 * i);
    r.reason = "round";
    r.witness = 2;
    fx.now_ms += 60000;
    append_ok(&r, 1);
  }
}

// As anybody with another SQLite program could: triggers dropped, keys not looked at.
static void
tamper(const char *sql)
{
  sqlite3 *raw;
  ck_assert_int_eq(sqlite3_open(fx.file, &raw), SQLITE_OK);
  static const char *const tables[] = {"entry", "reading", "pc", "system"};
  for (size_t i = 0; i < 4; i++) {
    char drop[120];
    snprintf(drop, sizeof drop,
             "DROP TRIGGER IF EXISTS %s_update; DROP TRIGGER IF EXISTS %s_delete", tables[i],
             tables[i]);
    ck_assert_int_eq(sqlite3_exec(raw, drop, NULL, NULL, NULL), SQLITE_OK);
  }
  char *message = NULL;
  int code = sqlite3_exec(raw, sql, NULL, NULL, &message);
  ck_assert_msg(code == SQLITE_OK, "%s: %s", sql, message);
  ck_assert_int_gt(sqlite3_total_changes(raw), 0);
  sqlite3_close(raw);
}

static void
assert_found(int64_t id)
{
  lzs_verify_result v;
  assert_status(lzs_verify(fx.store, &v, &fx.error), LZS_CORRUPT);
  ck_assert_int_ge(v.bad, 1);
  ck_assert_int_eq(fx.error.entry, id);
}

// Reads the hexadecimal digits of the fenced block that begins with ```NAME.
static size_t
block(const char *name, uint8_t *out, size_t size)
{
  const char *docs = getenv("LAZARET_DOCS");
  char path[512], line[200], fence[40];
  snprintf(path, sizeof path, "%s/store/chain.md", docs != NULL ? docs : "docs");
  snprintf(fence, sizeof fence, "```%s\n", name);
  FILE *f = fopen(path, "r");
  ck_assert_msg(f != NULL, "no %s: set LAZARET_DOCS", path);
  bool inside = false;
  size_t n = 0;
  while (fgets(line, sizeof line, f) != NULL) {
    if (inside && strncmp(line, "```", 3) == 0)
      break;
    unsigned byte;
    int used = 0;
    for (const char *c = line; inside && n < size; c += used) {
      if (c != line && c[0] == ' ' && c[1] == ' ')
        break; // the comment
      if (sscanf(c, "%2x%n", &byte, &used) != 1)
        break;
      out[n++] = (uint8_t)byte;
    }
    inside = inside || strcmp(line, fence) == 0;
  }
  fclose(f);
  return n;
}

START_TEST(worked_example)
{
  lzs_entry e = entry_of(LZS_PERSON);
  e.id = e.who = e.pc_seq = 1;
  e.recorded_ms = INT64_C(1773475212345);
  e.reason = "d\xC3\xA9"
             "but";
  for (int i = 0; i < 16; i++)
    e.pc[i] = (uint8_t)i;
  put_text(&e, "role", "keeper");
  put_int(&e, "active", 1);
  uint8_t printed[33], before[32] = {0}, hash[32];
  ck_assert_int_eq(block("sha256", printed, sizeof printed), 32);
  lzs_hash(&e, before, hash);
  ck_assert_mem_eq(hash, printed, 32);
}
END_TEST

START_TEST(negative_zero_is_zero)
{
  lzs_entry r = a_reading(3, -0.0);
  append_ok(&r, 1);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
}
END_TEST

START_TEST(every_number_comes_back_to_the_bit)
{
  static const double hard[] = {0.1,
                                1.0 / 3,
                                1e-300,
                                4.9406564584124654e-324,
                                99999.999999999985,
                                9007.1992547409925,
                                3,
                                -9.9999999999999982};
  for (size_t i = 0; i < sizeof hard / sizeof hard[0]; i++) {
    lzs_entry r = a_reading(3, hard[i]);
    append_ok(&r, 1);
  }
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  ck_assert_int_eq(v.bad, 0);
}
END_TEST

static const char *const one_value[] = {
    "UPDATE entry SET happened_min = happened_min + 1 WHERE id = 7",
    "UPDATE entry SET offset_min = 0 WHERE id = 7",
    "UPDATE entry SET offset_min = offset_min + 4294967296 WHERE id = 7",
    "UPDATE entry SET recorded_ms = recorded_ms + 1 WHERE id = 7",
    "UPDATE entry SET who = NULL WHERE id = 7",
    "UPDATE entry SET who = 1 WHERE id = 7",
    "UPDATE entry SET witness = NULL WHERE id = 7",
    "UPDATE entry SET witness = 0 WHERE id = 7",
    "UPDATE entry SET corrects = 0 WHERE id = 7",
    "UPDATE entry SET reason = NULL WHERE id = 7",
    "UPDATE entry SET reason = 'rounds' WHERE id = 7",
    "UPDATE entry SET reason = 'round' || char(0) || 'x' WHERE id = 7",
    "UPDATE entry SET corrects = 6 WHERE id = 7",
    "UPDATE entry SET voided = 1 WHERE id = 7",
    "UPDATE entry SET entity = 3 WHERE id = 7",
    "UPDATE entry SET kind = 'note' WHERE id = 7",
    "UPDATE entry SET kind = 'readings' WHERE id = 7",
    "UPDATE entry SET hash = zeroblob(32) WHERE id = 7",
    "UPDATE entry SET pc_seq = 1000 WHERE id = 7",
    "UPDATE reading SET value = 0.5 WHERE id = 7",
    "UPDATE reading SET value = NULL WHERE id = 7",
    "UPDATE reading SET typed = '0,49' WHERE id = 7",
    "UPDATE reading SET typed = typed || char(0) WHERE id = 7",
    "UPDATE reading SET typed = NULL WHERE id = 7",
    "UPDATE reading SET typed = NULL, unit = '0,48' WHERE id = 7",
    "UPDATE reading SET suspect = 0 WHERE id = 7",
    "UPDATE reading SET analyte = 'salinity' WHERE id = 7",
    "UPDATE reading SET instrument = 4 WHERE id = 7",
    "DELETE FROM reading WHERE id = 7",
};

START_TEST(one_changed_value_is_found)
{
  tamper(one_value[_i]);
  assert_found(MIDDLE);
}
END_TEST

static const struct {
  const char *sql;
  int64_t found;
} structure[] = {
    {"DELETE FROM entry WHERE id = 7; DELETE FROM reading WHERE id = 7", 8},
    {"DELETE FROM entry WHERE id = 7", 7}, // values without an entry
    {"DELETE FROM entry WHERE id = 10", 10},
    {"INSERT INTO reading (id, value) VALUES (1, 1)", 1},
    {"INSERT INTO reading (id, value) VALUES (99, 1)", 99},
    {"INSERT INTO dose (id) VALUES (7)", 7},
    {"UPDATE pc SET uid = zeroblob(16)", 1},
    {"UPDATE entry SET id = 70 WHERE id = 7; UPDATE reading SET id = 70 WHERE id = 7", 8},
    // Two entries change places: hashes, running numbers and all.
    {"UPDATE entry SET id = 99 WHERE id = 7; UPDATE entry SET id = 7 WHERE id = 8;"
     "UPDATE entry SET id = 8 WHERE id = 99",
     7},
    {"UPDATE entry SET recorded_ms = 0 WHERE id = 1", 1},
};

START_TEST(changed_structure_is_found)
{
  tamper(structure[_i].sql);
  assert_found(structure[_i].found);
}
END_TEST

// What stands outside the chain, and what keeps the ledger append-only.
static const struct {
  const char *sql, *field;
} outside[] = {
    {"UPDATE identity SET name = 'Eve Example'", "identity"},
    {"UPDATE identity SET initials = NULL", "identity"},
    {"UPDATE identity SET contact = 'elsewhere'", "identity"},
    {"UPDATE draft SET value = '1,25'", "draft"},
    {"DROP TRIGGER reading_update", "sqlite_schema"},
    {"CREATE TABLE more (x INTEGER) STRICT", "sqlite_schema"},
};

START_TEST(changes_outside_the_chain_are_found)
{
  assert_ok(lzs_name_set(fx.store, 2, &(lzs_identity){"Ada Example", "AE", "ada@example.org"},
                         &fx.error));
  assert_ok(lzs_draft_set(fx.store, "dose", "12,5", 1, &fx.error));
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  sqlite3 *raw;
  ck_assert_int_eq(sqlite3_open(fx.file, &raw), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(raw, outside[_i].sql, NULL, NULL, NULL), SQLITE_OK);
  sqlite3_close(raw);
  assert_status(lzs_verify(fx.store, &v, &fx.error), LZS_CORRUPT);
  ck_assert_str_eq(fx.error.field, outside[_i].field);
}
END_TEST

START_TEST(one_changed_entry_counts_once)
{
  tamper("UPDATE reading SET value = 0.5 WHERE id = 7");
  lzs_verify_result v;
  assert_status(lzs_verify(fx.store, &v, &fx.error), LZS_CORRUPT);
  ck_assert_int_eq(v.bad, 2); // the entry, and the triggers that had to go
  ck_assert_int_eq(v.entries, 10);
  ck_assert_str_eq(fx.error.field, "hash");
}
END_TEST

static bool
ignore(void *ctx, const lzs_entry *entry)
{
  ++*(int *)ctx;
  return true;
}

START_TEST(reading_stops_where_values_are_missing)
{
  tamper("DELETE FROM reading WHERE id = 7");
  int n = 0;
  assert_status(lzs_read(fx.store, 0, ignore, &n, &fx.error), LZS_CORRUPT);
  ck_assert_int_eq(fx.error.entry, 7);
  ck_assert_int_eq(n, 6);
}
END_TEST

START_TEST(clock_set_back)
{
  lzs_entry before = a_reading(3, 0.4), after = a_reading(3, 0.4), later = a_reading(3, 0.4);
  append_ok(&before, 1);
  ck_assert_int_eq(lzs_clock_lag_ms(fx.store), 0);
  fx.now_ms -= 3600000;
  append_ok(&after, 1);
  ck_assert_int_eq(after.recorded_ms, before.recorded_ms);
  ck_assert_int_eq(lzs_clock_lag_ms(fx.store), 3600000);
  fx.now_ms += 3600001;
  append_ok(&later, 1);
  ck_assert_int_eq(later.recorded_ms, before.recorded_ms + 1);
  ck_assert_int_eq(lzs_clock_lag_ms(fx.store), 0);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
}
END_TEST

START_TEST(each_pc_has_its_chain)
{
  char other[128];
  snprintf(other, sizeof other, "%s/other-pc", fx.folder);
  lzs_options options = fx.options;
  options.pc_folder = other;
  lzs_store *second;
  assert_ok(lzs_open(fx.file, &options, &second, &fx.error));
  lzs_verify_result one, v;
  assert_ok(lzs_verify(fx.store, &one, &fx.error));
  for (int i = 0; i < 3; i++) {
    lzs_entry a = a_reading(3, 0.5), b = a_reading(3, 0.5);
    assert_ok(lzs_append(second, &a, 1, &fx.error));
    append_ok(&b, 1);
    ck_assert_int_eq(a.id, 11 + 2 * i);
    ck_assert_int_eq(a.pc_seq, i + 1);
    ck_assert_int_eq(b.pc_seq, 11 + i);
    ck_assert_mem_ne(a.pc, b.pc, 16);
  }
  lzs_close(second);
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  ck_assert_int_eq(v.chains, 2);
  ck_assert_mem_ne(v.head, one.head, 32);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store chain");
  TCase *t = tcase_create("chain");
  tcase_add_checked_fixture(t, create_with_readings, fixture_teardown);
  tcase_add_test(t, worked_example);
  tcase_add_test(t, negative_zero_is_zero);
  tcase_add_test(t, every_number_comes_back_to_the_bit);
  tcase_add_loop_test(t, one_changed_value_is_found, 0, sizeof one_value / sizeof one_value[0]);
  tcase_add_loop_test(t, changed_structure_is_found, 0, sizeof structure / sizeof structure[0]);
  tcase_add_loop_test(t, changes_outside_the_chain_are_found, 0,
                      sizeof outside / sizeof outside[0]);
  tcase_add_test(t, one_changed_entry_counts_once);
  tcase_add_test(t, reading_stops_where_values_are_missing);
  tcase_add_test(t, clock_set_back);
  tcase_add_test(t, each_pc_has_its_chain);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
