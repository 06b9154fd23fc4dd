// SPDX-License-Identifier: GPL-3.0-or-later
// Rows within a lane, folding, the taper, and what is under the pointer.
#include "picture.h"
#include "scene.h"

#define W 900
#define H 540

static size_t
places_of(const lzd_ribbon *r, lzd_leg_place *out, size_t room)
{
  lzd_look look = look_of(LZD_LIGHT);
  ck_assert_int_eq(lzd_ribbon_layout(out, room, r, &look, W, H, NULL), LZD_OK);
  size_t n = 0;
  for (size_t w = 0; w < r->n_ways; w++)
    n += r->ways[w].n_legs;
  return n;
}

START_TEST(legs_lie_in_their_lanes_and_do_not_overlap_unless_folded)
{
  lzd_ribbon one, many;
  scene_ribbon(&one, &many);
  lzd_look look = look_of(LZD_LIGHT);
  lzd_leg_place p[64];
  size_t n = places_of(&many, p, 64);
  for (size_t i = 0; i < n; i++) {
    size_t lane = many.ways[p[i].way].legs[p[i].leg].lane;
    lzd_rect box = lzd_ribbon_lane_rect(&many, &look, W, H, lane);
    ck_assert_double_ge(p[i].rect.y, box.y);
    ck_assert_double_le(p[i].rect.y + p[i].rect.h, box.y + box.h);
    ck_assert_uint_lt(p[i].row, LZD_ROWS_PER_LANE);
    for (size_t k = 0; k < i; k++) {
      bool meet = p[i].rect.y == p[k].rect.y && p[i].rect.x < p[k].rect.x + p[k].rect.w - 0.01 &&
                  p[k].rect.x < p[i].rect.x + p[i].rect.w - 0.01;
      ck_assert(!meet || p[i].folded || p[k].folded || p[i].way == p[k].way);
    }
  }
}
END_TEST

START_TEST(five_lots_in_one_lane_fold_into_the_third_row)
{
  lzd_leg legs[5];
  lzd_way ways[5];
  for (int i = 0; i < 5; i++) {
    legs[i] = (lzd_leg){0, i * 100, 5000, NULL};
    ways[i] = (lzd_way){
        .legs = &legs[i], .n_legs = 1, .early = LZD_NEVER, .likely = LZD_NEVER, .late = LZD_NEVER};
  }
  lzd_lane lane = {"Blue-1", 0, NULL};
  lzd_ribbon r = {.window = {0, 10000},
                  .now = LZD_NEVER,
                  .lanes = &lane,
                  .n_lanes = 1,
                  .ways = ways,
                  .n_ways = 5};
  lzd_leg_place p[5];
  places_of(&r, p, 5);
  for (size_t i = 0; i < 5; i++) {
    ck_assert_uint_eq(p[i].row, i < 3 ? i : 2);
    ck_assert(p[i].folded == (i >= 3));
  }
  legs[4].from = 5000, legs[4].to = 6000; // after the others: room in the first row again
  places_of(&r, p, 5);
  ck_assert_uint_eq(p[4].row, 0);
  ck_assert(!p[4].folded);
}
END_TEST

START_TEST(parts_of_one_stay_keep_their_row)
{
  lzd_ribbon one, many;
  scene_ribbon(&one, &many);
  lzd_leg_place p[16];
  places_of(&one, p, 16);
  ck_assert_double_eq(p[1].rect.y, p[2].rect.y); // rise, hold so far, hold to come
  ck_assert_double_eq(p[2].rect.y, p[3].rect.y);
  ck_assert_double_gt(p[4].rect.y, p[3].rect.y);
}
END_TEST

START_TEST(the_pointer_finds_the_leg_that_is_there)
{
  lzd_ribbon one, many;
  scene_ribbon(&one, &many);
  lzd_look look = look_of(LZD_LIGHT);
  lzd_leg_place p[16];
  size_t n = places_of(&one, p, 16), way, leg;
  for (size_t i = 0; i < n; i++) {
    ck_assert(lzd_ribbon_hit(&one, &look, W, H, p[i].rect.x + p[i].rect.w / 2, p[i].rect.y + 2,
                             &way, &leg));
    ck_assert_uint_eq(leg, i);
  }
  ck_assert(!lzd_ribbon_hit(&one, &look, W, H, 2, 2, &way, &leg));
}
END_TEST

// Ink of the planned ribbon in a column of pixels.
static int
tall_at(cairo_surface_t *s, int x, uint32_t paper, lzd_rect bar)
{
  int n = 0;
  for (int y = (int)bar.y + 1; y < bar.y + bar.h - 1; y++)
    n += pixel_at(s, x, y) != paper;
  return n;
}

