// SPDX-License-Identifier: GPL-3.0-or-later
// What-if over the plan by keys: case E tried without the shipment, thrown away, and taken to the
// form that records it; a sighting tried; nothing reaches the file from the Plan itself.
#include "scenes.h"

// Fish that would join lot A in Coral-3.
static void
try_shipment(Stage *s)
{
  stage_keys(s, "F5");
  stage_wait_focus(s, ATSPI_ROLE_IMAGE, "Plan of 1 lot");
  stage_keys(s, "Insert");
  stage_wait(s, "nothing is recorded");
  stage_keys(s, "2");
  stage_wait(s, "New fish arrive");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Coral-3/2");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "20");
  stage_keys(s, "Tab");
  stage_type(s, "Thirty");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "When");
  stage_keys(s, "Return");
  // 31 May to 11 June: 11 days x 140 fish (case E)
  stage_wait(s, "Lot A: Mon 31 May → Fri 11 Jun, 11 days later × 140 fish");
  stage_wait(s, "What if: 2 lots change");
}

START_TEST(test_thrown_away)
{
  Ctl *c = scene_shared_water();
  Stage *s = stage_start(c, "2027-05-12T09:00+02:00", NULL);
  g_autofree char *ledger = ctl(c, 0, "export entries");
  try_shipment(s);
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Throw away");
  stage_wait(s, "Present plan");
  g_autofree char *still = ctl(c, 0, "export entries");
  ck_assert_str_eq(ledger, still);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_to_the_form)
{
  Ctl *c = scene_shared_water();
  Stage *s = stage_start(c, "2027-05-12T09:00+02:00", NULL);
  try_shipment(s);
  stage_keys(s, "Return");
  stage_wait(s, "Receive a lot");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Number");
  stage_type(s, "B");
  stage_keys(s, "Return");
  stage_wait(s, "11 days later");
  stage_keys(s, "Return");
  g_autoptr(Table) courses = stage_rows(s, "courses", 2);
  g_autoptr(Table) lots = stage_rows(s, "lots", 2);
  int row = table_find(lots, "code", "B", "tank", "Coral-3/2", NULL);
  ck_assert_int_ge(row, 0);
  ck_assert_double_eq(journey_number(lots, (guint)row, "heads"), 20);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_a_sighting_tried)
{
  Ctl *c = scene_observation();
  Stage *s = stage_start(c, "2027-06-18T09:00+02:00", NULL);
  stage_keys(s, "F5 Insert");
  stage_wait(s, "nothing is recorded");
  stage_keys(s, "5");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Pearl-2");
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "See what changes");
  // fourteen days from 8 June, anew from 18 June
  stage_wait(s, "Lot P: Tue 22 Jun → Fri 2 Jul, 10 days later × 24 fish");
  stage_wait(s, "seen in Pearl-2 on"); // why
  stage_keys(s, "Escape Escape Escape");
  stage_wait(s, "Present plan");
  g_autoptr(Table) sightings = ctl_table(c, "export sightings");
  ck_assert_uint_eq(sightings->rows->len, 0);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Nobody tests until the evening of the next day. The reading of 3 March 09:00 serves 16 h, until
// 01:00; fourteen days end on 17 March 09:00, or, 17 h of 3 and 4 March lost, on 18 March 02:00.
// The next test of the round bears each out: 17:00 that day, and 07:30; between them 14 h 30 min.
START_TEST(test_tests_missed)
{
  Ctl *c = scene_hold();
  Stage *s = stage_start(c, "2027-03-03T09:00+01:00", NULL);
  g_autofree char *ledger = ctl(c, 0, "export entries");
  stage_keys(s, "F5 Insert");
  stage_wait(s, "nothing is recorded");
  stage_keys(s, "6");
  stage_wait(s, "Tests are missed");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Until");
  stage_type(s, "2027-03-04 18:00");
  stage_keys(s, "Return");
  stage_wait(s, "Lot A: Wed 17 Mar → Thu 18 Mar, 14 h 30 min later × 30 fish");
  stage_wait(s, "What if: 1 lot changes");
  ck_assert(!stage_shows(s, "To the form that records it")); // what is not done cannot be recorded
  stage_keys(s, "Escape Escape Escape");
  stage_wait(s, "Present plan");
  g_autofree char *still = ctl(c, 0, "export entries");
  ck_assert_str_eq(ledger, still);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Two lots that no level serves: both are named where they are, each way out has its price, and a
// digit opens the form that would record it.
START_TEST(test_conflict_and_a_way_out)
{
  Ctl *c = scene_conflict();
  Stage *s = stage_start(c, "2027-03-01T10:00+01:00", NULL);
  stage_keys(s, "F5");
  stage_wait(s, "No water serves both lot A and lot B");
  stage_wait(s, "Lot A moves to Blue-2");
  stage_wait(s, "Lot B moves to Blue-2");
  stage_wait(s, "Lot B stops its protocol");
  stage_keys(s, "2"); // the first is to begin another protocol, fourteen days without copper
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  g_autoptr(Table) moves = ctl_table(c, "export moves");
  g_autoptr(Table) courses = ctl_table(c, "export courses");
  ck_assert_uint_eq(moves->rows->len, 0);
  ck_assert_uint_eq(courses->rows->len, 2);
  stage_keys(s, "Escape");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_thrown_away,
                                test_to_the_form,
                                test_a_sighting_tried,
                                test_tests_missed,
                                test_conflict_and_a_way_out,
                                NULL};
  return journey_run("journey: what if", tests);
}
