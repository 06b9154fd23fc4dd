// SPDX-License-Identifier: GPL-3.0-or-later
// Case E through the window: lot B would join lot A in shared water under the last-in rule
// (published: Australian industry advice notice 41-2025). Before anybody confirms, the screen names
// the cost, 31 May to 11 June, 11 days x 140 fish; nothing is in the file; water with room is
// offered first.
#include <string.h>

#include "scenes.h"

static void
fill_receipt(Stage *s)
{
  stage_keys(s, "ctrl+l");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Number");
  stage_type(s, "B");
  stage_keys(s, "Tab Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Coral-3/2");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "20");
  for (int i = 0; i < 9; i++) // to the protocol it begins with, past bag water and shipment
    stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Thirty");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "When");
  stage_keys(s, "Return");
}

static void
names_the_cost(Stage *s)
{
  stage_wait(s, "Lot A: Mon 31 May → Fri 11 Jun, 11 days later × 140 fish");
  stage_wait(s, "540 fish-days"); // 1 540, grouped by a narrow space
  stage_wait(s, "held by lot B");
  stage_wait(s, "Coral-4 instead");
  g_autoptr(Table) lots = ctl_table(stage_ctl(s), "export lots");
  ck_assert_uint_eq(lots->rows->len, 1); // nothing recorded before somebody confirms
}

START_TEST(test_going_back_records_nothing)
{
  Ctl *c = scene_shared_water();
  Stage *s = stage_start(c, "2027-05-12T09:00+02:00", NULL);
  g_autofree char *ledger = ctl(c, 0, "export entries");
  fill_receipt(s);
  names_the_cost(s);
  stage_keys(s, "Escape");
  stage_wait_gone(s, "Coral-4 instead");
  g_autofree char *still = ctl(c, 0, "export entries");
  ck_assert_str_eq(ledger, still);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_confirming_moves_the_others)
{
  Ctl *c = scene_shared_water();
  Stage *s = stage_start(c, "2027-05-12T09:00+02:00", NULL);
  fill_receipt(s);
  names_the_cost(s);
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) courses = stage_rows(s, "courses", 2);
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-05-12 09:00' --lot A --format=csv");
  int row = table_find(plan, "lot", "A", "what", "release", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_str_eq(table_cell(plan, (guint)row, "when"), "2027-06-11T07:00Z");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_other_water_delays_nobody)
{
  Ctl *c = scene_shared_water();
  Stage *s = stage_start(c, "2027-05-12T09:00+02:00", NULL);
  fill_receipt(s);
  names_the_cost(s);
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Coral-4 instead");
  g_autoptr(Table) lots = stage_rows(s, "lots", 2);
  int row = table_find(lots, "code", "B", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_str_eq(table_cell(lots, (guint)row, "tank"), "Coral-4/1");
  g_autoptr(Table) plan = ctl_table(c, "plan --at '2027-05-12 09:00' --lot A --format=csv");
  int release = table_find(plan, "lot", "A", "what", "release", NULL);
  ck_assert_int_ge(release, 0);
  ck_assert_str_eq(table_cell(plan, (guint)release, "when"), "2027-05-31T07:00Z");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_going_back_records_nothing, test_confirming_moves_the_others,
                                test_other_water_delays_nobody, NULL};
  return journey_run("journey: case E", tests);
}
