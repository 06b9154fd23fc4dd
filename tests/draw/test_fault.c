// SPDX-License-Identifier: GPL-3.0-or-later
// Every allocation of the layer's own code fails once, one after the other: the answer is "no
// memory", nothing is lost and nothing breaks. Pango and cairo keep the real allocator.
#include <unistd.h>

#include "picture.h"
#include "scene.h"

void *__real_malloc(size_t size);
void *__real_calloc(size_t n, size_t size);
void *__real_realloc(void *old, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t n, size_t size);
void *__wrap_realloc(void *old, size_t size);

static long left = -1; // allocations until one fails; below 0: never

static bool
fails(void)
{
  return left >= 0 && left-- == 0;
}

void *
__wrap_malloc(size_t size)
{
  return fails() ? NULL : __real_malloc(size);
}

void *
__wrap_calloc(size_t n, size_t size)
{
  return fails() ? NULL : __real_calloc(n, size);
}

void *
__wrap_realloc(void *old, size_t size)
{
  return fails() ? NULL : __real_realloc(old, size);
}

// Fails the first, the second ... allocation of act until it gets through; answers how many failed.
static int
fail_each(lzd_status (*act)(void))
{
  for (int n = 0; n < 5000; n++) {
    left = n;
    lzd_status status = act();
    bool through = left >= 0;
    left = -1;
    if (through) {
      ck_assert_int_eq(status, LZD_OK);
      return n;
    }
    ck_assert_int_eq(status, LZD_NO_MEMORY);
  }
  ck_abort_msg("never got through");
  return 0;
}

static lzd_status
lay_sheet(void)
{
  lzd_sheet *sheet;
  size_t pages;
  lzd_status status = scene_sheet(&sheet, LZD_A4, NULL);
  if (status == LZD_OK)
    status = lzd_sheet_pages(sheet, &pages, NULL);
  lzd_sheet_free(sheet);
  return status;
}

START_TEST(a_sheet_survives_each_failure)
{
  ck_assert_int_gt(fail_each(lay_sheet), 100);
}
END_TEST

static cairo_t *cr;

static lzd_status
draw_chart(void)
{
  static scene s;
  scene_fill(&s);
  lzd_look look = look_of(LZD_LIGHT);
  return lzd_chart_draw(cr, &s.chart, &look, 600, 400, NULL);
}

static lzd_status
draw_ribbon(void)
{
  lzd_ribbon one, many;
  scene_ribbon(&one, &many);
  lzd_look look = look_of(LZD_LIGHT);
  return lzd_ribbon_draw(cr, &many, &look, 600, 400, NULL);
}

static lzd_status
build_index(void)
{
  lzd_reading r[300] = {{0}};
  lzd_index *index;
  lzd_status status = lzd_index_new(&index, r, 300, NULL);
  if ((index == NULL) != (status != LZD_OK))
    abort(); // Check itself allocates, so it cannot be asked here
  lzd_index_free(index);
  return status;
}

START_TEST(drawings_survive_each_failure)
{
  cairo_surface_t *s = picture_new(600, 400);
  cr = cairo_create(s);
  ck_assert_int_gt(fail_each(draw_chart), 3);
  ck_assert_int_ge(fail_each(draw_ribbon), 2);
  ck_assert_int_eq(fail_each(build_index), 1);
  cairo_destroy(cr);
  cairo_surface_destroy(s);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("fault");
  TCase *tc = tcase_create("no memory");
  tcase_set_timeout(tc, 100);
  tcase_add_test(tc, a_sheet_survives_each_failure);
  tcase_add_test(tc, drawings_survive_each_failure);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
