// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures compared with pictures of our own: what is added must show, and only where it belongs.
#include "picture.h"
#include "scene.h"

#define W 850
#define H 430

static cairo_surface_t *
drawn(const lzd_chart *chart, lzd_look look)
{
  cairo_surface_t *s = picture_new(W, H);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_chart_draw(cr, chart, &look, W, H, NULL), LZD_OK);
  cairo_destroy(cr);
  return s;
}

START_TEST(two_drawings_of_one_chart_are_equal)
{
  static scene s;
  scene_fill(&s);
  cairo_surface_t *a = drawn(&s.chart, look_of(LZD_DARK)), *b = drawn(&s.chart, look_of(LZD_DARK));
  ck_assert_int_eq(differing(a, b), 0);
  cairo_surface_destroy(a);
  cairo_surface_destroy(b);
}
END_TEST

START_TEST(each_part_shows_where_it_was_not)
{
  static scene s;
  scene_fill(&s);
  s.panel[0].low = 0, s.panel[0].high = 0.8; // the axis stays when a part goes
  s.panel[1].low = 18, s.panel[1].high = 36;
  cairo_surface_t *all = drawn(&s.chart, look_of(LZD_LIGHT));
  size_t *parts[] = {&s.panel[0].n_bands,    &s.panel[0].n_plan,  &s.panel[0].n_estimate,
                     &s.panel[0].n_forecast, &s.panel[0].n_exits, &s.panel[0].n_readings,
                     &s.rail[0].n_events,    &s.strip.n_spans};
  for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
    size_t kept = *parts[i];
    *parts[i] = 0;
    cairo_surface_t *less = drawn(&s.chart, look_of(LZD_LIGHT));
    ck_assert_msg(differing(all, less) > 60, "part %zu makes no difference", i);
    cairo_surface_destroy(less);
    *parts[i] = kept;
  }
  s.chart.cursor.minute = LZD_NEVER;
  cairo_surface_t *less = drawn(&s.chart, look_of(LZD_LIGHT));
  ck_assert_int_gt(differing(all, less), 1000);
  cairo_surface_destroy(less);
  cairo_surface_destroy(all);
}
END_TEST

START_TEST(the_cursor_alone_over_the_rest_is_the_whole)
{
  static scene s;
  scene_fill(&s);
  lzd_look look = look_of(LZD_LIGHT);
  cairo_surface_t *whole = drawn(&s.chart, look);
  lzd_cursor cursor = s.chart.cursor;
  s.chart.cursor.minute = LZD_NEVER;
  cairo_surface_t *parts = drawn(&s.chart, look);
  s.chart.cursor = cursor;
  cairo_t *cr = cairo_create(parts);
  ck_assert_int_eq(lzd_chart_draw_cursor(cr, &s.chart, &look, W, H, NULL), LZD_OK);
  cairo_destroy(cr);
  ck_assert_int_eq(differing(whole, parts), 0);
  cairo_surface_destroy(whole);
  cairo_surface_destroy(parts);
}
END_TEST

START_TEST(a_spike_among_a_million_is_drawn_in_its_place)
{
  size_t n = 1000000, at = 250000;
  lzd_reading *r = calloc(n, sizeof *r);
  for (size_t i = 0; i < n; i++)
    r[i] = (lzd_reading){.minute = (lzd_minute)i, .value = 0.5, .mark = LZD_READ_DISC};
  r[at].value = 0.9;
  lzd_index *index;
  ck_assert_int_eq(lzd_index_new(&index, r, n, NULL), LZD_OK);
  lzd_panel panel = {.low = 0, .high = 1, .readings = r, .n_readings = n, .index = index};
  lzd_chart chart = {.window = {0, (lzd_minute)n},
                     .now = LZD_NEVER,
                     .panels = &panel,
                     .n_panels = 1,
                     .cursor = {.minute = LZD_NEVER}};
  for (int mirrored = 0; mirrored <= 1; mirrored++) {
    lzd_look look = look_of(LZD_LIGHT);
    look.mirrored = mirrored;
    lzd_layout l;
    ck_assert_int_eq(lzd_chart_layout(&l, &chart, &look, W, H, NULL), LZD_OK);
    ck_assert(l.panel[0].dense);
    cairo_surface_t *s = drawn(&chart, look);
    int x = (int)lzd_scale_at(&l.time, (double)at), y = (int)lzd_scale_at(&l.panel[0].value, 0.8);
    int left = (int)l.frame.x + 1, right = (int)(l.frame.x + l.frame.w) - 1;
    ck_assert_int_ge(count_colour(s, look.palette->rgb[LZD_TEXT], x - 1, y, x + 2, y + 1), 1);
    // ... and nowhere else at that height.
    ck_assert_int_le(count_colour(s, look.palette->rgb[LZD_TEXT], left, y, right, y + 1), 2);
    cairo_surface_destroy(s);
  }
  lzd_index_free(index);
  free(r);
}
END_TEST

