// SPDX-License-Identifier: GPL-3.0-or-later
// Time at the edges: local to UTC and back, the hour that occurs twice, the hour that does not
// exist, slots. Facts: EU directive 2000/84/EC sets the changes at 01:00 UTC on the last Sundays of
// March and October; in 2027 these are 28 March and 31 October. 2027-03-01T00:00Z is 1,803,859,200
// s after the epoch (date -u).
#include <string.h>

#include "lab.h"

static LzZone *
zone(const char *name)
{
  LzZone *z = lz_zone_new(name, NULL);
  ck_assert_ptr_nonnull(z);
  return z;
}

static lzq_minute
parsed(LzZone *z, const char *text, lzq_minute now)
{
  lzq_minute at = 0;
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_zone_parse(z, text, now, &at, &error), "%s: %s", text,
                error ? error->message : "");
  return at;
}

static void
refused(LzZone *z, const char *text, int code, const char *words)
{
  lzq_minute at;
  g_autoptr(GError) error = NULL;
  ck_assert_msg(!lz_zone_parse(z, text, 30064320, &at, &error), "%s was accepted", text);
  ck_assert_msg(g_error_matches(error, LZ_DESK_ERROR, code), "%s: %s", text, error->message);
  ck_assert_msg(strstr(error->message, words) != NULL, "%s: %s", text, error->message);
}

START_TEST(local_and_utc)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  ck_assert_int_eq(parsed(z, "2027-03-01 01:00", 0), 1803859200 / 60);
  ck_assert_int_eq(parsed(z, "2027-03-01T00:00Z", 0), 1803859200 / 60);
  ck_assert_int_eq(parsed(z, "2027-03-01 02:30 +02:30", 0), 1803859200 / 60);
  ck_assert_int_eq(parsed(z, "07:30", 1803859200 / 60), 1803859200 / 60 + 6 * 60 + 30);
  ck_assert_int_eq(lz_zone_local(z, 1803859200 / 60).weekday, 1); // a Monday
  ck_assert_int_eq(lz_zone_local(z, -1).year, 1970);
  refused(z, "25:00", LZ_DESK_ERROR_USAGE, "25:00");
  refused(z, "2027-02-29 08:00", LZ_DESK_ERROR_USAGE, "2027-02-29");
  refused(z, "tomorrow", LZ_DESK_ERROR_USAGE, "2027-03-01 09:30");
  ck_assert_ptr_null(lz_zone_new("Europe/Nowhere", NULL));
}
END_TEST

// As programs write it, and as people do, is the same minute; date -u says which.
START_TEST(as_a_program_writes_it)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  ck_assert_int_eq(parsed(z, "2027-03-01T00:00+00:00", 0), 1803859200 / 60);
  ck_assert_int_eq(parsed(z, "2027-03-01T05:45+05:45", 0), 1803859200 / 60);
  ck_assert_int_eq(parsed(z, "2027-02-28T14:30-09:30", 0), 1803859200 / 60);
  ck_assert_int_eq(parsed(z, "2027-03-01T01:00", 0), 1803859200 / 60); // the station's own
  for (int offset = -12; offset <= 14; offset++) {
    g_autofree char *typed = g_strdup_printf("2027-10-31 02:31 %+03d:00", offset);
    g_autofree char *written = g_strdup_printf("2027-10-31T02:31%+03d:00", offset);
    ck_assert_int_eq(parsed(z, typed, 0), parsed(z, written, 0));
    ck_assert_int_eq(parsed(z, written, 0), 30415831 - 60 * offset);
  }
  refused(z, "2027-02-29T08:00+01:00", LZ_DESK_ERROR_USAGE, "2027-02-29");
  refused(z, "2027-03-01T24:00+01:00", LZ_DESK_ERROR_USAGE, "24:00");
  refused(z, "2027-03-01T08:00+16:00", LZ_DESK_ERROR_USAGE, "+16:00");
  refused(z, "2027-03-01T08:00+01:60", LZ_DESK_ERROR_USAGE, "+01:60");
  refused(z, "2027-03-01T08:00+01:000", LZ_DESK_ERROR_USAGE, "2027-03-01 09:30");
}
END_TEST

