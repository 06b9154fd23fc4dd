// SPDX-License-Identifier: GPL-3.0-or-later
// What the program advises and what its gates let through are one: baths at the published limit,
// doses in new water, a bottle of another strength.
#include <lz_adviser.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "lab.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "1", NULL);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

// 37 % formalin holds 400 mg of formaldehyde in a mL; a bottle entered so would make 405 mg/L of
// what was meant to be 150 (density 1.08: Piper et al. 1982 p. 276; 150: Francis-Floyd, UF/IFAS
// VM-77).
START_TEST(formalin_counts_the_solution)
{
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "bottle", NULL, "name", "F-9", "analyte",
                               "formalin", "strength", "400", NULL);
  ck_assert_msg(strstr(no, "strength") && strstr(no, "1080"), "%s", no);
  lab_refused(&lab, LZ_DESK_ERROR_USAGE, "bottle", NULL, "name", "F-9", "analyte", "formalin",
              "strength", "37 %", NULL);
  lab_refused(&lab, LZ_DESK_ERROR_USAGE, "bottle", NULL, "name", "F-9", "analyte", "formalin",
              "strength", "108", NULL);
  lab_say(&lab, "bottle", NULL, "name", "F-9", "analyte", "formalin", "strength", "1080", NULL);
  lab_refused(&lab, LZ_DESK_ERROR_USAGE, "bottle", NULL, "name", "F-9", "analyte", "formalin",
              "strength", "400", NULL);
}
END_TEST

// 10 % formalin is 3.7 % formaldehyde (100 % formalin is 37 %: Francis-Floyd, UF/IFAS VM-77), a
// tenth of 1,080 mg/mL: 150 mg/L in 100 L are 15,000 mg, 13.89 mL of the whole and 138.9 of the
// diluted. Judged with it 138 mL keep 150 mg/L; of the whole they are ten times as much.
static void
bath_from(const char *label, gboolean thin)
{
  LzQuestion ask;
  g_autofree char *name = g_strdup_printf("F %s", label);
  lab_say(&lab, "bottle", NULL, "name", name, "analyte", "formalin", "strength", label, NULL);
  lz_question_init(&ask, LZ_QUESTION_BATH);
  ask.bath = LZ_BATH_FORMALIN;
  ask.volume_l = 100;
  ask.temperature = 25;
  ask.air = TRUE;
  ask.bottle = lz_desk_index(lab.desk, "bottle", lz_desk_find(lab.desk, "bottle", name));
  g_autoptr(GError) error = NULL;
  g_autoptr(LzAnswer) answer = lz_desk_answer(lab.desk, &ask, &error);
  ck_assert_msg(answer != NULL, "%s", error ? error->message : "");
  ck_assert_double_eq_tol(answer->amount, thin ? 15000 / 108.0 : 15000 / 1080.0, 1e-9);
  gboolean said = FALSE;
  for (guint k = 0; k < answer->lines->len; k++)
    said |= strstr(((LzWorkingLine *)answer->lines->pdata[k])->value,
                   thin ? "10 % formalin, that is 3.7 % formaldehyde"
                        : "100 % formalin, that is 37 % formaldehyde") != NULL;
  ck_assert(said);
  if (thin)
    lab_say(&lab, "bath", NULL, "lot", "0412", "bath", "formalin", "bottle", name, "litres", "100",
            "amount_ml", "138", "minutes", "45", "temperature", "25", "air", "yes", NULL);
  else
    lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "bath", NULL, "lot", "0412", "bath",
                            "formalin", "bottle", name, "litres", "100", "amount_ml", "138",
                            "minutes", "45", "temperature", "25", "air", "yes", NULL),
                LZ_GATED_BATH);
}

START_TEST(diluted_formalin)
{
  bath_from("10 % formalin", TRUE);
  bath_from("3,7 % Formaldehyde", TRUE);
  bath_from("1080 mg/mL", FALSE);
  bath_from("100 % formalin", FALSE);
  // described anew for another thing, it stays what it was
  lab_say(&lab, "bottle", NULL, "@entity", "F 10 % formalin", "batch", "7", NULL);
}
END_TEST

