// SPDX-License-Identifier: GPL-3.0-or-later
// A working day: somebody else writes to the same file, a slip is corrected, a spot is seen, every
// place is a key away.
#include <string.h>

#include "journey.h"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return c;
}

START_TEST(test_two_programs_one_station)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "F3");
  stage_wait(s, "0.190");
  gint64 began = g_get_monotonic_time();
  g_free(
      ctl(c, 0,
          "record reading --happened '2027-03-05 07:40' system=Blue-1 analyte=copper value=0.187 "
          "instrument=P1"));
  stage_wait(s, "0.187");
  ck_assert_int_lt(g_get_monotonic_time() - began, 5 * G_USEC_PER_SEC);
  g_autoptr(Table) readings = stage_rows(s, "readings", 3);
  ck_assert_double_eq(journey_number(readings, 2, "value"), 0.187);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_correction_with_a_reason)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.187");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) first = stage_rows(s, "readings", 3);
  stage_keys(s, "ctrl+z");
  stage_wait(s, "Correction: New reading");
  g_autoptr(AtspiAccessible) value = stage_find(s, ATSPI_ROLE_TEXT, "Value");
  stage_keys(s, "Return");
  stage_wait(s, "reason"); // refused without one
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Why it is corrected");
  stage_type(s, "read the wrong line");
  stage_keys(s, "shift+Tab shift+Tab shift+Tab shift+Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_keys(s, "ctrl+a");
  stage_type(s, "0.189");
  stage_keys(s, "Return");
  stage_wait_gone(s, "Correction: New reading");
  g_autoptr(Table) all = stage_rows(s, "readings", 4); // the original stays
  ck_assert_double_eq(journey_number(all, 3, "value"), 0.189);
  ck_assert_str_eq(table_cell(all, 3, "reason"), "read the wrong line");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_spot_is_seen)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_keys(s, "KP_Multiply");
  stage_wait(s, "I see something");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "white spot");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Record");
  g_autoptr(Table) seen = stage_rows(s, "sightings", 1);
  ck_assert_str_eq(table_cell(seen, 0, "sign"), "white_spot");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_every_place_by_key)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  static const struct {
    const char *key, *shows;
  } places[] = {{"F3", "What is in the water"},
                {"F4", "Not released yet, because"},
                {"F5", "Plan"},
                {"F6", "Sections"},
                {"F2", "Morning round"},
                {"F7", "Every entry as it was written"}};
  for (size_t i = 0; i < G_N_ELEMENTS(places); i++) {
    stage_keys(s, places[i].key);
    stage_wait(s, places[i].shows);
  }
  stage_keys(s, "F3");
  stage_wait(s, "What is in the water");
  stage_keys(s, "F8");
  stage_wait(s, "as a chart");
  stage_keys(s, "F1");
  stage_wait(s, "Shortcuts");
  stage_keys(s, "Escape");
  stage_wait_gone(s, "Shortcuts");
  stage_keys(s, "slash");
  stage_wait_focus(s, ATSPI_ROLE_ENTRY, "Go to");
  stage_type(s, "0412");
  stage_keys(s, "Return");
  stage_wait(s, "Not released yet, because");
  // looking wrote nothing
  g_autoptr(Table) readings = stage_rows(s, "readings", 2);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_two_programs_one_station, test_correction_with_a_reason,
                                test_spot_is_seen, test_every_place_by_key, NULL};
  return journey_run("journey: a working day", tests);
}