START_TEST(an_hour_that_does_not_exist)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  refused(z, "2027-03-28 02:30", LZ_DESK_ERROR_USAGE, "does not exist in Europe/Berlin");
  ck_assert_int_eq(parsed(z, "2027-03-28 03:00", 0) - parsed(z, "2027-03-28 01:59", 0), 1);
}
END_TEST

START_TEST(an_hour_that_occurs_twice)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  refused(z, "2027-10-31 02:30", LZ_DESK_ERROR_AMBIGUOUS_TIME, "+02:00");
  lzq_minute first = parsed(z, "2027-10-31 02:30 first", 0),
             second = parsed(z, "2027-10-31 02:30 second", 0);
  ck_assert_int_eq(second - first, 60);
  ck_assert_int_eq(parsed(z, "2027-10-31 02:30 +02:00", 0), first);
  ck_assert_int_eq(parsed(z, "2027-10-31 02:30 +0100", 0), second);
  ck_assert_int_eq(lz_zone_offset(z, first), 120);
  ck_assert_int_eq(lz_zone_offset(z, second), 60);
  parsed(z, "2027-10-31 03:00", 0);
  parsed(z, "2027-10-31 01:59", 0);
}
END_TEST

// Every minute of a year goes to local and back; the repeated ones by their offset.
START_TEST(every_minute_comes_back)
{
  static const char *const names[] = {"Europe/Berlin", "Australia/Lord_Howe", "America/St_Johns",
                                      "UTC"};
  g_autoptr(LzZone) z = zone(names[_i]);
  for (lzq_minute at = parsed(z, "2027-01-01 00:00", 0); at < 1803859200 / 60 + 330 * LZQ_DAY;
       at += 7) {
    LzLocal local = lz_zone_local(z, at);
    lzq_minute back = 0;
    ck_assert(lz_zone_to_utc(z, &local, local.offset_min, &back, NULL));
    ck_assert_int_eq(back, at);
    g_autoptr(GError) error = NULL;
    if (lz_zone_to_utc(z, &local, LZ_ZONE_ANY, &back, &error))
      ck_assert_int_eq(back, at);
    else
      ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_AMBIGUOUS_TIME));
  }
}
END_TEST

START_TEST(slots_keep_local_time)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  g_autoptr(GArray) slots = lz_zone_slots(z, "17:00 07:30 02:30", parsed(z, "2027-03-27 00:00", 0),
                                          parsed(z, "2027-03-30 00:00", 0), NULL);
  static const char *const expected[] = {
      "Sat 27 Mar 02:30", "Sat 27 Mar 07:30", "Sat 27 Mar 17:00",
      "Sun 28 Mar 03:00", "Sun 28 Mar 07:30", "Sun 28 Mar 17:00",
      "Mon 29 Mar 02:30", "Mon 29 Mar 07:30", "Mon 29 Mar 17:00"};
  ck_assert_uint_eq(slots->len, G_N_ELEMENTS(expected));
  for (guint i = 0; i < slots->len; i++) {
    const lzq_slot *slot = &g_array_index(slots, lzq_slot, i);
    g_autofree char *text = lz_format_time(z, slot->at);
    ck_assert_str_eq(text, expected[i]);
    ck_assert_int_eq(slot->day, lz_zone_day(z, slot->at));
  }
  g_autoptr(GError) error = NULL;
  ck_assert_ptr_null(lz_zone_slots(z, "7:61", 0, LZQ_DAY, &error));
  ck_assert_msg(strstr(error->message, "7:61") != NULL, "%s", error->message);
}
END_TEST

