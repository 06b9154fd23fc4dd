// SPDX-License-Identifier: GPL-3.0-or-later
// Each gate fires, says what to do instead and on whose word, and is lifted by nobody but whom its
// row names; docs/gates.md prints the same rows.
#include <string.h>

#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "system", NULL, "name", "Blue-2", "volume_l", "1000", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-2", "number", "1", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "ionic amine",
          NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
copper(const char *at, const char *value)
{
  lab_say(&lab, "reading", at, "system", "Blue-1", "analyte", "copper", "value", value,
          "instrument", "P1", NULL);
}

static void
hold_copper(void)
{
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "30240", "tol_copper", "0.02", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.2", "plan", "0.21", "harm", "0.25",
          "gap_min", "1440", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Ionic", NULL);
  copper("2027-03-01 11:00", "0.1");
}

#define DOSE(code, ...)                                                                            \
  lab_refused(&lab, code, "dose", NULL, "system", "Blue-1", "bottle", "C-07", __VA_ARGS__, NULL)
#define GIVE(...)                                                                                  \
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-07", __VA_ARGS__, NULL)
#define NO   LZ_DESK_ERROR_REFUSED
#define TWO  LZ_DESK_ERROR_NEEDS_SECOND_PERSON
#define TELL LZ_DESK_ERROR_NEEDS_REASON

static void
was_lifted(int64_t id, const char *gate)
{
  g_autoptr(LzEntry) dose = lz_desk_entry(lab.desk, id, NULL);
  ck_assert_str_eq(lz_entry_text(dose, "lifted"), gate);
}

// 1,000 L from 0.1 to 0.2 by 5 mg/mL: 20 mL.
START_TEST(amounts)
{
  hold_copper();
  lab_is_gate(DOSE(NO, "amount_ml", "200"), LZ_GATED_SLIP);
  lab_is_gate(DOSE(NO, "amount_ml", "200", "@witness", "TA", "@reason", "sure"), LZ_GATED_SLIP);
  lab_is_gate(DOSE(NO, "amount_ml", "32"), LZ_GATED_HARM); // 0.1 + 160/1000 = 0.26
  lab_is_gate(DOSE(LZ_DESK_ERROR_NEEDS_READBACK, "amount_ml", "9"), LZ_GATED_SMALL);
  copper("2027-03-01 11:30", "0.19"); // 2 mL are computed
  lab_is_gate(DOSE(TWO, "amount_ml", "4"), LZ_GATED_LARGE);
  int64_t id = GIVE("amount_ml", "4", "@witness", "TA");
  was_lifted(id, "large");
  lab_is_gate(DOSE(NO, "amount_ml", "2", "@witness", "TA", "@reason", "sure"), LZ_GATED_OPEN_DOSE);
}
END_TEST

START_TEST(unknown_level)
{
  hold_copper();
  lab_say(&lab, "gear", NULL, "system", "Blue-1", "gear", "carbon", "on", "yes", NULL);
  lab_is_gate(DOSE(NO, "amount_ml", "20"), LZ_GATED_UNKNOWN);
}
END_TEST

START_TEST(species)
{
  lab_say(&lab, "species", NULL, "name", "Urchin", "copper", "avoid", "invertebrate", "yes", NULL);
  lab_say(&lab, "species", NULL, "name", "New one", "copper", "unknown", "chloroquine", "unknown",
          NULL);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "U", "species", "Urchin", "tank", "Blue-1/1",
          "heads", "3", NULL);
  lab_say(&lab, "gear", NULL, "system", "Blue-1", "gear", "carbon", "on", "yes", NULL);
  const char *both = DOSE(NO, "amount_ml", "20"); // all that stands in the way, at once
  lab_is_gate(both, LZ_GATED_SPECIES);
  lab_is_gate(both, LZ_GATED_EQUIPMENT);
  lab_say(&lab, "gear", NULL, "system", "Blue-1", "gear", "carbon", "on", "no", NULL);
  lab_is_gate(DOSE(NO, "amount_ml", "20"), LZ_GATED_SPECIES);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "N", "species", "New one", "tank", "Blue-2/1",
          "heads", "3", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "30240", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.2", "harm", "0.25", "gap_min", "1440", NULL);
  lab_is_gate(lab_refused(&lab, TWO, "course", NULL, "lot", "N", "protocol", "Ionic", NULL),
              LZ_GATED_NO_DATA);
  lab_say(&lab, "course", NULL, "lot", "N", "protocol", "Ionic", "@witness", "TA", NULL);
  lab_is_gate(lab_refused(&lab, NO, "course", NULL, "lot", "U", "protocol", "Ionic", "@witness",
                          "TA", "@reason", "sure", NULL),
              LZ_GATED_SPECIES);
}
END_TEST

