// SPDX-License-Identifier: GPL-3.0-or-later
// What the store refuses, one row per rule: the field that it names, the value, and that nothing is
// written.
#include "store_fixture.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

// Station 1, person 2, system 3, instrument 4, tank 5, reading 6, correction of it 7, new volume of
// the system 8, lot 9, split from it 10.
static void
create_with_history(void)
{
  fixture_create();
  append_small_station();
  lzs_entry e[6] = {entry_of(LZS_TANK),      a_reading(3, 0.4), a_reading(3, 0.45),
                    a_system("Blue-1", 790), entry_of(LZS_LOT), entry_of(LZS_SPLIT)};
  put_int(&e[0], "system", 3);
  put_int(&e[0], "number", 1);
  e[2].corrects = -2;
  e[3].entity = 3;
  put_text(&e[4], "code", "L1");
  put_int(&e[4], "tank", -1);
  put_int(&e[4], "heads", 12);
  put_int(&e[5], "lot", -5);
  put_text(&e[5], "code", "L1-B");
  put_int(&e[5], "heads", 2);
  append_ok(e, 6);
}

static void
assert_bad(lzs_entry entry, const char *field, const char *value)
{
  int64_t before = 0, after = 0;
  assert_ok(lzs_last_id(fx.store, &before, &fx.error));
  assert_status(lzs_append(fx.store, &entry, 1, &fx.error), LZS_BAD_INPUT);
  ck_assert_str_eq(fx.error.field, field);
  ck_assert_str_eq(fx.error.value, value);
  ck_assert_int_eq(fx.error.entry, -1);
  ck_assert_int_gt(strlen(fx.error.detail), 0);
  assert_ok(lzs_last_id(fx.store, &after, &fx.error));
  ck_assert_int_eq(before, after);
}

static lzs_entry
with_real(const char *field, double value)
{
  lzs_entry e = a_reading(3, 0.4);
  put_real(&e, field, value);
  return e;
}

static lzs_entry
with_text(const char *field, const char *value)
{
  lzs_entry e = a_reading(3, 0.4);
  put_text(&e, field, value);
  return e;
}

static lzs_entry
with_int(const char *field, int64_t value)
{
  lzs_entry e = a_reading(3, 0.4);
  put_int(&e, field, value);
  return e;
}

START_TEST(numbers_stay_in_range)
{
  assert_bad(with_real("value", 100000.5), "value", "100000.5");
  assert_bad(with_real("value", -10.25), "value", "-10.25");
  assert_bad(with_real("value", NAN), "value", "nan");
  assert_bad(with_real("value", INFINITY), "value", "inf");
  assert_bad(with_real("error", -0.5), "error", "-0.5");
  assert_bad(with_int("suspect", 2), "suspect", "2");
  lzs_entry edge[3] = {with_real("value", 100000), with_real("value", -10),
                       with_real("value", DBL_MIN)};
  append_ok(edge, 3);
}
END_TEST

START_TEST(needed_is_needed)
{
  lzs_entry e = a_reading(3, 0.4);
  e.v[lzs_kind_field(lzs_kind_get(LZS_READING), "value")].null = true;
  assert_bad(e, "value", "");
  lzs_entry system = a_system("", 800);
  assert_bad(system, "name", "");
}
END_TEST

START_TEST(words_are_a_closed_list)
{
  assert_bad(with_text("analyte", "Copper"), "analyte", "Copper");
  assert_bad(with_text("analyte", "copper|salinity"), "analyte", "copper|salinity");
  assert_bad(with_text("analyte", "cop"), "analyte", "cop");
  assert_bad(with_text("analyte", ""), "analyte", "");
  lzs_entry last = with_text("analyte", "peroxide");
  append_ok(&last, 1);
}
END_TEST

// Ill-formed sequences of RFC 3629 sections 3 and 4 and the Unicode standard, table 3-7.
START_TEST(text_is_utf8)
{
  static const char *const ill[] = {
      "\x80",             // continuation alone
      "\xC0\xAF",         // overlong
      "\xC1\xBF",         // overlong
      "\xE0\x80\xAF",     // overlong
      "\xE0\x9F\xBF",     // overlong
      "\xED\xA0\x80",     // surrogate
      "\xED\xBF\xBF",     // surrogate
      "\xF0\x80\x80\xAF", // overlong
      "\xF4\x90\x80\x80", // above U+10FFFF
      "\xF5\x80\x80\x80",
      "\xFF",
      "ok\xC3",
      "\xE2\x82",
      "\xF0\x9F\x90",
      "\xE2\x28\xA1",
      "\xF0\x9F\x28\x80", // a byte in the middle
  };
  for (size_t i = 0; i < sizeof ill / sizeof ill[0]; i++)
    assert_bad(with_text("typed", ill[i]), "typed", "");
  static const char *const well[] = {"",
                                     "\x7F",
                                     "\xC2\x80",
                                     "\xDF\xBF",
                                     "\xE0\xA0\x80",
                                     "\xED\x9F\xBF",
                                     "\xEE\x80\x80",
                                     "\xF0\x90\x80\x80",
                                     "\xF4\x8F\xBF\xBF"};
  for (size_t i = 0; i < sizeof well / sizeof well[0]; i++) {
    lzs_entry e = with_text("typed", well[i]);
    append_ok(&e, 1);
  }
  lzs_entry e = a_reading(3, 0.4);
  e.reason = "\xFF";
  assert_bad(e, "reason", "");
}
END_TEST

