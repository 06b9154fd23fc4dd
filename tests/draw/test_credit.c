// SPDX-License-Identifier: GPL-3.0-or-later
// The grid of days: hours are hours on days of 23, 24 and 25 of them.
#include "picture.h"
#include "scene.h"

#define W 900
#define H 320

START_TEST(days_of_23_and_25_hours_keep_the_width_of_an_hour)
{
  lzd_credit_day days[3] = {{0, 23 * 60, "a", 0, 0, 0},
                            {1380, 1380 + 1440, "b", 0, 0, 0},
                            {2820, 2820 + 1500, "c", 0, 0, 0}};
  lzd_credit_grid grid = {.days = days, .n_days = 3, .selected = SIZE_MAX};
  lzd_look look = look_of(LZD_LIGHT);
  double hour = lzd_credit_day_rect(&grid, &look, W, H, 0).w / 23;
  ck_assert_double_eq_tol(lzd_credit_day_rect(&grid, &look, W, H, 1).w / 24, hour, 1e-9);
  ck_assert_double_eq_tol(lzd_credit_day_rect(&grid, &look, W, H, 2).w / 25, hour, 1e-9);
}
END_TEST

START_TEST(the_pointer_tells_the_minute)
{
  lzd_credit_grid grid;
  scene_credit(&grid);
  for (int mirrored = 0; mirrored <= 1; mirrored++) {
    lzd_look look = look_of(LZD_LIGHT);
    look.mirrored = mirrored;
    for (size_t day = 0; day < grid.n_days; day++) {
      lzd_rect r = lzd_credit_day_rect(&grid, &look, W, H, day);
      double share = mirrored ? 0.75 : 0.25;
      lzd_minute m = lzd_credit_minute_at(&grid, &look, W, H, r.x + r.w * share + 0.01, r.y + 3);
      ck_assert_int_le(llabs(m - grid.days[day].from - 360), 1);
    }
    ck_assert_int_eq(lzd_credit_minute_at(&grid, &look, W, H, 1, 1), LZD_NEVER);
  }
}
END_TEST

START_TEST(what_was_served_is_filled_and_the_rest_is_not)
{
  lzd_credit_grid grid;
  scene_credit(&grid);
  lzd_look look = look_of(LZD_LIGHT);
  cairo_surface_t *s = picture_new(W, H);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_credit_draw(cr, &grid, &look, W, H, NULL), LZD_OK);
  cairo_destroy(cr);
  uint32_t accent = look.palette->rgb[LZD_ACCENT];
  for (size_t day = 0; day < grid.n_days; day++) {
    lzd_rect r = lzd_credit_day_rect(&grid, &look, W, H, day);
    for (size_t i = 0; i < grid.n_spans; i++) {
      lzd_minute middle = (grid.spans[i].from + grid.spans[i].to) / 2 + 13;
      if (middle < grid.days[day].from || middle >= grid.days[day].to)
        continue;
      int x = (int)(r.x + r.w * (double)(middle - grid.days[day].from) / 1440);
      int upper = pixel_at(s, x, (int)(r.y + r.h * 0.3)) == accent;
      int lower = pixel_at(s, x, (int)(r.y + r.h * 0.7)) == accent;
      ck_assert_int_eq(upper, grid.spans[i].state == LZD_CREDIT_SERVED);
      ck_assert_int_eq(lower, grid.spans[i].state <= LZD_CREDIT_OPEN);
    }
  }
  cairo_surface_destroy(s);
}
END_TEST

START_TEST(a_day_that_is_none_is_refused)
{
  lzd_credit_day day = {100, 100, "a", NULL, NULL, false};
  lzd_credit_grid grid = {.days = &day, .n_days = 1, .selected = SIZE_MAX};
  lzd_look look = look_of(LZD_LIGHT);
  lzd_fault fault = {0};
  cairo_surface_t *s = picture_new(W, H);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_credit_draw(cr, &grid, &look, W, H, &fault), LZD_BAD_INPUT);
  ck_assert_str_eq(fault.where, "day");
  day.to = 100 + 27 * 60;
  ck_assert_int_eq(lzd_credit_draw(cr, &grid, &look, W, H, &fault), LZD_BAD_INPUT);
  grid.n_days = 0; // no day at all is fine
  ck_assert_int_eq(lzd_credit_draw(cr, &grid, &look, W, H, &fault), LZD_OK);
  cairo_destroy(cr);
  cairo_surface_destroy(s);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("credit");
  TCase *tc = tcase_create("days");
  tcase_add_test(tc, days_of_23_and_25_hours_keep_the_width_of_an_hour);
  tcase_add_test(tc, the_pointer_tells_the_minute);
  tcase_add_test(tc, what_was_served_is_filled_and_the_rest_is_not);
  tcase_add_test(tc, a_day_that_is_none_is_refused);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
