// SPDX-License-Identifier: GPL-3.0-or-later
// Fish that are carried into another water: it matches, or somebody says why they go all the same;
// a part of a lot is carried like a whole one. Common practice, no source: salinity falls by no
// more than 12 and rises by no more than 3 a day, and a course states closer tolerances.
#include <lz_foresee.h>
#include <string.h>

#include "lab.h"

static Lab lab;

#define TELL LZ_DESK_ERROR_NEEDS_REASON

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  static const char *const systems[][2] = {{"Blue-1", "treatment"},
                                           {"Red-1", "treatment"},
                                           {"Grey-1", "isolation"},
                                           {"Dock-1", "receiving"}};
  for (size_t i = 0; i < G_N_ELEMENTS(systems); i++) {
    lab_say(&lab, "system", NULL, "name", systems[i][0], "volume_l", "1000", "role", systems[i][1],
            NULL);
    lab_say(&lab, "tank", NULL, "system", systems[i][0], "number", "1", NULL);
  }
  lab_say(&lab, "protocol", NULL, "name", "Low", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Low", "position", "1", "name", "low", "kind", "hold",
          "place", "role", "role", "treatment", "min_elapsed_min", "20160", "tol_salinity", "1",
          "tol_temperature", "1", "tol_ph", "0.2", NULL);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "L", "tank", "Blue-1/1", "heads", "9", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
reads(const char *system, const char *analyte, const char *value)
{
  lab_say(&lab, "reading", NULL, "system", system, "analyte", analyte, "value", value, NULL);
}

static void
course(const char *lot, const char *at)
{
  lab_say(&lab, "course", at, "lot", lot, "protocol", "Low", NULL);
}

static const char *
notes_of_move(const char *lot, const char *tank)
{
  lab_say(&lab, "move", NULL, "lot", lot, "tank", tank, NULL);
  return lab_notes(&lab);
}

START_TEST(a_fall_and_a_rise_without_a_course)
{
  reads("Blue-1", "salinity", "33");
  reads("Red-1", "salinity", "20.9");
  lab_is_gate(lab_refused(&lab, TELL, "move", NULL, "lot", "L", "tank", "Red-1/1", NULL),
              LZ_GATED_MOVE);
  reads("Red-1", "salinity", "21");
  notes_of_move("L", "Red-1/1");
  reads("Blue-1", "salinity", "24.1");
  lab_is_gate(lab_refused(&lab, TELL, "move", NULL, "lot", "L", "tank", "Blue-1/1", NULL),
              LZ_GATED_MOVE);
  reads("Blue-1", "salinity", "24");
  notes_of_move("L", "Blue-1/1");
}
END_TEST

START_TEST(a_part_is_carried_like_the_whole)
{
  course("L", "2027-02-20 10:00");
  reads("Blue-1", "salinity", "33");
  reads("Red-1", "salinity", "31.9");
  lab_is_gate(lab_refused(&lab, TELL, "split", NULL, "lot", "L", "code", "M", "heads", "1", "tank",
                          "Red-1/1", NULL),
              LZ_GATED_MOVE);
  lab_say(&lab, "split", NULL, "lot", "L", "code", "M", "heads", "1", "tank", "Red-1/1", "@reason",
          "sick", NULL);
  ck_assert_ptr_nonnull(strstr(lab_notes(&lab), "does not match"));
  lab_say(&lab, "split", NULL, "lot", "L", "code", "N", "heads", "1", NULL); // stays where it is
}
END_TEST

START_TEST(warmth_and_ph_that_were_read_today)
{
  course("L", "2027-02-20 10:00");
  static const char *const what[][3] = {{"temperature", "25", "26.1"}, {"ph", "8.2", "7.9"}};
  for (int i = 0; i < 2; i++) {
    reads("Blue-1", what[i][0], what[i][1]);
    reads("Red-1", what[i][0], what[i][2]);
    lab_is_gate(lab_refused(&lab, TELL, "move", NULL, "lot", "L", "tank", "Red-1/1", NULL),
                LZ_GATED_MOVE);
    reads("Red-1", what[i][0], what[i][1]);
  }
  reads("Red-1", "temperature", "29");
  lab_go(&lab, "2027-03-02 12:01"); // what was read a day ago says nothing of now
  notes_of_move("L", "Red-1/1");
}
END_TEST

