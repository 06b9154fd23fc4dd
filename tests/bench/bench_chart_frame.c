// SPDX-License-Identifier: GPL-3.0-or-later
// The whole frame of the chart widget while a million readings are panned, against the frame of a
// bare window of the same size, in one run: from the frame clock's before-paint to after-paint with
// the display's answer awaited. Run with GSK_RENDERER=cairo for software rendering.
#include <glib/gstdio.h>
#include <lz_setup.h>
#include <math.h>
#include <stdio.h>

#include "bench_clock.h"
#include "lz_chart_model_private.h"
#include "lz_chart_private.h"

#define N      1000000
#define FRAMES 80
#define WIDTH  850
#define HEIGHT 430
#define NOW    ((lzq_minute)30076276) // Tue 9 March 2027

typedef struct {
  GtkWidget *window, *child;
  LzChart *chart; // NULL: bare
  double ms[FRAMES], cpu[FRAMES];
  int n;
  double begun, begun_cpu;
} Run;

static void
before(GdkFrameClock *clock, Run *run)
{
  run->begun = ms_of(CLOCK_MONOTONIC);
  run->begun_cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID);
}

static void
after(GdkFrameClock *clock, Run *run)
{
  gdk_display_sync(gtk_widget_get_display(run->window));
  if (run->n >= 0 && run->n < FRAMES) {
    run->ms[run->n] = ms_of(CLOCK_MONOTONIC) - run->begun;
    run->cpu[run->n] = ms_of(CLOCK_PROCESS_CPUTIME_ID) - run->begun_cpu;
  }
  run->n++;
}

static gboolean
on_tick(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Run *run = data;
  if (run->chart)
    lz_chart_pan(run->chart, 0.0005);
  else
    gtk_widget_queue_draw(run->child);
  return G_SOURCE_CONTINUE;
}

static void
paint_bare(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  cairo_set_source_rgb(cr, 1, 1, 1);
  cairo_paint(cr);
}

static int
by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

// The median frame in milliseconds; *cpu the median of this program's processor time.
static double
run_window(GtkWidget *child, LzChart *chart, double *cpu)
{
  static Run run;
  run = (Run){.window = gtk_window_new(), .child = child, .chart = chart, .n = -10};
  gtk_window_set_decorated(GTK_WINDOW(run.window), FALSE);
  gtk_window_set_default_size(GTK_WINDOW(run.window), WIDTH, HEIGHT);
  gtk_window_set_child(GTK_WINDOW(run.window), child);
  gtk_widget_add_tick_callback(child, on_tick, &run, NULL);
  gtk_window_present(GTK_WINDOW(run.window));
  while (!gtk_widget_get_mapped(run.window))
    g_main_context_iteration(NULL, TRUE);
  GdkFrameClock *clock = gtk_widget_get_frame_clock(run.window);
  g_signal_connect(clock, "before-paint", G_CALLBACK(before), &run);
  g_signal_connect(clock, "after-paint", G_CALLBACK(after), &run);
  while (run.n < FRAMES)
    g_main_context_iteration(NULL, TRUE);
  gtk_window_destroy(GTK_WINDOW(run.window));
  qsort(run.ms, FRAMES, sizeof run.ms[0], by_value);
  qsort(run.cpu, FRAMES, sizeof run.cpu[0], by_value);
  *cpu = run.cpu[FRAMES / 2];
  return run.ms[FRAMES / 2];
}

// Both panels get a million readings, five minutes apart, in place of the station's.
static void
fill_million(LzChartModel *model, lzd_minute from)
{
  for (guint p = 0; p < model->n_panels; p++) {
    GArray *readings = model->readings[p];
    g_array_set_size(readings, N);
    for (int i = 0; i < N; i++)
      g_array_index(readings, lzd_reading, i) =
          (lzd_reading){.minute = from + (lzd_minute)i * 5,
                        .value = 0.5 + 0.05 * sin(i * 1e-4) + 0.01 * sin(i * 7.7),
                        .mark = LZD_READ_DISC};
    g_array_index(readings, lzd_reading, N / 2).value = 0.95; // the spike
    const lzd_reading *first = (const lzd_reading *)readings->data;
    model->panels[p].readings = first;
    model->panels[p].n_readings = N;
    if (lzd_index_new(&model->index[p], first, N, NULL) != LZD_OK)
      exit(3);
    model->panels[p].index = model->index[p];
  }
}

static LzDesk *
make_station(const char *path, LzClock *clock)
{
  static const LzSetupSystem systems[] = {
      {.name = "Blue-1", .volume_l = 2400, .tanks = 4, .source_salinity = 34}};
  LzSetup setup = {.station = "Quay Street",
                   .zone = "Europe/Berlin",
                   .slots = "07:30 17:00",
                   .person = "Mira Kessel",
                   .initials = "MK",
                   .systems = systems,
                   .n_systems = G_N_ELEMENTS(systems)};
  LzDeskOptions options = {.clock = clock};
  g_autoptr(GError) error = NULL;
  LzDesk *desk = lz_setup_new_station(path, &setup, &options, &error);
  if (!desk)
    g_error("%s", error->message);
  return desk;
}

int
main(void)
{
  double bare_cpu, panned_cpu, bare, panned;
  if (!gtk_init_check())
    return 77;
  g_autofree char *folder = g_dir_make_tmp("lazaret-bench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename(folder, "station.lazaret", NULL);
  LzClock *now = lz_clock_new_fixed(NOW);
  LzDesk *desk = make_station(path, now);
  GtkWidget *area = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), paint_bare, NULL, NULL);
  bare = run_window(area, NULL, &bare_cpu);
  lzd_window whole = {NOW - (lzd_minute)N * 5, NOW};
  LzChart *chart = LZ_CHART(lz_chart_new());
  LzChartModel *model = lz_chart_model_new(desk, 0, NOW - 10 * 1440, NOW, NULL);
  fill_million(model, whole.from);
  lz_chart_set_model(chart, model, whole, TRUE);
  lz_chart_zoom(chart, 0.9);
  panned = run_window(GTK_WIDGET(chart), chart, &panned_cpu);
  printf("frame of a bare window, %d x %d: median %.2f ms, %.2f ms of them our processor time\n",
         WIDTH, HEIGHT, bare, bare_cpu);
  printf("frame while panning 2 x %d readings: median %.2f ms, %.2f ms\n", N, panned, panned_cpu);
  printf("difference: %.2f ms, %.2f ms\n", panned - bare, panned_cpu - bare_cpu);
  lz_desk_close(desk);
  g_object_unref(desk);
  lz_clock_unref(now);
  g_unlink(path);
  g_rmdir(folder);
  return 0;
}
