// SPDX-License-Identifier: GPL-3.0-or-later
// Case F, a spot on day ten, through the window: 18 June, day ten of fourteen days of observation
// in Pearl-2. Every lot in that water goes back, moves stop, a scrape is asked for, contacts are
// listed, and the ways on have their dates: treat in place 4 + 21 + 1 + 14 = 40 days, 28 July;
// transfers 12 + 14 days, 14 July (common practice, no source). Nothing starts by itself.
#include "scenes.h"

static Stage *
see_a_spot(Ctl *c)
{
  Stage *s = stage_start(c, "2027-06-18T09:00+02:00", NULL);
  stage_keys(s, "F3");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Pearl-2");
  stage_wait(s, "Pearl-2: Fourteen days");
  stage_keys(s, "KP_Multiply");
  stage_wait(s, "I see something");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "white");
  stage_keys(s, "Tab Tab Tab Tab"); // the water is known; past tank and lot
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "1");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) sightings = stage_rows(s, "sightings", 1);
  ck_assert_str_eq(table_cell(sightings, 0, "system"), "Pearl-2");
  ck_assert_str_eq(table_cell(sightings, 0, "sign"), "white_spot");
  return s;
}

START_TEST(test_what_the_screen_says)
{
  Ctl *c = scene_observation();
  Stage *s = see_a_spot(c);
  stage_wait(s, "White spot on 1 fish in Pearl-2, today 09:00");
  stage_wait(s, "Moves in and out of Pearl-2 are stopped");
  stage_wait(s, "Scrape a fish");
  // both lots, fourteen days anew from 18 June
  stage_wait(s, "Tue 22 Jun");
  stage_wait(s, "Fri 2 Jul");
  // N went on to Pearl-3 three days before
  stage_wait(s, "was in Pearl-2 and left before");
  stage_wait(s, "Treat in place: Wed 28 Jul");
  stage_wait(s, "Four transfers: Wed 14 Jul");
  stage_wait(s, "Ask a veterinarian");
  g_autoptr(Table) courses = ctl_table(c, "export courses");
  ck_assert_uint_eq(courses->rows->len, 3); // as before
  stage_keys(s, "Escape");                  // the chart, with the way back above it
  stage_wait(s, "Contacts and ways on");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_a_way_is_taken)
{
  Ctl *c = scene_observation();
  Stage *s = see_a_spot(c);
  stage_wait(s, "Treat in place: Wed 28 Jul");
  stage_keys(s, "3"); // the latest of three
  stage_wait(s, "Begin a protocol");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Record");
  g_autoptr(Table) courses = stage_rows(s, "courses", 5); // both lots in one act
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-06-18 09:00' --format=csv");
  static const char *const lots[] = {"P", "Q"};
  for (guint i = 0; i < G_N_ELEMENTS(lots); i++) {
    int row = table_find(plan, "lot", lots[i], "what", "release", NULL);
    ck_assert_int_ge(row, 0);
    ck_assert_str_eq(table_cell(plan, (guint)row, "when"), "2027-07-28T07:00Z");
  }
  stage_wait_gone(s, "Moves in and out of Pearl-2 are stopped"); // answered
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_moves_are_stopped)
{
  Ctl *c = scene_observation();
  Stage *s = see_a_spot(c);
  stage_wait(s, "Moves in and out");
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Move");
  stage_wait(s, "Move a lot");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Pearl-3/2");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Record");
  stage_wait(s, "are stopped: something was seen there");
  g_autoptr(Table) moves = ctl_table(c, "export moves");
  ck_assert_uint_eq(moves->rows->len, 1); // N's, on 15 June
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_what_the_screen_says, test_a_way_is_taken,
                                test_moves_are_stopped, NULL};
  return journey_run("journey: spot on day ten", tests);
}