// One reason lifts them all, so all are said: nobody learns of the third from the water. What
// nobody may lift stands first and stays, whatever is said of the rest.
START_TEST(everything_in_the_way_is_said_at_once)
{
  course("L", "2027-02-20 10:00");
  static const char *const what[][3] = {
      {"salinity", "33", "20.5"}, {"temperature", "25", "29"}, {"ph", "8.2", "7.6"}};
  for (int i = 0; i < 3; i++) {
    reads("Blue-1", what[i][0], what[i][1]);
    reads("Red-1", what[i][0], what[i][2]);
  }
  const char *words = lab_refused(&lab, TELL, "move", NULL, "lot", "L", "tank", "Red-1/1", NULL);
  for (int i = 0; i < 3; i++)
    ck_assert_msg(strstr(words, what[i][2]) != NULL, "%s is not in: %s", what[i][2], words);
  ck_assert_ptr_null(strstr(strstr(words, "Instead") + 1, "Instead")); // of one gate, once
  reads("Red-1", "chlorine", "0.5");
  words =
      lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "move", NULL, "lot", "L", "tank", "Red-1/1", NULL);
  lab_is_gate(words, LZ_GATED_NEVER_MEET);
  lab_is_gate(words, LZ_GATED_MOVE);
  ck_assert(strstr(words, "chlorine") < strstr(words, "20.5"));
  words = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "move", NULL, "lot", "L", "tank", "Red-1/1",
                      "@reason", "sick", NULL);
  ck_assert_ptr_null(strstr(words, "20.5"));
}
END_TEST

// Bleach kills at once, whoever says so.
START_TEST(fish_and_chlorine_never_meet)
{
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "state", NULL, "system", "Blue-1", "state",
                          "disinfecting", "@reason", "sure", NULL),
              LZ_GATED_NEVER_MEET);
  lab_say(&lab, "state", NULL, "system", "Red-1", "state", "disinfecting", NULL);
  for (int i = 0; i < 2; i++) {
    lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "move", NULL, "lot", "L", "tank",
                            "Red-1/1", "@reason", "sure", NULL),
                LZ_GATED_NEVER_MEET);
    lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "lot", NULL, "code", "New", "tank",
                            "Red-1/1", "heads", "5", NULL),
                LZ_GATED_NEVER_MEET);
    if (i == 0)
      lab_say(&lab, "state", NULL, "system", "Red-1", "state", "cycling", NULL);
    reads("Red-1", "chlorine", i ? "0" : "5");
  }
  notes_of_move("L", "Red-1/1");
}
END_TEST

// One in isolation is cared for there; out of any other water the plan will ask it back.
START_TEST(out_of_its_place_is_said)
{
  course("L", "2027-02-20 10:00");
  ck_assert_ptr_nonnull(strstr(notes_of_move("L", "Grey-1/1"), "isolation"));
  ck_assert_ptr_nonnull(strstr(notes_of_move("L", "Dock-1/1"), "no place"));
  ck_assert_ptr_null(strstr(notes_of_move("L", "Red-1/1"), "no place"));
}
END_TEST

// Fish whose course gives no copper come into water where another's will be raised, and the other
// way round; lots of one course come together without a word.
START_TEST(another_s_medicine_is_said)
{
  lab_say(&lab, "protocol", NULL, "name", "Cop", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Cop", "position", "1", "name", "up", "kind", "rise",
          "reach", "yes", NULL);
  lab_say(&lab, "band", NULL, "phase", "Cop/1/1", "analyte", "copper", "form", "amine", "side",
          "at_or_above", "works", "0.45", "target", "0.5", "gap_min", "960", NULL);
  static const char *const lots[] = {"C", "D"};
  for (int i = 0; i < 2; i++) {
    lab_say(&lab, "lot", NULL, "code", lots[i], "tank", i ? "Dock-1/1" : "Red-1/1", "heads", "5",
            NULL);
    lab_say(&lab, "course", NULL, "lot", lots[i], "protocol", "Cop", NULL);
  }
  course("L", "2027-02-20 10:00");
  ck_assert_ptr_null(strstr(notes_of_move("D", "Red-1/1"), "medicine"));
  ck_assert_ptr_nonnull(
      strstr(notes_of_move("L", "Red-1/1"), "lot C in Red-1 is under a medicine"));
  notes_of_move("L", "Blue-1/1");
  ck_assert_ptr_nonnull(strstr(notes_of_move("D", "Blue-1/1"), "course of lot L there gives none"));
}
END_TEST

