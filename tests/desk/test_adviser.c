// SPDX-License-Identifier: GPL-3.0-or-later
// What the adviser answers against printed worked examples, each with its source; that every answer
// shows its working, and that work which can hurt never comes without its cautions.
#include <lz_adviser.h>
#include <math.h>
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
}

static void
teardown(void)
{
  lab_close(&lab);
}

static LzQuestion
of_volume(LzQuestionKind kind, double volume_l)
{
  LzQuestion ask;
  lz_question_init(&ask, kind);
  ask.volume_l = volume_l;
  return ask;
}

static LzAnswer *
answered(const LzQuestion *ask)
{
  g_autoptr(GError) error = NULL;
  LzAnswer *answer = lz_desk_answer(lab.desk, ask, &error);
  ck_assert_msg(answer != NULL, "%s", error ? error->message : "?");
  ck_assert_uint_gt(answer->lines->len, 0);
  return answer;
}

static void
refused(const LzQuestion *ask, const char *part)
{
  g_autoptr(GError) error = NULL;
  ck_assert_ptr_null(lz_desk_answer(lab.desk, ask, &error));
  ck_assert_msg(strstr(error->message, part) != NULL, "“%s” is not in: %s", part, error->message);
}

static const LzWorkingLine *
line_with(const LzAnswer *answer, const char *how)
{
  for (guint i = 0; i < answer->lines->len; i++) {
    const LzWorkingLine *line = answer->lines->pdata[i];
    if (strstr(line->how, how))
      return line;
  }
  ck_abort_msg("no line says %s", how);
  return NULL;
}

static gboolean
cautions_say(const LzAnswer *answer, const char *part)
{
  for (guint i = 0; i < answer->cautions->len; i++)
    if (strstr(answer->cautions->pdata[i], part))
      return TRUE;
  return FALSE;
}

// 2,400 L at 0.19, 360 L changed, 1.00 mg Cu/mL: 68.4 mL; labelled in salt 68.4 / 0.25451 = 268.75
// (atomic masses: IUPAC 2021 abridged). The way of the sum: Kraul et al. 1985, batch change.
START_TEST(replaced_as_metal_and_as_salt)
{
  LzQuestion ask = of_volume(LZ_QUESTION_REPLACE, 2400);
  ask.level = 0.19;
  ask.litres = 360;
  ask.strength = 1;
  g_autoptr(LzAnswer) metal = answered(&ask);
  ck_assert_double_eq_tol(metal->amount, 68.4, 1e-9);
  ck_assert_str_eq(line_with(metal, "0.19 × (1 − 0.15)")->value, "0.1615 mg/L");
  ck_assert_str_eq(line_with(metal, "6 × 10 + 8.4")->value, "68.4 mL");
  ask.as = LZQ_AS_COPPER_SULFATE_5H2O;
  g_autoptr(LzAnswer) salt = answered(&ask);
  ck_assert_double_eq_tol(salt->amount, 268.75, 0.005);
  ck_assert_str_eq(line_with(salt, "268.8 −")->value, "0.0513 mL (0.02 %)");
  ask.as = LZQ_AS_ITSELF;
  ask.after = TRUE; // into the system afterwards: the same amount for a batch change
  g_autoptr(LzAnswer) after = answered(&ask);
  ck_assert_double_eq_tol(after->amount, 68.4, 1e-9);
  ck_assert(cautions_say(after, "until it is mixed"));
}
END_TEST

// 200 L to 0.15 mg Cu/L from 1 mg Cu/mL: 30 mL (figures 9.2 row 1, web page).
START_TEST(raised)
{
  LzQuestion ask = of_volume(LZ_QUESTION_RAISE, 200);
  ask.level = 0;
  ask.target = 0.15;
  ask.strength = 1;
  g_autoptr(LzAnswer) one = answered(&ask);
  ck_assert_double_eq_tol(one->amount, 30, 1e-9);
  ask.target = 0.5; // in three daily steps (0.17, 0.34, 0.50): 34 mg, 34 mg, 32 mg
  ask.step = 0.17;
  ask.step_hours = 24;
  g_autoptr(LzAnswer) steps = answered(&ask);
  ck_assert_double_eq_tol(steps->amount, 34, 1e-9);
  ck_assert_str_eq(line_with(steps, "200 L × (0.5 − 0.34)")->value, "32 mg");
  ck_assert(cautions_say(steps, "One step at a time"));
  ask.strength = 500; // 0.068 mL: too little for a syringe of 0.2 mL steps
  g_autoptr(LzAnswer) coarse = answered(&ask);
  ck_assert(cautions_say(coarse, "too coarse"));
}
END_TEST