START_TEST(the_release_tapers_from_its_shoulder_to_its_point)
{
  lzd_leg leg = {0, 0, 5000, NULL};
  lzd_way way = {.legs = &leg, .n_legs = 1, .early = 5000, .likely = 6500, .late = 8000};
  lzd_lane lane = {"Coral-3", 0, NULL};
  lzd_ribbon r = {.window = {0, 10000},
                  .now = LZD_NEVER,
                  .lanes = &lane,
                  .n_lanes = 1,
                  .ways = &way,
                  .n_ways = 1};
  lzd_look look = look_of(LZD_LIGHT);
  lzd_leg_place p[1];
  places_of(&r, p, 1);
  cairo_surface_t *s = picture_new(W, H);
  cairo_t *cr = cairo_create(s);
  ck_assert_int_eq(lzd_ribbon_draw(cr, &r, &look, W, H, NULL), LZD_OK);
  cairo_destroy(cr);
  lzd_scale t = lzd_ribbon_time(&r, &look, W);
  int full = tall_at(s, (int)lzd_scale_at(&t, 4000), 0xFFFFFF, p[0].rect);
  int half = tall_at(s, (int)lzd_scale_at(&t, 6500), 0xFFFFFF, p[0].rect);
  int none = tall_at(s, (int)lzd_scale_at(&t, 9000), 0xFFFFFF, p[0].rect);
  ck_assert_int_gt(full, half);
  ck_assert_int_gt(half, none);
  ck_assert_int_eq(none, 0);
  cairo_surface_destroy(s);
}
END_TEST

// One lane alone, as high as it asks for: the words of the release neither cover the times above
// nor are cut off below, from left to right and mirrored.
START_TEST(the_release_of_a_single_lane_has_room_for_its_words)
{
  lzd_leg leg = {0, 0, 5000, NULL};
  lzd_way way = {.legs = &leg,
                 .n_legs = 1,
                 .early = 5000,
                 .likely = 6500,
                 .late = 8000,
                 .release_title = "Release Thu 1 April",
                 .release_range = "31 March to 4 April"};
  lzd_lane lane = {"Coral-3", 0, NULL};
  lzd_ribbon r = {.window = {0, 10000},
                  .now = LZD_NEVER,
                  .lanes = &lane,
                  .n_lanes = 1,
                  .ways = &way,
                  .n_ways = 1};
  lzd_look look = look_of(LZD_LIGHT);
  look.mirrored = _i;
  int height = (int)lzd_ribbon_natural_height(&r, &look), ink[2], head[2], below[2];
  for (int worded = 0; worded < 2; worded++) {
    cairo_surface_t *s = picture_new(W, height + 80);
    cairo_t *cr = cairo_create(s);
    ck_assert_int_eq(lzd_ribbon_draw(cr, &r, &look, W, height, NULL), LZD_OK);
    cairo_destroy(cr);
    uint32_t text = look.palette->rgb[LZD_TEXT];
    ink[worded] = count_colour(s, text, 0, 0, W, height);
    head[worded] = W * 30 - count_colour(s, 0xFFFFFF, 0, 0, W, 30);
    below[worded] = W * 80 - count_colour(s, 0xFFFFFF, 0, height, W, height + 80);
    cairo_surface_destroy(s);
    way.release_title = way.release_range = " "; // the same place, without words
  }
  ck_assert_int_gt(ink[0], ink[1] + 300);
  ck_assert_int_eq(head[0], head[1]);
  ck_assert_int_eq(below[0], 0);
}
END_TEST

// A stay that has just begun and goes on for weeks: its name stands where there is room for it.
START_TEST(a_name_stands_in_the_roomiest_part_of_its_bar)
{
  lzd_leg legs[] = {{0, 0, 100, NULL}, {0, 100, 9000, NULL}}, other = {1, 0, 9000, NULL};
  lzd_way ways[2] = {{.name = "0412, 30", .legs = legs, .n_legs = 2},
                     {.name = "0413, 12", .legs = &other, .n_legs = 1}};
  lzd_lane lanes[] = {{"Blue-1", 0, NULL}, {"Blue-2", 0, NULL}};
  lzd_ribbon r = {
      .window = {0, 10000}, .now = 90, .lanes = lanes, .n_lanes = 2, .ways = ways, .n_ways = 2};
  for (int w = 0; w < 2; w++)
    ways[w].early = ways[w].likely = ways[w].late = LZD_NEVER;
  lzd_look look = look_of(LZD_LIGHT);
  cairo_surface_t *s[2];
  for (int named = 0; named < 2; named++) {
    ways[0].name = named ? "0412, 30" : NULL;
    s[named] = picture_new(W, H);
    cairo_t *cr = cairo_create(s[named]);
    ck_assert_int_eq(lzd_ribbon_draw(cr, &r, &look, W, H, NULL), LZD_OK);
    cairo_destroy(cr);
  }
  ck_assert_int_gt(differing(s[0], s[1]), 100); // at full size, in the second leg
  cairo_surface_destroy(s[0]);
  cairo_surface_destroy(s[1]);
}
END_TEST

