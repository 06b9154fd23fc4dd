// SPDX-License-Identifier: GPL-3.0-or-later
// Acts entered out of order: what is in the water afterwards is all of them, whichever was typed
// first. Common practice, no source: no second dose before a reading; salinity falls by no more
// than the protocol says in a day.
#include <string.h>

#include "lab.h"

static Lab lab;

#define NO   LZ_DESK_ERROR_REFUSED
#define TELL LZ_DESK_ERROR_NEEDS_REASON

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "30240", "salinity_fall_day", "6", "salinity_step", "6", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.2", "plan", "0.21", "harm", "0.25",
          "gap_min", "1440", NULL);
  lab_say(&lab, "course", "2027-02-20 10:00", "lot", "0412", "protocol", "Ionic", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
reads(const char *at, const char *analyte, const char *value)
{
  lab_say(&lab, "reading", at, "system", "Blue-1", "analyte", analyte, "value", value, NULL);
}

#define DOSE_AT(code, at, ml)                                                                      \
  lab_refused(&lab, code, "dose", at, "system", "Blue-1", "bottle", "C-07", "amount_ml", ml, NULL)
#define GIVE_AT(at, ml)                                                                            \
  lab_say(&lab, "dose", at, "system", "Blue-1", "bottle", "C-07", "amount_ml", ml, NULL)

// 0.1 + 20 mL x 5 mg/mL / 1,000 L = 0.2: the second, said to be earlier, would make 0.3.
START_TEST(an_earlier_dose_is_a_second_one)
{
  reads("2027-03-01 07:00", "copper", "0.1");
  GIVE_AT("2027-03-01 07:45", "20");
  lab_is_gate(DOSE_AT(NO, "2027-03-01 07:40", "20"), LZ_GATED_OPEN_DOSE);
  lab_is_gate(DOSE_AT(NO, "2027-03-01 07:45", "20"), LZ_GATED_OPEN_DOSE);
  lab_go(&lab, "2027-03-01 20:00"); // entered long afterwards: no hand can have meant both
  lab_is_gate(DOSE_AT(NO, "2027-03-01 07:40", "20"), LZ_GATED_OPEN_DOSE);
}
END_TEST

// A reading that both were mixed by has seen both: the record is completed.
START_TEST(a_reading_settles_what_was_before_it)
{
  reads("2027-03-01 06:00", "copper", "0.1");
  GIVE_AT("2027-03-01 06:30", "10");
  reads("2027-03-01 07:50", "copper", "0.2");
  GIVE_AT("2027-03-01 06:10", "10");
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], 0.2, 1e-9);
}
END_TEST

// 20 mL was typed as 19: the first does not count beside what corrects it.
START_TEST(a_correction_replaces)
{
  reads("2027-03-01 07:00", "copper", "0.1");
  int64_t id = GIVE_AT("2027-03-01 07:45", "19");
  g_autofree char *which = g_strdup_printf("%d", (int)id);
  lab_say(&lab, "dose", NULL, "amount_ml", "20", "@corrects", which, "@reason", "read again", NULL);
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], 0.2, 1e-9);
  lab_is_gate(lab_refused(&lab, NO, "dose", NULL, "amount_ml", "32", "@corrects", which, "@reason",
                          "sure", NULL),
              LZ_GATED_HARM); // 0.1 + 160/1,000 = 0.26
}
END_TEST

// The wrong bottle was typed: what it corrects is not what the copper would meet. A dose of the
// other form that stands is (common practice, no source: two forms of copper never meet).
START_TEST(another_bottle_corrects)
{
  lab_say(&lab, "bottle", NULL, "name", "A-01", "analyte", "copper", "form", "amine", "strength",
          "5", NULL);
  reads("2027-03-01 07:00", "copper", "0.1");
  int64_t id = lab_say(&lab, "dose", "2027-03-01 07:45", "system", "Blue-1", "bottle", "A-01",
                       "amount_ml", "20", "@witness", "TA", NULL);
  g_autofree char *which = g_strdup_printf("%d", (int)id);
  lab_say(&lab, "dose", NULL, "bottle", "C-07", "@corrects", which, "@reason", "other bottle",
          NULL);
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], 0.2, 1e-9);
  reads("2027-03-01 09:00", "copper", "0.15");
  lab_go(&lab, "2027-03-01 09:10");
  lab_is_gate(lab_refused(&lab, NO, "dose", "2027-03-01 09:10", "system", "Blue-1", "bottle",
                          "A-01", "amount_ml", "10", NULL),
              LZ_GATED_NEVER_MEET);
}
END_TEST

