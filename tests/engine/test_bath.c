// SPDX-License-Identifier: GPL-3.0-or-later
// Baths, bleach, thiosulfate and medicated feed against printed worked examples.
// "Figures 9.2 row n" numbers the printed worked examples; web pages are named by that number only.
#include "lzq_bath.h"

#include "published.h"

static double
to(lzq_measure measure, double value)
{
  return lzq_to_canonical(measure, value);
}

// Mathematics and Statistics for the Environment, ex. 23.19-23.21 [R] (author Spellman [M])
START_TEST(printed_pond_doses)
{
  // 0.5 mg/L in 15 million gallons, salt 25 % copper: 250 lb
  double litres = to(LZQ_MEASURE_US_GALLON, 15e6);
  lzq_amount amount;
  ck_assert_int_eq(lzq_bath_liquid(litres, 0.5, 0.25, &amount), LZQ_OK);
  NEAR(lzq_from_canonical(LZQ_MEASURE_POUND, amount.amount / 1000.0), 250.0, 0.5);
  NEAR(35.0 * 0.9, 31.5, 1e-12); // 23.20 and 23.21 are one product each: kept as arithmetic
  NEAR(6.0 * 5.2, 31.2, 1e-12);
  // Piper et al. 1982 p. 283 [R]: 0.25 ppm active of an 80 % powder in an acre-foot: 0.84 lb (0.849
  // exact)
  double acre_foot = to(LZQ_MEASURE_CUBIC_FOOT, 43560.0);
  ck_assert_int_eq(lzq_bath_liquid(acre_foot, 0.25, 0.80, &amount), LZQ_OK);
  NEAR(lzq_from_canonical(LZQ_MEASURE_POUND, amount.amount / 1000.0), 0.84, 0.01);
}
END_TEST

START_TEST(printed_formalin_baths)
{
  lzq_amount amount;
  // figures 9.2 row 5, web page [R]: round tank 7.5 m across, 2 m deep, 200 ppm v/v: 88.35
  // m3, 17.67 L
  double volume = to(LZQ_MEASURE_M3, 3.14159265358979 * 7.5 * 7.5 / 4.0 * 2.0);
  NEAR(volume / 1000.0, 88.35, 0.01);
  ck_assert_int_eq(lzq_bath_formalin(volume, 200.0, LZQ_PPM_VOLUME, &amount), LZQ_OK);
  NEAR(amount.amount / 1000.0, 17.67, 0.005);
  // Piper et al. 1982 p. 276 [R]: 167 ppm in 10 ft3: 43.8 mL (w/v, 1.08 g/mL); as v/v it would
  // be 47.29
  volume = to(LZQ_MEASURE_CUBIC_FOOT, 10.0);
  ck_assert_int_eq(lzq_bath_formalin(volume, 167.0, LZQ_PPM_WEIGHT, &amount), LZQ_OK);
  NEAR(amount.amount, 43.8, 0.05);
  ck_assert_int_eq(lzq_bath_formalin(volume, 167.0, LZQ_PPM_VOLUME, &amount), LZQ_OK);
  NEAR(amount.amount, 47.29, 0.005);
  // the same page, print blurred: 5.8-5.9 mL in 10 gal
  ck_assert_int_eq(
      lzq_bath_formalin(to(LZQ_MEASURE_US_GALLON, 10.0), 167.0, LZQ_PPM_WEIGHT, &amount), LZQ_OK);
  NEAR(amount.amount, 5.85, 0.05);
  // hatchery formalin-drip handout [R]: 5 gpm x 15 min, 1667 ppm: 472.6 mL (it rounds a gallon
  // to 3.78 L)
  double flow = to(LZQ_MEASURE_US_GALLON, 5.0);
  ck_assert_int_eq(lzq_bath_formalin_flow(flow, 15.0, 1667.0, &amount), LZQ_OK);
  NEAR(amount.amount * 3.78 / 3.785411784, 472.6, 0.05);
  // the same handout: a head tank of 72 x 11 x 12 inches holds 41.1 gal
  double cubic_inch = to(LZQ_MEASURE_CUBIC_FOOT, 1.0) / 1728.0;
  NEAR(72 * 11 * 12 * cubic_inch / to(LZQ_MEASURE_US_GALLON, 1.0), 41.1, 0.05);
}
END_TEST

