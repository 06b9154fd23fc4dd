// SPDX-License-Identifier: GPL-3.0-or-later
// Copies and restores: a back-up is whole or is not there, a restored ledger carries its chain on.
#include "store_fixture.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define MAX 64

static char copy_path[160];

static void
create_small(void)
{
  fixture_create();
  append_small_station();
  snprintf(copy_path, sizeof copy_path, "%s/copy.lazaret", fx.folder);
}

// Entries as an export would carry them, with their own texts.
typedef struct {
  lzs_entry e[MAX];
  size_t n;
} exported;

static bool
export_one(void *ctx, const lzs_entry *entry)
{
  exported *x = ctx;
  lzs_entry *e = &x->e[x->n++];
  *e = *entry;
  e->reason = entry->reason != NULL ? strdup(entry->reason) : NULL;
  for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
    if (entry->v[i].text != NULL)
      e->v[i].text = strdup(entry->v[i].text);
  return true;
}

static void
export_free(exported *x)
{
  for (size_t k = 0; k < x->n; k++) {
    free((char *)x->e[k].reason);
    for (size_t i = 0; i < LZS_MAX_FIELDS; i++)
      free((char *)x->e[k].v[i].text);
  }
}

static void
add_history(void)
{
  lzs_entry e[3] = {a_reading(3, 0.4), a_reading(3, 0.45), a_reading(3, 0.5)};
  e[1].corrects = -1;
  e[1].reason = "misread";
  append_ok(e, 3);
}

static lzs_verify_result
verified(lzs_store *store)
{
  lzs_verify_result v;
  assert_ok(lzs_verify(store, &v, &fx.error));
  return v;
}

START_TEST(a_copy_is_one_whole_file)
{
  add_history();
  lzs_verify_result mine = verified(fx.store);
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
  char beside[200];
  static const char *const none[] = {"-wal", "-shm", "-journal"};
  for (int i = 0; i < 3; i++) {
    snprintf(beside, sizeof beside, "%s%s", copy_path, none[i]);
    ck_assert_msg(access(beside, F_OK) != 0, "%s", beside);
  }
  lzs_store *copy;
  assert_ok(lzs_open(copy_path, &fx.options, &copy, &fx.error));
  ck_assert_mem_eq(verified(copy).head, mine.head, 32);
  lzs_close(copy);
}
END_TEST

START_TEST(a_copy_replaces_an_older_one)
{
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
  add_history();
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
  lzs_store *copy;
  assert_ok(lzs_open(copy_path, &fx.options, &copy, &fx.error));
  ck_assert_int_eq(verified(copy).entries, 7);
  lzs_close(copy);
}
END_TEST

START_TEST(a_failed_copy_keeps_the_older_one)
{
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
  add_history();
  char command[240];
  snprintf(command, sizeof command, "mkdir -p '%s.part-%ld/x'", copy_path, (long)getpid());
  ck_assert_int_eq(system(command), 0);
  ck_assert_int_ne(lzs_backup(fx.store, copy_path, &fx.error), LZS_OK);
  ck_assert_str_eq(fx.error.value, copy_path);
  lzs_store *copy;
  assert_ok(lzs_open(copy_path, &fx.options, &copy, &fx.error));
  ck_assert_int_eq(verified(copy).entries, 4);
  lzs_close(copy);
}
END_TEST

START_TEST(a_copy_of_a_changed_ledger_is_refused)
{
  assert_ok(lzs_backup(fx.store, copy_path, &fx.error)); // a good one from before
  add_history();
  sqlite3 *raw;
  ck_assert_int_eq(sqlite3_open(fx.file, &raw), SQLITE_OK);
  ck_assert_int_eq(sqlite3_exec(raw,
                                "DROP TRIGGER reading_update;"
                                "UPDATE reading SET value = 0.6 WHERE id = 6",
                                NULL, NULL, NULL),
                   SQLITE_OK);
  sqlite3_close(raw);
  assert_status(lzs_backup(fx.store, copy_path, &fx.error), LZS_CORRUPT);
  ck_assert_int_eq(fx.error.entry, 6);
  lzs_store *copy;
  assert_ok(lzs_open(copy_path, &fx.options, &copy, &fx.error));
  ck_assert_int_eq(verified(copy).entries, 4); // is still there
  lzs_close(copy);
}
END_TEST

