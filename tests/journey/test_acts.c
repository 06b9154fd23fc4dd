// SPDX-License-Identifier: GPL-3.0-or-later
// What a shift meets beside the round: fish that are sick, dead or more than counted, a scrape with
// a finding, waste, a failed pump; each is three steps from where one stands, and ends in the file.
#include <string.h>

#include "journey.h"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  g_free(ctl(c, 0, "record system name=Grey-1 volume_l=200 role=isolation"));
  g_free(ctl(c, 0, "record tank system=Grey-1 number=1"));
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return c;
}

// Steps: a key, or words typed into the search, count one each. The form or page is open when its
// words are shown ("Cancel" where the form's title is also a button's).
static const struct {
  const char *act, *from, *steps[3], *shows;
} table[] = {
    {"reading", "F2", {"ctrl+r"}, "New reading"},
    {"reading, again", "F2", {"KP_Add"}, "New reading"},
    {"dose", "F2", {"ctrl+d"}, "Dose given"},
    {"water change", "F3", {"ctrl+e"}, "Water changed"},
    {"top-up", "F3", {"slash", ":topped", "Return"}, "Water topped up"},
    {"equipment", "F3", {"slash", ":equipment", "Return"}, "Equipment on or off"},
    {"check of an instrument", "F2", {"slash", ":check of", "Return"}, "Check of an instrument"},
    {"sighting", "F2", {"KP_Multiply"}, "Cancel"},
    {"move", "F4", {"KP_1"}, "Cancel"},
    {"death", "F4", {"KP_3"}, "Cancel"},
    {"count", "F4", {"KP_4"}, "Cancel"},
    {"feeding", "F4", {"KP_5"}, "Cancel"},
    {"scrape", "F4", {"KP_6"}, "Cancel"},
    {"protocol", "F4", {"KP_7"}, "Cancel"},
    {"split", "F4", {"KP_8"}, "Cancel"},
    {"merge", "F4", {"slash", ":merge", "Return"}, "Cancel"},
    {"release", "F4", {"KP_9"}, "Cancel"},
    {"waste", "F2", {"slash", ":waste", "Return"}, "Waste and stock of a bottle"},
    {"bath", "F4", {"slash", ":bath given", "Return"}, "Bath given"},
    {"stop a course", "F4", {"slash", ":stop a", "Return"}, "Stop a course"},
    {"note", "F2", {"slash", ":a note", "Return"}, "A note"},
    {"visit or order", "F2", {"slash", ":visit", "Return"}, "Visit, result or order"},
    {"a box of fish", "F2", {"ctrl+b"}, "Room for all boxes"},
    {"handover", "F2", {"ctrl+h"}, "Read back and taken over by"},
    {"power failure", "F2", {"slash", ":power", "Return"}, "first aid"},
    {"who is here", "F2", {"ctrl+u"}, "other initials"},
    {"correction", "F2", {"ctrl+z"}, "Correction"},
    {"ledger", "F2", {"F7"}, "Every entry as it was written"},
};

static guint
walk_steps(Stage *s, const char *const steps[3])
{
  guint n = 0;
  for (; n < 3 && steps[n]; n++) {
    if (steps[n][0] == ':')
      stage_type(s, steps[n] + 1);
    else
      stage_keys(s, steps[n]);
    if (g_str_equal(steps[n], "slash"))
      stage_wait_focus(s, ATSPI_ROLE_ENTRY, "Go to");
  }
  return n;
}

START_TEST(test_each_act_is_three_steps_away)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Read, mg/L");
  stage_pad(s, "0.19");
  stage_keys(s, "KP_Enter"); // something to repeat and to correct
  g_autoptr(Table) three = stage_rows(s, "readings", 3);
  for (size_t i = 0; i < G_N_ELEMENTS(table); i++) {
    stage_keys(s, table[i].from);
    stage_wait_gone(s, table[i].shows);
    guint n = walk_steps(s, table[i].steps);
    stage_wait(s, table[i].shows);
    g_print("%-24s from %s: %u\n", table[i].act, table[i].from, n);
    ck_assert_uint_le(n, 3);
    stage_keys(s, "Escape Escape");
  }
  stage_end(s);
  ctl_free(c);
}
END_TEST

// From Lots, the act of that digit for the lot under the cursor.
static Stage *
at_lots(Ctl *c)
{
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "F4");
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  return s;
}

