// SPDX-License-Identifier: GPL-3.0-or-later
// Seawater against UNESCO Technical Papers in Marine Science 44 (Fofonoff & Millard 1983) at its
// printed precision, against the GSW library, and hydrometer and refractometer against computed
// grids.
#include "lzq_seawater.h"

#include <stdlib.h>
#include <string.h>

#include "published.h"

// p. 9, and p. 11 for the last [P]
START_TEST(unesco44_salinity_points)
{
  double s;
  ck_assert_int_eq(lzq_salinity_from_ratio_t68(1.0, 15.0, 0.0, &s), LZQ_OK);
  NEAR(s, 35.000000, 5e-7);
  ck_assert_int_eq(lzq_salinity_from_ratio_t68(1.2, 20.0, 2000.0, &s), LZQ_OK);
  NEAR(s, 37.245628, 5e-7);
  ck_assert_int_eq(lzq_salinity_from_ratio_t68(0.65, 5.0, 1500.0, &s), LZQ_OK);
  NEAR(s, 27.995347, 5e-7);
  NEAR(lzq_salinity_raw_t68(1.888091, 40.0, 10000.0), 40.00000, 5e-6);
}
END_TEST

// p. 13: salinity for conductivity 30..60 mS/cm at 0, 10, 20, 30 °C (IPTS-68) [P]; NAN: not copied
START_TEST(unesco44_salinity_table)
{
  const double at_surface[4][4] = {{36.2864, 26.8609, 20.8085, 16.7100},
                                   {50.0127, NAN, 28.6080, 22.9533},
                                   {64.4641, 47.5215, 36.7173, 29.4273},
                                   {79.7047, 58.5321, 45.1289, 36.1195}};
  for (int row = 0; row < 4; row++)
    for (int column = 0; column < 4; column++) {
      double ratio = (30.0 + 10.0 * row) / LZQ_C_35_15_0, printed = at_surface[row][column];
      if (!isnan(printed))
        NEAR(lzq_salinity_raw_t68(ratio, 10.0 * column, 0.0), printed, 6e-5);
    }
  const double deep[4] = {35.6746, 26.5072, 20.5932, 16.5725}; // p = 1000, C = 30
  for (int column = 0; column < 4; column++)
    NEAR(lzq_salinity_raw_t68(30.0 / LZQ_C_35_15_0, 10.0 * column, 1000.0), deep[column], 6e-5);
  NEAR(lzq_salinity_raw_t68(50.0 / LZQ_C_35_15_0, 20.0, 1000.0), 36.3576, 6e-5);
}
END_TEST

// p. 14: ratio of S = 35 and 30 at 0..40 °C [P]; 40 °C is outside the range of the inverse
START_TEST(unesco44_ratio_table)
{
  const double s35[] = {0.676610, 0.887529, 1.116493, 1.359679};
  const double s30[] = {0.588220, 0.772567, 0.972727, 1.185361};
  for (int i = 0; i < 4; i++) {
    double c, t90 = lzq_t90_from_t68(10.0 * i);
    ck_assert_int_eq(lzq_conductivity_from_salinity(35.0, t90, &c), LZQ_OK);
    NEAR(c / LZQ_C_35_15_0, s35[i], 6e-7);
    ck_assert_int_eq(lzq_conductivity_from_salinity(30.0, t90, &c), LZQ_OK);
    NEAR(c / LZQ_C_35_15_0, s30[i], 1e-6); // at 30 °C one unit off in the last digit, as is GSW
  }
  NEAR(lzq_salinity_raw_t68(1.613508, 40.0, 0.0), 35.0, 2e-5);
  NEAR(lzq_salinity_raw_t68(1.407338, 40.0, 0.0), 30.0, 2e-5);
}
END_TEST

// p. 19, from UNESCO 38 p. 191 [P]
START_TEST(unesco44_density_points)
{
  const double rows[8][4] = {{0, 5, 0, 999.96675},    {0, 5, 10000, 1044.12802},
                             {0, 25, 0, 997.04796},   {0, 25, 10000, 1037.90204},
                             {35, 5, 0, 1027.67547},  {35, 5, 10000, 1069.48914},
                             {35, 25, 0, 1023.34306}, {35, 25, 10000, 1062.53817}};
  for (int i = 0; i < 8; i++) {
    double rho;
    ck_assert_int_eq(lzq_density_t68(rows[i][0], rows[i][1], rows[i][2], &rho), LZQ_OK);
    NEAR(rho, rows[i][3], 1e-5);
  }
  double rho; // p. 20: SIGMA(40,40,10000) [P]
  ck_assert_int_eq(lzq_density_t68(40.0, 40.0, 10000.0, &rho), LZQ_OK);
  NEAR(rho - 1000.0, 59.82037, 1e-5);
}
END_TEST

