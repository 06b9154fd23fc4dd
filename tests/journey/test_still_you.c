// SPDX-License-Identifier: GPL-3.0-or-later
// Many people at one PC: two letters change who it is; after the station's time the name asks and
// nothing is recorded under it unanswered, by key or pointer; PINs where the station asks for them.
#include "journey.h"

#define IDLE_S 60 // idle_min=1

static Ctl *
station(const char *rules)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record person --who MK initials=TA name='Timo Arp' role=keeper pin=2468"));
  g_free(ctl(c, 0,
             "record station --who MK --entity 'Test station' --happened "
             "2027-01-01T00:00+01:00 --reason 'house rules' %s",
             rules));
  return c;
}

static void
call_menu(Stage *s)
{
  stage_keys(s, "ctrl+u");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
}

// A form with a reading in it that only needs to be recorded.
static void
fill(Stage *s, const char *value)
{
  stage_keys(s, "ctrl+r");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, "temperature");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_type(s, value);
}

START_TEST(test_still_you)
{
  Ctl *c = station("idle_min=1");
  Stage *s = stage_start(c, "2027-03-05T07:45+01:00", NULL);
  call_menu(s);
  stage_type(s, "mk");
  stage_wait(s, "MK Mira Kessel");
  fill(s, "25.1");
  g_usleep((IDLE_S - 15) * G_USEC_PER_SEC);
  ck_assert(!stage_shows(s, "Still MK?"));
  stage_wait(s, "Still MK?");
  stage_keys(s, "Return"); // would have been recorded under MK
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  g_autoptr(Table) none = ctl_table(c, "export readings");
  ck_assert_uint_eq(none->rows->len, 0);
  stage_type(s, "ta"); // it is somebody else, with what MK has typed
  stage_wait(s, "TA Timo Arp");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_keys(s, "Return");
  g_autoptr(Table) readings = stage_rows(s, "readings", 1);
  ck_assert_str_eq(table_cell(readings, 0, "who"), "TA");
  ck_assert_double_eq(journey_number(readings, 0, "value"), 25.1);
  stage_end(s);
  ctl_free(c);
}
END_TEST

static void
wrong_pin(Stage *s, const char *pin)
{
  stage_wait_focus(s, ATSPI_ROLE_PASSWORD_TEXT, "PIN");
  stage_type(s, pin);
  stage_keys(s, "Return");
}

START_TEST(test_pins)
{
  Ctl *c = station("pins=yes");
  Stage *s = stage_start(c, "2027-03-05T07:45+01:00", NULL);
  stage_wait(s, "Who are you?"); // nobody is let in by having been here last
  fill(s, "25.1");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  stage_type(s, "ta");
  wrong_pin(s, "1111");
  stage_wait(s, "This is not the PIN.");
  wrong_pin(s, "2222");
  wrong_pin(s, "3333");
  stage_wait(s, "Too many wrong PINs");
  stage_type(s, "2468"); // the right one is not taken now either
  stage_keys(s, "Return");
  ck_assert(!stage_shows(s, "TA Timo Arp"));
  wrong_pin(s, "2468"); // waits until it is taken again
  stage_wait(s, "TA Timo Arp");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_keys(s, "Return");
  g_autoptr(Table) readings = stage_rows(s, "readings", 1);
  ck_assert_str_eq(table_cell(readings, 0, "who"), "TA");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// A lead who has none yet is not shut out of the station, and gives himself one in the window.
START_TEST(test_a_first_pin)
{
  Ctl *c = station("pins=yes");
  Stage *s = stage_start(c, "2027-03-05T07:45+01:00", NULL);
  call_menu(s);
  stage_type(s, "mk");
  stage_wait(s, "MK has no PIN yet");
  stage_wait(s, "MK Mira Kessel");
  stage_keys(s, "F6 Down Down");
  stage_wait(s, "Names stand outside the ledger");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Change");
  stage_keys(s, "Return");
  stage_wait(s, "A person");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Contact"); // the first that is empty
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "PIN");
  stage_type(s, "1357");
  stage_keys(s, "Return");
  stage_wait_gone(s, "A person");
  call_menu(s);
  stage_type(s, "mk");
  wrong_pin(s, "2468");
  stage_wait(s, "This is not the PIN.");
  wrong_pin(s, "1357");
  stage_wait_gone(s, "This is not the PIN.");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_still_you, test_pins, test_a_first_pin, NULL};
  return journey_run("journey: still you?", tests);
}
