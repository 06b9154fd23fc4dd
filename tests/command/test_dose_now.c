// SPDX-License-Identifier: GPL-3.0-or-later
// `water`'s dose now for salinity, praziquantel and chloroquine: the plan's own amounts, at the
// minute asked, held against the gates. Stations invented; levels are those of the shipped
// protocols (Thomas 2016; Gili 1998; Colorni 1985), pace and steps common practice, no source;
// amounts by the arithmetic beside them.
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ctl.h"

#define DATA g_getenv("LAZARET_DATA_DIR")

static Ctl *
station(const char *protocol, const char *name, const char *volume)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  if (strchr(protocol, '[')) {
    g_autofree char *path = g_build_filename(c->folder, "own.protocol", NULL);
    ck_assert(g_file_set_contents(path, protocol, -1, NULL));
    g_free(ctl(c, 0, "protocol --who MK '%s'", path));
  } else {
    g_free(ctl(c, 0, "protocol --who MK '%s/protocols/%s'", DATA, protocol));
  }
  g_free(ctl(c, 0, "record system name=Red-1 volume_l=%s role=treatment", volume));
  g_free(ctl(c, 0, "record instrument name=RX method=refractometer error_abs=0.3"));
  for (int i = 1; i <= 2; i++) {
    g_free(ctl(c, 0, "record tank system=Red-1 number=%d", i));
    g_free(ctl(c, 0, "record lot --happened '2027-03-01 08:00' code=050%d tank=Red-1/%d heads=20",
               i, i));
    g_free(
        ctl(c, 0, "record course --happened '2027-03-01 08:00' lot=050%d protocol='%s'", i, name));
  }
  return c;
}

static void
act(Ctl *c, int expect, const char *kind, const char *at, const char *what)
{
  g_free(ctl(c, expect, "record %s --happened '2027-03-%s' system=Red-1 %s", kind, at, what));
}

static void
gear_off(Ctl *c, const char *at)
{
  act(c, 0, "gear", at, "gear=uv on=no");
  act(c, 0, "gear", at, "gear=carbon on=no");
  act(c, 0, "gear", at, "gear=resin on=no");
}

typedef struct {
  double amount;
  char unit[8], bottle[8], why[600];
} Now;

static Now
dose_now(Ctl *c, const char *at, const char *analyte)
{
  Now now = {.amount = NAN};
  g_autoptr(Table) water = ctl_table(c, "water --at '2027-03-%s' --system Red-1 --format=csv", at);
  int row = table_find(water, "analyte", analyte, NULL);
  ck_assert_msg(row >= 0, "no row of %s", analyte);
  const char *amount = table_cell(water, (guint)row, "dose_amount");
  now.amount = *amount ? g_ascii_strtod(amount, NULL) : NAN;
  g_strlcpy(now.unit, table_cell(water, (guint)row, "dose_unit"), sizeof now.unit);
  g_strlcpy(now.bottle, table_cell(water, (guint)row, "bottle"), sizeof now.bottle);
  g_strlcpy(now.why, table_cell(water, (guint)row, "dose_because"), sizeof now.why);
  return now;
}

// The plan's own task of that kind at that minute, to compare with.
static double
planned(Ctl *c, const char *at, const char *task)
{
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-%s' --system Red-1 --format=csv", at);
  int row = table_find(plan, "kind", task, NULL);
  ck_assert_msg(row >= 0, "no task %s", task);
  return g_ascii_strtod(table_cell(plan, (guint)row, "amount"), NULL);
}

static void
nothing(const Now *now, const char *because)
{
  ck_assert_msg(isnan(now->amount) && !*now->unit, "%g %s is said", now->amount, now->unit);
  ck_assert_msg(strstr(now->why, because) != NULL, "“%s” instead of “%s”", now->why, because);
}

