// SPDX-License-Identifier: GPL-3.0-or-later
// Where things are on a chart: the odd cases one by one, and layouts of any size and scale.
#include "picture.h"
#include "scene.h"

// A chart of one bare panel over ten days.
typedef struct {
  lzd_panel panel;
  lzd_chart chart;
} bare;

static void
bare_fill(bare *b, const lzd_reading *readings, size_t n)
{
  *b = (bare){
      .panel = {.title = "x", .low = NAN, .high = NAN, .readings = readings, .n_readings = n}};
  b->chart = (lzd_chart){.window = {0, 14400},
                         .now = LZD_NEVER,
                         .panels = &b->panel,
                         .n_panels = 1,
                         .cursor = {.minute = LZD_NEVER}};
}

static lzd_layout
layout_of(const lzd_chart *chart)
{
  lzd_look look = look_of(LZD_LIGHT);
  lzd_layout layout;
  ck_assert_int_eq(lzd_chart_layout(&layout, chart, &look, 600, 300, NULL), LZD_OK);
  return layout;
}

// Draws and answers how many pixels of the text's colour the panel holds.
static int
ink_in_panel(const lzd_chart *chart)
{
  lzd_look look = look_of(LZD_LIGHT);
  lzd_layout l = layout_of(chart);
  cairo_surface_t *s = picture_new(600, 300);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_chart_draw(cr, chart, &look, 600, 300, NULL), LZD_OK);
  cairo_destroy(cr);
  lzd_rect r = l.panel[0].rect;
  int n = count_colour(s, look.palette->rgb[LZD_TEXT], (int)r.x + 1, (int)r.y, (int)(r.x + r.w),
                       (int)(r.y + r.h));
  cairo_surface_destroy(s);
  return n;
}

#define AT(t, v)                                                                                   \
  {                                                                                                \
    .minute = t, .value = v, .mark = LZD_READ_SQUARE                                               \
  }

START_TEST(an_empty_panel_has_an_axis_from_nought_to_one)
{
  bare b;
  bare_fill(&b, NULL, 0);
  lzd_layout l = layout_of(&b.chart);
  ck_assert_double_eq(l.panel[0].value.v0, 0);
  ck_assert_double_ge(l.panel[0].value.v1, 1);
  ck_assert_int_ge(l.panel[0].ticks.count, 2);
  ck_assert(!l.panel[0].dense);
  ck_assert_int_eq(ink_in_panel(&b.chart), 0);
}
END_TEST

START_TEST(one_point_stands_inside_its_axis)
{
  lzd_reading one[] = {AT(7200, 8.1)};
  bare b;
  bare_fill(&b, one, 1);
  lzd_layout l = layout_of(&b.chart);
  ck_assert(l.panel[0].value.v0 < 8.1 && l.panel[0].value.v1 > 8.1);
  double y = lzd_scale_at(&l.panel[0].value, 8.1);
  lzd_rect r = l.panel[0].rect;
  ck_assert(y > r.y + 8 && y < r.y + r.h - 8);
  ck_assert_double_eq_tol(lzd_scale_at(&l.time, 7200), r.x + r.w / 2, 1e-6);
  ck_assert_int_gt(ink_in_panel(&b.chart), 40);
}
END_TEST

START_TEST(equal_times_keep_both_points)
{
  lzd_reading two[] = {AT(7200, 1.0), AT(7200, 2.0)};
  bare one, both;
  bare_fill(&one, two, 1);
  bare_fill(&both, two, 2);
  one.panel.low = both.panel.low = 0;
  one.panel.high = both.panel.high = 3;
  int single = ink_in_panel(&one.chart);
  ck_assert_int_gt(ink_in_panel(&both.chart), single * 19 / 10);
}
END_TEST

START_TEST(an_absurd_value_does_not_flatten_the_rest)
{
  lzd_reading r[40];
  for (int i = 0; i < 40; i++)
    r[i] = (lzd_reading)AT(i * 300, 8.0 + (i % 5) * 0.05);
  r[20].value = 1e9;
  bare b;
  bare_fill(&b, r, 40);
  lzd_layout l = layout_of(&b.chart);
  ck_assert_double_lt(l.panel[0].value.v1, 40);
  ck_assert_double_gt(l.panel[0].value.v1, 8.2);
  // The same beside a band: the axis is at most three times the band's own height and the ends.
  lzd_band band = {0, 14400, 8.0, 8.4, LZD_EDGE_WORKS, LZD_EDGE_PLAN, NULL, NULL};
  b.panel.bands = &band;
  b.panel.n_bands = 1;
  l = layout_of(&b.chart);
  ck_assert_double_lt(l.panel[0].value.v1 - l.panel[0].value.v0, 3.2 * 0.4);
  r[20].value = -INFINITY; // not finite: not drawn, not counted
  l = layout_of(&b.chart);
  ck_assert(isfinite(l.panel[0].value.v0));
}
END_TEST