START_TEST(medicines_that_meet)
{
  lab_say(&lab, "bottle", NULL, "name", "K-1", "analyte", "copper", "form", "chelated", "strength",
          "5", NULL);
  lab_say(&lab, "bottle", NULL, "name", "F-1", "analyte", "formalin", "strength", "1080", NULL);
  copper("2027-03-01 09:00", "0.1");
  lab_say(&lab, "dose", "2027-03-01 09:30", "system", "Blue-1", "bottle", "C-07", "amount_ml", "10",
          NULL);
  copper("2027-03-01 11:00", "0.15");
  lab_is_gate(lab_refused(&lab, NO, "dose", NULL, "system", "Blue-1", "bottle", "K-1", "amount_ml",
                          "10", "@witness", "TA", "@reason", "sure", NULL),
              LZ_GATED_NEVER_MEET);
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-1", "bottle", "F-1", "amount_ml",
                          "20", NULL),
              LZ_GATED_DOUBTFUL);
  lab_say(&lab, "station", NULL, "@entity", "Lab", "doubtful_pairs", "refuse", NULL);
  lab_is_gate(lab_refused(&lab, NO, "dose", NULL, "system", "Blue-1", "bottle", "F-1", "amount_ml",
                          "20", "@witness", "TA", NULL),
              LZ_GATED_NEVER_MEET);
  lab_say(&lab, "station", NULL, "@entity", "Lab", "doubtful_pairs", "allow", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "F-1", "amount_ml", "20", NULL);
  ck_assert_ptr_nonnull(strstr(lab_notes(&lab), "formalin would meet copper"));
}
END_TEST

START_TEST(equipment)
{
  lab_say(&lab, "gear", NULL, "system", "Blue-1", "gear", "resin", "on", "yes", NULL);
  copper("2027-03-01 12:00", "0.1");
  lab_is_gate(DOSE(TELL, "amount_ml", "10"), LZ_GATED_EQUIPMENT);
  GIVE("amount_ml", "10", "@reason", "the bag is sealed");
}
END_TEST

START_TEST(method_is_kept_not_used)
{
  lab_say(&lab, "bottle", NULL, "name", "K-1", "analyte", "copper", "form", "chelated", "strength",
          "5", NULL);
  lab_say(&lab, "dose", "2027-03-01 09:30", "system", "Blue-1", "bottle", "K-1", "amount_ml", "10",
          NULL);
  copper(NULL, "0.01");
  lab_is_gate(lab_notes(&lab), LZ_GATED_METHOD);
}
END_TEST