// Copies taken between another connection's commits are each one instant.
START_TEST(copies_while_in_use_are_consistent)
{
  lzs_store *writer;
  assert_ok(lzs_open(fx.file, &fx.options, &writer, &fx.error));
  for (int round = 0; round < 10; round++) {
    lzs_entry e[3] = {a_reading(3, 0.4), a_reading(3, 0.4), a_reading(3, 0.4)};
    assert_ok(lzs_append(writer, e, 3, &fx.error));
    assert_ok(lzs_backup(fx.store, copy_path, &fx.error));
    lzs_store *copy;
    assert_ok(lzs_open(copy_path, &fx.options, &copy, &fx.error));
    ck_assert_int_eq(verified(copy).entries, 4 + 3 * (round + 1));
    lzs_close(copy);
  }
  lzs_close(writer);
}
END_TEST

static lzs_store *
empty_file(void)
{
  lzs_store *store;
  assert_ok(lzs_create(copy_path, &fx.options, &store, &fx.error));
  return store;
}

static bool
same_entry(void *ctx, const lzs_entry *entry)
{
  const lzs_entry *wanted = ctx;
  ck_assert_int_eq(entry->id, wanted->id);
  ck_assert_int_eq(entry->recorded_ms, wanted->recorded_ms);
  ck_assert_mem_eq(entry->hash, wanted->hash, 32);
  ck_assert_mem_eq(entry->pc, wanted->pc, 16);
  return true;
}

START_TEST(a_restored_ledger_is_the_same)
{
  add_history();
  exported x = {.n = 0};
  assert_ok(lzs_read(fx.store, 0, export_one, &x, &fx.error));
  lzs_verify_result mine = verified(fx.store);
  fx.now_ms += 1000000;
  lzs_store *copy = empty_file();
  assert_ok(lzs_restore(copy, x.e, x.n, &fx.error));
  ck_assert_mem_eq(verified(copy).head, mine.head, 32);
  for (size_t i = 0; i < x.n; i++)
    assert_ok(lzs_read_one(copy, x.e[i].id, same_entry, &x.e[i], &fx.error));
  // This PC goes on as a new one.
  lzs_entry e = a_reading(3, 0.4);
  assert_ok(lzs_append(copy, &e, 1, &fx.error));
  ck_assert_int_eq(e.id, 8);
  ck_assert_int_eq(e.pc_seq, 1);
  ck_assert_int_eq(verified(copy).chains, 2);
  assert_status(lzs_restore(copy, x.e, x.n, &fx.error), LZS_REFUSED);
  lzs_close(copy);
  export_free(&x);
}
END_TEST

// Each way in which an export may not be what was written: nothing of it gets in.
static void
spoil(exported *x, int how)
{
  switch (how) {
  case 0: x->e[5].v[2].r += 0.01; break;
  case 1: x->e[5].hash[31] ^= 1; break;
  case 2: x->e[5].reason = NULL; break;
  case 3:
    memmove(&x->e[4], &x->e[5], 2 * sizeof x->e[0]);
    x->n--;
    break; // one is missing
  case 4: x->e[6].recorded_ms = 0; break;
  case 5: x->e[5].id = 5; break;
  case 6: // a gap in the running numbers under a hash that fits
    x->e[6].pc_seq++;
    lzs_hash(&x->e[6], x->e[5].hash, x->e[6].hash);
    break;
  case 7: x->e[2].v[0].text = ""; break;
  case 8: x->e[0].pc[0] ^= 1; break;
  case 9: x->e[6].kind = LZS_N_KINDS; break;
  default: ck_abort();
  }
}

START_TEST(a_spoilt_export_is_refused_whole)
{
  add_history();
  exported x = {.n = 0};
  assert_ok(lzs_read(fx.store, 0, export_one, &x, &fx.error));
  exported spoilt = x;
  spoil(&spoilt, _i);
  lzs_store *copy = empty_file();
  lzs_status status = lzs_restore(copy, spoilt.e, spoilt.n, &fx.error);
  ck_assert_msg(status == LZS_CORRUPT || status == LZS_BAD_INPUT, "%s", lzs_status_name(status));
  ck_assert_int_ne(fx.error.entry, 0);
  int64_t last;
  assert_ok(lzs_last_id(copy, &last, &fx.error));
  ck_assert_int_eq(last, 0);
  assert_ok(lzs_restore(copy, x.e, x.n, &fx.error)); // the right one still does
  lzs_close(copy);
  export_free(&x);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store backup");
  TCase *t = tcase_create("backup");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, create_small, fixture_teardown);
  tcase_add_test(t, a_copy_is_one_whole_file);
  tcase_add_test(t, a_copy_replaces_an_older_one);
  tcase_add_test(t, a_failed_copy_keeps_the_older_one);
  tcase_add_test(t, a_copy_of_a_changed_ledger_is_refused);
  tcase_add_test(t, copies_while_in_use_are_consistent);
  tcase_add_test(t, a_restored_ledger_is_the_same);
  tcase_add_loop_test(t, a_spoilt_export_is_refused_whole, 0, 10);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
