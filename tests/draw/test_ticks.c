// SPDX-License-Identifier: GPL-3.0-or-later
// Ticks by their promises on random ranges; scales and windows by their inverses; written numbers.
#include "picture.h"

static void
check_ticks(double low, double high)
{
  lzd_value_ticks t = lzd_ticks_values(low, high);
  ck_assert_msg(t.count >= 5 && t.count <= 12, "[%.17g, %.17g]: %d ticks", low, high, t.count);
  double power = pow(10, floor(log10(t.step) + 1e-9)), m = t.step / power, slack = t.step * 1e-6;
  ck_assert_msg(fabs(m - 1) < 1e-9 || fabs(m - 2) < 1e-9 || fabs(m - 5) < 1e-9,
                "step %.17g is not 1, 2 or 5 times a power of ten", t.step);
  double first = lzd_tick_value(&t, 0), last = lzd_tick_value(&t, t.count - 1);
  ck_assert_double_ge(first, low - slack);
  ck_assert_double_le(last, high + slack);
  // No tick is missing at either end.
  ck_assert_double_lt(first - t.step, low + slack);
  ck_assert_double_gt(last + t.step, high - slack);
  for (int i = 0; i < t.count; i++) { // the label says the value
    char text[64];
    snprintf(text, sizeof text, "%.*f", t.decimals, lzd_tick_value(&t, i));
    ck_assert_double_eq_tol(atof(text), lzd_tick_value(&t, i), slack);
  }
}

START_TEST(any_range_has_five_to_twelve_round_ticks)
{
  lzt_prng state = seed_of_run();
  for (int i = 0; i < 200000; i++) {
    double size = pow(10, random_unit(&state) * 14 - 7);
    double low = (random_unit(&state) - 0.5) * size * pow(10, random_unit(&state) * 3);
    check_ticks(low, low + size * (0.1 + random_unit(&state)));
  }
}
END_TEST

START_TEST(ranges_that_end_on_ticks_keep_them)
{
  check_ticks(0, 1);
  check_ticks(0, 0.6);
  check_ticks(20, 35);
  check_ticks(-5, 5);
  lzd_value_ticks t = lzd_ticks_values(0, 1);
  ck_assert_double_eq(lzd_tick_value(&t, 0), 0);
  ck_assert_double_eq(lzd_tick_value(&t, t.count - 1), 1);
}
END_TEST

START_TEST(a_tick_is_the_nearest_double_of_its_label)
{
  lzd_value_ticks t = lzd_ticks_values(0, 0.7);
  ck_assert_double_eq(t.step, 0.1);
  ck_assert_double_eq(lzd_tick_value(&t, 3), 0.3); // not 0.30000000000000004
  ck_assert_int_eq(t.decimals, 1);
}
END_TEST

START_TEST(a_range_that_is_none_has_no_ticks)
{
  ck_assert_int_eq(lzd_ticks_values(1, 1).count, 0);
  ck_assert_int_eq(lzd_ticks_values(2, 1).count, 0);
  ck_assert_int_eq(lzd_ticks_values(NAN, 1).count, 0);
  ck_assert_int_eq(lzd_ticks_values(0, INFINITY).count, 0);
  ck_assert_int_eq(lzd_ticks_values(1e20, nextafter(1e20, INFINITY)).count, 0);
}
END_TEST

START_TEST(little_room_has_few_ticks)
{
  lzt_prng state = seed_of_run();
  for (int i = 0; i < 20000; i++) {
    double low = random_unit(&state) * 40 - 20, high = low + 0.01 + random_unit(&state) * 30;
    for (int most = 2; most < 6; most++) {
      lzd_value_ticks t = lzd_ticks_values_most(low, high, most);
      ck_assert_int_le(t.count, most);
      // A finer step of the rule would have been too many.
      lzd_value_ticks finer = lzd_ticks_values_most(low, high, 40);
      ck_assert_double_le(finer.step, t.step);
    }
  }
}
END_TEST

START_TEST(numbers_are_written_for_people)
{
  lzd_look look = look_of(LZD_LIGHT);
  char out[48];
  ck_assert_str_eq(lzd_number(out, sizeof out, 0.5, 2, &look), "0.50");
  ck_assert_str_eq(lzd_number(out, sizeof out, 1800, 0, &look), "1800");
  ck_assert_str_eq(lzd_number(out, sizeof out, 12000, 0, &look), "12\u202f000");
  ck_assert_str_eq(lzd_number(out, sizeof out, 1234567.25, 1, &look), "1\u202f234\u202f567.2");
  ck_assert_str_eq(lzd_number(out, sizeof out, -3, 0, &look), "\u22123");
  ck_assert_str_eq(lzd_number(out, sizeof out, -0.001, 1, &look), "0.0"); // no minus before nothing
  look.decimal = ',';
  ck_assert_str_eq(lzd_number(out, sizeof out, 21.5, 1, &look), "21,5");
}
END_TEST

