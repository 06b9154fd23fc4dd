// SPDX-License-Identifier: GPL-3.0-or-later
// Un-ionised ammonia, oxygen and ultraviolet against printed tables and computed grids.
#include "lzq_ammonia.h"
#include "lzq_oxygen.h"
#include "lzq_uv.h"

#include <stdlib.h>

#include "published.h"

// Bower & Bidwell (1978) J. Fish. Res. Board Can. 35:1012-1016, S = 34, % NH3, reprinted [R]: all
// 44
START_TEST(bower_and_bidwell)
{
  const double percent[11][4] = {
      {0.459, 0.665, 0.963, 1.39}, {0.577, 0.836, 1.21, 1.75}, {0.726, 1.05, 1.52, 2.19},
      {0.912, 1.32, 1.90, 2.74},   {1.15, 1.66, 2.39, 3.43},   {1.44, 2.07, 2.98, 4.28},
      {1.80, 2.60, 3.73, 5.32},    {2.26, 3.25, 4.65, 6.61},   {2.83, 4.06, 5.78, 8.18},
      {3.54, 5.05, 7.17, 10.10},   {4.41, 6.28, 8.87, 12.40}};
  for (int row = 0; row < 11; row++)
    for (int column = 0; column < 4; column++) {
      double nh3, printed = percent[row][column];
      ck_assert_int_eq(lzq_ammonia_unionised(100.0, 34.0, 10.0 + 5.0 * column, 7.5 + 0.1 * row,
                                             LZQ_PH_NBS, &nh3),
                       LZQ_OK);
      ck_assert_msg(fabs(nh3 / printed - 1.0) < 0.0055, "pH %.1f t %d: %.4f, printed %g",
                    7.5 + 0.1 * row, 10 + 5 * column, nh3, printed);
    }
}
END_TEST

// Clegg & Whitfield (1995): pK 9.230296 per kg of water, 9.245847 per kg of seawater at S 35, 25 °C
// [C]
START_TEST(clegg_and_whitfield)
{
  double pka;
  ck_assert_int_eq(lzq_ammonia_pka(35.0, 25.0, LZQ_PH_TOTAL, &pka), LZQ_OK);
  NEAR(pka, 9.245847, 6e-7);
  size_t n;
  published_row *rows = published_read("clegg_whitfield_nh3.csv", &n); // [C]
  for (size_t i = 0; i < n; i++) {
    double share;
    ck_assert_int_eq(
        lzq_ammonia_unionised(1.0, rows[i].n[0], rows[i].n[1], rows[i].n[2], LZQ_PH_TOTAL, &share),
        LZQ_OK);
    NEAR(100.0 * share, rows[i].n[3], 1e-9 * rows[i].n[3] + 1e-12);
  }
  free(rows);
}
END_TEST

// Reading the wrong scale moves the answer by 15-26 % (S 34, pH 8.0: 1.44 and 1.65 % at 10 °C) [C]
START_TEST(the_scale_matters)
{
  double nbs, total;
  ck_assert_int_eq(lzq_ammonia_unionised(1.0, 34.0, 10.0, 8.0, LZQ_PH_NBS, &nbs), LZQ_OK);
  ck_assert_int_eq(lzq_ammonia_unionised(1.0, 34.0, 10.0, 8.0, LZQ_PH_TOTAL, &total), LZQ_OK);
  NEAR(100 * nbs, 1.44, 0.005);
  NEAR(100 * total, 1.65, 0.01);
  ck_assert_int_eq(lzq_ammonia_unionised(1.0, 34.0, 25.0, 8.0, LZQ_PH_TOTAL, &total), LZQ_OK);
  NEAR(100 * total, 5.39, 0.01);
}
END_TEST

// Other salinities: Whitfield's ionic-strength term alone, from the grid of EPA 440/5-88-004 at pH
// 8, 25 °C (S 10: 5.169603128515526 %, S 34: 4.552504767644831 %) [C, its formula M]
START_TEST(salinity_moves_it)
{
  double low, sea;
  ck_assert_int_eq(lzq_ammonia_pka(10.0, 25.0, LZQ_PH_NBS, &low), LZQ_OK);
  ck_assert_int_eq(lzq_ammonia_pka(34.0, 25.0, LZQ_PH_NBS, &sea), LZQ_OK);
  NEAR(low - sea, log10(100.0 / 5.169603128515526 - 1.0) - log10(100.0 / 4.552504767644831 - 1.0),
       1e-9);
}
END_TEST

