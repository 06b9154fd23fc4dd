// SPDX-License-Identifier: GPL-3.0-or-later
// Protocols through the command line: every shipped one passes, an impossible one is refused with
// phase, field and reason, an unusual one is taken with a note.
#include <check.h>
#include <math.h>
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
  for (guint i = 0; i < G_N_ELEMENTS(all); i++) { // none with a note: nobody here wrote it
    g_autofree char *words = g_strdup_printf("protocol %s", all[i]);
    g_autofree char *notes = ctl_notes(c, words);
    ck_assert_msg(!*notes, "%s: %s", all[i], notes);
  }
  // the same as somebody's own: what is unusual in it is said
  g_autofree char *text = ctl(c, 0, "protocol --show 'Ionic copper'");
  g_autofree char *own = g_build_filename(c->folder, "own.protocol", NULL);
  g_auto(GStrv) parts = g_strsplit(text, "name=Ionic copper", 2);
  g_autofree char *renamed = g_strjoinv("name=Our copper", parts);
  ck_assert(g_file_set_contents(own, renamed, -1, NULL));
  g_autofree char *words = g_strdup_printf("protocol '%s'", own);
  g_autofree char *notes = ctl_notes(c, words);
  ck_assert_msg(strstr(notes, "phase 3, sighting_to"), "%s", notes);
  ctl_free(c);
}
END_TEST

// Edges as they are published or usual. Ionic: Zec, Hadfield and Hungerford 2021. Salinity 13.3 and
// 21.3 are specific gravities of 1.010 and 1.016 at 25/25 degrees C (EOS-80). Complexed copper and
// the tank at home: common practice, no source.
START_TEST(test_edges_of_the_shipped_ones)
{
  static const struct {
    const char *template, *phase, *analyte, *works, *target, *plan, *harm;
  } rows[] = {
      {"complexed-copper-low-salinity", "2", "copper", "0.45", "0.5", "0.6", "0.8"},
      {"complexed-copper-low-salinity", "2", "salinity", "22.5", "21.3", "20.5", "15"},
      {"copper-and-flukes", "5", "copper", "0.45", "0.5", "0.6", "0.8"},
      {"at-home", "2", "copper", "0.45", "0.5", "0.6", "0.8"},
      {"at-home", "2", "salinity", "22.5", "21.3", "20.5", "15"},
      {"ionic-copper", "2", "copper", "0.18", "0.19", "0.21", "0.25"},
      {"lowered-salinity", "2", "salinity", "14", "13.3", "12", "10"},
  };
  static const struct {
    const char *template, *phase, *field;
  } lengths[] = {
      {"complexed-copper-low-salinity", "2", "min_credit_min=20160"}, // 14 days
      {"ionic-copper", "2", "min_credit_min=30240"},                  // 21 days
      {"lowered-salinity", "2", "min_credit_min=40320"},              // 4 weeks
      {"tank-transfer", "4", "min_elapsed_min=4320"},                 // 72 h
      {"observation", "1", "min_elapsed_min=43200"},                  // 30 days
      {"flukes", "2", "dose_level=2"},                                // Thomas 2016
      {"formalin-bath", "1", "dose_level=150"}, // Francis-Floyd VM061, above 21 degrees C
      {"emptied-system", "1", "dose_level=60"}, // Hirazawa, Goto and Shirasu 2003
  };
  const char *data = g_getenv("LAZARET_DATA_DIR");
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_autofree char *path = g_strdup_printf("%s/protocols/%s.protocol", data, rows[i].template);
    g_autoptr(GKeyFile) file = g_key_file_new();
    gboolean found = FALSE;
    ck_assert(g_key_file_load_from_file(file, path, G_KEY_FILE_NONE, NULL));
    for (int b = 1; b <= 4; b++) {
      g_autofree char *group = g_strdup_printf("phase %s band %d", rows[i].phase, b);
      g_autofree char *analyte = g_key_file_get_string(file, group, "analyte", NULL);
      if (g_strcmp0(analyte, rows[i].analyte) != 0)
        continue;
      const char *const want[] = {"works", rows[i].works, "target", rows[i].target,
                                  "plan",  rows[i].plan,  "harm",   rows[i].harm};
      found = TRUE;
      for (guint k = 0; k < G_N_ELEMENTS(want); k += 2)
        ck_assert_msg(fabs(g_key_file_get_double(file, group, want[k], NULL) -
                           g_ascii_strtod(want[k + 1], NULL)) < 1e-12,
                      "%s %s %s", rows[i].template, group, want[k]);
    }
    ck_assert_msg(found, "%s: no band on %s", rows[i].template, rows[i].analyte);
  }
  for (guint i = 0; i < G_N_ELEMENTS(lengths); i++) {
    g_autofree char *path = g_strdup_printf("%s/protocols/%s.protocol", data, lengths[i].template);
    g_autofree char *group = g_strdup_printf("phase %s", lengths[i].phase);
    g_auto(GStrv) pair = g_strsplit(lengths[i].field, "=", 2);
    g_autoptr(GKeyFile) file = g_key_file_new();
    ck_assert(g_key_file_load_from_file(file, path, G_KEY_FILE_NONE, NULL));
    g_autofree char *value = g_key_file_get_string(file, group, pair[0], NULL);
    ck_assert_msg(g_strcmp0(value, pair[1]) == 0, "%s %s", lengths[i].template, lengths[i].field);
  }
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
  tcase_add_test(tc, test_edges_of_the_shipped_ones);
  tcase_add_test(tc, test_impossible_ones_are_refused);
  tcase_add_test(tc, test_a_course_asks_again);
  suite_add_tcase(suite, tc);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