// UF/IFAS VM-77 [R]: 250 mg/L, 150 above 21 °C, at most 60 minutes, 5 mg/L takes 1 mg/L of oxygen
START_TEST(formalin_limits)
{
  ck_assert_int_eq(lzq_bath_formalin_check(250.0, 20.0, 60.0, true), LZQ_BATH_KEEPS);
  ck_assert_int_eq(lzq_bath_formalin_check(251.0, 20.0, 60.0, true), LZQ_BATH_TOO_STRONG);
  ck_assert_int_eq(lzq_bath_formalin_check(167.0, 21.5, 60.0, true), LZQ_BATH_TOO_STRONG_WARM);
  ck_assert_int_eq(lzq_bath_formalin_check(167.0, NAN, 60.0, true), LZQ_BATH_TOO_STRONG_WARM);
  ck_assert_int_eq(lzq_bath_formalin_check(150.0, 26.0, 60.0, true), LZQ_BATH_KEEPS);
  ck_assert_int_eq(lzq_bath_formalin_check(150.0, 26.0, 61.0, true), LZQ_BATH_TOO_LONG);
  ck_assert_int_eq(lzq_bath_formalin_check(150.0, 26.0, 60.0, false), LZQ_BATH_NO_AIR);
}
END_TEST

// 21 CFR 529.1150 [R]: 35 % w/w is 396.1 mg/mL; 75 mg/L in 100 L = 18.93 mL, or 250 mL of 3 % w/v
// [C]
START_TEST(peroxide_bath)
{
  lzq_amount amount;
  ck_assert_int_eq(lzq_bath_liquid(100.0, 75.0, LZQ_PEROXIDE_35, &amount), LZQ_OK);
  NEAR(amount.amount, 18.93, 0.005);
  double three = to(LZQ_MEASURE_PERCENT_WV, 3.0);
  ck_assert_int_eq(lzq_bath_liquid(100.0, 75.0, three, &amount), LZQ_OK);
  NEAR(amount.amount, 250.0, 1e-9);
  ck_assert_int_eq(lzq_bath_liquid(100.0, 75.0, 0.0, &amount), LZQ_BAD_INPUT);
  ck_assert(isnan(amount.amount));
}
END_TEST

START_TEST(bleach_and_thiosulfate)
{
  lzq_amount amount;
  // 200 mg/L in 1,000 L: 1,667 mL of 120 g/L, 4,000 mL of 50 g/L (figures 9.2, more checks) [C]
  ck_assert_int_eq(lzq_bath_liquid(1000.0, 200.0, 120.0, &amount), LZQ_OK);
  NEAR(amount.amount, 1667.0, 0.5);
  ck_assert_int_eq(lzq_bath_liquid(1000.0, 200.0, 50.0, &amount), LZQ_OK);
  NEAR(amount.amount, 4000.0, 1e-9);
  // printed formula V ppm / (1e6 fraction) [R]: 5,000 gal to 100 ppm with 6.00 %: 8.33 gal [C]
  ck_assert_int_eq(lzq_bath_liquid(to(LZQ_MEASURE_US_GALLON, 5000.0), 100.0, 60.0, &amount),
                   LZQ_OK);
  NEAR(amount.amount / 1000.0 / to(LZQ_MEASURE_US_GALLON, 1.0), 8.33, 0.005);
  NEAR(lzq_available_chlorine_g_l(12.5, 1.2), 150.0 / 1.04991, 0.01); // [C]
  // reprinted laboratory note after Standard Methods [R]: 500 mL at 2.0 mg/L is 1 mg Cl2: 7.0 mg
  ck_assert_int_eq(lzq_neutralise(0.5, 2.0, LZQ_THIOSULFATE_RATIO, &amount), LZQ_OK);
  NEAR(amount.amount * 1000.0, 7.0, 1e-9);
  // Piper et al. 1982 p. 283 [R]: a US gallon of 200 ppm: 5.6 g printed = 7.40 to 1; 5.30 g at 7.00
  double gallon = to(LZQ_MEASURE_US_GALLON, 1.0);
  ck_assert_int_eq(lzq_neutralise(gallon, 200.0, LZQ_THIOSULFATE_HIGH, &amount), LZQ_OK);
  NEAR(amount.amount, 5.6, 0.005);
  ck_assert_int_eq(lzq_neutralise(gallon, 200.0, 7.0, &amount), LZQ_OK);
  NEAR(amount.amount, 5.30, 0.005);
  // stoichiometry [C]; and 1.13 mL of 0.0250 N per mg Cl2 [R] is the same ratio
  NEAR(lzq_thiosulfate_to_tetrathionate(), 7.0006, 5e-5);
  NEAR(lzq_thiosulfate_to_sulfate(), 0.8751, 5e-5);
  NEAR(1.13 * 0.0250 * 248.172, 7.01, 0.005);
}
END_TEST

