// SPDX-License-Identifier: GPL-3.0-or-later
// First figures that hardly any station has are asked about, once: with a reason they stand. Sea
// water has a practical salinity of about 35; the ranges are common practice, no source.
#include <string.h>

#include "lab.h"

static Lab lab;

#define TELL LZ_DESK_ERROR_NEEDS_REASON

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1300", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

#define READS(analyte, typed)                                                                      \
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", analyte, "value", typed, NULL)
#define ASKS(analyte, typed)                                                                       \
  lab_refused(&lab, TELL, "reading", NULL, "system", "Blue-1", "analyte", analyte, "value", typed, \
              NULL)

// 3.4 for 35, 2.6 for 26, 81 for 8.1 (refused: no pH), 1.9 for 0.19 is within what other forms of
// copper are held at, 19 is not.
START_TEST(a_first_reading)
{
  const char *words = ASKS("salinity", "3.4");
  lab_is_gate(words, LZ_GATED_UNLIKELY);
  ck_assert_msg(strstr(words, "salinity 3.4 in Blue-1"), "%s", words);
  lab_is_gate(ASKS("temperature", "2.6"), LZ_GATED_UNLIKELY);
  lab_is_gate(ASKS("ph", "0.81"), LZ_GATED_UNLIKELY);
  lab_is_gate(ASKS("copper", "19"), LZ_GATED_UNLIKELY);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", "3.4",
          "@reason", "filled with fresh water", NULL);
  ck_assert_msg(strstr(lab_notes(&lab), "3.4"), "%s", lab_notes(&lab));
}
END_TEST

// What is usual is taken as it is: sea water, lowered salinity, a cold and a warm house, copper of
// every form, the edges themselves.
START_TEST(what_is_usual)
{
  static const char *const all[][2] = {
      {"salinity", "35"},    {"salinity", "12"}, {"salinity", "5"}, {"temperature", "10"},
      {"temperature", "34"}, {"ph", "7.6"},      {"ph", "8.4"},     {"copper", "2.5"}};
  for (guint i = 0; i < G_N_ELEMENTS(all); i++) {
    READS(all[i][0], all[i][1]);
    ck_assert_msg(!strstr(lab_notes(&lab), "marine fish"), "%s", all[i][1]);
  }
}
END_TEST

// Asked once: the next one is held against it.
START_TEST(only_the_first)
{
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", "0.4",
          "@reason", "filled with fresh water", NULL);
  READS("salinity", "0.5");
  READS("salinity", "35");
  lab_is_gate(ASKS("salinity", "3.4"), LZ_GATED_UNLIKELY);
}
END_TEST

#define LOT(...) "lot", NULL, "code", "A", "tank", "Blue-1/1", __VA_ARGS__, NULL

// 200 for 20 on the invoice. Two for 20 is a claim, and dilutes nothing.
START_TEST(heads_against_the_invoice)
{
  lab_is_gate(lab_refused(&lab, TELL, LOT("heads", "200", "invoiced", "20")), LZ_GATED_UNLIKELY);
  lab_say(&lab, LOT("heads", "2", "invoiced", "20"));
}
END_TEST

START_TEST(a_few_more_are_usual)
{
  lab_say(&lab, LOT("heads", "22", "invoiced", "20"));
  lab_say(&lab, "lot", NULL, "code", "B", "tank", "Blue-1/1", "heads", "2", "invoiced", "5", NULL);
}
END_TEST

// Without an invoice, against what the shipment was to be; a lot of it may be a small part.
START_TEST(heads_against_the_shipment)
{
  lab_say(&lab, "shipment", NULL, "code", "S-1", "expected_heads", "20", NULL);
  lab_is_gate(lab_refused(&lab, TELL, LOT("heads", "200", "shipment", "S-1")), LZ_GATED_UNLIKELY);
  lab_say(&lab, LOT("heads", "3", "shipment", "S-1"));
}
END_TEST

#define SYSTEM(litres)                                                                             \
  "system", NULL, "name", "Red-1", "role", "treatment", "volume_l", litres, NULL

// Ten times the largest here; a small one beside it is an isolation tank, and a house may begin
// with that.
START_TEST(a_volume_beside_the_others)
{
  lab_is_gate(lab_refused(&lab, TELL, SYSTEM("13000")), LZ_GATED_UNLIKELY);
  lab_is_gate(lab_refused(&lab, TELL, SYSTEM("1.3")), LZ_GATED_UNLIKELY);
  lab_say(&lab, SYSTEM("60"));
}
END_TEST

START_TEST(the_first_volume)
{
  Lab empty;
  lab_open(&empty, "2027-03-01 12:00");
  lab_station(&empty);
  lab_is_gate(lab_refused(&empty, TELL, SYSTEM("130000")), LZ_GATED_UNLIKELY);
  lab_say(&empty, "system", NULL, "name", "Spare", "role", "isolation", "volume_l", "90", NULL);
  lab_say(&empty, SYSTEM("2400"));
  lab_close(&empty);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("gates_unlikely");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, a_first_reading);
  tcase_add_test(all, what_is_usual);
  tcase_add_test(all, only_the_first);
  tcase_add_test(all, heads_against_the_invoice);
  tcase_add_test(all, a_few_more_are_usual);
  tcase_add_test(all, heads_against_the_shipment);
  tcase_add_test(all, a_volume_beside_the_others);
  tcase_add_test(all, the_first_volume);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