START_TEST(salinity_down_by_fresh_water)
{
  Ctl *c = station("lowered-salinity.protocol", "Lowered salinity alone", "1800");
  Now now = dose_now(c, "01 08:10", "salinity");
  nothing(&now, "test first"); // nobody has read it
  act(c, 0, "reading", "01 08:20", "analyte=salinity value=34 instrument=RX");
  // from 34 to 13.3 in equal ratios of at most 6: four steps would begin with 34 x (1 - 0.7908) =
  // 7.1, five begin with 34 x (1 - 0.8289) = 5.8; 1,800 L x 0.1711 = 308.1 L
  now = dose_now(c, "01 08:30", "salinity");
  double share = 1 - pow(13.3 / 34, 1.0 / 5);
  ck_assert_double_eq_tol(now.amount, 1800 * share, 1e-6);
  ck_assert_str_eq(now.unit, "L");
  ck_assert_double_eq_tol(now.amount, planned(c, "01 08:30", "change"), 1e-6);
  // at noon nobody makes a round, and it is right all the same
  ck_assert_double_eq_tol(dose_now(c, "01 12:00", "salinity").amount, 1800 * share, 1e-6);
  g_autofree char *words = ctl(c, 0, "water --at '2027-03-01 12:00' --system Red-1");
  ck_assert_msg(strstr(words, "to change now: 308 L, with fresh water, 28.2 after it"), "%s",
                words);
  act(c, 0, "change", "01 12:00", "litres=308 new_salinity=0");
  now = dose_now(c, "01 12:30", "salinity");
  nothing(&now, "not yet");
  now = dose_now(c, "01 13:30", "salinity");
  nothing(&now, "confirm");
  // 12 in a day: 34 to 23.4 leaves no room for the next step to 19.4
  act(c, 0, "reading", "01 13:40", "analyte=salinity value=28.2 instrument=RX");
  act(c, 0, "change", "01 13:41", "litres=308 new_salinity=0 --reason 'asked for'");
  act(c, 0, "reading", "01 14:50", "analyte=salinity value=23.4 instrument=RX");
  now = dose_now(c, "01 15:00", "salinity");
  nothing(&now, "not yet");
  ctl_free(c);
}
END_TEST

static const char up[] =
    "[protocol]\nname=Up\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Up\nkind=raise\nplace=stay\nreach=yes\nsalinity_step=3\n"
    "salinity_rise_day=3\nsighting_to=1\n"
    "[phase 1 band 1]\nanalyte=salinity\nside=at_or_above\nworks=33\ntarget=34\nplan=36\n"
    "harm=40\ngap_min=1440\n";

START_TEST(salinity_up_by_salt)
{
  Ctl *c = station(up, "Up", "1800");
  act(c, 0, "reading", "01 08:20", "analyte=salinity value=29 instrument=RX");
  // 5 in steps of at most 3: two of 2.5; 2.5 g/L x 1,800 L = 4.5 kg
  Now now = dose_now(c, "01 08:30", "salinity");
  ck_assert_double_eq_tol(now.amount, 4.5, 1e-9);
  ck_assert_str_eq(now.unit, "kg");
  ck_assert_double_eq_tol(now.amount, planned(c, "01 08:30", "salt"), 1e-9);
  g_autofree char *words = ctl(c, 0, "water --at '2027-03-01 08:30' --system Red-1");
  ck_assert_msg(strstr(words, "of salt, 31.5 after it"), "%s", words);
  act(c, 0, "dose", "01 08:35", "salt_kg=4.5");
  act(c, 0, "reading", "01 10:00", "analyte=salinity value=31.5 instrument=RX");
  now = dose_now(c, "01 10:05", "salinity"); // 3 a day
  nothing(&now, "not yet");
  ck_assert_double_eq_tol(dose_now(c, "02 09:00", "salinity").amount, 4.5, 1e-9);
  ctl_free(c);
}
END_TEST

