// SPDX-License-Identifier: GPL-3.0-or-later
// A lot is received and put on its protocol by keys; Lots shows the way that the command line
// plans.
#include "journey.h"

START_TEST(test_receive_a_lot)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record tank system=Blue-1 number=2"));
  Stage *s = stage_start(c, "2027-03-05T09:00+01:00", NULL);
  stage_keys(s, "ctrl+l");
  stage_wait(s, "Receive a lot");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Number");
  stage_type(s, "0417");
  stage_keys(s, "Tab Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1/2");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "12");
  stage_keys(s, "Return");
  g_autoptr(Table) lots = stage_rows(s, "lots", 2);
  ck_assert_str_eq(table_cell(lots, 1, "code"), "0417");
  ck_assert_double_eq(journey_number(lots, 1, "heads"), 12);
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_keys(s, "Down");
  stage_wait(s, "No protocol yet");
  stage_keys(s, "KP_Enter");
  stage_wait(s, "Begin a protocol");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "House");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Record");
  g_autoptr(Table) courses = stage_rows(s, "courses", 2);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-03-05 09:00' --lot 0417 --format=csv");
  ck_assert_int_ge(table_find(plan, "lot", "0417", "phase", "Hold", "what", "end", NULL), 0);
  stage_keys(s, "F8");
  stage_wait(s, "how sure");
  stage_wait(s, "Watch");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_receive_a_lot, NULL};
  return journey_run("journey: receiving", tests);
}