// p. 23: density anomaly at 0, 10, 20, 30, 40 °C, 20 points [P]
START_TEST(unesco44_density_table)
{
  const double salinity[4] = {0, 30, 35, 40};
  const double printed[4][5] = {{-0.1574, -0.2979, -1.7937, -4.3489, -7.7796},
                                {24.0716, 23.0511, 20.9539, 17.9854, 14.2781},
                                {28.1063, 26.9524, 24.7630, 21.7286, 17.9731},
                                {32.1471, 30.8624, 28.5825, 25.4829, 21.6788}};
  for (int row = 0; row < 4; row++)
    for (int column = 0; column < 5; column++) {
      double rho;
      ck_assert_int_eq(lzq_density_t68(salinity[row], 10.0 * column, 0.0, &rho), LZQ_OK);
      NEAR(rho - 1000.0, printed[row][column], 6e-5);
    }
}
END_TEST

START_TEST(computed_density_grid)
{
  size_t n;
  published_row *rows = published_read("eos80_density.csv", &n); // [C]
  for (size_t i = 0; i < n; i++) {
    double rho;
    ck_assert_int_eq(lzq_density_t68(rows[i].n[0], rows[i].n[1], 0.0, &rho), LZQ_OK);
    NEAR(rho, rows[i].n[2], 1e-9);
  }
  free(rows);
}
END_TEST

// EOS-80 and TEOS-10 differ by -0.006..+0.009 kg/m3 for S 0..40, t 0..40 °C [C]
START_TEST(gsw_density_grid)
{
  size_t n;
  published_row *rows = published_read("gsw_density.csv", &n); // [C] GSW library
  for (size_t i = 0; i < n; i++) {
    double rho;
    if (lzq_density(rows[i].n[0], rows[i].n[1], &rho) != LZQ_OK) {
      ck_assert(rows[i].n[1] >= 40.0); // 40 °C on ITS-90 lies just beyond 40 °C on IPTS-68
      continue;
    }
    ck_assert_msg(rho - rows[i].n[2] > -0.0095 && rho - rows[i].n[2] < 0.0065,
                  "S %g t %g: %.5f, GSW %.5f", rows[i].n[0], rows[i].n[1], rho, rows[i].n[2]);
  }
  free(rows);
}
END_TEST

START_TEST(gsw_conductivity_grids)
{
  size_t n;
  published_row *rows = published_read("gsw_salinity_from_conductivity.csv", &n); // [C] GSW library
  for (size_t i = 0; i < n; i++) {
    double s;
    lzq_status status = lzq_salinity_from_conductivity(rows[i].n[0], rows[i].n[1], &s);
    if (rows[i].n[2] > 42.0 || rows[i].n[1] >= 35.0)
      ck_assert_int_eq(status, LZQ_OUT_OF_RANGE);
    else
      NEAR(s, rows[i].n[2], 1e-9);
  }
  free(rows);
  rows = published_read("gsw_conductivity_from_salinity.csv", &n); // [C] GSW library
  for (size_t i = 0; i < n; i++) {
    double c;
    lzq_status status = lzq_conductivity_from_salinity(rows[i].n[0], rows[i].n[1], &c);
    if (rows[i].n[1] >= 35.0)
      ck_assert_int_eq(status, LZQ_OUT_OF_RANGE);
    else
      NEAR(c, rows[i].n[2], 1e-8);
  }
  free(rows);
}
END_TEST

// Conductivity standards [C, gsw 3.6.16, ITS-90]: a "53 mS/cm" standard is 34.95, not 35
START_TEST(conductivity_standards)
{
  double value;
  ck_assert_int_eq(lzq_conductivity_from_salinity(35.0, 25.0, &value), LZQ_OK);
  NEAR(value, 53.07103, 5e-6);
  ck_assert_int_eq(lzq_conductivity_from_salinity(35.0, 20.0, &value), LZQ_OK);
  NEAR(value, 47.91804, 5e-6);
  ck_assert_int_eq(lzq_salinity_from_conductivity(53.0, 25.0, &value), LZQ_OK);
  NEAR(value, 34.94730, 5e-6);
}
END_TEST

static lzq_sg_scale
scale_named(const char *name)
{
  if (strcmp(name, "60/60F") == 0)
    return LZQ_SG_60_60F;
  if (strcmp(name, "25/25C") == 0 || strcmp(name, "25/25") == 0)
    return LZQ_SG_25_25;
  ck_assert_msg(strncmp(name, "20/20", 5) == 0, "scale %s", name);
  return LZQ_SG_20_20;
}