START_TEST(medicated_feed)
{
  lzq_feed_dose dose;
  // figures 9.2 row 16, web page [R]: 5000 fish of 10 g and 40 kg more: 90 kg, 75 mg/kg: 6,750 mg
  // in 0.9 kg
  const lzq_group groups[] = {{5000, 10.0}, {1, 40000.0}};
  ck_assert_int_eq(lzq_feed_medicate(groups, 2, 75.0, 0.01, 1.0, &dose), LZQ_OK);
  NEAR(dose.biomass_kg, 90.0, 1e-9);
  NEAR(dose.drug_mg_day, 6750.0, 1e-9);
  NEAR(dose.feed_kg_day, 0.9, 1e-12);
  // figures 9.2 row 19, data sheet [R/C]: 75 mg/kg at rations of 0.5, 1, 2 %: 15, 7.5, 3.75 kg a
  // tonne
  const double ration[] = {0.005, 0.01, 0.02}, rate[] = {15.0, 7.5, 3.75};
  for (int i = 0; i < 3; i++) {
    ck_assert_int_eq(lzq_feed_medicate(groups, 2, 75.0, ration[i], 1.0, &dose), LZQ_OK);
    NEAR(dose.rate_mg_kg_feed / 1000.0, rate[i], 1e-9);
  }
  // figures 9.2 row 18 [R]: 1 g of drug in a pound of feed at 3 % of body mass = 66.1 mg/kg a day
  ck_assert_int_eq(lzq_feed_medicate(groups, 1, 66.1, 0.03, 1.0, &dose), LZQ_OK);
  NEAR(dose.rate_mg_kg_feed * 0.45359237, 1000.0, 1.0);
  // figures 9.2 row 17, web page [R]: 4 m3, 40 g/m3, product 10 % active: 160 g pure, 1,600 g of
  // product
  const lzq_group tank[] = {{4, 1000.0}};
  ck_assert_int_eq(lzq_feed_medicate(tank, 1, 40.0, 1.0, 0.1, &dose), LZQ_OK);
  NEAR(dose.drug_mg_day, 160.0, 1e-9);
  NEAR(dose.product_mg_day, 1600.0, 1e-9);
  const lzq_group unknown[] = {{4, NAN}};
  ck_assert_int_eq(lzq_feed_medicate(unknown, 1, 40.0, 0.02, 1.0, &dose), LZQ_BAD_INPUT);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("bath");
  TCase *tcase = tcase_create("bath");
  tcase_add_test(tcase, printed_pond_doses);
  tcase_add_test(tcase, printed_formalin_baths);
  tcase_add_test(tcase, formalin_limits);
  tcase_add_test(tcase, peroxide_bath);
  tcase_add_test(tcase, bleach_and_thiosulfate);
  tcase_add_test(tcase, medicated_feed);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