// Every amount that the adviser gives for a bath at the published limit, measured with the syringe
// that it was measured for, or to the last digit, passes the gate that has the same limit.
START_TEST(advised_baths_pass_their_gate)
{
  g_autoptr(GRand) random = g_rand_new_with_seed(20270301);

  for (int i = 0; i < 40; i++) {
    LzQuestion ask;
    lz_question_init(&ask, LZ_QUESTION_BATH);
    ask.bath = LZ_BATH_FORMALIN;
    ask.volume_l = g_rand_double_range(random, 40, 400);
    ask.temperature = i % 2 ? 25 : 20;
    ask.air = TRUE;
    ask.strength = i % 3 ? NAN : 1080;
    g_autoptr(GError) error = NULL;
    g_autoptr(LzAnswer) answer = lz_desk_answer(lab.desk, &ask, &error);
    ck_assert_msg(answer != NULL, "%s", error ? error->message : "");
    lzq_tool tool = ask.syringe;
    tool.down = true;
    double given[] = {answer->amount, lzq_measure_out(answer->amount, tool).measured};
    for (int n = 0; n < 2; n++) {
      g_autofree char *ml = lz_format_machine(given[n]), *litres = lz_format_machine(ask.volume_l),
                      *t = lz_format_machine(ask.temperature);
      ck_assert_msg(given[n] > 0.9 * answer->amount, "seed 20270301, case %d", i);
      lab_say(&lab, "bath", NULL, "lot", "0412", "bath", "formalin", "litres", litres, "amount_ml",
              ml, "minutes", "45", "temperature", t, "air", "yes", NULL);
    }
  }
}
END_TEST

static void
held_at(const char *level)
{
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "21 d", NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.19", "plan", "0.21", "harm", "0.25",
          "gap_min", "1440", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Ionic", NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", level, NULL);
}

// 2,400 L at 0.188, band to 0.19: raising it takes 4.8 mg. 360 L of new water are brought to 0.188
// beforehand, 67.7 mg; then they take the place of as much: 0.188 stays. That is no slip of ten.
START_TEST(new_water_is_judged_by_its_own_litres)
{
  held_at("0.188");
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-07", "amount_ml", "67.7",
          "in_new_water", "yes", NULL);
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "360", NULL);
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], 0.188, 1e-4);
}
END_TEST

START_TEST(into_the_tank_the_same_is_a_slip)
{
  held_at("0.188");
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1", "bottle",
                          "C-07", "amount_ml", "67.7", NULL),
              LZ_GATED_SLIP);
  // ten times 67.7 harms wherever it is mixed in: 0.188 + 677/2400 = 0.47
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1", "bottle",
                          "C-07", "amount_ml", "677", "in_new_water", "yes", NULL),
              LZ_GATED_HARM);
}
END_TEST

// 0.15 to 0.19 in 2,400 L are 96 mg: 96 mL of the bottle of 1 mg/mL, 9.6 of the one of 10.
START_TEST(computed_for_the_bottle_that_is_entered)
{
  lab_say(&lab, "bottle", NULL, "name", "C-08", "analyte", "copper", "form", "ionic", "strength",
          "10", NULL);
  held_at("0.15");
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1",
                               "bottle", "C-08", "amount_ml", "96", NULL);
  ck_assert_msg(strstr(no, "the computed dose of 9.6"), "%s", no);
  no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1", "bottle", "C-07",
                   "amount_ml", "960", NULL);
  ck_assert_msg(strstr(no, "the computed dose of 96"), "%s", no);
}
END_TEST

// 34 to 16 in steps of 6 and 12 a day (case practice): the gates take what is closer than 12 hours
// as one step, so no two of them are.
START_TEST(no_step_of_salinity_on_top_of_the_last)
{
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_FRESHEN);
  ask.volume_l = 1800;
  ask.level = 34;
  ask.target = 16;
  g_autoptr(GError) error = NULL;
  g_autoptr(LzAnswer) answer = lz_desk_answer(lab.desk, &ask, &error);
  ck_assert_msg(answer != NULL, "%s", error ? error->message : "");
  gboolean said = FALSE;
  for (guint i = 0; i < answer->lines->len; i++) {
    const LzWorkingLine *line = answer->lines->pdata[i];
    ck_assert_msg(!strstr(line->what, " 0 min"), "%s", line->what);
    said |= strstr(line->what, "no sooner than 12 h after the first") != NULL;
  }
  ck_assert(said);
}
END_TEST

// What is said to be given is accepted as it is said, and afterwards the water stands where the
// band and the pace of salinity allow: random bottles, levels and ways, a station for each.
static void
give_copper(GRand *random, int i)
{
  g_autofree char *level = lz_format_machine(g_rand_int_range(random, 120, 190) / 1000.0);
  g_autofree char *strength = lz_format_machine(g_rand_int_range(random, 5, 90) / 10.0);
  lab_say(&lab, "bottle", NULL, "name", "C-09", "analyte", "copper", "form", "ionic", "strength",
          strength, "limit_level", "0.19", NULL);
  held_at(level);
  const LzDoseAdvice advice = lz_desk_advise_dose(lab.desk, 0, LZQ_COPPER, 0);
  ck_assert_msg(advice.possible, "case %d: %s", i, level);
  g_autofree char *ml = lz_format_machine(round(advice.ml * 10) / 10);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle",
          lz_desk_name(lab.desk, "bottle", advice.bottle), "amount_ml", ml, NULL);
  const double after = lz_desk_plan(lab.desk)->waters[0].level[LZQ_COPPER];
  ck_assert_msg(after >= 0.18 && after <= 0.19 + 0.001, "case %d: %s + %s mL of %s: %g", i, level,
                ml, strength, after);
}

