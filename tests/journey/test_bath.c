// SPDX-License-Identifier: GPL-3.0-or-later
// A bath on the round, as the plan asks for it, by keys and by pointer; and one that nobody
// planned. 150 mg/L where the temperature was not read, at most 60 minutes, with air
// (Francis-Floyd, UF/IFAS VM-77): 100 L x 150 mg/L = 15,000 mg; / 1,080 mg/mL = 13.89 mL
// (density 1.08: Piper et al. 1982 p. 276), 13.8 mL of a syringe in steps of 0.2.
#include <string.h>

#include "journey.h"

static const char bathing[] =
    "[protocol]\nname=Bathing\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Bath\nkind=bath\nplace=stay\nmin_elapsed_min=2880\nmedicine=formalin\n"
    "dose_level=150\nbath_min=45\nsighting_to=1\n";

static Ctl *
station(void)
{
  Ctl *c = ctl_new();
  g_autofree char *file = g_build_filename(c->folder, "bath.protocol", NULL);
  ctl_station(c, NULL);
  ck_assert(g_file_set_contents(file, bathing, -1, NULL));
  g_free(ctl(c, 0, "protocol --who MK '%s'", file));
  g_free(ctl(c, 0, "record system name=Blue-1 volume_l=1000 role=treatment"));
  g_free(ctl(c, 0, "record tank system=Blue-1 number=1"));
  g_free(ctl(c, 0, "record bottle name=F-1 analyte=formalin strength=1080"));
  g_free(ctl(c, 0, "record lot --happened '2027-03-04 08:00' code=A tank=Blue-1/1 heads=30"));
  g_free(ctl(c, 0, "record course --happened '2027-03-04 08:00' lot=A protocol=Bathing"));
  return c;
}

static void
walk_to_the_bath(Stage *s)
{
  for (int i = 0; i < 12 && !stage_has_focus(s, ATSPI_ROLE_TEXT, "Vessel, L"); i++) {
    stage_keys(s, "KP_Down");
    g_usleep(100000);
  }
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Vessel, L");
}

static void
is_recorded(Stage *s, double ml)
{
  g_autoptr(Table) baths = stage_rows(s, "baths", 1);
  ck_assert_str_eq(table_cell(baths, 0, "lot"), "A");
  ck_assert_str_eq(table_cell(baths, 0, "bath"), "formalin");
  ck_assert_str_eq(table_cell(baths, 0, "bottle"), "F-1");
  ck_assert_str_eq(table_cell(baths, 0, "air"), "yes");
  ck_assert_double_eq(journey_number(baths, 0, "litres"), 100);
  ck_assert_double_eq(journey_number(baths, 0, "amount_ml"), ml);
  ck_assert_double_eq_tol(journey_number(baths, 0, "computed_ml"), 15000.0 / 1080, 1e-6);
  ck_assert_double_eq(journey_number(baths, 0, "minutes"), 45);
}

START_TEST(test_by_keys)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-04T09:00+01:00", NULL);
  walk_to_the_bath(s);
  stage_pad(s, "100");
  stage_wait(s, "worked out only with air on"); // why there is no amount yet
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_CHECK_BOX, "Air is on");
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_wait(s, "13.8 mL, 45 min");
  stage_wait(s, "100 L × 150 mg/L");
  stage_wait(s, "gloves, eye protection");
  stage_pad(s, "138"); // a slip of ten: 1,490 mg/L
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "In it, min");
  stage_pad(s, "45");
  stage_wait(s, "STOP"); // before anybody asks
  stage_keys(s, "KP_Enter");
  stage_wait(s, "beyond what is published");
  g_autoptr(Table) none = stage_rows(s, "baths", 0);
  // walking away and back loses nothing; the place is left and entered again
  stage_keys(s, "Escape F3 F2");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_keys(s, "BackSpace BackSpace BackSpace");
  stage_pad(s, "13.8");
  stage_keys(s, "KP_Enter");
  is_recorded(s, 13.8);
  stage_end(s);
  ctl_free(c);
}
END_TEST

typedef struct {
  const char *field;
  gboolean seen, pressed;
} Beside;

// The digits that stand behind the field.
static gboolean
press_behind(AtspiAccessible *accessible, int depth, gpointer data)
{
  Beside *b = data;
  g_autofree char *name = atspi_accessible_get_name(accessible, NULL);
  AtspiRole role = atspi_accessible_get_role(accessible, NULL);
  b->seen = b->seen || (role == ATSPI_ROLE_TEXT && g_strcmp0(name, b->field) == 0);
  if (!b->seen || role != ATSPI_ROLE_PUSH_BUTTON || g_strcmp0(name, "Digits to press") != 0)
    return FALSE;
  g_autoptr(AtspiAction) action = atspi_accessible_get_action_iface(accessible);
  b->pressed = action && atspi_action_do_action(action, 0, NULL);
  return TRUE;
}

static gboolean
is_behind_pressed(Stage *s, gpointer data)
{
  stage_walk(s, press_behind, data);
  return ((Beside *)data)->pressed;
}

static void
press_digits(Stage *s, const char *field, const char *const *keys)
{
  stage_until(s, field, is_behind_pressed, &(Beside){field, FALSE, FALSE});
  stage_press_all(s, keys);
  stage_wait_gone(s, "Take the last digit away");
}