START_TEST(bottles)
{
  lab_say(&lab, "bottle", NULL, "@entity", "C-07", "expiry", "2027-02-28", NULL);
  lab_is_gate(DOSE(NO, "amount_ml", "10", "@witness", "TA", "@reason", "sure"), LZ_GATED_EXPIRED);
  lab_say(&lab, "bottle", NULL, "@entity", "C-07", "expiry", "2027-03-01",
          NULL); // to the day's end
  GIVE("amount_ml", "10");
  lab_say(&lab, "bottle", NULL, "name", "Q-1", "analyte", "chloroquine", "strength", "10", NULL);
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-2", "bottle", "Q-1", "amount_ml",
                          "1000", NULL),
              LZ_GATED_PRESCRIPTION);
  lab_say(&lab, "bottle", NULL, "@entity", "Q-1", "prescription", "RX 77", NULL);
  lab_is_gate(lab_refused(&lab, TWO, "dose", NULL, "system", "Blue-2", "bottle", "Q-1", "amount_ml",
                          "1600", NULL),
              LZ_GATED_PUBLISHED_LIMIT); // 16 mg/L, published 15
  lab_say(&lab, "bottle", NULL, "@entity", "Q-1", "limit_level", "12", NULL);
  lab_is_gate(lab_refused(&lab, NO, "dose", NULL, "system", "Blue-2", "bottle", "Q-1", "amount_ml",
                          "1300", "@witness", "TA", NULL),
              LZ_GATED_STATION_LIMIT);
  lab_say(&lab, "dose", NULL, "system", "Blue-2", "bottle", "Q-1", "amount_ml", "1000", NULL);
}
END_TEST

START_TEST(rest_after_arrival)
{
  lab_say(&lab, "lot", "2027-03-01 08:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "station", NULL, "@entity", "Lab", "settle_h", "48", NULL);
  lab_is_gate(DOSE(TELL, "amount_ml", "10"), LZ_GATED_TOO_SOON);
  GIVE("amount_ml", "10", "@reason", "velvet on the skin");
}
END_TEST

START_TEST(water_and_moves)
{
  lab_is_gate(lab_refused(&lab, NO, "change", NULL, "system", "Blue-1", "litres", "1200", NULL),
              LZ_GATED_TOO_MUCH_WATER);
  hold_copper();
  lab_is_gate(lab_refused(&lab, TELL, "move", NULL, "lot", "0412", "tank", "Blue-2/1", NULL),
              LZ_GATED_MOVE);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "S", "tank", "Blue-2/1", "heads", "3", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Down", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Down", "position", "1", "name", "down", "kind", "lower",
          "salinity_step", "3", "min_credit_min", "60", NULL);
  lab_say(&lab, "band", NULL, "phase", "Down/1/1", "analyte", "salinity", "side", "at_or_below",
          "works", "22", "gap_min", "1440", NULL);
  lab_say(&lab, "course", NULL, "lot", "S", "protocol", "Down", NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-2", "analyte", "salinity", "value", "34", NULL);
  lab_is_gate(lab_refused(&lab, TELL, "change", NULL, "system", "Blue-2", "litres", "200",
                          "new_salinity", "0", NULL),
              LZ_GATED_SALINITY_STEP);
}
END_TEST

START_TEST(baths)
{
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_is_gate(lab_refused(&lab, NO, "bath", NULL, "lot", "0412", "bath", "formalin", "litres",
                          "100", "amount_ml", "15", "minutes", "45", "temperature", "25", "air",
                          "yes", NULL),
              LZ_GATED_BATH); // 162 mg/L above 21 degrees
  lab_is_gate(lab_refused(&lab, NO, "bath", NULL, "lot", "0412", "bath", "freshwater", "litres",
                          "20", "minutes", "30", NULL),
              LZ_GATED_BATH);
  lab_say(&lab, "bath", NULL, "lot", "0412", "bath", "formalin", "litres", "100", "amount_ml", "13",
          "minutes", "45", "temperature", "25", "air", "yes", NULL);
}
END_TEST

static const char *
notes_of_bath(const char *ml, const char *minutes, const char *heads)
{
  lab_say(&lab, "bath", NULL, "lot", "0412", "bath", "formalin", "litres", "100", "amount_ml", ml,
          "minutes", minutes, "heads", heads, "temperature", "25", "air", "yes", NULL);
  return lab_notes(&lab);
}

// A phase that asks for 150 mg/L for an hour does not end with less: 13.5 mL x 1.08 g/mL in 100 L
// are 146 mg/L, 1 mL are 11.
START_TEST(a_bath_says_what_it_is_worth)
{
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Bath", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Bath", "position", "1", "name", "bath", "kind", "bath",
          "bath_min", "60", "medicine", "formalin", "dose_level", "150", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Bath", NULL);
  ck_assert_ptr_nonnull(strstr(notes_of_bath("13.5", "1", "30"), "shorter"));
  ck_assert_ptr_nonnull(strstr(notes_of_bath("1", "60", "30"), "weaker"));
  ck_assert_ptr_nonnull(strstr(notes_of_bath("13.5", "60", "12"), "12 of 30"));
  ck_assert(!lab_credit(&lab, "0412")->served);
  ck_assert_ptr_null(strstr(notes_of_bath("13.5", "60", "18"), "bath"));
  ck_assert(lab_credit(&lab, "0412")->served);
}
END_TEST

// Medicated feed: the bottle is in date, and a veterinarian prescribed it.
START_TEST(medicated_feed)
{
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "bottle", NULL, "name", "M-01", "analyte", "praziquantel", "strength", "100",
          "expiry", "2027-02-28", "prescription", "R-7", NULL);
  lab_say(&lab, "bottle", NULL, "name", "M-02", "analyte", "praziquantel", "strength", "100", NULL);
  lab_is_gate(lab_refused(&lab, NO, "feed", NULL, "lot", "0412", "eaten_share", "1", "bottle",
                          "M-01", "medicine_mg", "100", NULL),
              LZ_GATED_EXPIRED);
  lab_is_gate(lab_refused(&lab, TWO, "feed", NULL, "lot", "0412", "eaten_share", "1", "bottle",
                          "M-02", "medicine_mg", "100", NULL),
              LZ_GATED_PRESCRIPTION);
  lab_say(&lab, "bottle", NULL, "@entity", "M-02", "prescription", "R-8", NULL);
  lab_say(&lab, "feed", NULL, "lot", "0412", "eaten_share", "1", "bottle", "M-02", "medicine_mg",
          "100", NULL);
  lab_say(&lab, "feed", NULL, "lot", "0412", "eaten_share", "1", NULL); // plain food: no gate
}
END_TEST

