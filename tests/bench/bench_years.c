// SPDX-License-Identifier: GPL-3.0-or-later
// What a large station costs: opening it with plan and rows, making both anew with nothing new and
// after a reading, describing a lot anew, and memory at each. Works on the file it is given (what
// is said stays in it): give it a copy. usage: bench-years FILE.lazaret [whole|open] `whole` keeps
// every entry in memory, `open` opens it, makes a plan and enters a reading in every water. Memory
// is what lies in it, the pages of mapped files with it, and what of that the process alone has.
#include <lz_desk.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

static guint leave_from;

typedef struct {
  double processor, clock; // s
} Moment;

static double
seconds(clockid_t id)
{
  struct timespec now;
  clock_gettime(id, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static Moment
moment(void)
{
  return (Moment){seconds(CLOCK_PROCESS_CPUTIME_ID), seconds(CLOCK_MONOTONIC)};
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
say(const char *what, Moment since)
{
  const Moment now = moment();
  printf("%-32s %7.3f s, %7.3f s of the processor, %5ld MB, %ld MB of them its own (most %ld)\n",
         what, now.clock - since.clock, now.processor - since.processor, memory_mb("VmRSS:"),
         memory_mb("RssAnon:"), memory_mb("VmHWM:"));
}

static LzDesk *
open_at(const char *path, LzClock *clock)
{
  g_autoptr(GError) error = NULL;
  LzDeskOptions how = {
      .clock = clock, .pc_folder = "/tmp/bench-years-pc", .leave_from = leave_from};
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

// One reading in every water, as a shift enters them, at once.
static void
a_round(LzDesk *desk)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) systems = lz_desk_entities(desk, "system");
  g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  for (guint i = 0; i < systems->len; i++) {
    const char *name = lz_desk_name_of(desk, "system", g_array_index(systems, int64_t, i));
    g_ptr_array_add(all, lz_command_build("reading", "system", name, "analyte", "copper", "value",
                                          "0.2", NULL));
  }
  if (!lz_desk_submit(desk, (LzCommand *const *)all->pdata, all->len, &error))
    fprintf(stderr, "%s\n", error->message);
}

// The newest lot is described again as it is, which applies the whole ledger anew.
static void
a_lot_anew(LzDesk *desk)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) lots = lz_desk_entities(desk, "lot");
  g_autoptr(LzCommand) lot = lz_command_new("lot");
  lz_command_set_corrects(lot, g_array_index(lots, int64_t, lots->len - 1), FALSE);
  lz_command_set_reason(lot, "a measurement");
  if (!lz_desk_submit_one(desk, lot, &error))
    fprintf(stderr, "%s\n", error->message);
}

// In a process of its own, so that it costs this one nothing.
static lzq_minute
last_minute(const char *path)
{
  lzq_minute last = 0;
  int ends[2];
  if (pipe(ends) != 0)
    return 0;
  const pid_t child = fork();
  if (child == 0) {
    LzDeskOptions how = {.pc_folder = "/tmp/bench-years-pc", .read_only = TRUE, .no_plan = TRUE};
    const Moment t = moment();
    LzDesk *desk = lz_desk_open(path, &how, NULL);
    say("opened without a plan", t);
    fflush(stdout);
    const lzq_snapshot *s = desk ? lz_desk_snapshot(desk) : NULL;
    for (size_t i = 0; s && i < s->n_records; i++)
      last = MAX(last, s->records[i].at);
    _exit(write(ends[1], &last, sizeof last) != sizeof last);
  }
  if (read(ends[0], &last, sizeof last) != sizeof last)
    last = 0;
  waitpid(child, NULL, 0);
  close(ends[0]);
  close(ends[1]);
  return last;
}

int
main(int argc, char **argv)
{
  if (argc < 2) {
    fprintf(stderr, "usage: bench-years FILE.lazaret [whole|open]\n");
    return 2;
  }
  leave_from = argc > 2 && strcmp(argv[2], "whole") == 0 ? G_MAXUINT : 0;
  const lzq_minute last = last_minute(argv[1]);
  g_autoptr(LzClock) clock = lz_clock_new_fixed(last + 30);
  Moment t = moment();
  g_autoptr(LzDesk) desk = open_at(argv[1], clock);
  say("opened, planned", t);
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  lz_desk_set_actor(desk, g_array_index(people, int64_t, 0));
  if (argc > 2 && strcmp(argv[2], "open") == 0) { // it is not closed, which would keep a copy
    t = moment();
    a_round(desk);
    say("a reading in every water", t);
    fflush(stdout);
    _exit(0);
  }
  for (int i = 0; i < 5; i++) {
    lz_clock_set(clock, last + 31 + i);
    t = moment();
    lz_desk_replan(desk);
  }
  say("plan and rows a minute later", t);
  for (int i = 0; i < 2; i++) {
    t = moment();
    a_reading(desk);
    say(i ? "a second reading, plan and rows" : "a reading, plan and rows", t);
  }
  t = moment();
  a_lot_anew(desk);
  say("a lot said anew, plan and rows", t);
  t = moment();
  g_clear_object(&desk);
  say("closed", t);
  t = moment();
  desk = open_at(argv[1], clock);
  say("opened, planned once more", t);
  return 0;
}
