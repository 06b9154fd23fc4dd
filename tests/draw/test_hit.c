// SPDX-License-Identifier: GPL-3.0-or-later
// What is under the pointer, and where the keyboard goes.
#include "picture.h"
#include "scene.h"

#define RADIUS 8

static scene s;
static lzd_layout l;

static void
setup(void)
{
  lzd_look look = look_of(LZD_LIGHT);
  scene_fill(&s);
  ck_assert_int_eq(lzd_chart_layout(&l, &s.chart, &look, 850, 600, NULL), LZD_OK);
}

START_TEST(each_reading_is_found_at_its_own_place)
{
  for (size_t p = 0; p < 2; p++)
    for (size_t i = 0; i < s.panel[p].n_readings; i++) {
      const lzd_reading *r = &s.panel[p].readings[i];
      lzd_hit hit = lzd_chart_hit(&s.chart, &l, lzd_scale_at(&l.time, (double)r->minute),
                                  lzd_scale_at(&l.panel[p].value, r->value), RADIUS);
      ck_assert_int_eq(hit.kind, LZD_HIT_READING);
      ck_assert_uint_eq(hit.row, p);
      ck_assert_uint_eq(hit.index, i);
    }
}
END_TEST

START_TEST(the_nearer_of_two_readings_wins)
{
  // Number 12 is the suspect 0.66, number 13 the 0.495 read eight minutes later.
  double x = lzd_scale_at(&l.time, (double)s.panel[0].readings[12].minute);
  lzd_hit hit = lzd_chart_hit(&s.chart, &l, x, lzd_scale_at(&l.panel[0].value, 0.655), 40);
  ck_assert_uint_eq(hit.index, 12);
  ck_assert_uint_eq(hit.id, 7);
  hit = lzd_chart_hit(&s.chart, &l, x, lzd_scale_at(&l.panel[0].value, 0.50), 40);
  ck_assert_uint_eq(hit.index, 13);
}
END_TEST

START_TEST(out_of_reach_is_nothing_but_a_moment)
{
  double x = lzd_scale_at(&l.time, 3 * 1440), y = lzd_scale_at(&l.panel[0].value, 0.05);
  lzd_hit hit = lzd_chart_hit(&s.chart, &l, x, y, RADIUS);
  ck_assert_int_eq(hit.kind, LZD_HIT_NONE);
  ck_assert_int_eq(hit.minute, 3 * 1440);
  double reading_y = lzd_scale_at(&l.panel[0].value, s.panel[0].readings[0].value);
  double reading_x = lzd_scale_at(&l.time, (double)s.panel[0].readings[0].minute);
  hit = lzd_chart_hit(&s.chart, &l, reading_x, reading_y + RADIUS + 0.5, RADIUS);
  ck_assert_int_eq(hit.kind, LZD_HIT_NONE);
  hit = lzd_chart_hit(&s.chart, &l, reading_x, reading_y + RADIUS - 0.5, RADIUS);
  ck_assert_int_eq(hit.kind, LZD_HIT_READING);
}
END_TEST

START_TEST(events_and_credit_are_found)
{
  double x = lzd_scale_at(&l.time, (double)s.rail[1].events[3].minute);
  lzd_hit hit = lzd_chart_hit(&s.chart, &l, x, l.rail[1].y + 10, RADIUS);
  ck_assert_int_eq(hit.kind, LZD_HIT_EVENT);
  ck_assert_uint_eq(hit.row, 1);
  ck_assert_uint_eq(hit.id, 14);
  hit = lzd_chart_hit(&s.chart, &l, lzd_scale_at(&l.time, 5 * 1440), l.strip[0].y + 10, RADIUS);
  ck_assert_int_eq(hit.kind, LZD_HIT_CREDIT);
  ck_assert_uint_eq(hit.index, 1); // not served since 23:31 the day before
}
END_TEST

START_TEST(stepping_visits_every_reading_once_and_stops)
{
  lzd_hit at = {.kind = LZD_HIT_NONE, .minute = INT64_MIN + 2};
  size_t n = 0;
  for (lzd_hit next; (next = lzd_chart_step(&s.chart, 0, at, 1)).kind == LZD_HIT_READING; at = next)
    ck_assert_uint_eq(next.index, n++);
  ck_assert_uint_eq(n, s.panel[0].n_readings);
  for (lzd_hit next; (next = lzd_chart_step(&s.chart, 0, at, -1)).kind == LZD_HIT_READING;
       at = next)
    n--;
  ck_assert_uint_eq(n, 1);
  ck_assert_uint_eq(at.index, 0);
}
END_TEST