// One way, computed (no printed hydrometer example in seawater was found): tolerance for the 15.56
// °C of the grid
START_TEST(hydrometer_grid)
{
  size_t n;
  published_row *rows = published_read("hydrometer.csv", &n); // [C]
  for (size_t i = 0; i < n; i++) {
    double s;
    lzq_sg_scale scale = scale_named(rows[i].text[2]);
    double t90 = lzq_t90_from_t68(rows[i].n[0]);
    ck_assert_int_eq(lzq_salinity_from_hydrometer(rows[i].n[1], t90, scale, &s), LZQ_OK);
    ck_assert_msg(fabs(s - rows[i].n[3]) < 1e-3, "%s %g at %g: %.6f, grid %.6f", rows[i].text[2],
                  rows[i].n[1], rows[i].n[0], s, rows[i].n[3]);
  }
  free(rows);
}
END_TEST

// Computed with scipy brentq on EOS-80, one way [C]: the mark on the scale matters by 2-3 in
// salinity
START_TEST(hydrometer_marks)
{
  double s, t90 = lzq_t90_from_t68(25.0);
  ck_assert_int_eq(lzq_salinity_from_hydrometer(1.024, t90, LZQ_SG_60_60F, &s), LZQ_OK);
  NEAR(s, 34.2154, 1e-3); // computed at 15.56, the scale is 15.5556 °C
  ck_assert_int_eq(lzq_salinity_from_hydrometer(1.024, t90, LZQ_SG_25_25, &s), LZQ_OK);
  NEAR(s, 31.8667, 5e-5);
  ck_assert_int_eq(lzq_salinity_from_hydrometer(1.024, t90, LZQ_SG_20_20, &s), LZQ_OK);
  NEAR(s, 33.2690, 5e-5);
}
END_TEST

START_TEST(specific_gravity)
{
  double sg, s;
  const struct {
    lzq_sg_scale scale;
    double printed;
  } of_35[] = {{LZQ_SG_60_60F, 1.026860}, {LZQ_SG_20_20, 1.026604}, {LZQ_SG_25_25, 1.026373}};
  for (int i = 0; i < 3; i++) { // [C, EOS-80]
    ck_assert_int_eq(lzq_sg_from_salinity(35.0, of_35[i].scale, &sg), LZQ_OK);
    NEAR(sg, of_35[i].printed, 6e-7);
  }
  ck_assert_int_eq(lzq_sg_t68(35.0, 25.0, 4.0, &sg), LZQ_OK);
  NEAR(sg, 1.023369, 6e-7);
  const double marks[] = {1.020, 1.023, 1.025, 1.026};
  const double at_60f[] = {26.0834, 29.9875, 32.5866, 33.8849};
  const double at_25[] = {26.5732, 30.5447, 33.1878, 34.5079};
  for (int i = 0; i < 4; i++) { // [C, scipy brentq on EOS-80]
    ck_assert_int_eq(lzq_salinity_from_sg(marks[i], LZQ_SG_60_60F, &s), LZQ_OK);
    NEAR(s, at_60f[i], 1e-3);
    ck_assert_int_eq(lzq_salinity_from_sg(marks[i], LZQ_SG_25_25, &s), LZQ_OK);
    NEAR(s, at_25[i], 6e-5);
  }
  // SG 1.016 (common practice while on copper): 21.3 at 25/25, 20.9 on 60/60 °F, 23.5 on 20/4
  ck_assert_int_eq(lzq_salinity_from_sg(1.016, LZQ_SG_25_25, &s), LZQ_OK);
  NEAR(s, 21.3, 0.05);
  ck_assert_int_eq(lzq_salinity_from_sg(1.016, LZQ_SG_60_60F, &s), LZQ_OK);
  NEAR(s, 20.9, 0.05);
  ck_assert_int_eq(lzq_salinity_from_sg(1.016, LZQ_SG_20_4, &s), LZQ_OK);
  NEAR(s, 23.5, 0.1);
}
END_TEST

START_TEST(specific_gravity_grid)
{
  size_t n;
  published_row *rows = published_read("eos80_specific_gravity.csv", &n); // [C]
  for (size_t i = 0; i < n; i++) {
    double sg, reference = strcmp(rows[i].text[2], "60F") == 0 ? (60.0 - 32.0) / 1.8 : rows[i].n[2];
    ck_assert_int_eq(lzq_sg_t68(rows[i].n[0], rows[i].n[1], reference, &sg), LZQ_OK);
    NEAR(sg, rows[i].n[3], 1e-6);
  }
  free(rows);
}
END_TEST

