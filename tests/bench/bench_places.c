// SPDX-License-Identifier: GPL-3.0-or-later
// How long it takes from the key that asks for a place to its painted frame, on a station of many
// years: first visits, then medians of later ones; and what an entry costs while each place is the
// one that is seen. Works on the file it is given, and makes entries in it: give it a copy.
// Run with GSK_RENDERER=cairo for software rendering. usage: bench-places FILE.lazaret MINUTE
// MINUTE, after 1970 in UTC, is when it is opened: the end of its record.
#include <stdio.h>
#include <stdlib.h>

#include <lz_chart_data.h>
#include <lz_command.h>

#include "bench_clock.h"
#include "lz_application.h"
#include "lz_ledger_look.h"
#include "lz_place.h"
#include "lz_window.h"

#define TIMES   15
#define ENTRIES 7

static const char *const places[] = {"round", "water", "lots", "plan", "station"};

static void
on_painted(GdkFrameClock *clock, guint *frames)
{
  ++*frames;
}

// Until the frame that shows what was just done is painted.
static void
paint(LzWindow *window)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock(GTK_WIDGET(window));
  guint frames = 0;
  gulong painted = g_signal_connect(clock, "after-paint", G_CALLBACK(on_painted), &frames);
  gtk_widget_queue_draw(GTK_WIDGET(window));
  while (frames == 0)
    g_main_context_iteration(NULL, TRUE);
  g_signal_handler_disconnect(clock, painted);
  gdk_display_sync(gtk_widget_get_display(GTK_WIDGET(window)));
}

static double
go(LzWindow *window, const char *place, double *wall)
{
  const double cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID), begun = ms_of(CLOCK_MONOTONIC);
  lz_window_go(window, place);
  paint(window);
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
}

static void
on_looked(gpointer heard)
{
  *(gboolean *)heard = TRUE;
}

// The whole ledger for words that nobody wrote, and the longest that a key would wait meanwhile.
static void
look_through(LzWindow *window, LzDesk *desk)
{
  double wall, cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID), begun = ms_of(CLOCK_MONOTONIC), worst = 0;
  gtk_widget_activate_action(GTK_WIDGET(window), "win.ledger", NULL);
  paint(window);
  printf("ledger   first %7.1f ms of the processor, %7.1f ms\n",
         ms_of(CLOCK_PROCESS_CPUTIME_ID) - cpu, ms_of(CLOCK_MONOTONIC) - begun);
  gboolean heard = FALSE;
  LzLedgerLook *look = lz_ledger_look_new(desk, on_looked, &heard);
  const LzLedgerFilter filter = {.words = "words that nobody wrote"};
  cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID);
  begun = wall = ms_of(CLOCK_MONOTONIC);
  lz_ledger_look_for(look, &filter, NULL);
  for (gboolean ended = FALSE; !ended;) {
    g_autofree char *words = lz_ledger_look_words(look);
    ended = !g_str_has_prefix(words, "Looking");
    const double now = ms_of(CLOCK_MONOTONIC);
    worst = MAX(worst, now - wall);
    wall = now;
    if (!ended)
      g_main_context_iteration(NULL, FALSE);
  }
  printf("search   %7.1f ms of the processor, %7.1f ms; longest turn %.1f ms\n",
         ms_of(CLOCK_PROCESS_CPUTIME_ID) - cpu, wall - begun, worst);
  lz_ledger_look_free(look);
}

static int
by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

// A reading of the water that is shown, and of its neighbours in turn: until it is recorded and
// planned with, until the places have heard of it, and until the frame is painted.
static void
enter_while(LzWindow *window, LzDesk *desk, const char *place)
{
  double desks[ENTRIES], places_ms[ENTRIES], frames[ENTRIES], wall[ENTRIES], unused;
  go(window, place, &unused);
  rest(0.5);
  for (guint n = 0; n < ENTRIES; n++) {
    g_autoptr(GError) error = NULL;
    g_autoptr(LzCommand) command =
        lz_command_build("reading", "system", lz_desk_name(desk, "system", n % 3), "analyte",
                         "temperature", "value", n % 2 ? "25.3" : "25.4", NULL);
    const double cpu = ms_of(CLOCK_PROCESS_CPUTIME_ID), begun = ms_of(CLOCK_MONOTONIC);
    if (!lz_desk_submit_one(desk, command, &error)) {
      printf("%s\n", error->message);
      return;
    }
    const double told = ms_of(CLOCK_PROCESS_CPUTIME_ID);
    paint(window);
    frames[n] = ms_of(CLOCK_PROCESS_CPUTIME_ID) - told;
    wall[n] = ms_of(CLOCK_MONOTONIC) - begun;
    const double again = ms_of(CLOCK_PROCESS_CPUTIME_ID);
    g_signal_emit_by_name(desk, "changed"); // what the places alone make of it
    places_ms[n] = ms_of(CLOCK_PROCESS_CPUTIME_ID) - again;
    desks[n] = told - cpu;
    rest(0.3);
  }
  qsort(desks, ENTRIES, sizeof desks[0], by_value);
  qsort(places_ms, ENTRIES, sizeof places_ms[0], by_value);
  qsort(frames, ENTRIES, sizeof frames[0], by_value);
  qsort(wall, ENTRIES, sizeof wall[0], by_value);
  printf("%-8s entry %7.1f ms until it is told, %7.1f of them in the window; frame %7.1f; %7.1f ms "
         "(worst %.1f)\n",
         place, desks[ENTRIES / 2], places_ms[ENTRIES / 2], frames[ENTRIES / 2], wall[ENTRIES / 2],
         wall[ENTRIES - 1]);
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
  lz_desk_set_actor(desk, lz_desk_id(desk, "person", 0));
  for (guint i = 0; i < G_N_ELEMENTS(places); i++)
    enter_while(window, desk, places[i]);
  look_through(window, desk);
  look_back(window, desk);
  gtk_window_destroy(GTK_WINDOW(window));
  return 0;
}
