// SPDX-License-Identifier: GPL-3.0-or-later
// Protocols through the command line: every shipped one passes, an impossible one is refused with
// phase, field and reason, an unusual one is taken with a note.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "ctl.h"

static char *
add(Ctl *c, int expect, const char *text)
{
  g_autofree char *name = g_build_filename(c->folder, "case.protocol", NULL);
  ck_assert(g_file_set_contents(name, text, -1, NULL));
  return ctl(c, expect, "protocol '%s'", name);
}

START_TEST(test_shipped_ones_pass)
{
  static const char *const all[] = {
      "at-home",          "chloroquine",       "complexed-copper-low-salinity",
      "display-support",  "copper-and-flukes", "emptied-system",
      "flukes",           "formalin-bath",     "ionic-copper",
      "lowered-salinity", "medicated-feed",    "observation",
      "tank-transfer"};
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_autofree char *list = ctl(c, 0, "protocol --list");
  g_auto(GStrv) lines = g_strsplit(g_strstrip(list), "\n", -1);
  ck_assert_uint_eq(g_strv_length(lines), G_N_ELEMENTS(all));
  for (guint i = 0; i < G_N_ELEMENTS(all); i++)
    g_free(ctl(c, 0, "protocol %s", all[i]));
  ctl_free(c);
}
END_TEST

START_TEST(test_impossible_ones_are_refused)
{
  static const char head[] = "[protocol]\nname=%s\nversion=1\n[phase 1]\nname=Hold\nkind=hold\n"
                             "place=stay\n%s\n[phase 1 band 1]\nanalyte=copper\nform=ionic\n"
                             "side=at_or_above\nworks=0.18\ntarget=%s\nplan=0.21\nharm=0.25\n"
                             "gap_min=1440\n";
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  g_autofree char *no_end = g_strdup_printf(head, "A", "min_credit_min=0", "0.19");
  g_autofree char *ends = add(c, 1, no_end);
  ck_assert_msg(strstr(ends, "phase 1") && strstr(ends, "ends as it begins") == NULL &&
                    strstr(ends, "end as it begins"),
                "%s", ends);
  g_autofree char *low = g_strdup_printf(head, "B", "min_credit_min=30240", "0.15");
  g_autofree char *target = add(c, 2, low);
  ck_assert_msg(strstr(target, "phase 1 band 1") && strstr(target, "target"), "%s", target);
  // nothing of either was kept
  g_autofree char *table = ctl(c, 0, "export protocols");
  ck_assert_ptr_null(strstr(table, "\"A\""));
  ck_assert_int_eq((int)strlen(table), (int)(strchr(table, '\n') - table + 1));
  ctl_free(c);
}
END_TEST

// Imported as tables, a protocol is complete only when a lot goes under it.
START_TEST(test_a_course_asks_again)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  ctl_import(c, "protocols", "name,version\nHouse,1\n");
  ctl_import(c, "phases",
             "protocol,position,name,kind,place,rise_per_day\nHouse/1,1,Hold,hold,stay,0.06\n");
  ctl_import(c, "bands",
             "phase,analyte,form,side,works,target,plan,harm,gap_min\n"
             "House/1/1,copper,ionic,at_or_above,0.18,0.19,0.30,0.40,1440\n");
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=1"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=A tank=Blue-1/1 heads=10"));
  g_autofree char *no =
      ctl(c, 1, "record course --happened '2027-03-04 08:00' lot=A protocol=House");
  ck_assert_msg(strstr(no, "phase 1") && strstr(no, "end as it begins"), "%s", no);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command: protocols");
  TCase *tc = tcase_create("protocols");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_shipped_ones_pass);
  tcase_add_test(tc, test_impossible_ones_are_refused);
  tcase_add_test(tc, test_a_course_asks_again);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
