// SPDX-License-Identifier: GPL-3.0-or-later
// Units: printed conversion factors, shares in salts, and that every conversion round-trips.
#include "lzq_units.h"
#include "published.h"

START_TEST(every_measure_round_trips)
{
  published_random random = published_seed("round trip", 20270301);
  for (int m = 0; m < LZQ_N_MEASURES; m++)
    for (int i = 0; i < 2000; i++) {
      double value = published_uniform(&random, -500.0, 5000.0);
      double back = lzq_from_canonical(m, lzq_to_canonical(m, value));
      ck_assert_msg(fabs(back - value) <= 1e-12 * (fabs(value) + 500.0), "%s %.17g became %.17g",
                    lzq_measure_name(m), value, back);
    }
}
END_TEST

START_TEST(every_label_round_trips)
{
  published_random random = published_seed("labels", 20270302);
  for (int as = 0; as < LZQ_N_AS; as++)
    for (int i = 0; i < 2000; i++) {
      double value = published_uniform(&random, 0.0, 5000.0);
      NEAR(lzq_to_label(as, lzq_from_label(as, value)), value, 1e-12 * (value + 1.0));
      ck_assert(lzq_from_label(as, 1.0) > 0.0 && lzq_from_label(as, 1.0) <= 1.0);
    }
}
END_TEST

// Mississippi State Univ. Extension table and Virginia DWR, reprinted (figures 9.1) [R]: printed
// roundings
START_TEST(printed_factors)
{
  double gallon = lzq_to_canonical(LZQ_MEASURE_US_GALLON, 1.0);
  double foot = lzq_to_canonical(LZQ_MEASURE_CUBIC_FOOT, 1.0);
  NEAR(gallon * 1e-3, 0.0038, 0.00005);     // 1 ppm = 0.0038 g/US gal
  NEAR(foot * 1e-3, 0.0283, 0.00005);       // 1 ppm = 0.0283 g/ft3
  NEAR(foot * 1e-3 * 43560.0, 1233.0, 0.5); // 1 ppm = 1,233 g/acre-ft
  NEAR(foot / gallon, 7.48, 0.005);         // 1 ft3 = 7.48 US gal
  NEAR(foot / lzq_to_canonical(LZQ_MEASURE_IMPERIAL_GALLON, 1.0), 6.24, 0.015);
  NEAR(lzq_to_canonical(LZQ_MEASURE_US_FLUID_OUNCE, 1.0) * 1000.0, 29.57, 0.005);
  NEAR(1e6 * gallon * 1e-3 / 453.59237, 8.345, 0.0006); // 1 ppm = 8.345 lb in a million gallons
  NEAR(lzq_to_canonical(LZQ_MEASURE_PERCENT_WV, 1.0), 10.0, 0.0); // 1 % solution = 10 g/L
  // exact by definition [C]
  NEAR(gallon, 3.785411784, 1e-12);
  NEAR(foot, 28.316846592, 1e-11);
  NEAR(lzq_to_canonical(LZQ_MEASURE_IMPERIAL_GALLON, 1.0), 4.54609, 1e-12);
}
END_TEST

START_TEST(temperature)
{
  NEAR(lzq_to_canonical(LZQ_MEASURE_FAHRENHEIT, 32.0), 0.0, 1e-13);
  NEAR(lzq_to_canonical(LZQ_MEASURE_FAHRENHEIT, 212.0), 100.0, 1e-12);
  NEAR(lzq_to_canonical(LZQ_MEASURE_FAHRENHEIT, 60.0), 15.5556, 0.00005); // ISO/R 650 [R]
  NEAR(lzq_from_canonical(LZQ_MEASURE_FAHRENHEIT, -40.0), -40.0, 1e-12);
  NEAR(lzq_to_canonical(LZQ_MEASURE_KELVIN, 298.15), 25.0, 1e-12);
}
END_TEST

// IUPAC abridged masses of 2021 [P masses, C quotient]
START_TEST(copper_in_its_salts)
{
  NEAR(lzq_share_of(LZQ_AS_COPPER_SULFATE_5H2O), 0.254513, 5e-7);
  NEAR(lzq_share_of(LZQ_AS_COPPER_SULFATE), 0.3981, 0.0001); // figures 2.2 [C]
  NEAR(lzq_to_label(LZQ_AS_COPPER_SULFATE_5H2O, 1.0), 3.92908, 5e-6);
  // figures 2.2: a veterinary web page's stock of 1 g in 250 mL, "1 mg Cu/mL" [R], exactly 1.018
  // [C]
  NEAR(lzq_from_label(LZQ_AS_COPPER_SULFATE_5H2O, 1000.0 / 250.0), 1.018, 0.0005);
  // figures 2.2: an extension text's citrated stock, 3 g in 750 mL: the same 1.018 [R/C]
  NEAR(lzq_from_label(LZQ_AS_COPPER_SULFATE_5H2O, 3000.0 / 750.0), 1.018, 0.0005);
  // 0.5 mg/L of the salt is 0.127 mg/L of copper (figures 9.2, more checks) [C]
  NEAR(lzq_from_label(LZQ_AS_COPPER_SULFATE_5H2O, 0.5), 0.127, 0.0005);
}
END_TEST

START_TEST(other_labels)
{
  NEAR(1.0 / lzq_share_of(LZQ_AS_SODIUM_HYPOCHLORITE), 1.04991, 1e-5); // [C]
  NEAR(lzq_to_label(LZQ_AS_AMMONIA, 1.0), 1.21589, 1e-5);              // [C]
  // sodium hypochlorite of 12.5 % w/w, density 1.20: 150 g/L of NaOCl [C]
  NEAR(lzq_g_l_from_percent_ww(12.5, 1.20), 150.0, 1e-9);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("units");
  TCase *tcase = tcase_create("units");
  tcase_add_test(tcase, every_measure_round_trips);
  tcase_add_test(tcase, every_label_round_trips);
  tcase_add_test(tcase, printed_factors);
  tcase_add_test(tcase, temperature);
  tcase_add_test(tcase, copper_in_its_salts);
  tcase_add_test(tcase, other_labels);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