// Equal ratios: (16/34)^(1/4) = 0.8282, each change 17.2 % = 309 L of 1,800 L, 1,237 L in all; one
// change would need 953 L and is beyond the step. Arithmetic, no published source.
START_TEST(salinity_down_and_up)
{
  LzQuestion ask = of_volume(LZ_QUESTION_FRESHEN, 1800);
  ask.level = 34;
  ask.target = 16;
  ask.step = 6;
  ask.step_hours = 12;
  g_autoptr(LzAnswer) down = answered(&ask);
  ck_assert_double_eq_tol(down->amount, 309.2, 0.1);
  ck_assert_str_eq(line_with(down, "19.32 → 16")->value, "309 L");
  ask = of_volume(LZ_QUESTION_SALT, 1800); // (34 - 21.42) x 1,800 / 1000 = 22.644 kg in five steps
  ask.level = 21.42;
  ask.target = 34;
  g_autoptr(LzAnswer) up = answered(&ask);
  ck_assert_double_eq_tol(up->amount, 22.644 / 5, 1e-9);
  ck_assert_int_eq(up->unit, LZQ_UNIT_KG);
  ask.target = 20;
  refused(&ask, "target");
}
END_TEST

// Copper goes out with the salt: 0.50 mg/L in 1,800 L, first of four equal-ratio steps takes 17.18
// % of 900 mg = 154.6 mg, put back from 5 mg/mL with 30.9 mL.
START_TEST(copper_is_put_back_in_each_step)
{
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  lab_say(&lab, "reading", "2027-03-01 11:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.5", "instrument", "P1", NULL);
  LzQuestion ask = of_volume(LZ_QUESTION_FRESHEN, 1800);
  ask.system = lz_desk_index(lab.desk, "system", lz_desk_find(lab.desk, "system", "Blue-1"));
  ask.level = 34;
  ask.target = 16;
  ask.step = 6;
  g_autoptr(LzAnswer) down = answered(&ask);
  ck_assert_str_eq(line_with(down, "154.6 mg out")->value, "30.9 mL");
}
END_TEST

// Too much: f = (0.9 - 0.5) / 0.9 = 44.4 %, three changes where a quarter a day is allowed.
START_TEST(lowered_by_changes)
{
  LzQuestion ask = of_volume(LZ_QUESTION_LOWER, 1800);
  ask.level = 0.9;
  ask.target = 0.5;
  g_autoptr(LzAnswer) once = answered(&ask);
  ck_assert_double_eq_tol(once->amount, 800, 1e-9);
  ask.step = 0.25;
  g_autoptr(LzAnswer) daily = answered(&ask);
  ck_assert_double_eq_tol(daily->amount, 450, 1e-9);
  ck_assert_str_eq(line_with(daily, "0.5063 → 0.5")->value, "22 L");
  ask.new_level = 0.6; // water that holds more than is wanted leads nowhere
  refused(&ask, "does not lead there");
}
END_TEST

// 200 mg/L in 1,000 L: 1,667 mL of 120 g/L (computed from the definition); 1 US gallon of 200 mg/L:
// 5.30 g at 7.0 mg/mg, printed practice 5.6 g (Piper et al. 1982, Fish Hatchery Management, p.
// 283).
START_TEST(bleach_and_thiosulfate)
{
  LzQuestion ask = of_volume(LZ_QUESTION_BLEACH, 1000);
  refused(&ask, "strength");
  ask.strength = 120;
  g_autoptr(LzAnswer) bleach = answered(&ask);
  ck_assert_double_eq_tol(bleach->amount, 1666.7, 0.05);
  ck_assert(g_str_has_suffix(line_with(bleach, "7.0 mg of pentahydrate")->value, "400 g"));
  ck_assert(cautions_say(bleach, "acid"));
  ck_assert(cautions_say(bleach, "Gloves"));
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  ask.system = lz_desk_index(lab.desk, "system", lz_desk_find(lab.desk, "system", "Blue-1"));
  refused(&ask, "0412"); // never with fish in it
  ask = of_volume(LZ_QUESTION_NEUTRALISE, 3.785411784);
  ask.level = 200;
  g_autoptr(LzAnswer) gallon = answered(&ask);
  ck_assert_double_eq_tol(gallon->amount, 5.30, 0.005);
  ck_assert_str_eq(line_with(gallon, "7.4 mg/mg")->value, "3.8 g – 5.6 g");
}
END_TEST