START_TEST(an_absurd_value_is_still_seen_at_the_end_of_the_axis)
{
  lzd_reading r[] = {AT(1000, 8.0), AT(7200, 1e9), AT(13000, 8.1)};
  bare with, without;
  bare_fill(&with, r, 3);
  with.panel.low = 7, with.panel.high = 9;
  lzd_reading less[] = {AT(1000, 8.0), AT(13000, 8.1)};
  bare_fill(&without, less, 2);
  without.panel.low = 7, without.panel.high = 9;
  ck_assert_int_gt(ink_in_panel(&with.chart), ink_in_panel(&without.chart) + 40);
}
END_TEST

START_TEST(a_gap_breaks_the_line)
{
  lzd_span whole[] = {{0, 1, 1, 1}, {5000, 1, 1, 1}, {9000, 1, 1, 1}, {14400, 1, 1, 1}};
  lzd_span broken[] = {
      {0, 1, 1, 1}, {5000, 1, 1, 1}, {7000, NAN, NAN, NAN}, {9000, 1, 1, 1}, {14400, 1, 1, 1}};
  bare b;
  bare_fill(&b, NULL, 0);
  b.panel.estimate = broken;
  b.panel.n_estimate = 5;
  b.panel.low = 0, b.panel.high = 2;
  lzd_look look = look_of(LZD_LIGHT);
  lzd_layout l = layout_of(&b.chart);
  int inked[2];
  for (int i = 0; i < 2; i++) {
    cairo_surface_t *s = picture_new(600, 300);
    cairo_t *cr = cairo_create(s);
    b.panel.estimate = i ? whole : broken;
    b.panel.n_estimate = i ? 4 : 5;
    ck_assert_int_eq(lzd_chart_draw(cr, &b.chart, &look, 600, 300, NULL), LZD_OK);
    cairo_destroy(cr);
    int x = (int)lzd_scale_at(&l.time, 7000), y = (int)lzd_scale_at(&l.panel[0].value, 1);
    inked[i] = 25 - count_colour(s, 0xFFFFFF, x - 2, y - 2, x + 3, y + 3);
    cairo_surface_destroy(s);
  }
  ck_assert_int_eq(inked[0], 0); // nothing where the line is broken
  ck_assert_int_gt(inked[1], 5);
}
END_TEST

START_TEST(a_line_from_outside_enters_at_the_edge)
{
  lzd_point plan[] = {{-1000000, 0.0}, {1000000, 1.0}};
  bare b;
  bare_fill(&b, NULL, 0);
  b.panel.plan = plan;
  b.panel.n_plan = 2;
  b.panel.low = 0, b.panel.high = 1;
  lzd_look look = look_of(LZD_LIGHT);
  lzd_layout l = layout_of(&b.chart);
  cairo_surface_t *s = picture_new(600, 300);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_chart_draw(cr, &b.chart, &look, 600, 300, NULL), LZD_OK);
  cairo_destroy(cr);
  lzd_rect r = l.panel[0].rect;
  int y = (int)lzd_scale_at(&l.panel[0].value, 0.5);
  int found = 0; // both points lie outside, the line crosses the panel at half its height
  for (int x = (int)r.x + 2; x < r.x + r.w - 2; x++)
    found += count_colour(s, 0xFFFFFF, x, y - 4, x + 1, y + 5) < 9;
  ck_assert_int_gt(found, (int)(r.w * 0.5));
  cairo_surface_destroy(s);
}
END_TEST

START_TEST(any_size_keeps_everything_inside_and_in_order)
{
  static scene s;
  scene_fill(&s);
  lzt_prng state = seed_of_run();
  for (int i = 0; i < 60; i++) {
    lzd_look look = look_of(LZD_LIGHT);
    look.text_scale = 1 + random_unit(&state);
    look.mirrored = i % 2;
    double height = lzd_chart_natural_height(&s.chart, &look) + random_unit(&state) * 300;
    double width = 500 + random_unit(&state) * 1200;
    lzd_layout l;
    ck_assert_int_eq(lzd_chart_layout(&l, &s.chart, &look, width, height, NULL), LZD_OK);
    double y = 0;
    for (size_t p = 0; p < l.n_panels; p++) {
      ck_assert_double_ge(l.panel[p].rect.y, y);
      y = l.panel[p].rect.y + l.panel[p].rect.h;
      ck_assert_double_ge(l.panel[p].rect.x, 0);
      ck_assert_double_le(l.panel[p].rect.x + l.panel[p].rect.w, width);
      ck_assert_double_ge(l.panel[p].rect.h, 24);
    }
    for (size_t r = 0; r < l.n_rails; r++) {
      ck_assert_double_ge(l.rail[r].y, y - 1);
      y = l.rail[r].y + l.rail[r].h;
    }
    ck_assert_double_le(l.axis.y + l.axis.h, height + 2);
    double gutter = look.mirrored ? width - l.frame.x - l.frame.w : l.frame.x;
    ck_assert_double_gt(gutter, lzd_text_width(&look, LZD_SIZE_AXIS, false, "change"));
  }
}
END_TEST