START_TEST(past_planned_and_what_if_differ_in_black)
{
  lzd_leg leg = {0, 1000, 9000, NULL};
  lzd_way way = {
      .legs = &leg, .n_legs = 1, .early = LZD_NEVER, .likely = LZD_NEVER, .late = LZD_NEVER};
  lzd_lane lane = {"Coral-3", 0, NULL};
  lzd_ribbon r = {
      .window = {0, 10000}, .now = 5000, .lanes = &lane, .n_lanes = 1, .ways = &way, .n_ways = 1};
  lzd_look look = look_of(LZD_PRINT);
  lzd_leg_place p[1];
  places_of(&r, p, 1);
  int black[2][2];
  for (int what_if = 0; what_if <= 1; what_if++) {
    way.kind = what_if ? LZD_WAY_WHAT_IF : LZD_WAY_PLAN;
    cairo_surface_t *s = picture_new(W, H);
    cairo_t *cr = cairo_create(s);
    ck_assert_int_eq(lzd_ribbon_draw(cr, &r, &look, W, H, NULL), LZD_OK);
    cairo_destroy(cr);
    int x0 = (int)p[0].rect.x + 4, mid = (int)(p[0].rect.x + p[0].rect.w / 2), x1 = mid * 2 - x0;
    int y0 = (int)p[0].rect.y + 3, y1 = (int)(p[0].rect.y + p[0].rect.h) - 3;
    black[what_if][0] =
        count_colour(s, 0, x0, y0, mid - 4, y1) * 100 / ((mid - 4 - x0) * (y1 - y0));
    black[what_if][1] =
        100 - count_colour(s, 0xFFFFFF, mid + 4, y0, x1, y1) * 100 / ((x1 - mid - 4) * (y1 - y0));
    cairo_surface_destroy(s);
  }
  ck_assert_int_eq(black[0][0], 100); // past: solid
  ck_assert_int_eq(black[0][1], 0);   // planned: outline only
  ck_assert_int_gt(black[1][1], 20);  // what-if: hatched
}
END_TEST

START_TEST(a_bad_ribbon_is_refused_with_its_place)
{
  lzd_leg legs[2] = {{0, 10, 20, NULL}, {7, 20, 30, NULL}};
  lzd_way way = {.legs = legs, .n_legs = 2, .early = 30, .likely = 31, .late = 32};
  lzd_lane lane = {"Dock-1", 0, NULL};
  lzd_ribbon r = {.window = {0, 100},
                  .now = LZD_NEVER,
                  .lanes = &lane,
                  .n_lanes = 1,
                  .ways = &way,
                  .n_ways = 1};
  lzd_look look = look_of(LZD_LIGHT);
  lzd_leg_place p[2];
  lzd_fault fault = {0};
  ck_assert_int_eq(lzd_ribbon_layout(p, 2, &r, &look, W, H, &fault), LZD_BAD_INPUT);
  ck_assert_str_eq(fault.where, "leg");
  ck_assert_uint_eq(fault.index, 1);
  ck_assert_str_eq(fault.field, "lane");
  legs[1].lane = 0;
  ck_assert_int_eq(lzd_ribbon_layout(p, 1, &r, &look, W, H, &fault), LZD_BAD_INPUT);
  ck_assert_str_eq(fault.field, "n_out");
  way.likely = 40;
  ck_assert_int_eq(lzd_ribbon_layout(p, 2, &r, &look, W, H, &fault), LZD_BAD_INPUT);
  ck_assert_str_eq(fault.field, "likely");
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("ribbon");
  TCase *tc = tcase_create("lanes");
  tcase_add_test(tc, legs_lie_in_their_lanes_and_do_not_overlap_unless_folded);
  tcase_add_test(tc, five_lots_in_one_lane_fold_into_the_third_row);
  tcase_add_test(tc, parts_of_one_stay_keep_their_row);
  tcase_add_test(tc, the_pointer_finds_the_leg_that_is_there);
  tcase_add_test(tc, the_release_tapers_from_its_shoulder_to_its_point);
  tcase_add_loop_test(tc, the_release_of_a_single_lane_has_room_for_its_words, 0, 2);
  tcase_add_test(tc, a_name_stands_in_the_roomiest_part_of_its_bar);
  tcase_add_test(tc, past_planned_and_what_if_differ_in_black);
  tcase_add_test(tc, a_bad_ribbon_is_refused_with_its_place);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
