// SPDX-License-Identifier: GPL-3.0-or-later
// A back-up is brought back in two steps, told first what of the station on this PC is not in it.
#include "journey.h"

#define CLOCK "2027-03-05T07:45+01:00"

// GTK's own dialog for files: a slash begins a path.
static void
choose_file(Stage *s, const char *title, const char *path)
{
  stage_wait(s, title);
  stage_type(s, path);
  stage_keys(s, "Return");
}

static char *
copy_of(Ctl *c)
{
  char *backup = g_build_filename(c->folder, "copy.lazaret", NULL);
  g_free(ctl(c, 0, "backup %s", backup));
  return backup;
}

static gboolean
file_is_there(Stage *s, gpointer path)
{
  return g_file_test(path, G_FILE_TEST_EXISTS);
}

static void
ask_for(Stage *s, const char *backup)
{
  stage_keys(s, "ctrl+shift+o");
  choose_file(s, "Restore a back-up", backup);
  stage_wait(s, "2 entries of");
}

// Two readings were made after the back-up. The first step names them and, called off, leaves
// everything; the second opens the back-up as a file of its own.
START_TEST(test_restore_in_two_steps)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n");
  g_autofree char *backup = copy_of(c);
  case_read(c, "2027-03-05 06:30 0.19\n2027-03-05 07:00 0.18\n");
  Stage *s = stage_start(c, CLOCK, NULL);
  ask_for(s, backup);
  stage_wait(s, "the earliest happened 2027-03-05 06:30");
  stage_keys(s, "Escape");
  stage_wait_gone(s, "2 entries of");
  g_autoptr(Table) untouched = stage_rows(s, "readings", 3);
  ck_assert_uint_eq(stage_n_windows(s), 1);
  ask_for(s, backup);
  stage_keys(s, "Return");
  g_autofree char *made =
      g_build_filename(g_get_user_data_dir(), "lazaret", "station.lazaret", NULL);
  stage_until(s, "the back-up as a file of its own", file_is_there, made);
  g_autoptr(Table) kept = stage_rows(s, "readings", 3); // the station has lost nothing
  g_free(c->file);
  c->file = g_strdup(made);
  g_autoptr(Table) back = stage_rows(s, "readings", 1);
  ck_assert_double_eq(journey_number(back, 0, "value"), 0.19);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_restore_in_two_steps, NULL};
  return journey_run("journey: restore", tests);
}
