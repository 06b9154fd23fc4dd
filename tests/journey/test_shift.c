// SPDX-License-Identifier: GPL-3.0-or-later
// Several people at one PC: switched by two letters and a PIN, a name on every entry, a shift
// handed over line by line and signed by whoever takes it.
#include <string.h>

#include "journey.h"

static Ctl *
two_people(const char *options)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  g_free(ctl(c, 0, "record person --who MK initials=TA name='Timo Arp' role=keeper pin=2468"));
  if (options)
    g_free(ctl(c, 0,
               "record station --who MK --entity 'Test station' --happened "
               "2027-01-01T00:00+01:00 --reason 'house rules' %s",
               options));
  return c;
}

static void
switch_to(Stage *s, const char *initials, const char *pin)
{
  stage_keys(s, "ctrl+u");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  stage_type(s, initials);
  if (pin) {
    stage_wait_focus(s, ATSPI_ROLE_PASSWORD_TEXT, "PIN");
    stage_type(s, pin);
    stage_keys(s, "Return");
  }
}

START_TEST(test_two_letters_switch)
{
  Ctl *c = two_people(NULL);
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  switch_to(s, "ta", NULL); // four keys in all
  stage_wait(s, "TA Timo Arp");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.19");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) readings = stage_rows(s, "readings", 3);
  ck_assert_str_eq(table_cell(readings, 2, "who"), "TA");
  stage_end(s);
  // a keeper does not sign as the veterinarian: the command layer refuses
  g_autofree char *refused =
      ctl(c, 1, "record sign --who TA --happened '2027-03-05 07:45' lot=0412 phase=1 vet=yes");
  ck_assert_msg(strstr(refused, "vet") != NULL, "%s", refused);
  ctl_free(c);
}
END_TEST

START_TEST(test_hand_over_and_take_over)
{
  Ctl *c = two_people("pins=yes");
  g_free(ctl(c, 0, "record person --who MK --entity MK initials=MK pin=1357"));
  g_free(ctl(c, 0,
             "record sighting --who MK --happened '2027-03-05 07:20' system=Blue-1 lot=0412 "
             "sign=flashing heads=2"));
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_wait(s, "Who are you?");
  switch_to(s, "MK", "9999");
  stage_wait(s, "This is not the PIN.");
  stage_keys(s, "Escape");
  switch_to(s, "MK", "1357");
  stage_wait(s, "MK Mira Kessel");
  stage_keys(s, "ctrl+h");
  stage_wait(s, "Read back and taken over by");
  stage_wait(s, "Given by MK");
  stage_wait(s, "flashing");
  // signing before every line is read back is refused
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Sign");
  stage_wait(s, "Not every line has been read back yet.");
  for (int i = 0; i < 30; i++) { // Enter ticks a line and goes on, at last to the initials
    if (stage_has_focus(s, ATSPI_ROLE_TEXT, "Initials of who takes over"))
      break;
    stage_keys(s, "Return");
  }
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials of who takes over");
  stage_type(s, "TA");
  stage_keys(s, "Tab");
  stage_type(s, "2468");
  stage_keys(s, "Return");
  g_autoptr(Table) handovers = stage_rows(s, "handovers", 1);
  ck_assert_str_eq(table_cell(handovers, 0, "who"), "MK");
  ck_assert_str_eq(table_cell(handovers, 0, "to"), "TA");
  ck_assert_str_eq(table_cell(handovers, 0, "witness"), "TA");
  stage_wait(s, "TA Timo Arp"); // and is at this PC now
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.19");
  stage_keys(s, "KP_Enter");
  g_autoptr(Table) readings = stage_rows(s, "readings", 3);
  ck_assert_str_eq(table_cell(readings, 2, "who"), "TA");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_two_letters_switch, test_hand_over_and_take_over, NULL};
  return journey_run("journey: a shift", tests);
}