// Of "…, no sooner than 1 d 12 h after the first".
static int64_t
minutes_said(const char *words)
{
  int64_t minutes = 0, n = 0;
  const char *from = strstr(words, "no sooner than ");
  for (const char *c = from ? from + strlen("no sooner than ") : ""; *c && *c != 'a'; c++) {
    n = g_ascii_isdigit(*c) ? n * 10 + (*c - '0') : n;
    if (*c == 'd' || *c == 'h' || *c == 'm') {
      minutes += n * (*c == 'd' ? 1440 : *c == 'h' ? 60 : 1);
      n = 0;
    }
  }
  return minutes;
}

static void
give_fresh_water(GRand *random, int i)
{
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_FRESHEN);
  ask.system = 0;
  ask.level = g_rand_int_range(random, 300, 360) / 10.0;
  ask.target = i % 2 ? ask.level - 12 : g_rand_int_range(random, 100, 220) / 10.0;
  g_autofree char *level = lz_format_machine(ask.level);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", level, NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(LzAnswer) answer = lz_desk_answer(lab.desk, &ask, &error);
  ck_assert_msg(answer != NULL, "case %d: %s", i, error ? error->message : "");
  lzq_minute first = lz_clock_now(lab.clock);
  for (guint l = 0; l < answer->lines->len; l++) {
    const LzWorkingLine *line = answer->lines->pdata[l];
    if (!g_str_has_prefix(line->what, "Step "))
      continue;
    lz_clock_set(lab.clock, first + minutes_said(line->what));
    lz_desk_replan(lab.desk);
    g_autofree char *litres = g_strndup(line->value, strspn(line->value, "0123456789."));
    lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", litres, "new_salinity", "0", NULL);
  }
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[LZQ_SALINITY], ask.target, 0.05);
}

// 2,400 L typed as 24,000 would give ten times the copper, and every gate of the dose would agree.
START_TEST(a_slip_in_what_doses_are_computed_from)
{
#define TYPED(...) lab_refused(&lab, LZ_DESK_ERROR_NEEDS_REASON, __VA_ARGS__, NULL)
  lab_is_gate(TYPED("volume", NULL, "system", "Blue-1", "volume_l", "24000"), LZ_GATED_BASIS);
  const char *no = TYPED("volume", "2027-02-20 09:00", "system", "Blue-1", "volume_l", "240");
  lab_is_gate(no, LZ_GATED_BASIS); // an hour does not make it right
  ck_assert_ptr_nonnull(strstr(no, "0.1 times"));
  lab_is_gate(TYPED("system", NULL, "@entity", "Blue-1", "volume_l", "24000"), LZ_GATED_BASIS);
  no = TYPED("bottle", NULL, "@entity", "C-07", "strength", "0.1"); // of 1 mg/mL
  lab_is_gate(no, LZ_GATED_BASIS);
  ck_assert_ptr_nonnull(strstr(no, "10 times"));
  no = TYPED("bottle", NULL, "@entity", "C-07", "strength_as", "salt"); // a quarter is copper
  lab_is_gate(no, LZ_GATED_BASIS);
  ck_assert_ptr_nonnull(strstr(no, "3.93 times"));
#undef TYPED
  lab_say(&lab, "volume", NULL, "system", "Blue-1", "volume_l", "2600", NULL);
  ck_assert_str_eq(lab_notes(&lab), "");
  lab_say(&lab, "volume", NULL, "system", "Blue-1", "volume_l", "1000", "@reason",
          "the second half is shut off", NULL);
  ck_assert_ptr_nonnull(strstr(lab_notes(&lab), "times what it was"));
  lab_say(&lab, "bottle", NULL, "@entity", "C-07", "reorder_ml", "50", NULL);
  ck_assert_str_eq(lab_notes(&lab), "");
}
END_TEST

START_TEST(what_is_advised_is_accepted_and_right)
{
  const guint32 seed = 411;
  g_autoptr(GRand) random = g_rand_new_with_seed(seed + (guint32)_i);
  printf("gates_amount: seed %u\n", seed + (guint32)_i);
  if (_i % 2)
    give_copper(random, _i);
  else
    give_fresh_water(random, _i / 2);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("gates_amount");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, formalin_counts_the_solution);
  tcase_add_test(all, diluted_formalin);
  tcase_add_test(all, advised_baths_pass_their_gate);
  tcase_add_test(all, new_water_is_judged_by_its_own_litres);
  tcase_add_test(all, into_the_tank_the_same_is_a_slip);
  tcase_add_test(all, computed_for_the_bottle_that_is_entered);
  tcase_add_test(all, a_slip_in_what_doses_are_computed_from);
  tcase_add_test(all, no_step_of_salinity_on_top_of_the_last);
  tcase_add_loop_test(all, what_is_advised_is_accepted_and_right, 0, 16);
  tcase_set_timeout(all, 120);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