// Emerson et al. (1975); Trussell (1972) table as reprinted beside it [R]: within 2 %
START_TEST(fresh_water)
{
  const double trussell[3][4] = {
      {0.19, 0.27, 0.40, 0.55}, {1.83, 2.65, 3.83, 5.28}, {5.55, 7.98, 11.18, 14.97}};
  const double ph[] = {7.0, 8.0, 8.5};
  for (int row = 0; row < 3; row++)
    for (int column = 0; column < 4; column++) {
      double pka;
      ck_assert_int_eq(lzq_ammonia_pka_fresh(10.0 + 5.0 * column, &pka), LZQ_OK);
      double share = 100.0 * lzq_ammonia_share(pka, ph[row]);
      NEAR(share, trussell[row][column], 0.021 * trussell[row][column] + 0.005);
    }
  // worked example printed with Trussell's table: 20 °C, pH 8.5, 1.0 mg/L: 0.1118 NH3-N [R];
  // Emerson gives 0.111
  double pka;
  ck_assert_int_eq(lzq_ammonia_pka_fresh(20.0, &pka), LZQ_OK);
  NEAR(lzq_ammonia_share(pka, 8.5), 0.1118, 0.001);
  // an extension service's table and a veterinary textbook [R]
  const double printed[6][3] = {{24, 8.2, 0.0772}, {26, 8.0, 0.0574}, {20, 8.0, 0.0381},
                                {28, 8.4, 0.1495}, {10, 7.0, 0.0018}, {30, 7.6, 0.0310}};
  for (int i = 0; i < 6; i++) {
    ck_assert_int_eq(lzq_ammonia_pka_fresh(printed[i][0], &pka), LZQ_OK);
    NEAR(lzq_ammonia_share(pka, printed[i][1]), printed[i][2], 0.00016);
  }
}
END_TEST

// ISO 5814 / EN 25814 table at 101.325 kPa, fresh water, 0..30 °C, reprinted [R]: all 31
START_TEST(iso_5814)
{
  const double printed[31] = {14.62, 14.22, 13.83, 13.46, 13.11, 12.77, 12.45, 12.14,
                              11.84, 11.56, 11.29, 11.03, 10.78, 10.54, 10.31, 10.08,
                              9.87,  9.66,  9.47,  9.28,  9.09,  8.91,  8.74,  8.58,
                              8.42,  8.26,  8.11,  7.97,  7.83,  7.69,  7.56};
  for (int t = 0; t <= 30; t++) {
    double c;
    ck_assert_int_eq(lzq_oxygen_saturation(0.0, t, 1.0, &c), LZQ_OK);
    NEAR(c, printed[t], 0.0055);
  }
}
END_TEST

// ISO 2533:1975, standard atmosphere: hPa at 0, 500, 1,000 and 2,000 m. Values from memory.
START_TEST(thin_air)
{
  NEAR(lzq_pressure_at_height_atm(0.0), 1.0, 1e-15);
  NEAR(lzq_pressure_at_height_atm(500.0) * 1013.25, 954.61, 0.01);
  NEAR(lzq_pressure_at_height_atm(1000.0) * 1013.25, 898.75, 0.01);
  NEAR(lzq_pressure_at_height_atm(2000.0) * 1013.25, 794.95, 0.01);
}
END_TEST

START_TEST(benson_and_krause)
{
  size_t n;
  published_row *rows = published_read("benson_krause_oxygen.csv", &n); // [C]
  for (size_t i = 0; i < n; i++) {
    double c;
    ck_assert_int_eq(lzq_oxygen_saturation(rows[i].n[0], rows[i].n[1], rows[i].n[2], &c), LZQ_OK);
    ck_assert_msg(fabs(c - rows[i].n[3]) < 1e-9, "S %g t %g P %g: %.9f, grid %.9f", rows[i].n[0],
                  rows[i].n[1], rows[i].n[2], c, rows[i].n[3]);
  }
  free(rows);
  double c; // 0.9 atm, 20 °C: 8.16231 fresh, 6.63981 at S 35; vapour 0.0230527 atm [C]
  ck_assert_int_eq(lzq_oxygen_saturation(0.0, 20.0, 0.9, &c), LZQ_OK);
  NEAR(c, 8.16231, 6e-6);
  ck_assert_int_eq(lzq_oxygen_saturation(35.0, 20.0, 0.9, &c), LZQ_OK);
  NEAR(c, 6.63981, 6e-6);
  NEAR(lzq_vapour_pressure_atm(0.0, 20.0), 0.0230527, 6e-8);
  ck_assert_int_eq(lzq_oxygen_share(3.698, 35.0, 20.0, 1.0, &c), LZQ_OK);
  NEAR(c, 0.5, 1e-3);
}
END_TEST