START_TEST(praziquantel_once_in_each_phase)
{
  Ctl *c = station("flukes.protocol", "Flukes", "1000");
  g_free(ctl(c, 0, "record bottle name=P1 analyte=praziquantel strength=50"));
  Now now = dose_now(c, "01 08:10", "praziquantel");
  nothing(&now, "first switch off or take out");
  gear_off(c, "01 08:12");
  now = dose_now(c, "01 08:15", "praziquantel"); // 2 mg/L x 1,000 L / 50 mg/mL, for both lots
  ck_assert_double_eq_tol(now.amount, 40, 1e-9);
  ck_assert_str_eq(now.unit, "mL");
  ck_assert_str_eq(now.bottle, "P1");
  ck_assert_double_eq_tol(now.amount, planned(c, "01 08:15", "dose"), 1e-9);
  g_autofree char *slip =
      ctl(c, 1, "record dose --happened '2027-03-01 08:20' system=Red-1 bottle=P1 amount_ml=400");
  ck_assert_msg(strstr(slip, "ten times the computed dose of 40"), "%s", slip);
  act(c, 0, "dose", "01 08:20", "bottle=P1 amount_ml=40");
  ck_assert(isnan(dose_now(c, "01 08:30", "praziquantel").amount));
  // the next phase gives its own; nobody had to read the first
  now = dose_now(c, "05 08:10", "praziquantel");
  ck_assert(isnan(now.amount)); // its days count from the dose
  now = dose_now(c, "05 08:30", "praziquantel");
  ck_assert_double_eq_tol(now.amount, 40, 1e-9);
  act(c, 0, "dose", "05 08:31", "bottle=P1 amount_ml=40");
  g_autofree char *twice =
      ctl(c, 1, "record dose --happened '2027-03-05 08:50' system=Red-1 bottle=P1 amount_ml=40");
  ck_assert_msg(strstr(twice, "no reading has come since"), "%s", twice);
  ctl_free(c);
}
END_TEST

START_TEST(chloroquine_weighed_out_or_from_a_bottle)
{
  Ctl *c = station("chloroquine.protocol", "Chloroquine in water", "1000");
  gear_off(c, "01 08:12");
  Now now = dose_now(c, "01 08:15", "chloroquine"); // 10 mg/L x 1,000 L = 10 g
  ck_assert_double_eq_tol(now.amount, 10, 1e-9);
  ck_assert_str_eq(now.unit, "g");
  ck_assert_double_eq_tol(now.amount, planned(c, "01 08:15", "dose"), 1e-9);
  // a bottle without a prescription: a second person is asked, and it is said
  g_free(ctl(c, 0, "record bottle name=Q1 analyte=chloroquine strength=100"));
  now = dose_now(c, "01 08:16", "chloroquine");
  ck_assert_double_eq_tol(now.amount, 100, 1e-9);
  ck_assert_str_eq(now.bottle, "Q1");
  ck_assert_msg(strstr(now.why, "no prescription is on record"), "%s", now.why);
  // one that is past its date is not dosed from
  g_free(ctl(c, 0, "record bottle --entity Q1 --reason 'read again' expiry=2027-02"));
  now = dose_now(c, "01 08:17", "chloroquine");
  ck_assert_str_eq(now.bottle, "");
  ck_assert_double_eq_tol(now.amount, 10, 1e-9);
  // read low: (10 - 8.5) x 1,000 = 1.5 g
  act(c, 0, "dose", "01 08:20", "analyte=chloroquine amount_mg=10000");
  now = dose_now(c, "01 08:30", "chloroquine");
  ck_assert(isnan(now.amount));
  act(c, 0, "reading", "03 08:20", "analyte=chloroquine value=8.5 error=0.3");
  now = dose_now(c, "03 08:30", "chloroquine");
  ck_assert_double_eq_tol(now.amount, 1.5, 1e-9);
  ck_assert_str_eq(now.unit, "g");
  ctl_free(c);
}
END_TEST

