// SPDX-License-Identifier: GPL-3.0-or-later
// What a large station costs: opening it with plan and rows, making both anew with nothing new and
// after a reading, and memory at each. Works on the file it is given (the reading stays in it):
// give it a copy. usage: bench-years FILE.lazaret
#include <lz_desk.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double
processor_s(void)
{
  struct timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static long
memory_mb(const char *name)
{
  char line[256];
  long kb = 0;
  FILE *status = fopen("/proc/self/status", "r");
  while (status && fgets(line, sizeof line, status))
    if (strncmp(line, name, strlen(name)) == 0)
      kb = strtol(line + strlen(name) + 1, NULL, 10);
  if (status)
    fclose(status);
  return kb / 1024;
}

static void
say(const char *what, double since)
{
  printf("%-34s %8.3f s of the processor, %5ld MB (most %ld)\n", what, processor_s() - since,
         memory_mb("VmRSS:"), memory_mb("VmHWM:"));
}

static LzDesk *
open_at(const char *path, LzClock *clock)
{
  g_autoptr(GError) error = NULL;
  LzDeskOptions how = {.clock = clock, .pc_folder = "/tmp/bench-years-pc"};
  LzDesk *desk = lz_desk_open(path, &how, &error);
  if (!desk) {
    fprintf(stderr, "%s\n", error->message);
    exit(1);
  }
  return desk;
}

static void
a_reading(LzDesk *desk)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) systems = lz_desk_entities(desk, "system");
  const char *name = lz_desk_name_of(desk, "system", g_array_index(systems, int64_t, 0));
  g_autoptr(LzCommand) reading =
      lz_command_build("reading", "system", name, "analyte", "copper", "value", "0.2", NULL);
  if (!lz_desk_submit_one(desk, reading, &error))
    fprintf(stderr, "%s\n", error->message);
}

int
main(int argc, char **argv)
{
  if (argc < 2) {
    fprintf(stderr, "usage: bench-years FILE.lazaret\n");
    return 2;
  }
  g_autoptr(LzClock) clock = lz_clock_new_fixed(0);
  double t = processor_s();
  g_autoptr(LzDesk) desk = open_at(argv[1], clock);
  say("opened, planned long before", t);
  const lzq_snapshot *s = lz_desk_snapshot(desk);
  lzq_minute last = 0;
  for (size_t i = 0; i < s->n_records; i++)
    last = MAX(last, s->records[i].at);
  lz_clock_set(clock, last + 30);
  t = processor_s();
  lz_desk_replan(desk);
  say("plan and rows of the last minute", t);
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  lz_desk_set_actor(desk, g_array_index(people, int64_t, 0));
  for (int i = 0; i < 5; i++) {
    lz_clock_set(clock, last + 31 + i);
    t = processor_s();
    lz_desk_replan(desk);
  }
  say("plan and rows a minute later", t);
  for (int i = 0; i < 2; i++) {
    t = processor_s();
    a_reading(desk);
    say(i ? "a second reading, plan and rows" : "a reading, plan and rows", t);
  }
  g_clear_object(&desk);
  t = processor_s();
  desk = open_at(argv[1], clock);
  say("opened, planned at that minute", t);
  return 0;
}
