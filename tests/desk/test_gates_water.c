// SPDX-License-Identifier: GPL-3.0-or-later
// Water that holds a medicine, or may hold it: what carbon may have taken out is neither there nor
// gone until somebody knows. Common practice, no source.
#include <lz_estimate.h>
#include <lz_rows.h>
#include <string.h>

#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Dock-1", "volume_l", "500", "role", "receiving", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Dock-1", "number", "1", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  lab_say(&lab, "bottle", NULL, "name", "Q-1", "analyte", "chloroquine", "strength", "50",
          "prescription", "R-9", NULL);
  lab_say(&lab, "species", NULL, "name", "Lysmata amboinensis", "copper", "avoid", "invertebrate",
          "yes", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

#define NO  LZ_DESK_ERROR_REFUSED
#define TWO LZ_DESK_ERROR_NEEDS_SECOND_PERSON

static void
copper(const char *at, const char *value)
{
  lab_say(&lab, "reading", at, "system", "Blue-1", "analyte", "copper", "value", value, NULL);
}

static void
carbon(const char *at, const char *on)
{
  lab_say(&lab, "gear", at, "system", "Blue-1", "gear", "carbon", "on", on, NULL);
}

static void
chloroquine(const char *at)
{
  lab_say(&lab, "dose", at, "system", "Blue-1", "bottle", "Q-1", "amount_ml", "200", NULL);
}

START_TEST(carbon_blinds_every_medicine)
{
  LzEstimate e;
  uint32_t blue = lz_desk_index(lab.desk, "system", lz_desk_find(lab.desk, "system", "Blue-1"));
  chloroquine("2027-02-28 09:00"); // 200 mL x 50 mg/mL in 1,000 L: 10 mg/L
  lab_say(&lab, "reading", "2027-02-28 12:00", "system", "Blue-1", "analyte", "chloroquine",
          "value", "9.8", NULL);
  ck_assert(lz_desk_estimate(lab.desk, blue, LZQ_CHLOROQUINE, lz_desk_now(lab.desk), &e));
  ck_assert(e.known && e.mean > 8);
  carbon("2027-02-28 18:00", "yes");
  lz_desk_estimate(lab.desk, blue, LZQ_CHLOROQUINE, lz_desk_now(lab.desk), &e);
  ck_assert(!e.known);
  lab_say(&lab, "reading", "2027-03-01 10:00", "system", "Blue-1", "analyte", "chloroquine",
          "value", "1", NULL);
  lz_desk_estimate(lab.desk, blue, LZQ_CHLOROQUINE, lz_desk_now(lab.desk), &e);
  ck_assert(e.known && e.mean < 2);
}
END_TEST

// Unknown is not none: copper may still be there, and so may the chloroquine of yesterday.
START_TEST(what_may_be_there_may_be_met)
{
  copper("2027-02-28 09:00", "0.2");
  carbon("2027-02-28 12:00", "yes");
  carbon("2027-02-28 18:00", "no");
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-1", "bottle", "Q-1", "amount_ml",
                          "200", NULL),
              LZ_GATED_DOUBTFUL);
  copper("2027-03-01 11:00", "0");
  chloroquine(NULL);
}
END_TEST

// Chloroquine's course of 21 days counts on it (Noga 2010, as quoted); praziquantel at 2 mg/L was
// gone after 8 +- 1 days (Thomas et al. 2016, PeerJ 4:e1857).
START_TEST(an_unread_medicine_stays)
{
  chloroquine("2027-02-26 09:00");
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-1", "bottle", "C-07",
                          "amount_ml", "20", NULL),
              LZ_GATED_DOUBTFUL);
  lab_go(&lab, "2027-03-19 08:00");
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-1", "bottle", "C-07",
                          "amount_ml", "20", NULL),
              LZ_GATED_DOUBTFUL);
  lab_go(&lab, "2027-03-19 10:00");
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-07", "amount_ml", "20", NULL);
}
END_TEST

static void
shrimp(const char *code, const char *tank)
{
  lab_say(&lab, "lot", NULL, "code", code, "species", "Lysmata amboinensis", "tank", tank, "heads",
          "6", NULL);
}

// Neither received into such a water nor moved into it, whoever asks; a part of a lot is no
// exception.
START_TEST(the_fish_come_to_the_medicine)
{
  copper("2027-02-28 09:00", "0.2");
  lab_is_gate(lab_refused(&lab, NO, "lot", NULL, "code", "L-1", "species", "Lysmata amboinensis",
                          "tank", "Blue-1/1", "heads", "6", "@reason", "sure", NULL),
              LZ_GATED_SPECIES);
  shrimp("L-1", "Dock-1/1");
  lab_say(&lab, "split", NULL, "lot", "L-1", "code", "L-1b", "heads", "2", "tank", "Dock-1/1",
          NULL);
  for (int i = 0; i < 2; i++)
    lab_is_gate(lab_refused(&lab, NO, "move", NULL, "lot", i ? "L-1b" : "L-1", "tank", "Blue-1/1",
                            "@witness", "TA", "@reason", "sure", NULL),
                LZ_GATED_SPECIES);
  lab_is_gate(lab_refused(&lab, NO, "split", NULL, "lot", "L-1", "code", "L-1c", "heads", "1",
                          "tank", "Blue-1/1", NULL),
              LZ_GATED_SPECIES);
  carbon("2027-02-28 12:00", "yes"); // not known is not none
  lab_is_gate(lab_refused(&lab, NO, "move", NULL, "lot", "L-1", "tank", "Blue-1/1", "@reason",
                          "sure", NULL),
              LZ_GATED_SPECIES);
  copper("2027-03-01 11:00", "0.01");
  lab_say(&lab, "move", NULL, "lot", "L-1", "tank", "Blue-1/1", NULL);
}
END_TEST