START_TEST(equal_times_and_missing_values_are_stepped_right)
{
  lzd_reading r[] = {{.minute = 5, .value = 1},
                     {.minute = 5, .value = NAN},
                     {.minute = 5, .value = 2},
                     {.minute = 9, .value = 3}};
  s.panel[0].readings = r;
  s.panel[0].n_readings = 4;
  lzd_hit at = lzd_chart_step(&s.chart, 0, (lzd_hit){.minute = 5}, 1);
  ck_assert_uint_eq(at.index, 0); // from a mere moment its own readings come first
  at = lzd_chart_step(&s.chart, 0, at, 1);
  ck_assert_uint_eq(at.index, 2);
  at = lzd_chart_step(&s.chart, 0, at, 1);
  ck_assert_uint_eq(at.index, 3);
  ck_assert_int_eq(lzd_chart_step(&s.chart, 0, at, 1).kind, LZD_HIT_NONE);
  at = lzd_chart_step(&s.chart, 0, (lzd_hit){.minute = 7}, -1);
  ck_assert_uint_eq(at.index, 2);
  s.panel[0].n_readings = 0;
  ck_assert_int_eq(lzd_chart_step(&s.chart, 0, (lzd_hit){.minute = 7}, -1).kind, LZD_HIT_NONE);
  ck_assert_int_eq(lzd_chart_step(&s.chart, 9, (lzd_hit){.minute = 7}, 1).kind, LZD_HIT_NONE);
}
END_TEST

START_TEST(changing_panel_keeps_the_time)
{
  lzd_hit at = {LZD_HIT_READING, 0, 13, 0, s.panel[0].readings[13].minute};
  lzd_hit below = lzd_chart_step_panel(&s.chart, at, 1);
  ck_assert_uint_eq(below.row, 1);
  ck_assert_int_eq(below.minute, at.minute); // both were read at 19:28
  ck_assert_int_eq(lzd_chart_step_panel(&s.chart, below, 1).kind, LZD_HIT_NONE);
  ck_assert_uint_eq(lzd_chart_step_panel(&s.chart, below, -1).row, 0);
}
END_TEST

START_TEST(events_step_along_their_rail)
{
  lzd_hit at = lzd_chart_step_event(&s.chart, 0, (lzd_hit){.minute = 0}, 1);
  ck_assert_uint_eq(at.id, 1);
  at = lzd_chart_step_event(&s.chart, 0, at, 1);
  ck_assert_uint_eq(at.id, 2);
  at = lzd_chart_step_event(&s.chart, 0, lzd_chart_step_event(&s.chart, 0, at, -1), -1);
  ck_assert_int_eq(at.kind, LZD_HIT_NONE);
}
END_TEST

START_TEST(places_turn_back_into_values)
{
  lzd_rect r = l.panel[1].rect;
  ck_assert_uint_eq(lzd_chart_panel_at(&l, r.y + 1), 1);
  ck_assert_uint_eq(lzd_chart_panel_at(&l, r.y + r.h + 2), SIZE_MAX);
  ck_assert_double_eq_tol(lzd_chart_value_at(&l, 1, lzd_scale_at(&l.panel[1].value, 21.5)), 21.5,
                          1e-9);
  ck_assert_int_eq(lzd_chart_minute_at(&l, lzd_scale_at(&l.time, 4321)), 4321);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("hit");
  TCase *tc = tcase_create("pointer and keyboard");
  tcase_add_checked_fixture(tc, setup, NULL);
  tcase_add_test(tc, each_reading_is_found_at_its_own_place);
  tcase_add_test(tc, the_nearer_of_two_readings_wins);
  tcase_add_test(tc, out_of_reach_is_nothing_but_a_moment);
  tcase_add_test(tc, events_and_credit_are_found);
  tcase_add_test(tc, stepping_visits_every_reading_once_and_stops);
  tcase_add_test(tc, equal_times_and_missing_values_are_stepped_right);
  tcase_add_test(tc, changing_panel_keeps_the_time);
  tcase_add_test(tc, events_step_along_their_rail);
  tcase_add_test(tc, places_turn_back_into_values);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
