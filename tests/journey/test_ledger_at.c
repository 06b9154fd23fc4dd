// SPDX-License-Identifier: GPL-3.0-or-later
// F7 opens the ledger at the entry that is chosen where one stands: marked, with the focus, and in
// view however far down it lies. Filters stay where they let it through, else they go, and that is
// said.
#include <string.h>

#include "journey.h"

#define READINGS 30

// Thirty readings, an hour apart, each of another value: the first lies far below what is shown.
static Stage *
open_station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  g_autoptr(GString) lines = g_string_new(NULL);
  for (int i = 0; i < READINGS; i++)
    g_string_append_printf(lines, "2027-03-%02d %02d:00 0.%03d\n", 5 + (8 + i) / 24, (8 + i) % 24,
                           150 + i);
  case_read(c, lines->str);
  g_free(ctl(c, 0, "record death --happened '2027-03-06 09:00' lot=0412 heads=1"));
  g_free(ctl(c, 0, "record count --happened '2027-03-06 10:00' lot=0412 heads=29"));
  return stage_start(c, "2027-03-08T07:40+01:00", NULL);
}

static void
close_station(Stage *s)
{
  Ctl *c = stage_ctl(s);
  stage_end(s);
  ctl_free(c);
}

// The extents of a focused row that is scrolled away lie outside those of its list.
static gboolean
is_in_view(Stage *s, gpointer words)
{
  g_autoptr(AtspiAccessible) row = stage_find(s, ATSPI_ROLE_TABLE_ROW, words);
  g_autoptr(AtspiAccessible) list = atspi_accessible_get_parent(row, NULL);
  g_autoptr(AtspiComponent) at = atspi_accessible_get_component_iface(row);
  g_autoptr(AtspiComponent) around = atspi_accessible_get_component_iface(list);
  g_autofree AtspiRect *box = atspi_component_get_extents(at, ATSPI_COORD_TYPE_WINDOW, NULL);
  g_autofree AtspiRect *all = atspi_component_get_extents(around, ATSPI_COORD_TYPE_WINDOW, NULL);
  return box->height > 0 && box->y >= all->y && box->y + box->height <= all->y + all->height;
}

static void
wait_at(Stage *s, const char *words)
{
  stage_wait(s, "nothing is deleted by itself");
  stage_wait_focus(s, ATSPI_ROLE_TABLE_ROW, words);
  stage_until(s, words, is_in_view, (gpointer)words);
}

// How many Tabs lead there is no matter here (tests/app/tab-order has it).
static void
stand_on(Stage *s, AtspiRole role, const char *name)
{
  g_autoptr(AtspiAccessible) found = stage_find(s, role, name);
  for (int i = 0; i < 25 && !stage_has_focus(s, role, name); i++)
    stage_keys(s, "Tab");
  stage_wait_focus(s, role, name);
}

// The cursor goes from reading to reading: later ones are higher here.
static gboolean
walks_to(Stage *s, gpointer reading)
{
  g_autoptr(AtspiAccessible) chart = stage_find(s, ATSPI_ROLE_IMAGE, "Blue-1; copper");
  g_autofree char *said = atspi_accessible_get_description(chart, NULL);
  const char *end = said ? strstr(said, " P1") : NULL;
  int beside = end ? strncmp(end - strlen(reading), reading, strlen(reading)) : 1;
  if (beside)
    stage_keys(s, beside > 0 ? "Left" : "Right");
  return beside == 0;
}

static void
left_to(Stage *s, const char *reading)
{
  stage_keys(s, "F3");
  stage_wait_focus(s, ATSPI_ROLE_IMAGE, "");
  stage_until(s, reading, walks_to, (gpointer)reading);
}

START_TEST(test_from_a_lots_record)
{
  Stage *s = open_station();
  stage_keys(s, "F4");
  stage_wait(s, "0412");
  stand_on(s, ATSPI_ROLE_PUSH_BUTTON, "1 dead");
  stage_keys(s, "F7");
  wait_at(s, "1 dead");
  stage_keys(s, "F4"); // from the lot itself: what it came with
  stage_wait_focus(s, ATSPI_ROLE_LIST, "Lots");
  stage_keys(s, "F7");
  wait_at(s, "Number: 0412");
  close_station(s);
}
END_TEST

START_TEST(test_from_the_charts_cursor)
{
  Stage *s = open_station();
  left_to(s, "0.178");
  stage_keys(s, "F7");
  wait_at(s, "0.178");
  left_to(s, "0.175");
  stage_keys(s, "F7"); // once more: the row of the visit before has lost the focus
  wait_at(s, "0.175");
  stage_keys(s, "Return"); // that one is corrected
  stage_wait(s, "Correction: New reading");
  g_autoptr(AtspiAccessible) value = stage_find(s, ATSPI_ROLE_TEXT, "Value");
  g_autofree char *text = stage_text(value);
  ck_assert_str_eq(text, "0.175");
  close_station(s);
}
END_TEST

START_TEST(test_from_what_the_round_has_done)
{
  Stage *s = open_station();
  g_free(ctl(stage_ctl(s), 0,
             "record feed --happened '2027-03-08 07:30' lot=0412 food=mysis eaten_share=1"));
  stage_wait(s, "1 done");
  stand_on(s, ATSPI_ROLE_LIST_ITEM, "mysis");
  stage_keys(s, "F7");
  wait_at(s, "mysis");
  close_station(s);
}
END_TEST

START_TEST(test_filters_stay_or_go)
{
  Stage *s = open_station();
  stage_keys(s, "F7");
  stage_wait(s, "nothing is deleted by itself");
  stage_type(s, "copper");
  stage_wait_gone(s, "1 dead");
  left_to(s, "0.179");
  stage_keys(s, "F7"); // a reading of copper: what is looked for lets it through
  wait_at(s, "0.179");
  ck_assert(!stage_shows(s, "1 dead"));
  ck_assert(!stage_shows(s, "The filters hid this entry"));
  stage_keys(s, "F4");
  stage_wait(s, "0412");
  stand_on(s, ATSPI_ROLE_PUSH_BUTTON, "1 dead");
  stage_keys(s, "F7");
  wait_at(s, "1 dead");
  stage_wait(s, "The filters hid this entry: they were taken away.");
  stage_type(s, "0.155"); // and what is looked for next is no longer the program's doing
  stage_wait_gone(s, "The filters hid this entry");
  close_station(s);
}
END_TEST

START_TEST(test_from_a_correction_that_is_open)
{
  Stage *s = open_station();
  stage_keys(s, "F4");
  stage_wait(s, "0412");
  stand_on(s, ATSPI_ROLE_PUSH_BUTTON, "1 dead");
  stage_keys(s, "Return");
  stage_wait(s, "Correction: ");
  stage_keys(s, "F7");
  wait_at(s, "1 dead");
  stage_wait(s, "Correction: "); // what was typed is not lost
  close_station(s);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_from_a_lots_record,
                                test_from_the_charts_cursor,
                                test_from_what_the_round_has_done,
                                test_filters_stay_or_go,
                                test_from_a_correction_that_is_open,
                                NULL};
  return journey_run("journey: ledger, at an entry", tests);
}
