// SPDX-License-Identifier: GPL-3.0-or-later
// Appending and reading back: all or nothing, references by placeholder, every value as it was
// given.
#include "store_fixture.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
  int n;
  lzs_entry last;
  char reason[80], text[80];
} seen;

static bool
remember(void *ctx, const lzs_entry *entry)
{
  seen *s = ctx;
  s->n++;
  s->last = *entry;
  snprintf(s->reason, sizeof s->reason, "%s", entry->reason != NULL ? entry->reason : "");
  snprintf(s->text, sizeof s->text, "%s", entry->v[0].text != NULL ? entry->v[0].text : "");
  return true;
}

static bool
stop_at_once(void *ctx, const lzs_entry *entry)
{
  ++*(int *)ctx;
  return false;
}

START_TEST(comes_back_as_given)
{
  append_small_station();
  lzs_entry r = a_reading(3, 0.48);
  put_int(&r, "instrument", 4);
  put_int(&r, "suspect", 1);
  r.witness = 2;
  r.reason = "gr\xC3\xBC\xC3\x9F dich"; // UTF-8 in, the same bytes out
  r.happened_min = 29557980;
  r.offset_min = -210;
  append_ok(&r, 1);
  ck_assert_int_eq(r.id, 5);
  ck_assert_int_eq(r.pc_seq, 5);
  ck_assert_int_eq(r.recorded_ms, fx.now_ms);

  fixture_reopen();
  seen s = {0};
  assert_ok(lzs_read_one(fx.store, 5, remember, &s, &fx.error));
  ck_assert_int_eq(s.n, 1);
  ck_assert_int_eq(s.last.kind, LZS_READING);
  ck_assert_int_eq(s.last.happened_min, 29557980);
  ck_assert_int_eq(s.last.offset_min, -210);
  ck_assert_int_eq(s.last.who, 2);
  ck_assert_int_eq(s.last.witness, 2);
  ck_assert_str_eq(s.reason, r.reason);
  ck_assert_mem_eq(s.last.hash, r.hash, 32);
  ck_assert_mem_eq(s.last.pc, r.pc, 16);
  const lzs_kind_spec *spec = lzs_kind_get(LZS_READING);
  for (size_t i = 0; i < spec->n_fields; i++)
    ck_assert_int_eq(s.last.v[i].null, r.v[i].null);
  ck_assert_double_eq(s.last.v[2].r, 0.48);
  ck_assert_int_eq(s.last.v[lzs_kind_field(spec, "instrument")].i, 4);
  ck_assert_int_eq(s.last.v[lzs_kind_field(spec, "suspect")].i, 1);
}
END_TEST

START_TEST(reads_in_order_and_stops)
{
  append_small_station();
  seen s = {0};
  assert_ok(lzs_read(fx.store, 0, remember, &s, &fx.error));
  ck_assert_int_eq(s.n, 4);
  ck_assert_int_eq(s.last.id, 4);
  s.n = 0;
  assert_ok(lzs_read(fx.store, 3, remember, &s, &fx.error));
  ck_assert_int_eq(s.n, 1);
  s.n = 0;
  assert_ok(lzs_read_kind(fx.store, LZS_SYSTEM, 0, remember, &s, &fx.error));
  ck_assert_int_eq(s.n, 1);
  ck_assert_str_eq(s.text, "Blue-1");
  int calls = 0;
  assert_ok(lzs_read(fx.store, 0, stop_at_once, &calls, &fx.error));
  ck_assert_int_eq(calls, 1);
  int64_t last = 0;
  assert_ok(lzs_last_id(fx.store, &last, &fx.error));
  ck_assert_int_eq(last, 4);
  assert_status(lzs_read_one(fx.store, 99, remember, &s, &fx.error), LZS_NOT_FOUND);
  ck_assert_int_eq(fx.error.entry, 99);
}
END_TEST

START_TEST(all_or_nothing)
{
  append_small_station();
  lzs_entry e[3] = {a_reading(3, 0.4), a_reading(3, 0.5), a_reading(3, 1e9)};
  assert_status(lzs_append(fx.store, e, 3, &fx.error), LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, "value");
  ck_assert_int_eq(fx.error.entry, -3);
  for (int i = 0; i < 3; i++)
    ck_assert_int_eq(e[i].id, 0);
  int64_t last = 0;
  assert_ok(lzs_last_id(fx.store, &last, &fx.error));
  ck_assert_int_eq(last, 4);
  // The numbers of the refused entries are used by the next ones: no gap in the chain.
  lzs_entry next = a_reading(3, 0.5);
  append_ok(&next, 1);
  ck_assert_int_eq(next.id, 5);
  ck_assert_int_eq(next.pc_seq, 5);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  ck_assert_int_eq(v.entries, 5);
  ck_assert_int_eq(v.chains, 1);
}
END_TEST

START_TEST(placeholders_become_ids)
{
  append_small_station();
  lzs_entry e[4] = {a_system("Blue-2", 500), entry_of(LZS_TANK), a_reading(-1, 0.3),
                    a_reading(-1, 0.35)};
  put_int(&e[1], "system", -1);
  put_int(&e[1], "number", 7);
  put_int(&e[2], "tank", -2);
  e[3].corrects = -3;
  e[3].reason = "misread";
  append_ok(e, 4);
  ck_assert_int_eq(e[0].id, 5);
  ck_assert_int_eq(e[1].v[0].i, 5);
  ck_assert_int_eq(e[2].v[0].i, 5);
  ck_assert_int_eq(e[2].v[lzs_kind_field(lzs_kind_get(LZS_READING), "tank")].i, 6);
  ck_assert_int_eq(e[3].corrects, 7);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
}
END_TEST

START_TEST(placeholder_must_be_earlier)
{
  append_small_station();
  lzs_entry e[2] = {a_reading(-2, 0.3), a_system("Blue-2", 500)};
  assert_status(lzs_append(fx.store, e, 2, &fx.error), LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, "system");
  ck_assert_str_eq(fx.error.value, "-2");
  ck_assert_int_eq(fx.error.entry, -1);
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store append");
  TCase *t = tcase_create("append and read");
  tcase_add_checked_fixture(t, fixture_create, fixture_teardown);
  tcase_add_test(t, comes_back_as_given);
  tcase_add_test(t, reads_in_order_and_stops);
  tcase_add_test(t, all_or_nothing);
  tcase_add_test(t, placeholders_become_ids);
  tcase_add_test(t, placeholder_must_be_earlier);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