START_TEST(test_scrape_with_a_finding)
{
  Ctl *c = station();
  Stage *s = at_lots(c);
  stage_keys(s, "KP_6");
  stage_wait(s, "Scrape");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Tank");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Found");
  stage_type(s, "crypto");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "In own words");
  stage_type(s, "two trophonts on the gill");
  stage_keys(s, "Return");
  g_autoptr(Table) scrapes = stage_rows(s, "scrapes", 1);
  ck_assert_str_eq(table_cell(scrapes, 0, "finding"), "cryptocaryon");
  ck_assert_str_eq(table_cell(scrapes, 0, "lot"), "0412");
  ck_assert_str_eq(table_cell(scrapes, 0, "tank"), "Blue-1/1"); // filled in by the desk
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_count_that_does_not_fit)
{
  Ctl *c = station();
  Stage *s = at_lots(c);
  stage_keys(s, "KP_3"); // 31 dead of 30: not with this count
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "31");
  stage_keys(s, "Return");
  stage_wait(s, "count it first");
  stage_keys(s, "Escape");
  stage_wait_gone(s, "count it first");
  stage_keys(s, "KP_4");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "29");
  stage_keys(s, "Return");
  g_autoptr(Table) counts = stage_rows(s, "counts", 1);
  ck_assert_double_eq(journey_number(counts, 0, "heads"), 29);
  g_autoptr(Table) deaths = stage_rows(s, "deaths", 0);
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_one_sick_fish_is_split_out)
{
  Ctl *c = station();
  Stage *s = at_lots(c);
  stage_keys(s, "KP_8");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Number");
  stage_type(s, "0412a");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Fish");
  stage_type(s, "1");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Tank");
  stage_type(s, "Grey-1");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Reason"); // the water there is another
  stage_type(s, "it is sick");
  stage_keys(s, "Return");
  g_autoptr(Table) splits = stage_rows(s, "splits", 1);
  ck_assert_str_eq(table_cell(splits, 0, "code"), "0412a");
  ck_assert_double_eq(journey_number(splits, 0, "heads"), 1);
  ck_assert_str_eq(table_cell(splits, 0, "tank"), "Grey-1/1");
  stage_wait(s, "0412a");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// What left a bottle, its amount pressed with a wet glove.
START_TEST(test_waste_log)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "F3"); // where no line of the round has digits too
  stage_wait(s, "What is in the water");
  stage_keys(s, "slash");
  stage_wait_focus(s, ATSPI_ROLE_ENTRY, "Go to");
  stage_type(s, "waste");
  stage_keys(s, "Return");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Bottle");
  stage_type(s, "C-07");
  stage_press_all(s, (const char *const[]){"Digits to press", "1", "2", "3",
                                           "Take the last digit away", "0", "Below nought or above",
                                           "Ready", NULL});
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "");
  stage_keys(s, "Tab");
  stage_type(s, "disposed");
  stage_keys(s, "Tab");
  stage_type(s, "licensed carrier, note 88");
  stage_keys(s, "Return");
  g_autoptr(Table) stocks = stage_rows(s, "stocks", 1);
  ck_assert_double_eq(journey_number(stocks, 0, "change_ml"), -120);
  ck_assert_str_eq(table_cell(stocks, 0, "why"), "disposed");
  ck_assert_str_eq(table_cell(stocks, 0, "words"), "licensed carrier, note 88");
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_power_failure)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "slash");
  stage_wait_focus(s, ATSPI_ROLE_ENTRY, "Go to");
  stage_type(s, "power");
  stage_keys(s, "Return");
  stage_wait(s, "Switch off at the fuse");
  stage_wait(s, "Blue-1 (30 fish in"); // only water with fish
  stage_keys(s, "KP_1");
  g_autoptr(Table) off = stage_rows(s, "gears", 1);
  ck_assert_str_eq(table_cell(off, 0, "system"), "Blue-1");
  ck_assert_str_eq(table_cell(off, 0, "gear"), "pump");
  ck_assert_str_eq(table_cell(off, 0, "reason"), "power or pump failure");
  stage_wait(s, "Written down for 1 system.");
  stage_keys(s, "KP_2");
  g_autoptr(Table) on = stage_rows(s, "gears", 2);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_each_act_is_three_steps_away,
                                test_scrape_with_a_finding,
                                test_count_that_does_not_fit,
                                test_one_sick_fish_is_split_out,
                                test_waste_log,
                                test_power_failure,
                                NULL};
  return journey_run("journey: beside the round", tests);
}