// 167 mg/L of formalin in 10 cubic feet: 43.8 mL (Piper et al. 1982 p. 276); 75 mg/L of peroxide in
// 100 L: 18.93 mL of the 35 % solution, 396.1 mg/mL (21 CFR 529.1150); limits: Francis-Floyd VM-77.
START_TEST(baths)
{
  LzQuestion ask = of_volume(LZ_QUESTION_BATH, 283.16847);
  ask.bath = LZ_BATH_FORMALIN;
  ask.target = 167;
  refused(&ask, "150 mg/L"); // temperature not given
  ask.temperature = 20;
  refused(&ask, "air on");
  ask.air = TRUE;
  g_autoptr(LzAnswer) formalin = answered(&ask);
  ck_assert_double_eq_tol(formalin->amount, 43.79, 0.005);
  ck_assert(cautions_say(formalin, "Cloudy"));
  ck_assert(cautions_say(formalin, "stays and watches"));
  ck_assert_ptr_nonnull(strstr(formalin->source, "Francis-Floyd"));
  ask.minutes = 61;
  refused(&ask, "60 minutes");
  ask = of_volume(LZ_QUESTION_BATH, 100);
  ask.bath = LZ_BATH_PEROXIDE;
  g_autoptr(LzAnswer) peroxide = answered(&ask);
  ck_assert_double_eq_tol(peroxide->amount, 18.93, 0.01);
  ask.target = 340; // deaths at the second bath of 340 mg/L
  refused(&ask, "published is at most");
  ask = of_volume(LZ_QUESTION_BATH, 20);
  ask.bath = LZ_BATH_FRESHWATER;
  g_autoptr(LzAnswer) fresh = answered(&ask);
  ck_assert_int_eq(fresh->unit, LZQ_UNIT_MIN);
  ck_assert(cautions_say(fresh, "does not cure white spot"));
  ask.minutes = 11;
  refused(&ask, "at most 10");
}
END_TEST

// 75 mg/L of peroxide in 100 L are 7,500 mg: of a bottle of 3 % w/w, 30.2 mg/mL (density 1.01 by
// memory), 248.34 mL, where 18.93 mL of the 35 % solution (21 CFR 529.1150) would be a twelfth of
// it.
START_TEST(a_bath_is_worked_out_for_its_bottle)
{
  LzQuestion ask = of_volume(LZ_QUESTION_BATH, 100);
  lab_say(&lab, "bottle", NULL, "name", "P-3", "analyte", "peroxide", "strength", "30.2", NULL);
  lab_say(&lab, "bottle", NULL, "name", "F-1", "analyte", "formalin", "strength", "1080", NULL);
  ask.bath = LZ_BATH_PEROXIDE;
  ask.bottle = lz_desk_index(lab.desk, "bottle", lz_desk_find(lab.desk, "bottle", "P-3"));
  g_autoptr(LzAnswer) weak = answered(&ask);
  ck_assert_double_eq_tol(weak->amount, 7500 / 30.2, 1e-9);
  ask.strength = 396.1;
  refused(&ask, "give one of the two");
  ask.strength = NAN;
  ask.bottle = lz_desk_index(lab.desk, "bottle", lz_desk_find(lab.desk, "bottle", "F-1"));
  refused(&ask, "F-1 holds formalin");
  ask.bath = LZ_BATH_FRESHWATER;
  refused(&ask, "takes none");
}
END_TEST