#define HOLD_BOTH                                                                                  \
  "[protocol]\nname=Both\nversion=1\nsource=invented\n\n[phase 1]\nname=Hold\nkind=hold\n"         \
  "place=stay\nmin_credit_min=20160\nlapse_min=-1\nsighting_to=1\nsalinity_step=6\n"               \
  "salinity_fall_day=6\n\n[phase 1 band 1]\nanalyte=copper\nform=amine\nside=at_or_above\n"        \
  "works=0.45\ntarget=0.50\nplan=0.60\nharm=0.80\ngap_min=960\n\n[phase 1 band 2]\n"               \
  "analyte=salinity\nside=at_or_below\nworks=22.5\ntarget=21.3\nplan=20.5\nharm=15\n"              \
  "gap_min=960\nerror_inside=no\n"

static Ctl *
hold_both(void)
{
  Ctl *c = station(HOLD_BOTH, "Both", "1400");
  g_free(ctl(c, 0, "record bottle name=A4 analyte=copper form=amine strength=4"));
  g_free(ctl(c, 0, "record instrument name=KT method=photometer sees=all error_abs=0.01"));
  gear_off(c, "01 08:10");
  return c;
}

// What a change is going to take out belongs into its new water: into the system as it stands, the
// same millilitres make 0.50 + 101.04 mg / 1,400 L = 0.572.
START_TEST(copper_into_the_new_water)
{
  Ctl *c = hold_both();
  act(c, 0, "reading", "01 08:20", "analyte=salinity value=34 instrument=RX");
  act(c, 0, "reading", "01 08:20", "analyte=copper value=0.5 instrument=KT");
  const double litres = 1400 * (1 - cbrt(21.3 / 34)); // three equal ratios of at most 6
  Now now = dose_now(c, "01 08:30", "copper");
  ck_assert_double_eq_tol(now.amount, litres * 0.5 / 4, 1e-6); // what it takes out, at 4 mg/mL
  ck_assert_msg(!strstr(now.why, "no more than"), "%s", now.why);
  g_autoptr(Table) water = ctl_table(c, "water --at '2027-03-01 08:30' --format=csv");
  const int row = table_find(water, "analyte", "copper", NULL);
  ck_assert_double_eq_tol(g_ascii_strtod(table_cell(water, (guint)row, "new_water_l"), NULL),
                          litres, 1e-6);
  g_autofree char *words = ctl(c, 0, "water --at '2027-03-01 08:30'");
  ck_assert_msg(strstr(words, "25.3 mL of A4 into the 202 L of new water, 0.500 mg/L"), "%s",
                words);
  ctl_free(c);
}
END_TEST

// Nothing is advised from the reading before one that is in doubt: the plan asks for a repeat.
START_TEST(a_doubted_reading_is_repeated_first)
{
  Ctl *c = hold_both();
  act(c, 0, "reading", "01 08:20", "analyte=salinity value=21.3 instrument=RX");
  act(c, 0, "reading", "01 08:20", "analyte=copper value=0.44 instrument=KT");
  ck_assert_double_eq_tol(dose_now(c, "01 08:30", "copper").amount, 0.06 * 1400 / 4, 1e-6);
  act(c, 0, "reading", "01 08:40", "analyte=copper value=0.30 instrument=KT suspect=yes");
  Now now = dose_now(c, "01 08:45", "copper");
  nothing(&now, "test again");
  ctl_free(c);
}
END_TEST

// What nobody may lift stops the advice, too.
START_TEST(no_advice_against_a_gate)
{
  Ctl *c = station("flukes.protocol", "Flukes", "1000");
  g_free(ctl(c, 0, "record bottle name=P1 analyte=praziquantel strength=50 limit_level=1.5"));
  gear_off(c, "01 08:12");
  Now now = dose_now(c, "01 08:15", "praziquantel");
  nothing(&now, "this station never goes beyond 1.5");
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("dose_now");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 120);
  tcase_add_test(all, salinity_down_by_fresh_water);
  tcase_add_test(all, salinity_up_by_salt);
  tcase_add_test(all, praziquantel_once_in_each_phase);
  tcase_add_test(all, chloroquine_weighed_out_or_from_a_bottle);
  tcase_add_test(all, no_advice_against_a_gate);
  tcase_add_test(all, copper_into_the_new_water);
  tcase_add_test(all, a_doubted_reading_is_repeated_first);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
