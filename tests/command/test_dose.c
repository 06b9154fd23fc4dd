// SPDX-License-Identifier: GPL-3.0-or-later
// `dose` and `reach` as the command line prints them, against worked examples named beside each; a
// recorded bath closes the task that asked for it.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

static void
comes_to(Ctl *c, const char *words, double amount, const char *unit, double within)
{
  g_autoptr(Table) answer = ctl_table(c, "dose %s --format=csv", words);
  int row = table_find(answer, "part", "answer", NULL);
  ck_assert_int_ge(row, 0);
  double found = g_ascii_strtod(table_cell(answer, (guint)row, "amount"), NULL);
  ck_assert_msg(ABS(found - amount) <= within, "dose %s: %g, expected %g", words, found, amount);
  ck_assert_str_eq(table_cell(answer, (guint)row, "unit"), unit);
}

static gboolean
cautions(Ctl *c, const char *words, const char *part)
{
  g_autoptr(Table) answer = ctl_table(c, "dose %s --format=csv", words);
  for (guint i = 0; i < answer->rows->len; i++)
    if (strstr(table_cell(answer, i, "what"), part))
      return TRUE;
  return FALSE;
}

START_TEST(test_worked_examples)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-05 07:00 0.19\n");
  // 360 of 2,400 L at 0.19 mg/L from 1.00 mg Cu/mL: arithmetic of a batch change, Kraul et al. 1985
  comes_to(c, "replace --system=Blue-1 --level=0.19 --litres=360", 68.4, "mL", 1e-9);
  // labelled in salt: 68.4 / 0.25451, atomic masses of IUPAC 2021 (abridged)
  comes_to(c, "replace --volume=2400 --level=0.19 --litres=360 --strength=1 --as=salt", 268.75,
           "mL", 0.005);
  // 200 L to 0.15 mg/L from 1 mg/mL: figures 9.2 row 1, web page
  comes_to(c, "raise --volume=200 --level=0 --target=0.15 --strength=1", 30, "mL", 1e-9);
  // (0.9 - 0.5) / 0.9 of 1,800 L: arithmetic
  comes_to(c, "lower --volume=1800 --level=0.9 --target=0.5", 800, "L", 1e-6);
  // (16 / 34)^(1/4) = 0.8282, 17.2 % of 1,800 L: arithmetic
  comes_to(c, "freshen --volume=1800 --level=34 --target=16 --step=6 --step-hours=12", 309.2, "L",
           0.1);
  // 200 mg/L in 1,000 L of 120 g/L: the definition of available chlorine
  comes_to(c, "bleach --volume=1000 --strength=120", 1666.7, "mL", 0.05);
  // 1 US gallon of 200 mg/L at 7.0 mg/mg; printed 5.6 g at 7.4 (Piper et al. 1982 p. 283)
  comes_to(c, "neutralise --volume=3.785411784 --level=200", 5.30, "g", 0.005);
  // 167 mg/L of formalin in 10 cubic feet: 43.8 mL (Piper et al. 1982 p. 276)
  comes_to(c, "bath --bath=formalin --volume=283.16847 --target=167 --temperature=20 --air", 43.79,
           "mL", 0.005);
  // 75 mg/L of peroxide in 100 L of the 35 % solution, 396.1 mg/mL (21 CFR 529.1150)
  comes_to(c, "bath --bath=peroxide --volume=100", 18.93, "mL", 0.01);
  ck_assert(cautions(c, "bleach --volume=1000 --strength=120", "Gloves"));
  ck_assert(cautions(c, "bath --bath=peroxide --volume=100", "veterinarian"));
  ctl_free(c);
}
END_TEST

// Two forms on the shelf and no water that says which: asked, the first to expire first. The course
// of Blue-1 says ionic; of its three bottles the newest is taken, and who expires sooner is named.
START_TEST(test_which_bottle)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record bottle name=C-08 analyte=copper form=ionic strength=5 expiry=2027-06"));
  g_free(ctl(c, 0, "record bottle name=C-09 analyte=copper form=ionic strength=2 expiry=2027-12"));
  g_autofree char *one =
      ctl(c, 0, "dose replace --volume=2400 --level=0.19 --litres=360 --at '2027-03-05 09:00'");
  ck_assert_msg(strstr(one, "34.2 mL"), "%s", one);
  g_free(ctl(c, 0, "record bottle name=A-01 analyte=copper form=amine strength=10 expiry=2027-05"));
  g_autofree char *no =
      ctl(c, 2, "dose replace --volume=2400 --level=0.19 --litres=360 --at '2027-03-05 09:00'");
  ck_assert_msg(strstr(no, "A-01 (amine-complexed, 2027-05), C-08 (ionic, 2027-06), "
                           "C-09 (ionic, 2027-12), C-07 (ionic)") != NULL,
                "%s", no);
  case_read(c, "2027-03-05 08:00 0.19\n");
  g_autofree char *yes =
      ctl(c, 0, "dose replace --system=Blue-1 --litres=360 --at '2027-03-05 09:00'");
  ck_assert_msg(strstr(yes, "34.2 mL") && strstr(yes, "C-08 holds the same and expires sooner"),
                "%s", yes);
  ctl_free(c);
}
END_TEST