// "except" takes out the rounds for which nobody is there: every Sunday evening, one whole day.
START_TEST(slots_without_people)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  g_autoptr(GArray) slots =
      lz_zone_slots(z, "07:30 12:00 17:00 except Sun 12:00 17:00 2027-03-29",
                    parsed(z, "2027-03-27 12:00", 0), parsed(z, "2027-03-31 00:00", 0), NULL);
  static const char *const expected[] = {"Sat 27 Mar 12:00", "Sat 27 Mar 17:00",
                                         "Sun 28 Mar 07:30", "Tue 30 Mar 07:30",
                                         "Tue 30 Mar 12:00", "Tue 30 Mar 17:00"};
  static const char *const bad[] = {"07:30 except 17:00", "except sunday",
                                    "07:30 except 2027-02-29", "07:30 except sun tu",
                                    "07:30 except 2027-03-29..2027-03-28"};
  ck_assert_uint_eq(slots->len, G_N_ELEMENTS(expected));
  for (guint i = 0; i < slots->len; i++) {
    g_autofree char *text = lz_format_time(z, g_array_index(slots, lzq_slot, i).at);
    ck_assert_str_eq(text, expected[i]);
  }
  for (guint i = 0; i < G_N_ELEMENTS(bad); i++) {
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(lz_zone_slots(z, bad[i], 0, LZQ_DAY, &error));
    ck_assert_msg(strstr(error->message, "slots: ") != NULL, "%s", error->message);
  }
}
END_TEST

START_TEST(days_begin_at_local_midnight)
{
  g_autoptr(LzZone) z = zone("Europe/Berlin");
  int32_t day = lz_zone_day(z, parsed(z, "2027-03-28 12:00", 0));
  ck_assert_int_eq(lz_zone_day_start(z, day + 1) - lz_zone_day_start(z, day), 23 * 60);
  int32_t autumn = lz_zone_day(z, parsed(z, "2027-10-31 12:00", 0));
  ck_assert_int_eq(lz_zone_day_start(z, autumn + 1) - lz_zone_day_start(z, autumn), 25 * 60);
}
END_TEST

// --- numbers

START_TEST(numbers_as_typed)
{
  static const struct {
    const char *text;
    double value;
  } good[] = {{"0.19", 0.19}, {"0,19", 0.19}, {" 68,4 ", 68.4}, {".5", 0.5},
              {"1800", 1800}, {"-2", -2},     {"1e3", 1000}};
  static const char *const bad[] = {"1.800,5", "1,800.5", "1 800", "1\u202f800", "1'800",
                                    "",        ",",       "abc",   "0.1.9",      "12x"};
  for (guint i = 0; i < G_N_ELEMENTS(good); i++) {
    double value = 0;
    ck_assert_msg(lz_parse_number(good[i].text, &value, NULL, NULL), "%s", good[i].text);
    ck_assert_double_eq(value, good[i].value);
  }
  for (guint i = 0; i < G_N_ELEMENTS(bad); i++) {
    double value;
    g_autoptr(GError) error = NULL;
    ck_assert_msg(!lz_parse_number(bad[i], &value, NULL, &error), "%s", bad[i]);
    ck_assert(g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE));
  }
}
END_TEST

static void
same(char *got, const char *expected)
{
  ck_assert_str_eq(got, expected);
  g_free(got);
}

START_TEST(numbers_as_shown)
{
  same(lz_format_number(1800, 0), "1\u202f800");
  same(lz_format_number(0.45, 3), "0.450");
  same(lz_format_short(68.4, 3), "68.4");
  same(lz_format_short(-0.00001, 3), "0");
  same(lz_format_machine(0.1), "0.1");
  same(lz_format_machine(1234567.5), "1234567.5");
  same(lz_format_machine(2400), "2400");
  same(lz_format_duration(4 * 1440 + 9 * 60 + 47), "4 d 9 h 47 min");
  same(lz_format_duration(0), "0 min");
  same(lz_format_iso(1803859200 / 60), "2027-03-01T00:00Z");
  lz_format_set_decimal(',');
  same(lz_format_amount(68.4, LZQ_UNIT_ML), "68,4 mL");
  lz_format_set_decimal('.');
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-zone");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 60);
  tcase_add_test(all, local_and_utc);
  tcase_add_test(all, as_a_program_writes_it);
  tcase_add_test(all, an_hour_that_does_not_exist);
  tcase_add_test(all, an_hour_that_occurs_twice);
  tcase_add_loop_test(all, every_minute_comes_back, 0, 4);
  tcase_add_test(all, slots_keep_local_time);
  tcase_add_test(all, slots_without_people);
  tcase_add_test(all, days_begin_at_local_midnight);
  tcase_add_test(all, numbers_as_typed);
  tcase_add_test(all, numbers_as_shown);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