START_TEST(refraction)
{
  size_t n;
  published_row *rows = published_read("quan_fry_refraction.csv", &n); // [C]
  for (size_t i = 0; i < n; i++) {
    double index, s;
    lzq_status status =
        lzq_refractive_index(rows[i].n[0], rows[i].n[1], LZQ_SODIUM_LINE_NM, &index);
    if (rows[i].n[0] > 35.0 || rows[i].n[1] > 30.0) {
      ck_assert_int_eq(status, LZQ_OUT_OF_RANGE);
      continue;
    }
    NEAR(index, rows[i].n[2], 1e-12);
    ck_assert_int_eq(lzq_salinity_from_refraction(index, rows[i].n[1], LZQ_SODIUM_LINE_NM, &s),
                     LZQ_OK);
    NEAR(s, rows[i].n[0], 1e-8);
  }
  free(rows);
  double index; // literature values 1.3394 and 1.3330 [R/M]
  ck_assert_int_eq(lzq_refractive_index(35.0, 20.0, LZQ_SODIUM_LINE_NM, &index), LZQ_OK);
  NEAR(index, 1.3394, 5e-5);
  ck_assert_int_eq(lzq_refractive_index(0.0, 20.0, LZQ_SODIUM_LINE_NM, &index), LZQ_OK);
  NEAR(index, 1.3330, 5e-5);
}
END_TEST

START_TEST(everything_inverts)
{
  published_random random = published_seed("inverses", 20270303);
  for (int i = 0; i < 5000; i++) {
    double s = published_uniform(&random, 2.0, 42.0), t = published_uniform(&random, 0.0, 34.9);
    lzq_sg_scale scale = (lzq_sg_scale)(i % LZQ_N_SG_SCALES);
    double there, back;
    ck_assert_int_eq(lzq_conductivity_from_salinity(s, t, &there), LZQ_OK);
    if (s > 2.000001 && s < 41.999999) {
      ck_assert_int_eq(lzq_salinity_from_conductivity(there, t, &back), LZQ_OK);
      NEAR(back, s, 1e-9);
    }
    ck_assert_int_eq(lzq_density(s, t, &there), LZQ_OK);
    ck_assert_int_eq(lzq_salinity_from_density(there, t, &back), LZQ_OK);
    NEAR(back, s, 1e-9);
    ck_assert_int_eq(lzq_hydrometer_reading(s, t, scale, &there), LZQ_OK);
    ck_assert_int_eq(lzq_salinity_from_hydrometer(there, t, scale, &back), LZQ_OK);
    NEAR(back, s, 1e-9);
    ck_assert_int_eq(lzq_sg_from_salinity(s, scale, &there), LZQ_OK);
    ck_assert_int_eq(lzq_salinity_from_sg(there, scale, &back), LZQ_OK);
    NEAR(back, s, 1e-9);
  }
}
END_TEST

START_TEST(outside_its_range_a_formula_is_silent)
{
  double out = 1.0;
  ck_assert_int_eq(lzq_salinity_from_conductivity(1.0, 25.0, &out), LZQ_OUT_OF_RANGE); // S < 2
  ck_assert(isnan(out));
  ck_assert_int_eq(lzq_salinity_from_conductivity(50.0, 36.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_salinity_from_conductivity(NAN, 25.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_salinity_from_conductivity(50.0, NAN, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_conductivity_from_salinity(43.0, 25.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_density(-0.1, 25.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_density(35.0, 41.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_density(INFINITY, 20.0, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_salinity_from_sg(0.99, LZQ_SG_20_20, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_salinity_from_sg(1.1, LZQ_SG_20_20, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_salinity_from_hydrometer(1.024, -1.0, LZQ_SG_20_20, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_refractive_index(36.0, 20.0, 589.3, &out), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_salinity_from_refraction(1.30, 20.0, 589.3, &out), LZQ_OUT_OF_RANGE);
  ck_assert(isnan(out));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("seawater");
  TCase *tcase = tcase_create("seawater");
  tcase_add_test(tcase, unesco44_salinity_points);
  tcase_add_test(tcase, unesco44_salinity_table);
  tcase_add_test(tcase, unesco44_ratio_table);
  tcase_add_test(tcase, unesco44_density_points);
  tcase_add_test(tcase, unesco44_density_table);
  tcase_add_test(tcase, computed_density_grid);
  tcase_add_test(tcase, gsw_density_grid);
  tcase_add_test(tcase, gsw_conductivity_grids);
  tcase_add_test(tcase, conductivity_standards);
  tcase_add_test(tcase, hydrometer_grid);
  tcase_add_test(tcase, hydrometer_marks);
  tcase_add_test(tcase, specific_gravity);
  tcase_add_test(tcase, specific_gravity_grid);
  tcase_add_test(tcase, refraction);
  tcase_add_test(tcase, everything_inverts);
  tcase_add_test(tcase, outside_its_range_a_formula_is_silent);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
