// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of drawing share: a look, a picture to draw on, and its pixels.
#ifndef PICTURE_H
#define PICTURE_H

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "lz_draw.h"
#include "prng.h"

static inline lzd_look
look_of(lzd_theme theme)
{
  return (lzd_look){.palette = lzd_palette_get(theme)};
}

// A white picture. Caller destroys.
static inline cairo_surface_t *
picture_new(int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create(surface);
  cairo_set_source_rgb(cr, 1, 1, 1);
  cairo_paint(cr);
  cairo_destroy(cr);
  return surface;
}

static inline uint32_t
pixel_at(cairo_surface_t *surface, int x, int y)
{
  cairo_surface_flush(surface);
  unsigned char *row = cairo_image_surface_get_data(surface) +
                       (ptrdiff_t)y * cairo_image_surface_get_stride(surface);
  uint32_t value;
  memcpy(&value, row + (ptrdiff_t)x * 4, 4);
  return value & 0xFFFFFF;
}

// Pixels that differ between two pictures of one size.
static inline int
differing(cairo_surface_t *a, cairo_surface_t *b)
{
  int n = 0, w = cairo_image_surface_get_width(a), h = cairo_image_surface_get_height(a);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      n += pixel_at(a, x, y) != pixel_at(b, x, y);
  return n;
}

// Pixels of exactly this colour inside a box.
static inline int
count_colour(cairo_surface_t *a, uint32_t rgb, int x0, int y0, int x1, int y1)
{
  int n = 0;
  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      n += pixel_at(a, x, y) == rgb;
  return n;
}

static inline double
random_unit(lzt_prng *prng)
{
  return lzt_prng_real(prng, 0, 1);
}

// Seeded by LZ_SEED or a fixed number; printed, so that a failure can be repeated.
static inline lzt_prng
seed_of_run(void)
{
  const char *given = getenv("LZ_SEED");
  uint64_t seed = given ? strtoull(given, NULL, 10) : 20270309;
  printf("seed %llu\n", (unsigned long long)seed);
  lzt_prng prng;
  lzt_prng_seed(&prng, seed);
  return prng;
}

static inline int
run_suite(Suite *suite)
{
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

#endif
