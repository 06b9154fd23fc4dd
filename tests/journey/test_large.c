// SPDX-License-Identifier: GPL-3.0-or-later
// A station so large that this PC keeps a copy of it: read whole the first time, called again, and
// left with a copy that is written when the window has gone.
#include <glib/gstdio.h>

#include "journey.h"

#define NEWS 20100 // enough that the copy is written anew

// From 210,000 entries of an invented station.
static Ctl *
large_station(void)
{
  Ctl *c = ctl_new();
  int status = -1;
  g_autofree char *line = g_strdup_printf("%s '%s' 210000", g_getenv("MAKE_LARGE"), c->file);
  g_autofree char *said = NULL;
  ck_assert(g_spawn_command_line_sync(line, &said, NULL, &status, NULL) && status == 0);
  return c;
}

// Which file the copy is; 0 = there is none.
static guint64
copy_of_this_pc(void)
{
  g_autofree char *folder = g_build_filename(g_get_user_data_dir(), "lazaret", NULL);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  GStatBuf is = {0};
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    g_autofree char *whole = g_build_filename(folder, name, NULL);
    ck_assert_msg(!g_str_has_suffix(name, ".part"), "%s was left", name);
    if (g_str_has_suffix(name, ".records"))
      ck_assert_int_eq(g_stat(whole, &is), 0);
  }
  return is.st_ino;
}

static void
many_readings(Ctl *c)
{
  g_autoptr(GString) csv = g_string_new("happened,system,analyte,value,who\n");
  for (int i = 0; i < NEWS; i++)
    g_string_append_printf(csv, "2016-05-%02dT%02d:%02d+00:00,Row-%d,temperature,25.%d,#2\n",
                           1 + i / 1440 % 28, i / 60 % 24, i % 60, 1 + i % 9, i % 10);
  g_string_append(csv, "2016-06-01T09:00+00:00,Row-1,temperature,19.7,#2\n");
  ctl_import(c, "readings", csv->str);
}

START_TEST(test_a_large_station)
{
  Ctl *c = large_station();
  Stage *s = stage_start(c, NULL, NULL);
  stage_wait(s, "Row-1");
  const guint64 first = copy_of_this_pc();
  ck_assert_uint_ne(first, 0);
  stage_call_again(s);
  ck_assert_uint_eq(stage_n_windows(s), 1);
  stage_reopen(s, NULL); // ends with 0, and opens by the copy
  stage_wait(s, "Row-1");
  ck_assert_uint_eq(copy_of_this_pc(), first);
  many_readings(c);
  stage_keys(s, "F7");
  stage_wait(s, "temperature 19.7");        // the window has them, too
  const guint64 others = copy_of_this_pc(); // the other program kept one, too
  stage_end(s);
  ck_assert_uint_ne(copy_of_this_pc(), others);
  g_free(ctl(c, 0, "verify"));
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_a_large_station, NULL};
  return journey_run("journey: a large station", tests);
}