START_TEST(time_steps_climb_with_the_width)
{
  lzd_time_step before = 0;
  for (lzd_minute width = 60; width < LZD_WINDOW_MOST; width += width / 7 + 1) {
    lzd_time_step step = lzd_ticks_time(width, 850, 64);
    ck_assert_int_ge(step, before);
    before = step;
    double apart = (double)lzd_time_step_length(step) * 850 / (double)width;
    ck_assert(apart >= 64 || step == LZD_STEP_YEAR);
  }
  ck_assert_int_eq(before, LZD_STEP_YEAR);
  ck_assert_int_eq(lzd_ticks_time(11 * 1440, 852, 64), LZD_STEP_DAY);
}
END_TEST

START_TEST(a_scale_and_its_inverse_agree)
{
  lzt_prng state = seed_of_run();
  for (int i = 0; i < 10000; i++) {
    double v0 = random_unit(&state) * 100, v1 = v0 + 0.1 + random_unit(&state) * 100;
    double p0 = random_unit(&state) * 900, p1 = random_unit(&state) * 900;
    if (fabs(p1 - p0) < 1)
      continue;
    lzd_scale s = lzd_scale_make(v0, v1, p0, p1);
    double value = v0 + random_unit(&state) * (v1 - v0);
    ck_assert_double_eq_tol(lzd_scale_invert(&s, lzd_scale_at(&s, value)), value, 1e-7);
    ck_assert_double_eq_tol(lzd_scale_at(&s, v0), p0, 1e-9);
    ck_assert_double_eq_tol(lzd_scale_at(&s, v1), p1, 1e-9);
    ck_assert_double_eq_tol(lzd_scale_clamp(&s, v1 + 5), p1, 1e-9);
  }
}
END_TEST

START_TEST(a_scale_of_no_width_is_widened)
{
  lzd_scale s = lzd_scale_make(8, 8, 100, 0);
  ck_assert_double_lt(s.v0, 8);
  ck_assert_double_gt(s.v1, 8);
  s = lzd_scale_make(0, 0, 100, 0);
  ck_assert_double_lt(s.v0, s.v1);
  s = lzd_scale_make(NAN, NAN, 100, 0);
  ck_assert(isfinite(lzd_scale_at(&s, 0.5)));
  s = lzd_scale_make(2, 1, 0, 10); // the wrong way round is turned
  ck_assert_double_eq(s.v0, 1);
}
END_TEST

START_TEST(zooming_keeps_the_moment_in_its_place)
{
  lzt_prng state = seed_of_run();
  for (int i = 0; i < 10000; i++) {
    lzd_window w = {(lzd_minute)(random_unit(&state) * 1e6), 0};
    w.to = w.from + 3000 + (lzd_minute)(random_unit(&state) * 1e5);
    lzd_minute anchor = w.from + (lzd_minute)(random_unit(&state) * (double)(w.to - w.from));
    double factor = 0.3 + random_unit(&state) * 3;
    lzd_window z = lzd_window_zoom(w, anchor, factor);
    double before = (double)(anchor - w.from) / (double)(w.to - w.from);
    double after = (double)(anchor - z.from) / (double)(z.to - z.from);
    ck_assert_double_eq_tol(before, after, 1.0 / (double)(z.to - z.from) + 1e-9);
  }
}
END_TEST

START_TEST(a_window_is_an_hour_to_ten_years)
{
  lzd_window w = {0, 1440};
  ck_assert_int_eq(lzd_window_zoom(w, 700, 1e-9).to - lzd_window_zoom(w, 700, 1e-9).from,
                   LZD_WINDOW_LEAST);
  ck_assert_int_eq(lzd_window_zoom(w, 700, 1e9).to - lzd_window_zoom(w, 700, 1e9).from,
                   LZD_WINDOW_MOST);
  lzd_window p = lzd_window_pan(w, 0.5);
  ck_assert_int_eq(p.from, 720);
  ck_assert_int_eq(p.to - p.from, 1440);
  lzd_window shown = lzd_window_show(w, 5000);
  ck_assert(shown.from < 5000 && shown.to > 5000);
  ck_assert_int_eq(shown.to - shown.from, 1440);
  shown = lzd_window_show(w, -5000);
  ck_assert(shown.from < -5000 && shown.to > -5000);
  ck_assert_int_eq(lzd_window_show(w, 700).from, 0); // already in: not moved
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("ticks");
  TCase *tc = tcase_create("ticks and scales");
  tcase_set_timeout(tc, 60);
  tcase_add_test(tc, any_range_has_five_to_twelve_round_ticks);
  tcase_add_test(tc, ranges_that_end_on_ticks_keep_them);
  tcase_add_test(tc, a_tick_is_the_nearest_double_of_its_label);
  tcase_add_test(tc, a_range_that_is_none_has_no_ticks);
  tcase_add_test(tc, little_room_has_few_ticks);
  tcase_add_test(tc, numbers_are_written_for_people);
  tcase_add_test(tc, time_steps_climb_with_the_width);
  tcase_add_test(tc, a_scale_and_its_inverse_agree);
  tcase_add_test(tc, a_scale_of_no_width_is_widened);
  tcase_add_test(tc, zooming_keeps_the_moment_in_its_place);
  tcase_add_test(tc, a_window_is_an_hour_to_ten_years);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