// Two lots bathed one after the other take two vessels: twice 7,500 mg / 396.1 mg/mL = 18.93 mL, as
// measured down 18.8 mL each.
START_TEST(baths_of_several_lots)
{
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "A", "tank", "Blue-1/1", "heads", "12", NULL);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "B", "tank", "Blue-1/1", "heads", "1", NULL);
  LzQuestion ask = of_volume(LZ_QUESTION_BATH, 100);
  ask.bath = LZ_BATH_PEROXIDE;
  ask.system = lz_desk_index(lab.desk, "system", lz_desk_find(lab.desk, "system", "Blue-1"));
  g_autoptr(LzAnswer) all = answered(&ask);
  ck_assert_double_eq_tol(all->amount, 18.93, 0.01); // of one
  ck_assert_str_eq(line_with(all, "2 × 18.8 mL")->value, "37.6 mL");
  ck_assert(cautions_say(all, "takes no other"));
  ck_assert_uint_eq(all->each->len, 2);
  ask.volume_l = NAN;
  refused(&ask, "volume"); // the vessel is never the water that they live in
}
END_TEST

// 90 kg of fish at 75 mg/kg and a ration of 1 %: 6,750 mg a day in 0.9 kg of feed (figures 9.2 row
// 16, web page).
START_TEST(medicated_feed)
{
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "A", "tank", "Blue-1/1", "heads", "5000",
          "mean_mass_g", "10", NULL);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "B", "tank", "Blue-1/1", "heads", "400",
          "mean_mass_g", "100", NULL);
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_FEED);
  ask.system = lz_desk_index(lab.desk, "system", lz_desk_find(lab.desk, "system", "Blue-1"));
  ask.mg_per_kg = 75;
  g_autoptr(LzAnswer) feed = answered(&ask);
  ck_assert_double_eq_tol(feed->amount, 6.75, 1e-9);
  ck_assert_str_eq(line_with(feed, "90 kg × 1 %")->value, "0.9 kg");
  // lot by lot: 50 kg and 40 kg, 3,750 and 3,000 mg a day
  ck_assert_str_eq(line_with(feed, "5000 × 10 g")->what, "Lot A, 5000 fish");
  ck_assert_str_eq(line_with(feed, "50 kg × 75 mg/kg")->value, "3\u202f750 mg");
  ck_assert_str_eq(line_with(feed, "40 kg × 75 mg/kg")->value, "3\u202f000 mg");
  ck_assert_uint_eq(feed->each->len, 2);
  ck_assert_double_eq_tol(g_array_index(feed->each, LzAnswerLot, 1).amount, 3000, 1e-9);
  g_autoptr(GArray) chosen = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  ask.lots = chosen;
  refused(&ask, "none is chosen");
  uint32_t b = lz_desk_index(lab.desk, "lot", lz_desk_find(lab.desk, "lot", "B"));
  g_array_append_val(chosen, b);
  g_autoptr(LzAnswer) one = answered(&ask);
  ck_assert_double_eq_tol(one->amount, 3.0, 1e-9);
  ask.lots = NULL;
  ck_assert(cautions_say(feed, "veterinarian"));
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "C", "tank", "Blue-1/1", "heads", "3", NULL);
  refused(&ask, "lot C has none");
}
END_TEST

START_TEST(every_line_has_words)
{
  for (int code = LZQ_LINE_NONE + 1; code < LZQ_N_LINES; code++) {
    lzq_working working = {.n = 0};
    g_autoptr(GPtrArray) lines = lz_working_new();
    lzq_working_add(&working, (lzq_line_code)code, 1.5, 2.5, 3.5, 4.5);
    lz_working_append(lines, &working, "mg/L", "mL");
    ck_assert_uint_eq(lines->len, 1);
    const LzWorkingLine *line = lines->pdata[0];
    ck_assert_msg(*line->what && !strchr(line->how, '{') && !strchr(line->value, '{'), "%d: %s %s",
                  code, line->how, line->value);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-adviser");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, replaced_as_metal_and_as_salt);
  tcase_add_test(all, raised);
  tcase_add_test(all, salinity_down_and_up);
  tcase_add_test(all, copper_is_put_back_in_each_step);
  tcase_add_test(all, lowered_by_changes);
  tcase_add_test(all, bleach_and_thiosulfate);
  tcase_add_test(all, baths);
  tcase_add_test(all, a_bath_is_worked_out_for_its_bottle);
  tcase_add_test(all, baths_of_several_lots);
  tcase_add_test(all, medicated_feed);
  tcase_add_test(all, every_line_has_words);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