START_TEST(a_mirrored_chart_has_its_ink_on_the_other_side)
{
  lzd_reading r[] = {{.minute = 1440, .value = 0.5, .mark = LZD_READ_DISC}};
  lzd_panel panel = {.low = 0, .high = 1, .readings = r, .n_readings = 1};
  lzd_chart chart = {.window = {0, 14400},
                     .now = LZD_NEVER,
                     .panels = &panel,
                     .n_panels = 1,
                     .cursor = {.minute = LZD_NEVER}};
  int middle[2];
  for (int mirrored = 0; mirrored <= 1; mirrored++) {
    lzd_look look = look_of(LZD_LIGHT);
    look.mirrored = mirrored;
    cairo_surface_t *s = drawn(&chart, look);
    lzd_layout l;
    ck_assert_int_eq(lzd_chart_layout(&l, &chart, &look, W, H, NULL), LZD_OK);
    int y = (int)lzd_scale_at(&l.panel[0].value, 0.5), sum = 0, n = 0;
    for (int x = (int)l.frame.x + 2; x < l.frame.x + l.frame.w - 2; x++)
      if (pixel_at(s, x, y) == look.palette->rgb[LZD_TEXT])
        sum += x, n++;
    ck_assert_int_gt(n, 4);
    middle[mirrored] = sum / n;
    cairo_surface_destroy(s);
  }
  ck_assert_int_le(abs(middle[0] + middle[1] - W), 2);
}
END_TEST

START_TEST(all_marks_differ_from_each_other_in_black)
{
  lzd_look look = look_of(LZD_PRINT);
  cairo_surface_t *s[LZD_MARKS];
  for (int m = 1; m < LZD_MARKS; m++) {
    s[m] = picture_new(64, 64);
    cairo_t *cr = cairo_create(s[m]);
    lzd_mark_draw(cr, &look, (lzd_mark)m, LZD_PLAIN, LZD_TEXT, 32, 32, 24);
    cairo_destroy(cr);
    for (int k = 1; k < m; k++)
      ck_assert_msg(differing(s[m], s[k]) > 20, "%s looks like %s", lzd_mark_name((lzd_mark)m),
                    lzd_mark_name((lzd_mark)k));
  }
  for (int m = 1; m < LZD_MARKS; m++)
    cairo_surface_destroy(s[m]);
}
END_TEST

START_TEST(the_three_hatches_and_four_credits_differ_in_black)
{
  static const lzd_credit_state states[] = {LZD_CREDIT_SERVED, LZD_CREDIT_OPEN,
                                            LZD_CREDIT_NOT_SERVED, LZD_CREDIT_TO_SERVE};
  lzd_look look = look_of(LZD_PRINT);
  cairo_surface_t *s[4];
  for (int i = 0; i < 4; i++) {
    lzd_credit_span span = {0, 100, states[i]};
    s[i] = picture_new(60, 20);
    cairo_t *cr = cairo_create(s[i]);
    lzd_credit_bar(cr, &look, (lzd_rect){5, 5, 50, 10}, (lzd_window){0, 100}, &span, 1);
    cairo_destroy(cr);
    for (int k = 0; k < i; k++)
      ck_assert_int_gt(differing(s[i], s[k]), 50);
  }
  for (int i = 0; i < 4; i++)
    cairo_surface_destroy(s[i]);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("pixels");
  TCase *tc = tcase_create("pictures");
  tcase_set_timeout(tc, 100);
  tcase_add_test(tc, two_drawings_of_one_chart_are_equal);
  tcase_add_test(tc, each_part_shows_where_it_was_not);
  tcase_add_test(tc, the_cursor_alone_over_the_rest_is_the_whole);
  tcase_add_test(tc, a_spike_among_a_million_is_drawn_in_its_place);
  tcase_add_test(tc, a_mirrored_chart_has_its_ink_on_the_other_side);
  tcase_add_test(tc, all_marks_differ_from_each_other_in_black);
  tcase_add_test(tc, the_three_hatches_and_four_credits_differ_in_black);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