// Something was seen: the advice is not to match the water.
START_TEST(a_water_in_which_something_was_seen)
{
  course("L", "2027-02-20 10:00");
  lab_say(&lab, "sighting", NULL, "system", "Blue-1", "sign", "white_spot", NULL);
  const char *words = lab_refused(&lab, TELL, "move", NULL, "lot", "L", "tank", "Red-1/1", NULL);
  lab_is_gate(words, LZ_GATED_SEEN);
  ck_assert_ptr_null(strstr(words, "match the water"));
}
END_TEST

// The wrong instrument, or the wrong analyte, was named: kept, and said.
START_TEST(an_instrument_that_cannot_have_read_it)
{
  lab_say(&lab, "instrument", NULL, "name", "Cond", "method", "conductivity", NULL);
  for (int i = 0; i < 2; i++) {
    lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", i ? "copper" : "salinity",
            "value", i ? "0.2" : "33", "instrument", "Cond", NULL);
    ck_assert_int_eq(strstr(lab_notes(&lab), "does not measure copper") != NULL, i);
  }
}
END_TEST

// Before anybody confirms, too, and once.
START_TEST(a_what_if_says_so)
{
  course("L", "2027-02-20 10:00");
  g_autoptr(LzCommand) comes =
      lz_command_build("lot", "code", "New", "tank", "Blue-1/1", "heads", "5", NULL);
  GError *error = NULL;
  g_autoptr(LzForesight) f = lz_desk_foresee(lab.desk, &comes, 1, &error);
  ck_assert_msg(f, "%s", error ? error->message : "");
  ck_assert_uint_eq(f->notes->len, 1);
  ck_assert_ptr_nonnull(strstr(f->notes->pdata[0], "(L)"));
}
END_TEST

// Lots begun a day apart are not together; those begun within a day are.
START_TEST(who_is_further_on_is_named)
{
  course("L", "2027-02-20 10:00");
  lab_say(&lab, "lot", NULL, "code", "New", "tank", "Blue-1/1", "heads", "5", NULL);
  ck_assert_ptr_nonnull(strstr(lab_notes(&lab), "(L)"));
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "M", "tank", "Red-1/1", "heads", "9", NULL);
  course("M", "2027-02-21 09:59");
  ck_assert_ptr_null(strstr(notes_of_move("M", "Blue-1/1"), "further on"));
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "N", "tank", "Red-1/1", "heads", "9", NULL);
  course("N", "2027-02-22 10:00");
  ck_assert_ptr_nonnull(strstr(notes_of_move("N", "Blue-1/1"), "(L, M)"));
  lab_say(&lab, "station", NULL, "@entity", "Lab", "last_in", "yes", NULL); // dates say it then
  lab_say(&lab, "lot", NULL, "code", "New2", "tank", "Blue-1/1", "heads", "5", NULL);
  ck_assert_ptr_null(strstr(lab_notes(&lab), "further on"));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("gates_move");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, a_fall_and_a_rise_without_a_course);
  tcase_add_test(all, a_part_is_carried_like_the_whole);
  tcase_add_test(all, warmth_and_ph_that_were_read_today);
  tcase_add_test(all, everything_in_the_way_is_said_at_once);
  tcase_add_test(all, fish_and_chlorine_never_meet);
  tcase_add_test(all, out_of_its_place_is_said);
  tcase_add_test(all, another_s_medicine_is_said);
  tcase_add_test(all, a_water_in_which_something_was_seen);
  tcase_add_test(all, an_instrument_that_cannot_have_read_it);
  tcase_add_test(all, a_what_if_says_so);
  tcase_add_test(all, who_is_further_on_is_named);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