// A wet glove and no key: every number is pressed, what stops it is said in the same place.
START_TEST(test_by_pointer)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-04T09:00+01:00", NULL);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Vessel, L"); // the first line is open
  stage_click(s, ATSPI_ROLE_CHECK_BOX, "Air is on");
  press_digits(s, "Vessel, L", (const char *const[]){"1", "0", "0", "Ready", NULL});
  stage_wait(s, "13.8 mL, 45 min"); // asked
  press_digits(s, "In it, min", (const char *const[]){"9", "0", "Ready", NULL});
  press_digits(s, "Given, mL",
               (const char *const[]){"1", "3", "Decimal sign", "8", "Record", NULL});
  stage_wait(s, "STOP");
  stage_wait(s, "for 90 minutes is beyond what is published"); // sixty are the most
  press_digits(s, "In it, min",
               (const char *const[]){"Take the last digit away", "Take the last digit away", "4",
                                     "5", "Ready", NULL});
  stage_wait_gone(s, "STOP");
  press_digits(s, "Given, mL", (const char *const[]){"Record", NULL});
  is_recorded(s, 13.8);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Ended early: written down, and the plan goes on asking for the whole of it.
START_TEST(test_ended_early)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-04T09:00+01:00", NULL);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Vessel, L");
  stage_pad(s, "100");
  stage_keys(s, "KP_Enter KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_pad(s, "13.8");
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "In it, min");
  stage_pad(s, "12");
  stage_click(s, ATSPI_ROLE_CHECK_BOX, "Ended early");
  stage_keys(s, "KP_Enter"); // on a box to tick: it is ticked, and the bath recorded
  g_autoptr(Table) baths = stage_rows(s, "baths", 1);
  ck_assert_str_eq(table_cell(baths, 0, "stopped"), "yes");
  ck_assert_double_eq(journey_number(baths, 0, "minutes"), 12);
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Vessel, L");
  stage_wait(s, "Bath with formalin");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Nobody planned it: called up by its name, worked as any form, stopped as any dose.
START_TEST(test_unplanned)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-04T09:00+01:00", NULL);
  stage_keys(s, "slash");
  stage_wait_focus(s, ATSPI_ROLE_ENTRY, "Go to");
  stage_type(s, "bath g");
  stage_keys(s, "Return");
  stage_wait(s, "Bath given");
  stage_type(s, "A");
  stage_keys(s, "Tab");
  stage_type(s, "freshwater");
  for (int i = 0; i < 12 && !stage_has_focus(s, ATSPI_ROLE_TEXT, "Litres"); i++)
    stage_keys(s, "Tab");
  stage_type(s, "50");
  for (int i = 0; i < 12 && !stage_has_focus(s, ATSPI_ROLE_TEXT, "Minutes"); i++)
    stage_keys(s, "Tab");
  stage_type(s, "12");
  stage_keys(s, "Return");
  stage_wait(s, "beyond what is published"); // ten minutes are the most: Noga 2010, from memory
  g_autoptr(Table) none = stage_rows(s, "baths", 0);
  stage_keys(s, "ctrl+a");
  stage_type(s, "4");
  stage_keys(s, "Return");
  g_autoptr(Table) baths = stage_rows(s, "baths", 1);
  ck_assert_str_eq(table_cell(baths, 0, "bath"), "freshwater");
  ck_assert_double_eq(journey_number(baths, 0, "minutes"), 4);
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Two people work it out, each alone: nothing tells the second what the first came to, nor what
// the program makes of it.
START_TEST(test_two_people)
{
  static const char *const amounts[] = {"13.8", "thirteen", NULL};
  Ctl *c = station();
  g_free(ctl(c, 0, "record person --who MK initials=TA name='Timo Arp' role=keeper"));
  g_free(ctl(c, 0,
             "record station --who MK --entity 'Test station' --happened "
             "2027-01-01T00:00+01:00 --reason 'house rules' double_check=yes"));
  Stage *s = stage_start(c, "2027-03-04T09:00+01:00", NULL);
  stage_keys(s, "ctrl+u");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Initials");
  stage_type(s, "mk");
  stage_wait(s, "MK Mira Kessel");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Vessel, L");
  stage_pad(s, "100");
  stage_keys(s, "KP_Enter KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Given, mL");
  stage_pad(s, "13.8");
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "In it, min");
  stage_pad(s, "45");
  stage_keys(s, "KP_Enter");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "Second person");
  for (int i = 0; amounts[i]; i++)
    stage_wait_gone(s, amounts[i]);
  stage_wait(s, "What to work it out from");
  stage_wait(s, "1\u202f080 mg/mL");
  stage_wait(s, "150 mg/L");
  stage_type(s, "TA 13.8");
  stage_keys(s, "Return");
  is_recorded(s, 13.8);
  g_autoptr(Table) baths = stage_rows(s, "baths", 1);
  ck_assert_double_eq(journey_number(baths, 0, "check_ml"), 13.8);
  ck_assert_str_eq(table_cell(baths, 0, "witness"), "TA");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_by_keys,   test_by_pointer, test_ended_early,
                                test_unplanned, test_two_people, NULL};
  return journey_run("journey: a bath", tests);
}