START_TEST(mirrored_time_runs_the_other_way)
{
  static scene s;
  scene_fill(&s);
  lzd_look look = look_of(LZD_LIGHT);
  lzd_layout plain, mirrored;
  ck_assert_int_eq(lzd_chart_layout(&plain, &s.chart, &look, 850, 500, NULL), LZD_OK);
  look.mirrored = true;
  ck_assert_int_eq(lzd_chart_layout(&mirrored, &s.chart, &look, 850, 500, NULL), LZD_OK);
  for (lzd_minute t = 0; t <= SCENE_DAYS * 1440; t += 777)
    ck_assert_double_eq_tol(
        lzd_scale_at(&plain.time, (double)t) + lzd_scale_at(&mirrored.time, (double)t), 850, 1.001);
}
END_TEST

static void
refused(lzd_chart *chart, const char *where, const char *field)
{
  lzd_look look = look_of(LZD_LIGHT);
  lzd_fault fault = {0};
  cairo_surface_t *s = picture_new(200, 200), *blank = picture_new(200, 200);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_chart_draw(cr, chart, &look, 200, 200, &fault), LZD_BAD_INPUT);
  cairo_destroy(cr);
  ck_assert_str_eq(fault.where, where);
  ck_assert_str_eq(fault.field, field);
  ck_assert_ptr_nonnull(fault.reason);
  ck_assert_int_eq(differing(s, blank), 0); // nothing half drawn
  cairo_surface_destroy(s);
  cairo_surface_destroy(blank);
}

START_TEST(a_bad_description_is_refused_with_place_and_field)
{
  bare b;
  bare_fill(&b, NULL, 0);
  b.chart.window.to = 0;
  refused(&b.chart, "chart", "window");
  bare_fill(&b, NULL, 0);
  b.chart.n_panels = 0;
  refused(&b.chart, "chart", "n_panels");
  bare_fill(&b, NULL, 3);
  refused(&b.chart, "panel", "array");
  bare_fill(&b, NULL, 0);
  b.panel.low = 2, b.panel.high = 1;
  refused(&b.chart, "panel", "low");
  bare_fill(&b, NULL, 0);
  lzd_band band = {0, 10, 2, 1, LZD_EDGE_PLAIN, LZD_EDGE_PLAIN, NULL, NULL};
  b.panel.bands = &band, b.panel.n_bands = 1;
  refused(&b.chart, "band", "low");
  bare_fill(&b, NULL, 0);
  lzd_exit exit = {.early = 5, .likely = 4, .late = 9, .value = 1};
  b.panel.exits = &exit, b.panel.n_exits = 1;
  refused(&b.chart, "exit", "likely");
  bare_fill(&b, NULL, 0);
  lzd_time_tick ticks[2] = {{10, "a", 0}, {10, "b", 0}};
  b.chart.ticks = ticks, b.chart.n_ticks = 2;
  refused(&b.chart, "tick", "minute");
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("chart");
  TCase *tc = tcase_create("geometry");
  tcase_set_timeout(tc, 60);
  tcase_add_test(tc, an_empty_panel_has_an_axis_from_nought_to_one);
  tcase_add_test(tc, one_point_stands_inside_its_axis);
  tcase_add_test(tc, equal_times_keep_both_points);
  tcase_add_test(tc, an_absurd_value_does_not_flatten_the_rest);
  tcase_add_test(tc, an_absurd_value_is_still_seen_at_the_end_of_the_axis);
  tcase_add_test(tc, a_gap_breaks_the_line);
  tcase_add_test(tc, a_line_from_outside_enters_at_the_edge);
  tcase_add_test(tc, any_size_keeps_everything_inside_and_in_order);
  tcase_add_test(tc, mirrored_time_runs_the_other_way);
  tcase_add_test(tc, a_bad_description_is_refused_with_place_and_field);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
