// SPDX-License-Identifier: GPL-3.0-or-later
// Times one draw call of a chart of a million readings on an 850x430 picture while it is panned,
// beside a plain polyline through the same readings. A program to run, not a test.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "scene.h"

#define N      1000000
#define ROUNDS 60

static double
ms_now(void)
{
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t); // what others do on the PC is not our time
  return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static int
by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double
median(double *ms)
{
  qsort(ms, ROUNDS, sizeof *ms, by_value);
  return ms[ROUNDS / 2];
}

static lzd_reading *
make_readings(void)
{
  lzd_reading *readings = calloc(N, sizeof *readings);
  for (int i = 0; readings && i < N; i++)
    readings[i] = (lzd_reading){.minute = i * 5,
                                .mark = LZD_READ_DISC,
                                .value = 0.5 + 0.05 * sin(i * 1e-4) + 0.01 * sin(i * 7.7)};
  if (readings)
    readings[N / 2].value = 0.95; // the spike
  return readings;
}

static double
polyline(cairo_t *cr, const lzd_reading *readings)
{
  double start = ms_now();
  for (int i = 0; i < N; i++)
    cairo_line_to(cr, i * 850.0 / N, 430 - readings[i].value * 400);
  cairo_stroke(cr);
  return ms_now() - start;
}

int
main(void)
{
  static scene s;
  scene_fill(&s);
  lzd_reading *readings = make_readings();
  lzd_index *index = NULL;
  double start = ms_now(), ms[ROUNDS], scenes[ROUNDS];
  if (!readings || lzd_index_new(&index, readings, N, NULL) != LZD_OK)
    return 3;
  double built = ms_now() - start;
  lzd_look look = {.palette = lzd_palette_get(LZD_LIGHT)};
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 850, 430);
  cairo_t *cr = cairo_create(surface);
  for (int i = 0; i < ROUNDS; i++) {
    start = ms_now();
    lzd_chart_draw(cr, &s.chart, &look, 850, 430, NULL);
    scenes[i] = ms_now() - start;
  }
  lzd_minute end = (lzd_minute)N * 5;
  lzd_time_tick ticks[10];
  for (int i = 0; i < 10; i++)
    ticks[i] = (lzd_time_tick){i * end / 10, "2031", false};
  lzd_band band = {0, end, 0.45, 0.60, LZD_EDGE_WORKS, LZD_EDGE_PLAN, "0.45", "0.60"};
  s.panel[0] = (lzd_panel){.title = "Copper, mg/L",
                           .low = NAN,
                           .high = NAN,
                           .bands = &band,
                           .n_bands = 1,
                           .readings = readings,
                           .n_readings = N,
                           .index = index};
  s.panel[1].readings = readings, s.panel[1].n_readings = N, s.panel[1].index = index;
  s.chart.ticks = ticks, s.chart.n_ticks = 10, s.chart.cursor.minute = LZD_NEVER;
  for (int i = 0; i < ROUNDS; i++) {
    s.chart.window = (lzd_window){i * 2000, end - 200000 + i * 2000};
    start = ms_now();
    lzd_chart_draw(cr, &s.chart, &look, 850, 430, NULL);
    ms[i] = ms_now() - start;
  }
  double million = median(ms), plain = polyline(cr, readings);
  printf("readings %d, index built once in %.2f ms\n", N, built);
  printf("draw call while panning, two panels of all of them: median %.2f ms (worst %.2f)\n",
         million, ms[ROUNDS - 1]);
  printf("the ordinary chart of eleven days: median %.2f ms\n", median(scenes));
  printf("a plain polyline through one panel's readings: %.1f ms, %.0f times as long\n", plain,
         plain / million);
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
  lzd_index_free(index);
  free(readings);
  return 0;
}
