// SPDX-License-Identifier: GPL-3.0-or-later
// Dechlorinators and ammonia binders reduce copper and set it free from what holds it. That bound
// copper and a reducing agent are a hard stop is a rule of the trade: common practice, no source.
#include <string.h>

#include "lab.h"

static Lab lab;

#define NO     LZ_DESK_ERROR_REFUSED
#define SECOND LZ_DESK_ERROR_NEEDS_SECOND_PERSON

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "bottle", NULL, "name", "A-1", "analyte", "copper", "form", "amine", "strength",
          "5", NULL);
  lab_say(&lab, "bottle", NULL, "name", "I-1", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  lab_say(&lab, "bottle", NULL, "name", "D-1", "analyte", "reducing_agent", "strength", "100",
          NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

#define GIVE(bottle, ml)                                                                           \
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", bottle, "amount_ml", ml, NULL)
#define STOPPED(code, bottle, ml)                                                                  \
  lab_refused(&lab, code, "dose", NULL, "system", "Blue-1", "bottle", bottle, "amount_ml", ml, NULL)

static void
read_copper(const char *value)
{
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value, NULL);
}

START_TEST(never_into_bound_copper)
{
  GIVE("A-1", "80"); // 0.4 mg/L
  lab_is_gate(STOPPED(NO, "D-1", "10"), LZ_GATED_NEVER_MEET);
  lab_is_gate(lab_refused(&lab, NO, "dose", NULL, "system", "Blue-1", "analyte", "reducing_agent",
                          "amount_mg", "1000", "@witness", "TA", NULL),
              LZ_GATED_NEVER_MEET);
  lab_go(&lab, "2027-03-02 08:00");
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "1000", NULL);
  read_copper("0");
  GIVE("D-1", "10"); // none is left
}
END_TEST

START_TEST(no_bound_copper_for_two_days_after_it)
{
  GIVE("D-1", "10");
  lab_go(&lab, "2027-03-03 07:59");
  lab_is_gate(STOPPED(NO, "A-1", "80"), LZ_GATED_NEVER_MEET);
  lab_go(&lab, "2027-03-03 08:01");
  GIVE("A-1", "80");
}
END_TEST

START_TEST(ionic_copper_is_doubtful)
{
  GIVE("I-1", "30"); // 0.15 mg/L
  lab_is_gate(STOPPED(SECOND, "D-1", "10"), LZ_GATED_DOUBTFUL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "D-1", "amount_ml", "10", "@witness",
          "TA", NULL);
}
END_TEST

START_TEST(without_copper_nothing_is_said)
{
  GIVE("D-1", "10");
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "ammonia", "value", "0.1", NULL);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-gates-reducing");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, never_into_bound_copper);
  tcase_add_test(all, no_bound_copper_for_two_days_after_it);
  tcase_add_test(all, ionic_copper_is_doubtful);
  tcase_add_test(all, without_copper_nothing_is_said);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
