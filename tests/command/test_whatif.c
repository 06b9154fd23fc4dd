// SPDX-License-Identifier: GPL-3.0-or-later
// What an act would cost is shown before anybody confirms: cases E (shared water under the last-in
// rule, published: Australian industry advice notice 41-2025) and F (ways on after a sighting).
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "ctl.h"

static void
protocol(Ctl *c, const char *name, const char *phases)
{
  g_autofree char *file = g_build_filename(c->folder, "case.protocol", NULL);
  g_autofree char *text = g_strdup_printf("[protocol]\nname=%s\nversion=1\n%s", name, phases);
  ck_assert(g_file_set_contents(file, text, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", file));
}

static Ctl *
station(const char *rules, const char *system)
{
  Ctl *c = ctl_new();
  ctl_station(c, rules);
  g_free(ctl(c, 0, "record system name=%s volume_l=1000 role=finishing", system));
  for (int tank = 1; tank <= 3; tank++)
    g_free(ctl(c, 0, "record tank system=%s number=%d", system, tank));
  return c;
}

START_TEST(test_cost_of_joining_shared_water)
{
  static const char joins[] = "--happened '2027-05-12 09:00' lot code=B tank=Coral-3/2 heads=20 + "
                              "course lot=B protocol='Thirty days'";
  Ctl *c = station("last_in=yes", "Coral-3");
  protocol(c, "Thirty days",
           "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=43200\nsighting_to=1\n");
  g_free(ctl(c, 0, "record system name=Coral-4 volume_l=1000 role=finishing"));
  g_free(ctl(c, 0, "record lot --happened '2027-05-01 09:00' code=A tank=Coral-3/1 heads=140"));
  g_free(ctl(c, 0, "record course --happened '2027-05-01 09:00' lot=A protocol='Thirty days'"));
  g_autofree char *ledger = ctl(c, 0, "export entries");
  g_autoptr(Table) cost = ctl_table(c, "whatif --format=csv %s", joins);
  // 31 May 09:00 to 11 June 09:00 local: 11 days x 140 fish
  int row = table_find(cost, "lot", "A", "added", "no", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_str_eq(table_cell(cost, (guint)row, "before"), "2027-05-31T07:00Z");
  ck_assert_str_eq(table_cell(cost, (guint)row, "after"), "2027-06-11T07:00Z");
  ck_assert_str_eq(table_cell(cost, (guint)row, "days_later"), "11");
  ck_assert_str_eq(table_cell(cost, (guint)row, "heads"), "140");
  ck_assert_str_eq(table_cell(cost, (guint)row, "fish_days"), "1540");
  ck_assert_ptr_nonnull(strstr(table_cell(cost, (guint)row, "because"), "lot B"));
  ck_assert_int_ge(table_find(cost, "lot", "B", "added", "yes", NULL), 0);
  g_autofree char *text = ctl(c, 0, "whatif %s", joins);
  ck_assert_msg(strstr(text, "11 days x 140 fish") && strstr(text, "Coral-4 holds no fish"), "%s",
                text);
  // nothing was written, and what would be refused is refused
  g_autofree char *still = ctl(c, 0, "export entries");
  ck_assert_str_eq(ledger, still);
  g_free(ctl(c, 2, "whatif --happened '2027-05-12 09:00' lot code=A tank=Coral-3/2 heads=20"));
  ctl_free(c);
}
END_TEST

// 18 June, day ten of fourteen: treat in place 4 + 21 + 1 + 14 = 40 days, 28 July; transfers
// 12 + 14 days, 14 July (common practice, no source).
START_TEST(test_ways_on_after_a_spot)
{
  static const char watch[] = "[phase %d]\nname=Watch\nkind=observe\nplace=stay\n"
                              "min_elapsed_min=20160\nquiet_min=20160\nsighting_to=1\n";
  static const char wait[] =
      "[phase %d]\nname=Wait\nkind=wait\nplace=stay\nmin_elapsed_min=%d\nsighting_to=1\n";
  Ctl *c = station(NULL, "Pearl-2");
  GString *text = g_string_new(NULL);
  g_string_printf(text, watch, 1);
  protocol(c, "Fourteen days", text->str);
  g_string_printf(text, wait, 1, 4 * 1440);
  g_string_append_printf(text, wait, 2, 21 * 1440);
  g_string_append_printf(text, wait, 3, 1440);
  g_string_append_printf(text, watch, 4);
  protocol(c, "Treat in place", text->str);
  g_string_printf(text, wait, 1, 12 * 1440);
  g_string_append_printf(text, watch, 2);
  protocol(c, "Four transfers", text->str);
  g_string_free(text, TRUE);
  g_free(ctl(c, 0, "record lot --happened '2027-06-08 09:00' code=P tank=Pearl-2/1 heads=24"));
  g_free(ctl(c, 0, "record course --happened '2027-06-08 09:00' lot=P protocol='Fourteen days'"));
  g_free(
      ctl(c, 0,
          "record sighting --happened '2027-06-18 09:00' system=Pearl-2 sign=white_spot heads=1"));
  g_autoptr(Table) ways =
      ctl_table(c, "whatif --ways Pearl-2 --at '2027-06-18 09:00' --format=csv");
  int place = table_find(ways, "way", "Treat in place/1", "lot", "P", NULL);
  int transfer = table_find(ways, "way", "Four transfers/1", "lot", "P", NULL);
  ck_assert(place >= 0 && transfer >= 0);
  ck_assert_str_eq(table_cell(ways, (guint)place, "after"), "2027-07-28T07:00Z");
  ck_assert_str_eq(table_cell(ways, (guint)transfer, "after"), "2027-07-14T07:00Z");
  ctl_free(c);
}
END_TEST

// What record takes, whatif takes: who, witness, why, and a correction of an entry.
START_TEST(test_options_are_those_of_an_entry)
{
  Ctl *c = station(NULL, "Pearl-2");
  protocol(c, "Fourteen days",
           "[phase 1]\nname=Watch\nkind=observe\nplace=stay\nmin_elapsed_min=20160\n"
           "quiet_min=20160\nsighting_to=1\n");
  g_free(ctl(c, 0, "record lot --happened '2027-06-08 09:00' code=P tank=Pearl-2/1 heads=24"));
  g_free(ctl(c, 0, "record course --happened '2027-06-08 09:00' lot=P protocol='Fourteen days'"));
  g_autofree char *seen = ctl(
      c, 0, "record sighting --happened '2027-06-11 09:00' system=Pearl-2 sign=white_spot heads=1");
  g_strstrip(seen);
  // 14 days from the sighting; without it, which was a grain of sand, 14 days from the start
  g_autoptr(Table) t =
      ctl_table(c,
                "whatif --format=csv --happened '2027-06-12 09:00' --who MK --reason 'it was sand' "
                "--corrects %s --void sighting system=Pearl-2",
                seen + 1);
  int row = table_find(t, "lot", "P", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_str_eq(table_cell(t, (guint)row, "before"), "2027-06-25T07:00Z");
  ck_assert_str_eq(table_cell(t, (guint)row, "after"), "2027-06-22T07:00Z");
  g_autofree char *usage = ctl(c, 2, "whatif --void sighting system=Pearl-2");
  ck_assert_msg(strstr(usage, "--corrects"), "%s", usage);
  static const char stops[] = "whatif --happened '2027-06-12 09:00' --who MK "
                              "--reason 'velvet was seen' %sstop lot=P";
  g_free(ctl(c, 0, stops, ""));
  g_autofree char *same = ctl(c, 2, stops, "--witness MK ");
  ck_assert_msg(strstr(same, "somebody other"), "%s", same);
  ctl_free(c);
}
END_TEST

// Two lots in transfers, each moved once, a day apart: no later transfer is in time for both, and
// who would merge them is told so (three days each, three hours of tolerance: Colorni 1985, as in
// data/protocols).
START_TEST(test_a_merge_that_begins_anew)
{
  static const char together[] = "--happened '2027-01-05 12:30' move lot=B tank=Wrasse/2 + "
                                 "merge lot=B into=A";
  Ctl *c = station(NULL, "Wrasse");
  GString *text = g_string_new(NULL);
  for (int i = 1; i <= 4; i++)
    g_string_append_printf(text,
                           "[phase %d]\nname=Transfer %d\nkind=transfer\nplace=next_clean\n"
                           "min_elapsed_min=4320\nlate_tolerance_min=180\nsighting_to=1\n",
                           i, i);
  protocol(c, "Four transfers", text->str);
  g_string_free(text, TRUE);
  for (const char *const *name = (const char *const[]){"Goby", "Blenny", "Tang", NULL}; *name;
       name++) {
    g_free(ctl(c, 0, "record system name=%s volume_l=200 role=finishing", *name));
    g_free(ctl(c, 0, "record tank system=%s number=1", *name));
  }
  g_free(ctl(c, 0, "record lot --happened '2027-01-04 07:30' code=A tank=Goby/1 heads=10"));
  g_free(ctl(c, 0, "record course --happened '2027-01-04 07:30' lot=A protocol='Four transfers'"));
  g_free(ctl(c, 0, "record move --happened '2027-01-04 07:45' lot=A tank=Wrasse/1"));
  g_free(ctl(c, 0, "record lot --happened '2027-01-05 07:30' code=B tank=Blenny/1 heads=12"));
  g_free(ctl(c, 0, "record course --happened '2027-01-05 07:30' lot=B protocol='Four transfers'"));
  g_free(ctl(c, 0, "record move --happened '2027-01-05 07:45' lot=B tank=Tang/1"));
  g_autofree char *told = ctl(c, 0, "whatif %s", together);
  ck_assert_msg(strstr(told, "none can be in time for all"), "%s", told);
  g_autoptr(Table) cost = ctl_table(c, "whatif --format=csv %s", together);
  int row = table_find(cost, "lot", "A", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_ptr_nonnull(strstr(table_cell(cost, (guint)row, "because"), "begins anew"));
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: whatif");
  TCase *tc = tcase_create("whatif");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_cost_of_joining_shared_water);
  tcase_add_test(tc, test_ways_on_after_a_spot);
  tcase_add_test(tc, test_a_merge_that_begins_anew);
  tcase_add_test(tc, test_options_are_those_of_an_entry);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