// The refusal must not tell the second person what the first came to.
START_TEST(two_people_work_it_out)
{
  lab_say(&lab, "station", NULL, "@entity", "Lab", "double_check", "yes", NULL);
  const char *no = DOSE(TWO, "amount_ml", "17.3");
  lab_is_gate(no, LZ_GATED_ALONE);
  ck_assert_ptr_null(strstr(no, "17"));
  lab_is_gate(DOSE(TWO, "amount_ml", "17.3", "@witness", "TA"), LZ_GATED_ALONE);
  no = DOSE(NO, "amount_ml", "17.3", "@witness", "TA", "check_ml", "27.3");
  lab_is_gate(no, LZ_GATED_DISAGREE);
  ck_assert(!strstr(no, "17") && !strstr(no, "27"));
  int64_t id = GIVE("amount_ml", "17.3", "@witness", "TA", "check_ml", "17.5");
  g_autoptr(LzEntry) dose = lz_desk_entry(lab.desk, id, NULL);
  ck_assert_double_eq(lz_entry_number(dose, "check_ml"), 17.5);
}
END_TEST

// A large one is worked out alone too: what it is compared with would tell the second person.
START_TEST(a_large_dose_worked_out_alone)
{
  hold_copper();
  lab_say(&lab, "station", NULL, "@entity", "Lab", "double_check", "yes", NULL);
  copper("2027-03-01 11:30", "0.19"); // 2 mL are computed
  const char *no = DOSE(TWO, "amount_ml", "4");
  lab_is_gate(no, LZ_GATED_ALONE);
  ck_assert(!strstr(no, "4 mL") && !strstr(no, "2 mL"));
  int64_t id = GIVE("amount_ml", "4", "@witness", "TA", "check_ml", "4");
  was_lifted(id, "large");
}
END_TEST

