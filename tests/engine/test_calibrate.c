// SPDX-License-Identifier: GPL-3.0-or-later
// Zero and slope errors told apart, and what one standard leaves open (arithmetic).
#include "lzq_calibrate.h"
#include "published.h"

START_TEST(one_standard_leaves_a_range)
{
  const lzq_standard one[] = {{35.0, 33.0}};
  lzq_calibration c;
  ck_assert_int_eq(lzq_calibrate(one, 1, &c), LZQ_OK);
  ck_assert(!c.told_apart);
  lzq_corrected at_19 = lzq_calibrated(&c, 19.8);
  NEAR(at_19.low, 21.0, 1e-12);  // in proportion: 19.8 x 35/33
  NEAR(at_19.high, 21.8, 1e-12); // everywhere the same: 19.8 + 2
  lzq_corrected at_33 = lzq_calibrated(&c, 33.0);
  NEAR(at_33.low, 35.0, 1e-12); // at the standard itself nothing is open
  NEAR(at_33.high, 35.0, 1e-12);
}
END_TEST

START_TEST(two_standards_tell_zero_from_slope)
{
  const lzq_standard slope[] = {{0.0, 0.0}, {35.0, 33.0}}, zero[] = {{0.0, -2.0}, {35.0, 33.0}};
  lzq_calibration c;
  ck_assert_int_eq(lzq_calibrate(slope, 2, &c), LZQ_OK);
  ck_assert(c.told_apart);
  NEAR(c.zero, 0.0, 1e-12);
  NEAR(c.slope, 33.0 / 35.0, 1e-12);
  NEAR(lzq_calibrated(&c, 19.8).value, 21.0, 1e-12);
  NEAR(lzq_calibrated(&c, 19.8).high, 21.0, 1e-12);
  ck_assert_int_eq(lzq_calibrate(zero, 2, &c), LZQ_OK);
  NEAR(c.zero, -2.0, 1e-12);
  NEAR(c.slope, 1.0, 1e-12);
  NEAR(lzq_calibrated(&c, 19.8).value, 21.8, 1e-12);
  NEAR(c.worst, 0.0, 1e-12);
}
END_TEST

START_TEST(more_standards_and_nonsense)
{
  const lzq_standard bent[] = {{0.0, 0.0}, {17.5, 18.0}, {35.0, 35.0}};
  const lzq_standard backward[] = {{0.0, 10.0}, {35.0, 5.0}}, broken[] = {{NAN, 1.0}};
  lzq_calibration c;
  ck_assert_int_eq(lzq_calibrate(bent, 3, &c), LZQ_OK);
  NEAR(c.slope, 1.0, 1e-12);
  NEAR(c.worst, 1.0 / 3.0, 1e-12);
  ck_assert_int_eq(lzq_calibrate(backward, 2, &c), LZQ_OUT_OF_RANGE);
  ck_assert_int_eq(lzq_calibrate(broken, 1, &c), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_calibrate(bent, 0, &c), LZQ_BAD_INPUT);
}
END_TEST

START_TEST(the_error_grows_with_time)
{
  NEAR(lzq_error_growth(0.0, 0), 1.0, 0.0);
  NEAR(lzq_error_growth(14.0, 0), 1.0, 0.0);
  NEAR(lzq_error_growth(44.0, 0), sqrt(2.0), 1e-12); // 30 days beyond the fortnight
  NEAR(lzq_error_growth(54.0, 0), 5.0 / 3.0, 1e-12); // 40 days: 3-4-5
  NEAR(lzq_error_growth(1000.0, 0), 3.0, 0.0);
  NEAR(lzq_error_growth(30.0, 30), 1.0, 0.0); // the station's own rhythm instead
  NEAR(lzq_error_growth(37.0, 7), sqrt(2.0), 1e-12);
  NEAR(lzq_error_growth(INFINITY, 0), 1.0, 0.0);
  NEAR(lzq_error_growth(NAN, 0), 1.0, 0.0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("calibrate");
  TCase *tcase = tcase_create("calibrate");
  tcase_add_test(tcase, one_standard_leaves_a_range);
  tcase_add_test(tcase, two_standards_tell_zero_from_slope);
  tcase_add_test(tcase, more_standards_and_nonsense);
  tcase_add_test(tcase, the_error_grows_with_time);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