// What must not be worked out is refused with a sentence.
START_TEST(test_refused)
{
  static const struct {
    int status;
    const char *words, *says;
  } no[] = {
      {2, "replace --volume=2400 --level=0.19 --strength=1", "litres"},
      {2, "raise --volume=x --level=0", "--volume"},
      {1, "bath --bath=formalin --volume=100 --target=250 --temperature=25 --air", "150 mg/L"},
      {1, "bath --bath=formalin --volume=100 --target=250 --temperature=20", "air"},
      {1, "bleach --system=Blue-1 --strength=120 --at '2027-03-05 09:00'",
       "0412"}, // fish are in it
  };
  Ctl *c = case_ionic("pause", "metal");
  for (gsize i = 0; i < G_N_ELEMENTS(no); i++) {
    g_autofree char *said = ctl(c, no[i].status, "dose %s", no[i].words);
    ck_assert_msg(strstr(said, no[i].says) != NULL, "%s: %s", no[i].words, said);
  }
  ctl_free(c);
}
END_TEST

// 90 kg of fish at 75 mg/kg: 6,750 mg a day (figures 9.2 row 16, web page).
START_TEST(test_medicated_feed)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record system name=Red-1 volume_l=500 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Red-1 number=1"));
  g_free(ctl(c, 0,
             "record lot --happened '2027-03-04 08:00' code=B tank=Red-1/1 heads=900 "
             "mean_mass_g=100"));
  comes_to(c, "feed --system=Red-1 --mg-per-kg=75 --at '2027-03-05 09:00'", 6.75, "g", 1e-9);
  ctl_free(c);
}
END_TEST

// Which lots a batch reached, by two bottles of it: what a recall asks for.
START_TEST(test_reach)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-05 07:00 0.17\n");
  g_free(ctl(c, 0, "record bottle --entity C-07 name=C-07 batch=L9"));
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-05 08:00' system=Blue-1 bottle=C-07 amount_ml=48"));
  g_autoptr(Table) batch = ctl_table(c, "reach L9 --at '2027-03-05 09:00' --format=csv");
  ck_assert_uint_eq(batch->rows->len, 1);
  ck_assert_str_eq(table_cell(batch, 0, "lot"), "0412");
  ck_assert_str_eq(table_cell(batch, 0, "heads"), "30");
  ck_assert_str_eq(table_cell(batch, 0, "times"), "1");
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(batch, 0, "mg"), NULL), 48, 1e-9); // 1 mg/mL
  g_autoptr(Table) bottle = ctl_table(c, "reach C-07 --at '2027-03-05 09:00' --format=csv");
  ck_assert_uint_eq(bottle->rows->len, 1);
  g_free(ctl(c, 0, "record bottle name=C-08 analyte=copper strength=1 batch=L10"));
  g_autoptr(Table) none = ctl_table(c, "reach L10 --at '2027-03-05 09:00' --format=csv");
  ck_assert_uint_eq(none->rows->len, 0);
  g_autoptr(Table) before = ctl_table(c, "reach L9 --at '2027-03-05 07:59' --format=csv");
  ck_assert_uint_eq(before->rows->len, 0); // nothing was given yet
  // a mistyped batch clears nobody
  g_autofree char *mistyped = ctl(c, 2, "reach L99 --at '2027-03-05 09:00'");
  ck_assert_msg(strstr(mistyped, "no batch and no bottle “L99”"), "%s", mistyped);
  ctl_free(c);
}
END_TEST

static const char bathing[] =
    "[protocol]\nname=Bathing\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Bath\nkind=bath\nplace=stay\nmin_elapsed_min=2880\nmedicine=formalin\n"
    "dose_level=150\nbath_min=45\nsighting_to=1\n";

static gboolean
asks_for_a_bath(Ctl *c, const char *at)
{
  g_autofree char *plan = ctl(c, 0, "plan --at '%s' --format=csv", at);
  return strstr(plan, "bath,") != NULL;
}

START_TEST(test_a_recorded_bath_closes_its_task)
{
  Ctl *c = ctl_new();
  g_autofree char *file = g_build_filename(c->folder, "bath.protocol", NULL);
  ctl_station(c, NULL);
  ck_assert(g_file_set_contents(file, bathing, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", file));
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=1"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=A tank=Blue-1/1 heads=30"));
  g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=A protocol=Bathing"));
  ck_assert(asks_for_a_bath(c, "2027-03-04 09:00"));
  // another medicine, and the same before the phase began, close nothing
  g_free(ctl(
      c, 0, "record bath --happened '2027-03-04 10:00' lot=A bath=freshwater litres=50 minutes=4"));
  ck_assert(asks_for_a_bath(c, "2027-03-04 11:00"));
  g_free(ctl(c, 0,
             "record bath --happened '2027-03-04 11:30' lot=A bath=formalin litres=100 "
             "amount_ml=13 minutes=45 temperature=24 air=yes"));
  ck_assert(!asks_for_a_bath(c, "2027-03-04 12:00"));
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command dose");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 120);
  tcase_add_test(all, test_worked_examples);
  tcase_add_test(all, test_refused);
  tcase_add_test(all, test_which_bottle);
  tcase_add_test(all, test_medicated_feed);
  tcase_add_test(all, test_reach);
  tcase_add_test(all, test_a_recorded_bath_closes_its_task);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
