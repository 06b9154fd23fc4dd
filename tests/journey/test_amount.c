// SPDX-License-Identifier: GPL-3.0-or-later
// Questions that nobody planned, on the page "How much": by keys from Water to the entry.
// Case A: 2,400 L x 0.15 x 0.19 mg/L = 360 L x 0.19 = 68.4 mg = 68.4 mL of 1.00 mg/mL.
// Case G: 1,800 L from 34 to 16 in four steps of one ratio: 309 L each.
// Formalin: 250 mg/L, at most an hour, with air (Francis-Floyd, UF/IFAS VM-77).
#include <string.h>

#include "journey.h"

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return c;
}

static Stage *
ask(Ctl *c, const char *begins)
{
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  stage_keys(s, "F3");
  stage_wait(s, "What is in the water");
  stage_keys(s, "ctrl+m");
  stage_wait(s, "nothing is recorded here");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Question");
  stage_type(s, begins);
  return s;
}

static void
field(Stage *s, const char *name, const char *typed)
{
  for (int i = 0; i < 20 && !stage_has_focus(s, ATSPI_ROLE_TEXT, name); i++)
    stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_TEXT, name);
  stage_type(s, typed);
}

START_TEST(test_put_back_and_recorded)
{
  Ctl *c = station();
  Stage *s = ask(c, "Put");
  stage_wait(s, "To be changed: nothing was given"); // names the field as the screen does
  field(s, "To be changed, L", "360");
  stage_wait(s, "68.4 mL");
  stage_wait(s, "360 L × (0.19 − 0) mg/L"); // line by line
  stage_wait(s, "6 × 10 + 8.4 mL");         // as a syringe of 10 mL gives it
  stage_wait(s, "the level never dips");
  stage_keys(s, "Return");
  stage_wait(s, "Dose given"); // the form, filled in
  stage_wait_focus(s, ATSPI_ROLE_TEXT, "");
  stage_keys(s, "Return");
  g_autoptr(Table) doses = stage_rows(s, "doses", 1);
  ck_assert_str_eq(table_cell(doses, 0, "system"), "Blue-1");
  ck_assert_str_eq(table_cell(doses, 0, "bottle"), "C-07");
  ck_assert_double_eq(journey_number(doses, 0, "amount_ml"), 68.4);
  ck_assert_double_eq_tol(journey_number(doses, 0, "computed_ml"), 68.4, 1e-9);
  ck_assert_str_eq(table_cell(doses, 0, "in_new_water"), "yes");
  stage_keys(s, "Escape");
  stage_wait(s, "What is in the water"); // back where it was called up
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_salinity_down_in_steps)
{
  Ctl *c = station();
  Stage *s = ask(c, "Sal");
  field(s, "Net volume, L", "1800");
  field(s, "Salinity now, ppt", "34");
  field(s, "Salinity wanted, ppt", "16");
  stage_wait(s, "34 → 28.16, 17.2 %");
  stage_wait(s, "309 L");
  stage_wait(s, "1\u202f237 L"); // in all
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Write it down");
  stage_wait(s, "Water changed");
  stage_keys(s, "Escape");
  g_autoptr(Table) none = stage_rows(s, "changes", 0); // nothing by itself
  stage_end(s);
  ctl_free(c);
}
END_TEST

START_TEST(test_formalin_with_its_cautions)
{
  Ctl *c = station();
  Stage *s = ask(c, "A b");
  stage_keys(s, "Tab");
  stage_wait_focus(s, ATSPI_ROLE_PUSH_BUTTON, "Kind of bath");
  stage_type(s, "fo");
  field(s, "Vessel, L", "100");
  field(s, "Temperature, °C", "20");
  stage_wait(s, "worked out only with air on");
  stage_keys(s, "Tab space");
  stage_wait(s, "100 L × 250 mg/L");
  stage_wait(s, "gloves, eye protection");
  stage_wait(s, "VM-77");
  field(s, "Vessel, L", "x");
  stage_wait(s, "Vessel: “x” is no number here");
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Three lots of 10 g, 20 g and 30 g a fish, the third left out: 30 x 10 g = 300 g and 10 x 20 g =
// 200 g at 50 mg/kg are 15 and 10 mg a day, each lot's own in its own entry.
START_TEST(test_feed_of_chosen_lots)
{
  Ctl *c = station();
  g_free(ctl(c, 0, "record bottle name=M-1 analyte=praziquantel strength=100"));
  g_free(ctl(c, 0,
             "record lot --happened '2027-03-04 08:00' --entity 0412 --reason weighed "
             "code=0412 tank=Blue-1/1 heads=30 mean_mass_g=10"));
  g_free(ctl(c, 0,
             "record lot --happened '2027-03-04 08:00' code=0413 tank=Blue-1/1 heads=10 "
             "mean_mass_g=20"));
  g_free(ctl(c, 0,
             "record lot --happened '2027-03-04 08:00' code=0414 tank=Blue-1/1 heads=5 "
             "mean_mass_g=30"));
  Stage *s = ask(c, "Medicine in");
  field(s, "For 1 kg of fish a day, mg", "50");
  stage_click(s, ATSPI_ROLE_CHECK_BOX, "0414, 5 fish");
  stage_wait(s, "0.3 kg × 50 mg/kg");
  stage_wait(s, "0.2 kg × 50 mg/kg");
  stage_wait(s, "0.5 kg × 50 mg/kg"); // and together
  stage_press(s, ATSPI_ROLE_PUSH_BUTTON, "Write it down");
  stage_wait(s, "the same for 0413");
  stage_keys(s, "Escape");
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_put_back_and_recorded, test_salinity_down_in_steps,
                                test_formalin_with_its_cautions, test_feed_of_chosen_lots, NULL};
  return journey_run("journey: how much", tests);
}