START_TEST(text_has_a_limit)
{
  char *text = malloc(LZS_MAX_TEXT + 2);
  memset(text, 'x', LZS_MAX_TEXT + 1);
  text[LZS_MAX_TEXT + 1] = '\0';
  assert_bad(with_text("typed", text), "typed", "");
  text[LZS_MAX_TEXT] = '\0';
  lzs_entry e = with_text("typed", text);
  append_ok(&e, 1);
  lzs_verify_result v;
  assert_ok(lzs_verify(fx.store, &v, &fx.error));
  free(text);
}
END_TEST

START_TEST(references_name_a_first_entry_of_their_kind)
{
  assert_bad(with_int("system", 99), "system", "99");
  assert_bad(with_int("system", 0), "system", "0");
  assert_bad(with_int("system", 4), "system", "4");     // an instrument
  assert_bad(with_int("system", 8), "system", "8");     // a later description of 3
  assert_bad(with_int("confirms", 7), "confirms", "7"); // a correction
  assert_bad(with_int("system", INT64_MIN), "system", "-9223372036854775808");
  lzs_entry e = with_int("confirms", 6);
  append_ok(&e, 1);
}
END_TEST

START_TEST(a_split_makes_a_lot)
{
  lzs_entry e = entry_of(LZS_COUNT);
  put_int(&e, "lot", 10);
  put_int(&e, "heads", 2);
  append_ok(&e, 1);
  put_int(&e, "lot", 11);
  assert_bad(e, "lot", "11"); // that count is not a lot
}
END_TEST

START_TEST(people_are_people)
{
  lzs_entry e = a_reading(3, 0.4);
  e.who = 3;
  assert_bad(e, "who", "3");
  e.who = 99;
  assert_bad(e, "who", "99");
  e.who = 2;
  e.witness = 1;
  assert_bad(e, "witness", "1");
  // A placeholder may point ahead, but to a person: the file's own key refuses at the end.
  lzs_entry two[2] = {a_reading(3, 0.4), a_reading(3, 0.4)};
  two[0].who = -2;
  assert_status(lzs_append(fx.store, two, 2, &fx.error), LZS_REFUSED);
}
END_TEST

START_TEST(corrections_name_the_first_entry)
{
  lzs_entry e = a_reading(3, 0.4);
  e.corrects = 7;
  assert_bad(e, "corrects", "7");
  e.corrects = 3;
  assert_bad(e, "corrects", "3");
  e.corrects = 99;
  assert_bad(e, "corrects", "99");
  e.corrects = 0;
  e.voided = true;
  assert_bad(e, "voided", "1");
  lzs_entry gone = entry_of(LZS_READING); // a void needs no values
  gone.corrects = 6;
  gone.voided = true;
  gone.who = 2;
  append_ok(&gone, 1);
}
END_TEST

START_TEST(entities_keep_their_kind)
{
  lzs_entry e = a_reading(3, 0.4);
  e.entity = 3;
  assert_bad(e, "entity", "3"); // a fact describes no entity
  lzs_entry s = a_system("Blue-1", 780);
  s.entity = 4;
  assert_bad(s, "entity", "4");
  s.entity = 8;
  assert_bad(s, "entity", "8"); // not a first entry
  s.corrects = 8;
  s.entity = 4;
  assert_bad(s, "entity", "4"); // corrects a description of 3
  s.entity = 3;
  append_ok(&s, 1);
}
END_TEST

START_TEST(times_are_minutes)
{
  lzs_entry e = a_reading(3, 0.4);
  e.happened_min = 1773475200; // seconds by mistake
  assert_bad(e, "happened_min", "1773475200");
  e.happened_min = -1;
  assert_bad(e, "happened_min", "-1");
  e.happened_min = 29557920;
  e.offset_min = 3600;
  assert_bad(e, "offset_min", "3600");
}
END_TEST

START_TEST(kinds_exist)
{
  lzs_entry e = a_reading(3, 0.4);
  e.kind = LZS_N_KINDS;
  assert_bad(e, "kind", "43");
  e.kind = (lzs_kind)-1;
  assert_bad(e, "kind", "-1");
}
END_TEST

START_TEST(errors_are_cut_at_a_character)
{
  char word[300];
  for (size_t i = 0; i + 3 <= sizeof word; i += 2)
    memcpy(word + i, "\xC3\xA9", 3);
  lzs_entry e = with_text("analyte", word);
  assert_status(lzs_append(fx.store, &e, 1, &fx.error), LZS_BAD_INPUT);
  ck_assert_int_eq(strlen(fx.error.value), 118); // 59 whole characters
}
END_TEST

static Suite *
suite(void)
{
  Suite *s = suite_create("store rules");
  TCase *t = tcase_create("rules");
  tcase_add_checked_fixture(t, create_with_history, fixture_teardown);
  tcase_add_test(t, numbers_stay_in_range);
  tcase_add_test(t, needed_is_needed);
  tcase_add_test(t, words_are_a_closed_list);
  tcase_add_test(t, text_is_utf8);
  tcase_add_test(t, text_has_a_limit);
  tcase_add_test(t, references_name_a_first_entry_of_their_kind);
  tcase_add_test(t, a_split_makes_a_lot);
  tcase_add_test(t, people_are_people);
  tcase_add_test(t, corrections_name_the_first_entry);
  tcase_add_test(t, entities_keep_their_kind);
  tcase_add_test(t, times_are_minutes);
  tcase_add_test(t, kinds_exist);
  tcase_add_test(t, errors_are_cut_at_a_character);
  suite_add_tcase(s, t);
  return s;
}

int
main(void)
{
  return run_suite(suite());
}
