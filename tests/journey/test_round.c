// SPDX-License-Identifier: GPL-3.0-or-later
// The round's own habits: a reading once more, a suspect one asked again in place, a half-typed
// dose that outlives the program, the look that is chosen, one window for a file.
#include <string.h>

#include "journey.h"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return c;
}

START_TEST(test_plus_reads_again)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.19");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) three = stage_rows(s, "readings", 3);
  stage_keys(s, "KP_Add");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value"); // water, analyte and instrument stand there
  stage_type(s, "0.188");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) four = stage_rows(s, "readings", 4);
  ck_assert_double_eq(journey_number(four, 3, "value"), 0.188);
  ck_assert_str_eq(table_cell(four, 3, "system"), "Blue-1");
  ck_assert_str_eq(table_cell(four, 3, "analyte"), "copper");
  ck_assert_str_eq(table_cell(four, 3, "instrument"), table_cell(four, 2, "instrument"));
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_suspect_reading_is_asked_again)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.05"); // 0.19 forty minutes ago
  stage_keys(s, "KP_Enter");
  stage_wait(s, "again");
  g_autoptr(Table) two = stage_rows(s, "readings", 2); // nothing is written yet
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.051");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) four = stage_rows(s, "readings", 4);
  ck_assert_double_eq(journey_number(four, 2, "value"), 0.05);
  ck_assert_str_eq(table_cell(four, 2, "suspect"), "yes");
  ck_assert_double_eq(journey_number(four, 3, "value"), 0.051);
  ck_assert_str_ne(table_cell(four, 3, "confirms"), "");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_half_a_dose_outlives_a_kill)
{
  Ctl *c = station();
  g_free(ctl(c, 0,
             "record change --happened '2027-03-05 07:30' system=Blue-1 litres=360 new_copper=0"));
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_wait(s, "Dose C-07 68.4 mL");
  while (!stage_has_focus(s, ATSPI_ROLE_TEXT, "Given, mL"))
    stage_keys(s, "Down");
  stage_pad(s, "68");
  stage_wait(s, "sixty-eight mL");
  g_usleep(G_USEC_PER_SEC); // the draft is written 0.6 s after the last key
  stage_kill(s, "2027-03-05T07:55+01:00");
  stage_wait(s, "Dose C-07 68.4 mL");
  while (!stage_has_focus(s, ATSPI_ROLE_TEXT, "Given, mL"))
    stage_keys(s, "Down");
  stage_wait(s, "sixty-eight mL");
  stage_wait(s, "Typed at 07:40, 15 min ago: read the water again");
  g_autoptr(Table) none = stage_rows(s, "doses", 0);
  stage_end(s);
  ctl_free(c);
}
END_TEST

static gboolean
is_dark(Stage *s, gpointer path)
{
  g_autofree char *text = NULL;
  return g_file_get_contents(path, &text, NULL, NULL) && strstr(text, "theme='dark'");
}

START_TEST(test_dark_by_keys)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  g_autofree char *path =
      g_build_filename(g_getenv("XDG_CONFIG_HOME"), "glib-2.0", "settings", "keyfile", NULL);
  stage_keys(s, "ctrl+comma");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Look");
  stage_type(s, "dark");
  stage_until(s, "dark in the settings", is_dark, path);
  stage_wait(s, "Look: Dark");
  stage_keys(s, "Escape");
  stage_wait_gone(s, "Look: Dark");
  stage_keys(s, "F3");
  stage_wait(s, "What is in the water");
  stage_end(s);
  ctl_free(c);
}
END_TEST

static gboolean
count_frame(AtspiAccessible *accessible, int depth, gpointer n)
{
  if (atspi_accessible_get_role(accessible, NULL) == ATSPI_ROLE_FRAME)
    ++*(guint *)n;
  return FALSE;
}

START_TEST(test_second_launch_raises_the_window)
{
  Ctl *c = station();
  Stage *s = stage_start(c, NULL, NULL);
  g_autofree char *file = g_shell_quote(c->file);
  g_autofree char *line = g_strdup_printf("%s %s", g_getenv("LAZARET"), file);
  guint frames = 0;
  stage_run(s, line); // hands over to the first and ends
  stage_walk(s, count_frame, &frames);
  ck_assert_uint_eq(frames, 1);
  stage_keys(s, "F3");
  stage_wait(s, "What is in the water");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {
      test_plus_reads_again, test_suspect_reading_is_asked_again,  test_half_a_dose_outlives_a_kill,
      test_dark_by_keys,     test_second_launch_raises_the_window, NULL};
  return journey_run("journey: habits of the round", tests);
}
