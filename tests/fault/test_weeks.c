// SPDX-License-Identifier: GPL-3.0-or-later
// Weeks of use in one process: rounds, half-typed numbers, another program's entries, hourly
// back-ups, a weekly verification, a clock that passes. What is held in memory grows by its entries
// and by nothing else; no file handle, no journal and no file beside the station grows. Two weeks
// here; LAZARET_WEEKS=104 is the soak, which prints a line for each week.
#include "house.h"

#include <lz_backups.h>
#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define QUARTER            15
#define DAY                1440
#define MOST_BYTES_A_ENTRY 1500 // an entry, its record and its rows take about 600
#define MOST_IDLE_BYTES    (64 * 1024)
#define MOST_LOG_BYTES     (16 << 20) // lzs_open.c: journal_size_limit

static Lab lab;
static char *copies;

typedef struct {
  int64_t heap, rss_kb, log;
  int handles, beside; // files in the station's folder
  guint entries;
} Held;

static int
count(const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  int n = 0;
  while (dir && g_dir_read_name(dir))
    n++;
  return n;
}

static Held
look(void)
{
  Held h = {0};
  struct stat st;
  g_autofree char *log = g_strconcat(lab.path, "-wal", NULL), *statm = NULL;
  g_autoptr(GPtrArray) all = lz_desk_entries(lab.desk, NULL, 0, 0, NULL);
  h.entries = all->len;
  h.log = stat(log, &st) == 0 ? st.st_size : 0;
  h.handles = count("/proc/self/fd");
  h.beside = count(lab.folder);
  g_clear_pointer(&all, g_ptr_array_unref);
  malloc_trim(0);
  h.heap = (int64_t)mallinfo2().uordblks + (int64_t)mallinfo2().hblkhd;
  if (g_file_get_contents("/proc/self/statm", &statm, NULL, NULL))
    h.rss_kb = g_ascii_strtoll(strchr(statm, ' '), NULL, 10) * (sysconf(_SC_PAGESIZE) / 1024);
  return h;
}

// History as a shift writes it down; a typed number is a draft first.
static void
enter(const char *kind, const char *field, const char *text, const char *analyte)
{
  g_autoptr(LzCommand) c = lz_command_build(kind, field, text, NULL);
  g_autoptr(GError) error = NULL;
  char half[3] = {text[0], text[1], '\0'};
  if (g_str_equal(kind, "note") == FALSE)
    lz_command_set(c, "system", "Blue-1");
  if (analyte)
    lz_command_set(c, "analyte", analyte);
  lz_command_set_as_written(c, TRUE);
  ck_assert(lz_desk_set_draft(lab.desk, "round", half, NULL));
  ck_assert(lz_desk_set_draft(lab.desk, "round", text, NULL));
  ck_assert_msg(lz_desk_submit_one(lab.desk, c, &error), "%s: %s", kind,
                error ? error->message : "");
  ck_assert(lz_desk_set_draft(lab.desk, "round", NULL, NULL));
}

static void
somebody_else_writes(void)
{
  LzDeskOptions how = {.clock = lab.clock, .pc_folder = lab.folder};
  g_autoptr(LzDesk) other = lz_desk_open(lab.path, &how, NULL);
  g_autoptr(LzCommand) c = lz_command_build("note", "words", "seen from the door", NULL);
  lz_command_set_actor(c, "TA");
  ck_assert(other && lz_desk_submit_one(other, c, NULL));
}

static void
a_round(int64_t minute)
{
  static const char *const copper[] = {"0.190", "0.186", "0.192", "0.188"};
  enter("reading", "value", copper[minute / DAY % 4], "copper");
  enter("reading", "value", "34.8", "salinity");
  enter("reading", "value", "25.6", "temperature");
  enter("note", "words", "fed, looked at all", NULL);
  if (minute / DAY % 3 == 0)
    enter("topup", "litres", "12", NULL);
}

static void
back_up(int64_t minute)
{
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_backups_make(lab.path, copies, minute, NULL, &error), "%s",
                error ? error->message : "");
}

static void
a_week(int64_t *minute, gboolean used)
{
  LzVerify v;
  for (int64_t end = *minute + 7 * DAY; *minute < end; *minute += QUARTER) {
    int64_t of_day = *minute % DAY;
    lz_clock_set(lab.clock, *minute);
    lz_desk_replan(lab.desk);
    if (of_day % (6 * 60) == 0)
      back_up(*minute);
    if (of_day == 6 * 60 + 30)
      ck_assert(lz_desk_set_draft(lab.desk, "dose", "12,5", NULL));
    if (used && (of_day == 6 * 60 + 30 || of_day == 16 * 60))
      a_round(*minute);
    if (used && of_day == 12 * 60)
      somebody_else_writes();
  }
  ck_assert(lz_desk_verify(lab.desk, &v, NULL));
}

static void
say(const char *what, int week, Held h)
{
  printf("%-5s %3d: %6u entries, %8.2f MB of heap, %6.1f MB resident, %d handles, %d files, "
         "%6.0f kB of log\n",
         what, week, h.entries, (double)h.heap / 1e6, (double)h.rss_kb / 1e3, h.handles, h.beside,
         (double)h.log / 1e3);
}

START_TEST(nothing_grows_but_the_ledger)
{
  const char *asked = getenv("LAZARET_WEEKS");
  int weeks = asked ? atoi(asked) : 2;
  int64_t minute = lab_at("2027-03-02 00:00");
  a_week(&minute, TRUE); // what is made once is made
  Held first = look(), h = first;
  for (int week = 1; week <= weeks; week++) {
    a_week(&minute, TRUE);
    h = look();
    say("week", week, h);
    ck_assert_int_eq(h.handles, first.handles);
    ck_assert_int_eq(h.beside, first.beside);
    ck_assert_int_le(h.log, MOST_LOG_BYTES);
  }
  double each = (double)(h.heap - first.heap) / (h.entries - first.entries);
  printf("%.0f bytes an entry\n", each);
  ck_assert_double_le(each, MOST_BYTES_A_ENTRY);
  a_week(&minute, FALSE);
  Held before = look();
  a_week(&minute, FALSE);
  Held idle = look();
  say("idle", 1, idle);
  ck_assert_int_eq(idle.entries, before.entries);
  ck_assert_int_le(idle.heap - before.heap, MOST_IDLE_BYTES);
  ck_assert_int_le(idle.log, before.log);
}
END_TEST

static void
setup(void)
{
  if (access("/dev/shm", W_OK) == 0) // no disk is to be tested here
    g_setenv("TMPDIR", "/dev/shm", TRUE);
  house_open(&lab);
  house_course(&lab, "2027-03-01 08:00");
  lz_desk_set_actor(lab.desk, lz_desk_find(lab.desk, "person", "MK"));
  copies = g_dir_make_tmp("lazaret-copies-XXXXXX", NULL);
}

static void
teardown(void)
{
  g_autoptr(GDir) dir = g_dir_open(copies, 0, NULL);
  for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
    g_autofree char *path = g_build_filename(copies, name, NULL);
    unlink(path);
  }
  rmdir(copies);
  g_free(copies);
  lab_close(&lab);
}

int
main(void)
{
  // One heap, so that what is in use is what the program holds.
  g_setenv("G_SLICE", "always-malloc", TRUE);
  mallopt(M_ARENA_MAX, 1);
  Suite *s = suite_create("weeks of use");
  TCase *t = tcase_create("weeks");
  tcase_set_timeout(t, 0);
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_add_test(t, nothing_grows_but_the_ledger);
  suite_add_tcase(s, t);
  return lab_run(s);
}
