// SPDX-License-Identifier: GPL-3.0-or-later
// Case D in the window: the end of the hold that Lots shows, before and after the reading of 14
// March 08:00, and after the gap is over; the same dates as the command line prints.
#include <string.h>

#include "journey.h"

static Ctl *
until_the_gap(const char *lapse)
{
  Ctl *c = case_ionic(lapse, "metal");
  case_read_daily(c, 4, 12, 0.19);
  case_read(c, "2027-03-13 08:00 0.19\n2027-03-13 20:00 0.18\n");
  return c;
}

static void
open_lots_as_table(Stage *s)
{
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_keys(s, "F8");
  stage_wait(s, "how sure");
}

static void
type_reading(Stage *s, const char *value)
{
  stage_keys(s, "ctrl+r");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, "copper");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_type(s, value);
  stage_keys(s, "Tab Tab");
  stage_type(s, "P1");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "When");
  stage_keys(s, "Return");
}

static void
shows_end(Stage *s, const char *at, const char *utc, const char *shown)
{
  g_autofree char *end = journey_plan(stage_ctl(s), at, "Hold", "end", "when");
  ck_assert_str_eq(end, utc);
  stage_wait(s, shown);
}

START_TEST(test_reading_moves_the_end)
{
  Ctl *c = until_the_gap("pause");
  Stage *s = stage_start(c, "2027-03-14T08:00+01:00", NULL);
  open_lots_as_table(s);
  // 21 days of credit from 4 March 08:00
  shows_end(s, "2027-03-14 08:00", "2027-03-25T07:00Z", "Thu 25 Mar 08:00");
  type_reading(s, "0.15");
  g_autoptr(Table) readings = stage_rows(s, "readings", 21);
  ck_assert_double_eq(journey_number(readings, 20, "value"), 0.15);
  stage_wait_gone(s, "Thu 25 Mar 08:00");
  g_autofree char *end = journey_plan(c, "2027-03-14 08:00", "Hold", "end", "when");
  ck_assert_str_ne(end, "2027-03-25T07:00Z");
  stage_end(s);
  ctl_free(c);
}
END_TEST

static void
after_the_gap(const char *lapse, const char *utc, const char *shown)
{
  Ctl *c = until_the_gap(lapse);
  case_read(c, "2027-03-14 08:00 0.15\n");
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-14 12:30' system=Blue-1 bottle=C-07 amount_ml=84"));
  Stage *s = stage_start(c, "2027-03-14T14:00+01:00", NULL);
  open_lots_as_table(s);
  type_reading(s, "0.185");
  g_autoptr(Table) readings = stage_rows(s, "readings", 22);
  shows_end(s, "2027-03-14 14:00", utc, shown);
  stage_end(s);
  ctl_free(c);
}

START_TEST(test_lapse_pauses)
{
  // 18 h without credit, 13 March 20:00 to 14 March 14:00
  after_the_gap("pause", "2027-03-26T01:00Z", "Fri 26 Mar 02:00");
}
END_TEST

START_TEST(test_lapse_restarts)
{
  // 504 h from 14 March 14:00, over the change of clocks on 28 March
  after_the_gap("restart", "2027-04-04T13:00Z", "Sun 4 Apr 15:00");
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_reading_moves_the_end, test_lapse_pauses, test_lapse_restarts,
                                NULL};
  return journey_run("journey: case D", tests);
}