START_TEST(outside_its_range_a_formula_is_silent)
{
  double out = 1.0;
  ck_assert_int_eq(lzq_oxygen_saturation(41.0, 20.0, 1.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_oxygen_saturation(35.0, 41.0, 1.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_oxygen_saturation(35.0, 20.0, 101.3, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_oxygen_saturation(NAN, 20.0, 1.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_ammonia_pka(2.0, 20.0, LZQ_PH_NBS, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_ammonia_pka(34.0, 45.0, LZQ_PH_TOTAL, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_ammonia_unionised(1.0, 34.0, 20.0, 80.0, LZQ_PH_NBS, &out),
                   LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_ammonia_unionised(-1.0, 34.0, 20.0, 8.0, LZQ_PH_NBS, &out),
                   LZQ_OUT_OF_RANGE);
  ck_assert(isnan(out));
}
END_TEST

// No printed flow-through example was found: identities and a numeric integral instead [C]
START_TEST(ultraviolet)
{
  NEAR(lzq_uv_water_factor(0.01, 1.0), 0.988575, 6e-7);
  NEAR(lzq_uv_water_factor(0.05, 2.0), 0.893221, 6e-7);
  NEAR(lzq_uv_water_factor(0.3, 2.0), 0.542008, 6e-7);
  NEAR(lzq_uv_water_factor(0.0, 2.0), 1.0, 0.0);
  NEAR(lzq_uv_absorbance(pow(10.0, -0.05)), 0.05, 1e-12);
  NEAR(lzq_uv_beam(0.2, 0.95, 50.0, 2.0, 0.05, 100.0), 15.9105, 6e-5);
  NEAR(lzq_uv_annulus(10.0, 50.0, 2.0, 4.0, 0.1), 0.00850275675, 6e-12);
  NEAR(lzq_uv_annulus(10.0, 50.0, 2.0, 4.0, 0.0), 10.0 / (3.14159265358979 * 6.0 * 50.0), 1e-12);
  // the fluence of a radial reactor is the power absorbed over absorbance times flow (algebra)
  double absorbed = 10.0 * (1.0 - pow(10.0, -0.1 * 2.0));
  NEAR(lzq_uv_pass(10.0, 50.0, 2.0, 4.0, 0.1, 200.0),
       1000.0 * absorbed / (0.1 * 2.302585092994046 * 200.0), 1e-9);
  double integral = 0.0; // midpoint rule over the annulus
  const int n = 100000;
  for (int i = 0; i < n; i++) {
    double r = 2.0 + 2.0 * (i + 0.5) / n, pi = 3.14159265358979;
    integral +=
        10.0 / (2.0 * pi * r * 50.0) * pow(10.0, -0.1 * (r - 2.0)) * 2.0 * pi * r * 50.0 * 2.0 / n;
  }
  NEAR(lzq_uv_annulus(10.0, 50.0, 2.0, 4.0, 0.1), integral / (3.14159265358979 * 12.0 * 50.0),
       1e-10);
  // rated 450, lamp 0.80 at 8,000 h, sleeve 0.80: 288, the lethal dose of Lu et al. 2022 [A]
  // exactly [C]
  NEAR(lzq_uv_delivered(450.0, 0.8, 0.8, 100.0, 100.0), 288.0, 1e-12);
  NEAR(lzq_uv_delivered(450.0, 0.8, 0.8, 100.0, 200.0), 144.0, 1e-12);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("other-water");
  TCase *tcase = tcase_create("other-water");
  tcase_add_test(tcase, bower_and_bidwell);
  tcase_add_test(tcase, clegg_and_whitfield);
  tcase_add_test(tcase, the_scale_matters);
  tcase_add_test(tcase, salinity_moves_it);
  tcase_add_test(tcase, fresh_water);
  tcase_add_test(tcase, iso_5814);
  tcase_add_test(tcase, thin_air);
  tcase_add_test(tcase, benson_and_krause);
  tcase_add_test(tcase, outside_its_range_a_formula_is_silent);
  tcase_add_test(tcase, ultraviolet);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
