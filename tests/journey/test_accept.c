// SPDX-License-Identifier: GPL-3.0-or-later
// A phase left short, in Lots: the screen says by how much, a named person accepts it with a
// reason, never without one; the ledger has name, minutes and reason, and the matter is gone.
#include "scenes.h"

START_TEST(test_accepted_with_a_reason)
{
  Ctl *c = scene_left_short();
  Stage *s = stage_start(c, "2027-03-02T12:00+01:00", NULL);
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_wait(s, "left “Hold” 12 h short");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Accept 720 min with a reason");
  stage_wait(s, "Accept missing credit");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Record");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Reason"); // not without one
  g_autoptr(Table) none = ctl_table(c, "export accepts");
  ck_assert_uint_eq(none->rows->len, 0);
  stage_type(s, "two good readings around it");
  stage_keys(s, "Return");
  g_autoptr(Table) accepts = stage_rows(s, "accepts", 1);
  ck_assert_str_eq(table_cell(accepts, 0, "lot"), "A");
  ck_assert_str_eq(table_cell(accepts, 0, "minutes"), "720");
  ck_assert_str_eq(table_cell(accepts, 0, "who"), "MK");
  ck_assert_str_eq(table_cell(accepts, 0, "reason"), "two good readings around it");
  stage_wait_gone(s, "left “Hold” 12 h short");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_accepted_with_a_reason, NULL};
  return journey_run("journey: accept", tests);
}