// Formalin said to have gone in before the copper that is on record meets it there (common
// practice, no source), and the wrong bottle does not meet what corrects it.
START_TEST(an_earlier_medicine_meets_the_later)
{
  lab_say(&lab, "bottle", NULL, "name", "F-1", "analyte", "formalin", "strength", "1080", NULL);
#define FORMALIN(at, who)                                                                          \
  "dose", at, "system", "Blue-1", "bottle", "F-1", "amount_ml", "10", "@witness", who, NULL
  reads("2027-03-01 06:00", "copper", "0");
  GIVE_AT("2027-03-01 07:45", "40");
  lab_is_gate(
      lab_refused(&lab, LZ_DESK_ERROR_NEEDS_SECOND_PERSON, FORMALIN("2027-03-01 07:40", NULL)),
      LZ_GATED_DOUBTFUL);
  lab_go(&lab, "2027-03-20 08:00");
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "1000", NULL);
  reads("2027-03-20 08:00", "copper", "0");
  int64_t id = lab_say(&lab, FORMALIN("2027-03-20 08:00", "TA"));
  g_autofree char *which = g_strdup_printf("%d", (int)id);
  lab_say(&lab, "dose", NULL, "bottle", "C-07", "amount_ml", "40", "@corrects", which, "@reason",
          "other bottle", NULL);
}
END_TEST

// Two changes of 150 of 1,000 L by fresh water: 34 to 28.9, which is 5.1, and then to 24.6.
START_TEST(an_earlier_change_adds_to_the_day)
{
  reads("2027-03-01 07:00", "salinity", "34");
  lab_say(&lab, "change", "2027-03-01 07:45", "system", "Blue-1", "litres", "150", "new_salinity",
          "0", NULL);
  lab_is_gate(lab_refused(&lab, TELL, "change", "2027-03-01 07:30", "system", "Blue-1", "litres",
                          "150", "new_salinity", "0", NULL),
              LZ_GATED_SALINITY_STEP);
}
END_TEST

// 0.15 is in doubt and may be right: 20 mL would then make 0.25. 12 mL do no harm in either case.
START_TEST(a_reading_in_doubt_may_be_right)
{
  reads("2027-03-01 06:00", "copper", "0.1");
  lab_say(&lab, "reading", "2027-03-01 07:40", "system", "Blue-1", "analyte", "copper", "value",
          "0.15", "suspect", "yes", NULL);
  lab_is_gate(DOSE_AT(NO, "2027-03-01 08:00", "20"), LZ_GATED_UNKNOWN);
  GIVE_AT("2027-03-01 08:00", "12");
}
END_TEST

// An amine bottle in a course of ionic copper, with nothing in the water yet.
START_TEST(the_first_dose_has_the_form_of_the_course)
{
  reads("2027-03-01 07:00", "copper", "0");
  lab_say(&lab, "bottle", NULL, "name", "A-1", "analyte", "copper", "form", "amine", "strength",
          "5", NULL);
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_NEEDS_SECOND_PERSON, "dose", NULL, "system", "Blue-1",
                          "bottle", "A-1", "amount_ml", "40", NULL),
              LZ_GATED_FORM);
  GIVE_AT("2027-03-01 08:00", "40");
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("gates_order");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, an_earlier_dose_is_a_second_one);
  tcase_add_test(all, a_reading_in_doubt_may_be_right);
  tcase_add_test(all, the_first_dose_has_the_form_of_the_course);
  tcase_add_test(all, a_reading_settles_what_was_before_it);
  tcase_add_test(all, a_correction_replaces);
  tcase_add_test(all, another_bottle_corrects);
  tcase_add_test(all, an_earlier_medicine_meets_the_later);
  tcase_add_test(all, an_earlier_change_adds_to_the_day);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