// Copper from a bottle past its date into the shrimps' water: two gates that nobody may lift, and
// it is said once, at their end.
START_TEST(who_may_lift_is_said_once)
{
  shrimp("L-1", "Dock-1/1");
  lab_say(&lab, "bottle", NULL, "@entity", "C-07", "expiry", "2027-02-28", NULL);
  const char *no = lab_refused(&lab, NO, "dose", NULL, "system", "Dock-1", "bottle", "C-07",
                               "amount_ml", "1", NULL);
  lab_is_gate(no, LZ_GATED_SPECIES);
  lab_is_gate(no, LZ_GATED_EXPIRED);
  const char *lift = strstr(no, "May be lifted by: nobody");
  ck_assert_msg(lift != NULL && !strstr(lift + 1, "May be lifted by"), "%s", no);
}
END_TEST

// A reading in doubt may be right: the meter failed its check, and 0.5 mg/L may be there.
START_TEST(a_doubted_reading_is_not_none)
{
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all", NULL);
  shrimp("L-1", "Dock-1/1");
  lab_say(&lab, "check", "2027-03-01 08:00", "instrument", "P1", "ok", "no", NULL);
  lab_say(&lab, "reading", "2027-03-01 09:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.5", "instrument", "P1", "suspect", "yes", NULL);
  lab_is_gate(lab_refused(&lab, NO, "move", NULL, "lot", "L-1", "tank", "Blue-1/1", "@reason",
                          "sure", NULL),
              LZ_GATED_SPECIES);
}
END_TEST

// Neither from another system nor of another kind: fish would change their water, or lose what they
// must not meet, by a stroke of the pen.
START_TEST(a_merge_moves_nobody)
{
  shrimp("L-1", "Dock-1/1");
  lab_say(&lab, "lot", NULL, "code", "F", "tank", "Blue-1/1", "heads", "9", NULL);
  ck_assert_ptr_nonnull(
      strstr(lab_refused(&lab, NO, "merge", NULL, "lot", "L-1", "into", "F", NULL), "systems"));
  lab_say(&lab, "move", NULL, "lot", "L-1", "tank", "Blue-1/1", NULL);
  ck_assert_ptr_nonnull(
      strstr(lab_refused(&lab, NO, "merge", NULL, "lot", "L-1", "into", "F", NULL), "medicines"));
}
END_TEST

// Copper into the shrimps' water, by mistake: 20 mL x 5 mg/mL in 500 L.
START_TEST(an_error_names_who_must_leave)
{
  shrimp("L-1", "Dock-1/1");
  lab_say(&lab, "dose", NULL, "system", "Dock-1", "bottle", "C-07", "amount_ml", "20",
          "given_in_error", "yes", "@reason", "wrong system", NULL);
  const char *note = lab_notes(&lab);
  ck_assert_msg(strstr(note, "ALARM") && strstr(note, "0.2 mg/L") && strstr(note, "lot L-1") &&
                    strstr(note, "change"),
                "%s", note);
}
END_TEST

// A part of a lot keeps the class of its species for every medicine.
START_TEST(a_part_of_a_lot_is_of_its_species)
{
  lab_say(&lab, "species", NULL, "name", "New one", "chloroquine", "unknown", NULL);
  lab_say(&lab, "lot", NULL, "code", "N", "species", "New one", "tank", "Dock-1/1", "heads", "6",
          NULL);
  lab_say(&lab, "split", NULL, "lot", "N", "code", "N-b", "heads", "2", "tank", "Blue-1/1", NULL);
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-1", "bottle", "Q-1", "amount_ml",
                          "200", NULL),
              LZ_GATED_NO_DATA);
}
END_TEST

static gboolean
says_that_it_waits(void)
{
  gboolean found = FALSE;
  for (guint i = 0; i < 2; i++) {
    g_autoptr(LzRow) row = g_list_model_get_item(lz_desk_systems(lab.desk), i);
    found = found || strstr(lz_row_detail(row), "50 mg of copper wait in new water since");
  }
  return found;
}

// 50 mg in the 100 L of new water are 0.5 mg/L there: on record as a dose, and not to be entered
// with the change again. Tap water with 0.05 mg/L of its own is another matter.
START_TEST(new_water_counts_once)
{
  copper("2027-03-01 11:00", "0.1");
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-07", "amount_ml", "10",
          "in_new_water", "yes", NULL);
  ck_assert(says_that_it_waits());
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_NEEDS_REASON, "change", NULL, "system", "Blue-1",
                          "litres", "100", "new_copper", "0.5", NULL),
              LZ_GATED_COUNTED_TWICE);
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "100", "new_copper", "0.05", NULL);
  ck_assert(!says_that_it_waits());
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "100", "new_copper", "0.5", NULL);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("gates_water");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, carbon_blinds_every_medicine);
  tcase_add_test(all, new_water_counts_once);
  tcase_add_test(all, what_may_be_there_may_be_met);
  tcase_add_test(all, an_unread_medicine_stays);
  tcase_add_test(all, the_fish_come_to_the_medicine);
  tcase_add_test(all, a_doubted_reading_is_not_none);
  tcase_add_test(all, who_may_lift_is_said_once);
  tcase_add_test(all, a_merge_moves_nobody);
  tcase_add_test(all, an_error_names_who_must_leave);
  tcase_add_test(all, a_part_of_a_lot_is_of_its_species);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
