// SPDX-License-Identifier: GPL-3.0-or-later
// How long it takes from the key that asks for a place to its painted frame, on a station of many
// years: first visits, then medians of later ones. Works on the file it is given: give it a copy.
// Run with GSK_RENDERER=cairo for software rendering. usage: bench-places FILE.lazaret MINUTE
// MINUTE, after 1970 in UTC, is when it is opened: the end of its record.
#include <stdio.h>
#include <stdlib.h>

#include <lz_chart_data.h>

#include "bench_clock.h"
#include "lz_application.h"
#include "lz_place.h"
#include "lz_window.h"

#define TIMES 15

static const char *const places[] = {"round", "water", "lots", "plan", "station"};

static void
on_painted(GdkFrameClock *clock, guint *frames)
{
  ++*frames;
}

// Until the frame that shows it, and those that this one still asks for, are painted.
static double
go(LzWindow *window, const char *place, double *wall)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock(GTK_WIDGET(window));
  guint frames = 0;
  const double cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID), begun = ms_of(CLOCK_MONOTONIC);
  gulong painted = g_signal_connect(clock, "after-paint", G_CALLBACK(on_painted), &frames);
  lz_window_go(window, place);
  gtk_widget_queue_draw(GTK_WIDGET(window));
  while (frames == 0)
    g_main_context_iteration(NULL, TRUE);
  g_signal_handler_disconnect(clock, painted);
  gdk_display_sync(gtk_widget_get_display(GTK_WIDGET(window)));
  *wall = ms_of(CLOCK_MONOTONIC) - begun;
  return ms_of(CLOCK_PROCESS_CPUTIME_ID) - cpu;
}

static void
rest(double seconds)
{
  const double until = ms_of(CLOCK_MONOTONIC) + seconds * 1e3;
  while (ms_of(CLOCK_MONOTONIC) < until)
    if (!g_main_context_iteration(NULL, FALSE))
      g_usleep(2000);
}

// A lot of the first days, and a chart of all its water's years.
static void
look_back(LzWindow *window, LzDesk *desk)
{
  const lzq_snapshot *s = lz_desk_snapshot(desk);
  double wall, cpu = go(window, "lots", &wall);
  if (s->n_lots == 0)
    return;
  rest(0.5);
  cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID);
  lz_place_show(lz_window_find_place(window, "lots"), lz_desk_name(desk, "lot", 0));
  printf("the oldest lot %7.1f ms of the processor\n", ms_of(CLOCK_PROCESS_CPUTIME_ID) - cpu);
  cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID);
  lz_chart_data_free(lz_chart_data_new(desk, 0, LZQ_COPPER, 0, lz_desk_now(desk)));
  printf("ten years of a water %7.1f ms of the processor\n", ms_of(CLOCK_PROCESS_CPUTIME_ID) - cpu);
  cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID);
  g_signal_emit_by_name(desk, "changed");
  printf("all places after an entry %7.1f ms of the processor\n",
         ms_of(CLOCK_PROCESS_CPUTIME_ID) - cpu);
}

static int
by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static void
visit_all(LzWindow *window)
{
  double cpu[G_N_ELEMENTS(places)][TIMES], wall[G_N_ELEMENTS(places)][TIMES];
  for (guint n = 0; n < TIMES; n++)
    for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
      cpu[i][n] = go(window, places[i], &wall[i][n]);
      rest(0.3); // a person reads it
      if (n == 0)
        printf("%-8s first %7.1f ms of the processor, %7.1f ms\n", places[i], cpu[i][0],
               wall[i][0]);
    }
  for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
    qsort(cpu[i] + 1, TIMES - 1, sizeof cpu[i][0], by_value);
    qsort(wall[i] + 1, TIMES - 1, sizeof wall[i][0], by_value);
    printf("%-8s again %7.1f ms of the processor (worst %.1f), %7.1f ms (worst %.1f)\n", places[i],
           cpu[i][TIMES / 2], cpu[i][TIMES - 1], wall[i][TIMES / 2], wall[i][TIMES - 1]);
  }
}

int
main(int argc, char **argv)
{
  g_autoptr(GError) error = NULL;
  if (argc != 3) {
    fprintf(stderr, "usage: bench-places FILE.lazaret MINUTE\n");
    return 2;
  }
  setvbuf(stdout, NULL, _IOLBF, 0); // of what takes minutes, as much as it got to
  if (!gtk_init_check())
    return 77;
  g_autoptr(GtkApplication) application = lz_application_new();
  g_application_set_flags(G_APPLICATION(application), G_APPLICATION_NON_UNIQUE);
  g_autoptr(LzClock) clock = lz_clock_new_fixed(g_ascii_strtoll(argv[2], NULL, 10));
  LzDeskOptions how = {.clock = clock, .pc_folder = "/tmp/bench-places-pc"};
  double t = ms_of(CLOCK_PROCESS_CPUTIME_ID);
  LzDesk *desk = g_application_register(G_APPLICATION(application), NULL, &error)
                     ? lz_desk_open(argv[1], &how, &error)
                     : NULL;
  if (!desk) {
    fprintf(stderr, "%s\n", error->message);
    return 1;
  }
  printf("opened in %.1f s of the processor\n", (ms_of(CLOCK_PROCESS_CPUTIME_ID) - t) / 1e3);
  LzWindow *window = LZ_WINDOW(lz_window_new(application));
  gtk_window_set_default_size(GTK_WINDOW(window), 1366, 728);
  lz_window_set_desk(window, desk);
  gtk_window_present(GTK_WINDOW(window));
  while (!gtk_widget_get_mapped(GTK_WIDGET(window)))
    g_main_context_iteration(NULL, TRUE);
  rest(2);
  visit_all(window);
  look_back(window, desk);
  gtk_window_destroy(GTK_WINDOW(window));
  return 0;
}
