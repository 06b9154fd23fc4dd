// SPDX-License-Identifier: GPL-3.0-or-later
// Cases E, F and G through the command line: shared water, a spot on day ten, salinity down.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

static void
protocol(Ctl *c, const char *text)
{
  g_autofree char *name = g_build_filename(c->folder, "case.protocol", NULL);
  ck_assert(g_file_set_contents(name, text, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", name));
}

static void
lot(Ctl *c, const char *code, const char *day, const char *tank, int heads, const char *name)
{
  g_free(ctl(c, 0, "record lot --happened '%s 09:00' code=%s tank=%s heads=%d", day, code, tank,
             heads));
  g_free(ctl(c, 0, "record course --happened '%s 09:00' lot=%s protocol='%s'", day, code, name));
}

static const char *
release(const Table *plan, const char *code)
{
  int row = table_find(plan, "lot", code, "what", "release", NULL);
  ck_assert_int_ge(row, 0);
  return table_cell(plan, (guint)row, "when");
}

// Case E. The last-in rule is published: Australian industry advice notice 41-2025.
START_TEST(test_new_fish_into_shared_water)
{
  Ctl *c = ctl_new();
  ctl_station(c, "last_in=yes");
  protocol(c,
           "[protocol]\nname=Thirty days\nversion=1\n[phase 1]\nname=Hold\nkind=hold\nplace=stay\n"
           "min_credit_min=43200\nsighting_to=1\n");
  g_free(ctl(c, 0, "record system name=Coral-3 volume_l=1000 role=finishing"));
  for (int tank = 1; tank <= 3; tank++)
    g_free(ctl(c, 0, "record tank system=Coral-3 number=%d", tank));
  lot(c, "A", "2027-05-01", "Coral-3/1", 140, "Thirty days");
  g_autoptr(Table) alone = ctl_table(c, "plan --at '2027-05-12 08:59' --format=csv");
  ck_assert_str_eq(release(alone, "A"), "2027-05-31T07:00Z"); // 31 May 09:00 local
  lot(c, "B", "2027-05-12", "Coral-3/2", 20, "Thirty days");
  g_autoptr(Table) two = ctl_table(c, "plan --at '2027-05-12 09:01' --format=csv");
  ck_assert_str_eq(release(two, "A"), "2027-06-11T07:00Z"); // 11 days later
  lot(c, "C", "2027-05-22", "Coral-3/3", 10, "Thirty days");
  g_autoptr(Table) three = ctl_table(c, "plan --at '2027-05-22 09:01' --format=csv");
  ck_assert_str_eq(release(three, "A"), "2027-06-21T07:00Z");
  ck_assert_str_eq(release(three, "B"), "2027-06-21T07:00Z");
  ck_assert_str_eq(release(three, "C"), "2027-06-21T07:00Z");
  int row = table_find(three, "lot", "A", "what", "release", NULL);
  ck_assert_msg(strstr(table_cell(three, (guint)row, "because"), "C"), "held by C: %s",
                table_cell(three, (guint)row, "because"));
  ck_assert_str_eq(table_cell(three, (guint)row, "late"), "2027-06-21T07:00Z");
  // served on 31 May, and nothing moved: what it waits for is as well known as the day before
  g_autoptr(Table) served = ctl_table(c, "plan --at '2027-06-01 09:00' --format=csv");
  row = table_find(served, "lot", "A", "what", "release", NULL);
  ck_assert_str_eq(release(served, "A"), "2027-06-21T07:00Z");
  ck_assert_str_eq(table_cell(served, (guint)row, "late"), "2027-06-21T07:00Z");
  ctl_free(c);
}
END_TEST

// A had served and gone when somebody found on a slip that B had joined it on 12 May: by the
// last-in rule (advice notice 41-2025) A was held by B until 11 June, and whoever has the fish must
// be told.
START_TEST(test_released_while_another_held_it)
{
  Ctl *c = ctl_new();
  ctl_station(c, "last_in=yes");
  protocol(c,
           "[protocol]\nname=Thirty days\nversion=1\n[phase 1]\nname=Hold\nkind=hold\nplace=stay\n"
           "min_credit_min=43200\nsighting_to=1\n");
  g_free(ctl(c, 0, "record system name=Coral-3 volume_l=1000 role=finishing"));
  g_free(ctl(c, 0, "record tank system=Coral-3 number=1"));
  g_free(ctl(c, 0, "record tank system=Coral-3 number=2"));
  g_free(ctl(c, 0, "record customer reference=C-33"));
  lot(c, "A", "2027-05-01", "Coral-3/1", 140, "Thirty days");
  g_free(ctl(c, 0, "record release --happened '2027-06-01 10:00' lot=A customer=C-33"));
  g_autoptr(Table) before = ctl_table(c, "plan --at '2027-06-02 09:00' --format=csv");
  ck_assert_int_lt(table_find(before, "kind", "released_held", NULL), 0);
  lot(c, "B", "2027-05-12", "Coral-3/2", 20, "Thirty days");
  g_autoptr(Table) after = ctl_table(c, "plan --at '2027-06-02 09:00' --format=csv");
  int row = table_find(after, "kind", "released_held", "lot", "A", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_str_eq(table_cell(after, (guint)row, "customer"), "C-33");
  ck_assert_str_eq(table_cell(after, (guint)row, "when"), "2027-06-01T08:00Z");
  g_autofree char *text = ctl(c, 0, "plan --at '2027-06-02 09:00'");
  ck_assert_ptr_nonnull(
      strstr(text, "while lot B, with which it had shared water, had not served"));
  ctl_free(c);
}
END_TEST

// Case F: day ten of fourteen days of observation becomes day one (common practice, no source).
START_TEST(test_spot_on_day_ten)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  protocol(
      c,
      "[protocol]\nname=Fourteen days\nversion=1\n[phase 1]\nname=Watch\nkind=observe\nplace=stay\n"
      "min_elapsed_min=20160\nquiet_min=20160\nsighting_to=1\n");
  g_free(ctl(c, 0, "record system name=Pearl-2 volume_l=600 role=finishing"));
  g_free(ctl(c, 0, "record tank system=Pearl-2 number=1"));
  g_free(ctl(c, 0, "record tank system=Pearl-2 number=2"));
  lot(c, "P", "2027-06-08", "Pearl-2/1", 24, "Fourteen days");
  lot(c, "Q", "2027-06-10", "Pearl-2/2", 6, "Fourteen days");
  g_autoptr(Table) before = ctl_table(c, "plan --at '2027-06-18 08:59' --format=csv");
  ck_assert_str_eq(release(before, "P"), "2027-06-22T07:00Z");
  g_free(
      ctl(c, 0,
          "record sighting --happened '2027-06-18 09:00' system=Pearl-2 sign=white_spot heads=1"));
  g_autoptr(Table) after = ctl_table(c, "plan --at '2027-06-18 09:01' --format=csv");
  // day one again for every lot in that water: 18 June 09:00 + 14 days
  ck_assert_str_eq(release(after, "P"), "2027-07-02T07:00Z");
  ck_assert_str_eq(release(after, "Q"), "2027-07-02T07:00Z");
  ck_assert_int_ge(table_find(after, "lot", "P", "what", "back", "when", "2027-06-18T07:00Z", NULL),
                   0);
  ck_assert_int_ge(table_find(after, "lot", "Q", "what", "back", "when", "2027-06-18T07:00Z", NULL),
                   0);
  ctl_free(c);
}
END_TEST

// Case G: 1,800 L, 34 to 16 in four equal-ratio steps 12 h apart: ratio (16/34)^(1/4) = 0.8282.
START_TEST(test_salinity_down)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  protocol(c, "[protocol]\nname=Low salt\nversion=1\n[phase "
              "1]\nname=Down\nkind=lower\nplace=stay\nreach=yes\n"
              "salinity_step=6\nsalinity_fall_day=12\nstep_gap_min=720\nsighting_to=1\n"
              "[phase 1 band "
              "1]\nanalyte=salinity\nside=at_or_below\nworks=16.2\ntarget=16\nplan=15\nharm="
              "10\ngap_min=960\n"
              "[phase 2]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=40320\nsighting_to=2\n"
              "[phase 2 band "
              "1]\nanalyte=salinity\nside=at_or_below\nworks=16.2\ntarget=16\nplan=15\nharm="
              "10\ngap_min=960\n");
  g_free(ctl(c, 0, "record system name=Red-2 volume_l=1800 role=treatment max_change_day=1"));
  g_free(ctl(c, 0, "record tank system=Red-2 number=1"));
  g_free(ctl(c, 0, "record instrument name=M1 method=conductivity error_abs=0.2"));
  lot(c, "0501", "2027-03-01", "Red-2/1", 12, "Low salt");
  ctl_import(
      c, "readings",
      "happened,system,analyte,value,instrument\r\n2027-03-01 09:00,Red-2,salinity,34,M1\r\n");
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-01 09:05' --system Red-2 --format=csv");
  double litres = 0;
  guint steps = 0;
  for (guint row = 0; row < plan->rows->len; row++)
    if (strcmp(table_cell(plan, row, "what"), "task") == 0 &&
        strcmp(table_cell(plan, row, "unit"), "L") == 0) {
      static const double after[] = {28.2, 23.3, 19.3, 16.0};
      double amount = g_ascii_strtod(table_cell(plan, row, "amount"), NULL);
      ck_assert_double_eq_tol(amount, 309, 0.6); // 17.2 % of 1,800 L
      ck_assert_uint_lt(steps, 4);
      ck_assert_double_eq_tol(g_ascii_strtod(table_cell(plan, row, "level_after"), NULL),
                              after[steps], 0.06);
      litres += amount;
      steps++;
    }
  ck_assert_uint_eq(steps, 4);
  ck_assert_double_eq_tol(litres, 1237, 1);
  // all at once is larger than the allowed step: refused
  g_autofree char *no = ctl(
      c, 1, "record change --happened '2027-03-01 09:10' system=Red-2 litres=953 new_salinity=0");
  ck_assert_msg(strstr(no, "953") || strstr(no, "16"), "%s", no);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: cases E, F and G");
  TCase *tc = tcase_create("cases");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_new_fish_into_shared_water);
  tcase_add_test(tc, test_released_while_another_held_it);
  tcase_add_test(tc, test_spot_on_day_ten);
  tcase_add_test(tc, test_salinity_down);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
