// SPDX-License-Identifier: GPL-3.0-or-later
// Printed figures through the command line, typed as people type them: US gallons, cubic feet,
// Fahrenheit, ppm, per cent, specific gravity with its scale, comma and point. The source of each
// stands beside it; what has no unit that the field knows, or no scale, is refused with a sentence.
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "cases.h"

typedef struct {
  const char *words;
  double amount;
  const char *unit;
  double within;
} Figure;

static const Figure figures[] = {
    // 5,000 gal to 100 ppm with 6.00 %: 8.33 gal (printed formula V ppm / (1e6 fraction)) = 31,545
    // mL
    {"bleach --volume '5000 US gal' --target '100 ppm' --strength '6,00 %'", 31545.1, "mL", 0.05},
    {"bleach --volume 18927.06 --target 100 --strength '60 g/L'", 31545.1, "mL", 0.05},
    // 500 mL at 2.0 mg/L = 1 mg Cl2 = 7.0 mg of pentahydrate (Standard Methods practice, reprinted)
    {"neutralise --volume '500 mL' --level '2.0 mg/L'", 0.007, "g", 1e-9},
    // 1 mg/L Cu in 1,000 L = 3.92908 g of pentahydrate (masses of IUPAC 2021), here as a 1 % stock
    {"raise --volume '1 m3' --level 0 --target '1 ppm' --strength '1 %' --as salt", 392.908, "mL",
     0.001},
    {"raise --volume '264.1720524 gal' --level 0 --target '1000 ug/L' --strength '10 mg/ml' --as "
     "salt",
     392.908, "mL", 0.001},
    // 2,400 L, 360 L changed at 0.19: 68.4 mg (batch change, Kraul et al. 1985)
    {"replace --volume '2,4 m³' --level '0,19 mg/l' --litres '360 l' --strength '1 g/L'", 68.4,
     "mL", 1e-9},
    // 167 mg/L of formalin in 10 cubic feet: 43.8 mL (Piper et al. 1982 p. 276); 68 °F = 20 °C
    {"bath --bath formalin --volume '10 ft3' --target '167 ppm' --temperature '68 °F' --air", 43.79,
     "mL", 0.005},
    // SG 1.023 and 1.025 on 60/60 °F are 29.9875 and 32.5866 (EOS-80, UNESCO 44), rounded: 2.5991
    // g/L
    {"salt --volume '1000 L' --level 'SG 1.023 60/60F' --target '1,025 SG 60/60F'", 2.5991, "kg",
     2e-4},
    // the same numbers on 25/25 are 30.5447 and 33.1878
    {"salt --volume 1000 --level '1.023 SG 25/25' --target '1.025 SG 25/25'", 2.6431, "kg", 2e-4},
    // 53.0 mS/cm at 25 °C is 34.9473 (PSS-78); to 30 in one: (1 - 30 / 34.9473) x 1,800 L
    {"freshen --volume 1800 --level '53.0 mS/cm' --target '30 psu'", 254.82, "L", 0.01},
    // 34 to 16 in four: 309 L each (arithmetic); to 13.3 begins with the first of five, 308 L
    {"freshen --volume 1800 --level '34 ppt' --target 16 --step '6 ppt' --step-hours '12 h'", 309.2,
     "L", 0.1},
    {"freshen --volume 1800 --level 34 --target 13,3 --step 6", 308.1, "L", 0.1},
    // 0.9 to 0.5 mg/L: 44.4 % of 1,800 L (arithmetic)
    {"lower --volume 1800 --level '900 µg/L' --target '0.5 ppm'", 800, "L", 1e-6},
};

START_TEST(test_printed_figures)
{
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(figures); i++) {
    const Figure *f = &figures[i];
    g_autoptr(Table) answer = ctl_table(c, "dose %s --format=csv", f->words);
    const int row = table_find(answer, "part", "answer", NULL);
    ck_assert_msg(row >= 0, "dose %s: no answer", f->words);
    const double found = g_ascii_strtod(table_cell(answer, (guint)row, "amount"), NULL);
    ck_assert_msg(ABS(found - f->amount) <= f->within, "dose %s: %.6g, expected %.6g", f->words,
                  found, f->amount);
    ck_assert_str_eq(table_cell(answer, (guint)row, "unit"), f->unit);
  }
  ctl_free(c);
}
END_TEST

// A salinity of 1.021 is a specific gravity without its name: 0.01 kg of salt would be its answer.
START_TEST(test_refused_by_name_and_value)
{
  static const struct {
    const char *words, *option, *says;
  } no[] = {
      {"salt --volume 1800 --level 1.021 --target 1.026", "--level", "1.021"},
      {"salt --volume 1800 --level 'SG 1.021' --target 30", "--level", "scale"},
      {"freshen --volume '1800 kg' --level 34 --target 16", "--volume", "us gal"},
      {"raise --volume 1800 --level 0 --target '0.5 drops' --strength 5", "--target", "mg/L"},
      {"raise --volume '1,800.5' --level 0 --target 0.5 --strength 5", "--volume", "separators"},
      {"bath --bath formalin --volume 10 --target 100 --temperature '20 K' --air", "--temperature",
       "°f"},
      {"freshen --volume 1800 --level 34 --target 16 --step-hours '1 d'", "--step-hours", "in h"},
      {"feed --mg-per-kg '75 ppm'", "--mg-per-kg", "mg/kg"},
  };
  Ctl *c = ctl_new();
  ctl_station(c, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(no); i++) {
    g_autofree char *said = ctl(c, 2, "dose %s", no[i].words);
    ck_assert_msg(strstr(said, no[i].option) && strstr(said, no[i].says), "%s: %s", no[i].words,
                  said);
  }
  ctl_free(c);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("command figures");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 120);
  tcase_add_test(all, test_printed_figures);
  tcase_add_test(all, test_refused_by_name_and_value);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
