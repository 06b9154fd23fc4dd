// SPDX-License-Identifier: GPL-3.0-or-later
// From nothing to a first reading by keyboard alone: three questions, an instrument, a reading.
#include <glib/gstdio.h>
#include <string.h>

#include "journey.h"

static void
answer(Stage *s, const char *field, const char *text)
{
  stage_wait_focus(s, ATSPI_ROLE_TEXT, field);
  stage_keys(s, "ctrl+a");
  stage_type(s, text);
  stage_keys(s, "Tab");
}

static void
three_questions(Stage *s)
{
  stage_keys(s, "ctrl+n");
  stage_wait(s, "1. The station");
  answer(s, "Name", "Cellar");
  answer(s, "Time zone", "Europe/Berlin");
  answer(s, "Tests are made at", "07:30 17:00");
  answer(s, "Name", "Mira Kessel");
  answer(s, "Initials", "MK");
  answer(s, "System", "Blue-1");
  answer(s, "litres", "2400");
  stage_keys(s, "Return");
  stage_wait_gone(s, "1. The station");
}

START_TEST(test_empty_to_first_reading)
{
  Ctl *c = ctl_new();
  Stage *s = stage_start(c, NULL, "");
  three_questions(s);
  g_free(c->file);
  c->file = g_build_filename(g_get_user_data_dir(), "lazaret", "Cellar.lazaret", NULL);
  stage_keys(s, "ctrl+r");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, "copper");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_type(s, "0.02");
  stage_keys(s, "Return");
  g_autoptr(Table) readings = stage_rows(s, "readings", 1);
  ck_assert_double_eq(journey_number(readings, 0, "value"), 0.02);
  ck_assert_str_eq(table_cell(readings, 0, "system"), "Blue-1");
  ck_assert_str_eq(table_cell(readings, 0, "who"), "MK");
  g_autoptr(Table) systems = ctl_table(c, "export systems");
  ck_assert_double_eq(journey_number(systems, 0, "volume_l"), 2400);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_empty_to_first_reading, NULL};
  return journey_run("journey: set up", tests);
}