// What was done is kept when it is entered afterwards, and said.
START_TEST(entered_afterwards)
{
  lab_say(&lab, "bottle", NULL, "@entity", "C-07", "expiry", "2027-02-28", NULL);
  lab_say(&lab, "dose", "2027-03-01 09:00", "system", "Blue-1", "bottle", "C-07", "amount_ml", "10",
          NULL);
  ck_assert_ptr_nonnull(strstr(lab_notes(&lab), "expired on 2027-02-28"));
}
END_TEST

START_TEST(documented)
{
  g_autofree char *text = NULL;
  g_autofree char *path = g_build_filename(g_getenv("LAZARET_DOCS"), "gates.md", NULL);
  ck_assert(g_file_get_contents(path, &text, NULL, NULL));
  guint rows = 0;
  for (const char *at = text; (at = strstr(at, "\n| `")) != NULL; at++)
    rows++;
  ck_assert_uint_eq(rows, LZ_N_GATES);
  for (int i = 0; i < LZ_N_GATES; i++) {
    const LzGateRule *r = lz_gate_rule((LzGateCode)i);
    g_autofree char *row = g_strdup_printf("\n| `%s` | %s | %s | %s | %s | %s |\n", r->id, r->what,
                                           r->why, r->source, r->instead, lz_gate_lift(r->lift));
    ck_assert_msg(strstr(text, row) != NULL, "docs/gates.md lacks: %s", row);
  }
}
END_TEST

// 0.1 + 1,000 mg in 1,000 L: 1.1 mg/L, ten times the computed 100 mg. Beforehand nobody may; once
// it is in the water anybody may say so, with a reason, and is told what to do: from 1.1 to 0.2
// takes 1 - 0.2 / 1.1 = 0.8182 of the water, 818 L, in changes of at most half a day.
START_TEST(given_in_error)
{
  hold_copper();
  lab_is_gate(DOSE(NO, "amount_ml", "200"), LZ_GATED_SLIP);
  ck_assert_ptr_nonnull(strstr(DOSE(TELL, "amount_ml", "200", "given_in_error", "yes"), "reason"));
  GIVE("amount_ml", "200", "given_in_error", "yes", "@reason", "decimal point", "@who", "TA");
  const char *note = lab_notes(&lab);
  ck_assert_msg(strstr(note, "ALARM: Blue-1 now holds 1.1 mg/L, and 0.25 mg/L is where it harms") &&
                    strstr(note, "change 818 L of water"),
                "%s", note);
  // now, and above everything else: the change that brings it down
  const lzq_plan *plan = lz_desk_plan(lab.desk);
  ck_assert_uint_gt(plan->n_tasks, 0);
  ck_assert_int_eq(plan->tasks[0].kind, LZQ_TASK_CHANGE);
  ck_assert_int_eq(plan->tasks[0].because.code, LZQ_BECAUSE_HARM);
  ck_assert_int_eq(plan->tasks[0].at, plan->now);
  ck_assert_double_eq_tol(plan->tasks[0].amount, 818, 1);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-gates");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, amounts);
  tcase_add_test(all, unknown_level);
  tcase_add_test(all, species);
  tcase_add_test(all, medicines_that_meet);
  tcase_add_test(all, equipment);
  tcase_add_test(all, method_is_kept_not_used);
  tcase_add_test(all, bottles);
  tcase_add_test(all, rest_after_arrival);
  tcase_add_test(all, water_and_moves);
  tcase_add_test(all, baths);
  tcase_add_test(all, a_bath_says_what_it_is_worth);
  tcase_add_test(all, two_people_work_it_out);
  tcase_add_test(all, medicated_feed);
  tcase_add_test(all, a_large_dose_worked_out_alone);
  tcase_add_test(all, entered_afterwards);
  tcase_add_test(all, given_in_error);
  tcase_add_test(all, documented);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
