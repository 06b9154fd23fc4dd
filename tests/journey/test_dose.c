// SPDX-License-Identifier: GPL-3.0-or-later
// Case A in the window: a change takes copper out, the round asks for what puts it back, a slip of
// ten is stopped, and so is a second dose on top of the first.
// Blue-1 holds 2,400 L at 0.19 mg/L; 360 L without copper leave 0.19 x (1 - 0.15) = 0.1615;
// 2,400 x 0.15 x 0.19 = 68.4 mg = 68.4 mL of 1.00 mg/mL.
#include <string.h>

#include "journey.h"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return c;
}

static double
copper_now(Ctl *c, const char *at)
{
  g_autoptr(Table) water = ctl_table(c, "water --at '%s' --system Blue-1 --format=csv", at);
  int row = table_find(water, "analyte", "copper", NULL);
  ck_assert_int_ge(row, 0);
  return journey_number(water, (guint)row, "carried");
}

static void
change_360(Stage *s)
{
  stage_keys(s, "ctrl+e");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Litres");
  stage_type(s, "360");
  stage_keys(s, "Tab Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Copper in the new water");
  stage_type(s, "0");
  stage_keys(s, "Return");
}

static void
open_the_dose(Stage *s)
{
  stage_wait(s, "Dose C-07 68.4 mL");
  // no key pressed: what the change calls for is the line that is open now
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
}

START_TEST(test_dose_replaces_a_change)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  change_360(s);
  g_autoptr(Table) changes = stage_rows(s, "changes", 1);
  ck_assert_double_eq(journey_number(changes, 0, "litres"), 360);
  ck_assert_double_eq_tol(copper_now(c, "2027-03-05 07:40"), 0.1615, 5e-4);
  open_the_dose(s);
  stage_wait(s, "68.4 mL");
  stage_pad(s, "68.4");
  stage_wait(s, "sixty-eight point four mL");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) doses = stage_rows(s, "doses", 1);
  ck_assert_double_eq(journey_number(doses, 0, "amount_ml"), 68.4);
  ck_assert_str_eq(table_cell(doses, 0, "system"), "Blue-1");
  ck_assert_double_eq_tol(copper_now(c, "2027-03-05 07:41"), 0.19, 5e-4);
  stage_keys(s, "F3");
  stage_wait(s, "0.190");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_slip_of_ten_is_stopped)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  change_360(s);
  open_the_dose(s);
  stage_pad(s, "684");
  stage_wait(s, "STOP");
  stage_keys(s, "KP_Enter"); // whoever asks
  stage_wait(s, "0.446");    // 0.1615 + 684 / 2,400 = 0.4465
  stage_keys(s, "Escape Escape");
  stage_wait_gone(s, "STOP");
  g_autoptr(Table) none = stage_rows(s, "doses", 0);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_pad(s, "68.4");
  stage_wait(s, "sixty-eight point four mL");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) doses = stage_rows(s, "doses", 1);
  ck_assert_double_eq(journey_number(doses, 0, "amount_ml"), 68.4);
  stage_end(s);
  ctl_free(c);
}
END_TEST

static void
type_a_dose(Stage *s, const char *ml)
{
  stage_keys(s, "ctrl+d");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, "C-07");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "mL");
  stage_type(s, ml);
  stage_keys(s, "Return");
}

START_TEST(test_second_dose_is_stopped)
{
  Ctl *c = station();
  g_free(ctl(c, 0,
             "record change --happened '2027-03-05 07:40' system=Blue-1 litres=360 new_copper=0"));
  g_free(ctl(c, 0,
             "record dose --happened '2027-03-05 07:40' system=Blue-1 bottle=C-07 amount_ml=68.4"));
  Stage *s = stage_start(c, "2027-03-05T09:10+01:00", NULL);
  type_a_dose(s, "68.4");
  // who gave what when, and what a repeat would make: 0.19 + 68.4 / 2,400 = 0.2185
  stage_wait(s, "07:40");
  stage_wait(s, "MK");
  stage_wait(s, "68.4 mL");
  g_autoptr(Table) doses = stage_rows(s, "doses", 1);
  // a reading at least the mixing time (60 min) later unlocks it
  stage_keys(s, "Escape");
  case_read(c, "2027-03-05 09:05 0.17\n");
  stage_reopen(s, "2027-03-05T09:20+01:00");
  type_a_dose(s, "48"); // 2,400 x 0.02
  g_autoptr(Table) two = stage_rows(s, "doses", 2);
  ck_assert_double_eq(journey_number(two, 1, "amount_ml"), 48);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_dose_replaces_a_change, test_slip_of_ten_is_stopped,
                                test_second_dose_is_stopped, NULL};
  return journey_run("journey: case A", tests);
}
