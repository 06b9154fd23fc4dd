// SPDX-License-Identifier: GPL-3.0-or-later
// The independent double check (ISMP, independent double checks): while the second person works a
// dose out, nothing on the screen and nothing on the accessibility bus tells what the first came
// to. Case A's figures: 2,400 x 0.15 x 0.19 = 68.4 mg = 68.4 mL of 1.00 mg/mL.
#include <string.h>

#include "journey.h"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  g_free(ctl(c, 0, "record person --who MK initials=TA name='Timo Arp' role=keeper"));
  g_free(ctl(c, 0,
             "record station --who MK --entity 'Test station' --happened "
             "2027-01-01T00:00+01:00 --reason 'house rules' double_check=yes"));
  g_free(ctl(c, 0,
             "record change --who MK --happened '2027-03-05 07:40' system=Blue-1 litres=360 "
             "new_copper=0"));
  return c;
}

static Stage *
begin(Ctl *c)
{
  Stage *s = stage_start(c, "2027-03-05T07:45+01:00", NULL);
  stage_keys(s, "ctrl+u");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  stage_type(s, "mk");
  stage_wait(s, "MK Mira Kessel");
  return s;
}

// Neither digits nor words of an amount, in any accessible, shown or hidden.
static void
tells_nothing(Stage *s, const char *const *amounts)
{
  for (; *amounts; amounts++)
    stage_wait_gone(s, *amounts);
}

static const char *const first[] = {"68.4", "sixty-eight", NULL};

static void
first_person(Stage *s)
{
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_pad(s, "68.4");
  stage_wait(s, "sixty-eight point four mL");
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Second person");
  tells_nothing(s, first);
  // but what one starts from
  stage_wait(s, "What to work it out from");
  stage_wait(s, "2\u202f400 L");
  stage_wait(s, "1 mg of metal per mL");
}

static void
is_recorded(Stage *s, double second)
{
  g_autoptr(Table) doses = stage_rows(s, "doses", 1);
  ck_assert_double_eq(journey_number(doses, 0, "amount_ml"), 68.4);
  ck_assert_double_eq(journey_number(doses, 0, "check_ml"), second);
  ck_assert_str_eq(table_cell(doses, 0, "witness"), "TA");
}

START_TEST(test_two_people_agree)
{
  Ctl *c = station();
  Stage *s = begin(c);
  stage_wait(s, "68.4 mL"); // asked, before anybody has worked it out
  first_person(s);
  stage_type(s, "TA");
  stage_keys(s, "Return"); // initials alone are not a sum
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Second person");
  g_autoptr(Table) none = stage_rows(s, "doses", 0);
  tells_nothing(s, first);
  stage_type(s, "TA 68.5");
  stage_keys(s, "Return");
  is_recorded(s, 68.5);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_two_people_disagree)
{
  static const char *const both[] = {"68.4", "sixty-eight", "86.4", NULL};
  Ctl *c = station();
  Stage *s = begin(c);
  first_person(s);
  stage_type(s, "TA 86.4"); // two digits changed places
  stage_keys(s, "Return");
  stage_wait(s, "different amounts");
  tells_nothing(s, both); // neither learns what the other came to
  g_autoptr(Table) none = stage_rows(s, "doses", 0);
  first_person(s); // both begin again
  stage_type(s, "TA 68.4");
  stage_keys(s, "Return");
  is_recorded(s, 68.4);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Walking to another line and back does not bring the first amount up again either.
START_TEST(test_walking_away_drops_it)
{
  Ctl *c = station();
  Stage *s = begin(c);
  first_person(s);
  stage_keys(s, "Escape");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_wait_gone(s, "sixty-eight");
  first_person(s);
  stage_type(s, "TA 68.4");
  stage_keys(s, "Return");
  is_recorded(s, 68.4);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_the_same_in_a_form)
{
  Ctl *c = station();
  Stage *s = begin(c);
  stage_keys(s, "F3"); // a page that shows no amount of this dose in its form
  stage_keys(s, "ctrl+d");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, "C-07");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "mL");
  stage_type(s, "67.7");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Second person");
  stage_wait_gone(s, "67.7");
  stage_type(s, "TA 76.7");
  stage_keys(s, "Return");
  stage_wait(s, "different amounts");
  stage_wait_gone(s, "76.7");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "mL");
  stage_type(s, "68.4");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Second person");
  stage_type(s, "TA 68.4");
  stage_keys(s, "Return");
  is_recorded(s, 68.4);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_two_people_agree, test_two_people_disagree,
                                test_walking_away_drops_it, test_the_same_in_a_form, NULL};
  return journey_run("journey: two people work a dose out", tests);
}
