// SPDX-License-Identifier: GPL-3.0-or-later
// One window for each file and login: a second call raises the one that is there. Other logins have
// the same file open at once, and each soon sees what the other wrote.
#include "journey.h"

#define CLOCK "2027-03-05T07:45+01:00"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  g_free(ctl(c, 0, "record person --who MK initials=TA name='Timo Arp' role=keeper"));
  return c;
}

static void
sign_in(Stage *s, const char *initials, const char *name)
{
  stage_keys(s, "ctrl+u");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  stage_type(s, initials); // two letters are enough
  stage_wait(s, name);
}

static gboolean
in_front(Stage *s, gpointer data)
{
  return stage_is_in_front(s);
}

static void
read_value(Stage *s, const char *analyte, const char *value)
{
  stage_keys(s, "ctrl+r");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "");
  stage_type(s, "Blue-1");
  stage_keys(s, "Tab");
  stage_type(s, analyte);
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Value");
  stage_type(s, value);
  stage_keys(s, "Return");
  stage_wait_gone(s, "New reading");
}

START_TEST(test_two_logins_see_each_other)
{
  Ctl *c = station();
  Stage *mk = stage_start(c, CLOCK, NULL);
  sign_in(mk, "mk", "MK Mira Kessel");
  Stage *ta = stage_login(mk, CLOCK);
  sign_in(ta, "ta", "TA Timo Arp");
  ck_assert(stage_shows(mk, "MK Mira Kessel")); // who is at one is not who is at the other
  read_value(ta, "temperature", "25,7");
  stage_wait(ta, "temperature 25.7");
  stage_wait(mk, "temperature 25.7"); // in the round's "done", with nobody touching that window
  stage_to_front(mk);
  stage_until(mk, "the first window in front", in_front, NULL);
  read_value(mk, "ph", "8.13");
  stage_wait(ta, "8.13");
  g_autoptr(Table) readings = ctl_table(c, "export readings");
  int first = table_find(readings, "analyte", "temperature", "who", "TA", NULL);
  int second = table_find(readings, "analyte", "ph", "who", "MK", NULL);
  ck_assert_int_ge(first, 0);
  ck_assert_int_ge(second, 0);
  // two PCs' worth of numbering, one chain
  ck_assert_str_ne(table_cell(readings, (guint)first, "pc"),
                   table_cell(readings, (guint)second, "pc"));
  g_free(ctl(c, 0, "verify"));
  stage_to_front(ta);
  stage_until(ta, "the second window in front", in_front, NULL);
  stage_end(ta);
  stage_to_front(mk);
  stage_end(mk);
  ctl_free(c);
}
END_TEST

START_TEST(test_a_second_call_raises_the_window)
{
  Ctl *c = station();
  Stage *mk = stage_start(c, CLOCK, NULL);
  stage_keys(mk, "F4");
  stage_wait_focus(mk, ATSPI_ROLE_LIST, "");
  Stage *ta = stage_login(mk, CLOCK);
  stage_until(ta, "the second window in front", in_front, NULL);
  ck_assert(!stage_is_in_front(mk));
  stage_call_again(mk);
  stage_until(mk, "the first window raised", in_front, NULL);
  ck_assert_uint_eq(stage_n_windows(mk), 1);
  ck_assert_uint_eq(stage_n_windows(ta), 1); // the other login was not asked
  stage_to_front(ta);
  stage_until(ta, "the second window in front", in_front, NULL);
  stage_end(ta);
  stage_to_front(mk);
  stage_end(mk);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_two_logins_see_each_other,
                                test_a_second_call_raises_the_window, NULL};
  return journey_run("journey: two logins", tests);
}
