// SPDX-License-Identifier: GPL-3.0-or-later
// Doses: printed worked examples, cases worked by hand, instrument-sized amounts, and the gates.
// "Figures 9.2 row n" numbers the printed worked examples; web pages are named by that number only.
#include "lzq_dose.h"
#include "lzq_gate.h"

#include "lzq_balance.h"
#include "published.h"

static const lzq_stock one_mg_ml = {1.0, LZQ_AS_ITSELF};
static const lzq_stock five_mg_ml = {5.0, LZQ_AS_ITSELF};
static const lzq_stock one_mg_salt = {1.0, LZQ_AS_COPPER_SULFATE_5H2O};

// Figures 9.2 row 1, web page [R]: 200 L to 0.15 mg/L with 1 mg/mL: 30 mL; with 1.018 mg/mL 29.47
// [C]
// Found by Frama-C's Eva (docs/engine/eva.md): undefined behaviour before, and a whole answer now.
START_TEST(extremes_of_steps_and_minutes)
{
  double level = 0;
  ck_assert_uint_eq(lzq_rise_levels(-1e308, 1e308, INFINITY, &level, 1), 1);
  ck_assert_double_eq(level, 1e308);
  ck_assert(lzq_reading_closes_dose(LZQ_LONG_AGO, LZQ_NEVER, 60));
  ck_assert(!lzq_reading_closes_dose(LZQ_NEVER, LZQ_LONG_AGO, 60));
  ck_assert(lzq_reading_closes_dose(1000, 1060, 60));
  ck_assert(!lzq_reading_closes_dose(1000, 1059, 60));
}
END_TEST

START_TEST(printed_copper_dose)
{
  lzq_dose dose;
  ck_assert_int_eq(lzq_dose_raise(200.0, 0.0, 0.15, one_mg_ml, &dose), LZQ_OK);
  NEAR(dose.amount_ml, 30.0, 1e-9);
  lzq_stock stock = {lzq_from_label(LZQ_AS_COPPER_SULFATE_5H2O, 4.0), LZQ_AS_ITSELF};
  ck_assert_int_eq(lzq_dose_raise(200.0, 0.0, 0.15, stock, &dose), LZQ_OK);
  NEAR(dose.amount_ml, 29.47, 0.005);
  // 1,000 L to 0.20 mg/L = 0.786 g of CuSO4.5H2O (figures 9.2, more checks) [C]
  ck_assert_int_eq(lzq_dose_raise(1000.0, 0.0, 0.20, one_mg_salt, &dose), LZQ_OK);
  NEAR(dose.label_mg / 1000.0, 0.786, 0.0005);
  NEAR(dose.amount_mg / 1000.0, 0.200, 1e-12);
}
END_TEST

// 2,400 L at 0.19, 360 L changed with copper-free water, 1.00 mg/mL: 2,400 x 0.15 x 0.19 = 360 x
// 0.19
START_TEST(putting_back_what_a_change_takes_out)
{
  lzq_dose dose;
  ck_assert_int_eq(
      lzq_dose_replace(2400.0, 0.19, 0.19, 360.0, false, 0.0, one_mg_ml, LZQ_INTO_NEW_WATER, &dose),
      LZQ_OK);
  NEAR(dose.level_between, 0.1615, 1e-12);
  NEAR(dose.amount_mg, 68.4, 1e-9);
  NEAR(dose.amount_ml, 68.4, 1e-9);
  NEAR(dose.new_water_level, 0.19, 1e-12);
  NEAR(dose.level_after, 0.19, 1e-12);
  lzq_dose after;
  ck_assert_int_eq(
      lzq_dose_replace(2400.0, 0.19, 0.19, 360.0, false, 0.0, one_mg_ml, LZQ_INTO_SYSTEM, &after),
      LZQ_OK);
  NEAR(after.amount_mg, 68.4, 1e-9);
  NEAR(after.with_litres, 0.0, 0.0);
  // labelled in salt: 68.4 / 0.25451 = 268.7 mL
  ck_assert_int_eq(lzq_dose_replace(2400.0, 0.19, 0.19, 360.0, false, 0.0, one_mg_salt,
                                    LZQ_INTO_NEW_WATER, &dose),
                   LZQ_OK);
  NEAR(dose.amount_ml, 268.7, 0.06);
  NEAR(dose.amount_mg, 68.4, 1e-9);
  // water that already holds more than enough wants nothing
  ck_assert_int_eq(lzq_dose_replace(2400.0, 0.19, 0.19, 360.0, false, 0.25, one_mg_ml,
                                    LZQ_INTO_NEW_WATER, &dose),
                   LZQ_OK);
  NEAR(dose.amount_mg, 0.0, 0.0);
  ck_assert_int_eq(dose.working.lines[dose.working.n - 1].code, LZQ_LINE_NONE_NEEDED);
}
END_TEST

// A drip: what is put into the new water must be more than what is put in afterwards
START_TEST(drip_change)
{
  lzq_dose before, after;
  ck_assert_int_eq(lzq_dose_replace(1000.0, 0.40, 0.50, 300.0, true, 0.0, five_mg_ml,
                                    LZQ_INTO_NEW_WATER, &before),
                   LZQ_OK);
  ck_assert_int_eq(
      lzq_dose_replace(1000.0, 0.40, 0.50, 300.0, true, 0.0, five_mg_ml, LZQ_INTO_SYSTEM, &after),
      LZQ_OK);
  double e = exp(-0.3); // Kraul et al. 1985 [R]: c' = r + (c - r) e^(-v/V)
  NEAR(before.new_water_level + (0.40 - before.new_water_level) * e, 0.50, 1e-12);
  NEAR(before.amount_mg, 300.0 * before.new_water_level, 1e-9);
  NEAR(after.amount_mg, 1000.0 * (0.50 - 0.40 * e), 1e-9);
  ck_assert(before.amount_mg > after.amount_mg);
}
END_TEST

// 1,800 L, 5.00 mg/mL, 257 L of fresh water before each: 61.2, 69.9, 75.1 mL to 0.170, 0.340, 0.500
START_TEST(rise_in_three_daily_steps)
{
  double levels[4], now = 0.0;
  ck_assert_uint_eq(lzq_rise_levels(0.0, 0.50, 0.17, levels, 4), 3);
  const double mg_l[] = {0.170, 0.340, 0.500}, ml[] = {61.2, 69.9, 75.1};
  for (int i = 0; i < 3; i++) {
    NEAR(levels[i], mg_l[i], 1e-12);
    now = lzq_after_change(now, 257.0 / 1800.0, 0.0);
    lzq_dose dose;
    ck_assert_int_eq(lzq_dose_raise(1800.0, now, levels[i], five_mg_ml, &dose), LZQ_OK);
    NEAR(dose.amount_ml, ml[i], 0.05);
    now = dose.level_after;
  }
  // 270 L without copper: 0.425; 27.0 mL put it back
  lzq_dose dose;
  ck_assert_int_eq(
      lzq_dose_replace(1800.0, 0.50, 0.50, 270.0, false, 0.0, five_mg_ml, LZQ_INTO_SYSTEM, &dose),
      LZQ_OK);
  NEAR(dose.level_between, 0.425, 1e-12);
  NEAR(dose.amount_ml, 27.0, 1e-9);
  ck_assert_uint_eq(lzq_rise_levels(0.5, 0.5, 0.17, levels, 4), 0);
  ck_assert_uint_eq(lzq_rise_levels(0.0, 0.51, 0.17, levels, 4), 3);
  ck_assert_uint_eq(lzq_rise_levels(0.0, 0.5, 0.0, levels, 4), 1);
}
END_TEST

// The harm edge of amine-complexed copper, 0.80, is answered by a water change (common practice, no
// source)
START_TEST(harm_is_answered_by_a_change)
{
  lzq_dose dose;
  ck_assert_int_eq(lzq_dose_lower(1800.0, 0.85, 0.50, 0.0, 0.0, &dose), LZQ_OK);
  NEAR(dose.with_litres, 1800.0 * 0.35 / 0.85, 1e-9);
  NEAR(dose.level_after, 0.50, 1e-12);
  NEAR(dose.amount_mg, 0.35 * 1800.0, 1e-9);
  ck_assert_int_eq(lzq_dose_lower(1800.0, 0.85, 0.50, 0.0, 0.25, &dose), LZQ_OK);
  NEAR(dose.with_litres, 450.0, 1e-9);
  ck_assert_int_eq(lzq_dose_lower(1800.0, 0.85, 0.50, 0.55, 0.25, &dose), LZQ_OUT_OF_RANGE);
  NEAR(lzq_volume_from_rise(500.0, 0.10, 0.35), 2000.0, 1e-9);
  ck_assert(isnan(lzq_volume_from_rise(500.0, 0.35, 0.35)));
}
END_TEST

// The working reads as on paper: each line's result follows from its own numbers
START_TEST(every_line_adds_up)
{
  published_random random = published_seed("working", 20270305);
  for (int i = 0; i < 3000; i++) {
    double volume = published_uniform(&random, 20, 5000);
    double litres = volume * published_uniform(&random, 0.01, 0.9);
    lzq_stock stock = {published_uniform(&random, 0.1, 50), (lzq_as)(i % 3)};
    lzq_dose dose;
    ck_assert_int_eq(lzq_dose_replace(volume, published_uniform(&random, 0, 0.6),
                                      published_uniform(&random, 0, 0.6), litres, i % 2,
                                      published_uniform(&random, 0, 0.1), stock,
                                      (lzq_dose_where)(i % 5 == 0), &dose),
                     LZQ_OK);
    lzq_dose_measure(&dose, dose.amount_ml, (lzq_tool){10.0, 0.2, false});
    ck_assert(!dose.working.cut && dose.working.n >= 4);
    for (uint32_t l = 0; l < dose.working.n; l++) {
      const double *n = dose.working.lines[l].n;
      double result = NAN, said = NAN;
      switch (dose.working.lines[l].code) {
      case LZQ_LINE_SHARE: result = n[0] / n[1], said = n[2]; break;
      case LZQ_LINE_SHARE_DRIP: result = 1.0 - exp(-n[0] / n[1]), said = n[2]; break;
      case LZQ_LINE_AFTER_CHANGE: result = n[0] * (1 - n[1]) + n[2] * n[1], said = n[3]; break;
      case LZQ_LINE_MASS_IN_NEW:
      case LZQ_LINE_MASS_RAISE: result = n[0] * (n[1] - n[2]), said = n[3]; break;
      case LZQ_LINE_AS_LABEL:
      case LZQ_LINE_STOCK: result = n[0] / n[1], said = n[2]; break;
      case LZQ_LINE_AFTER_DOSE: result = n[0] + n[1] / n[2], said = n[3]; break;
      case LZQ_LINE_TOOL: result = n[0] * n[1] + n[2], said = n[3]; break;
      case LZQ_LINE_TOOL_ERROR: result = n[0] - n[1], said = n[2]; break;
      case LZQ_LINE_NONE_NEEDED: continue;
      default: ck_abort_msg("line %d", dose.working.lines[l].code);
      }
      NEAR(said, result, 1e-9 * (1.0 + fabs(result)));
    }
  }
}
END_TEST

START_TEST(measured_with_what_there_is)
{
  lzq_measured m = lzq_measure_out(68.4, (lzq_tool){10.0, 0.2, false}); // a 10 mL syringe
  ck_assert_uint_eq(m.full_times, 6);
  NEAR(m.last, 8.4, 1e-9);
  NEAR(m.error, 0.0, 1e-9);
  NEAR(m.reading_error, 0.7, 1e-12);
  m = lzq_measure_out(69.94, (lzq_tool){10.0, 0.2, false});
  NEAR(m.measured, 70.0, 1e-9);
  NEAR(m.error, 0.06, 1e-9);
  NEAR(m.error_rel, 0.06 / 69.94, 1e-9);
  m = lzq_measure_out(0.786, (lzq_tool){0.0, 0.1, false}); // a 0.1 g balance
  ck_assert_uint_eq(m.full_times, 0);
  NEAR(m.measured, 0.8, 1e-12);
  ck_assert(!m.too_coarse);
  m = lzq_measure_out(0.13, (lzq_tool){0.0, 0.1, false});
  ck_assert(m.too_coarse);
  m = lzq_measure_out(0.0, (lzq_tool){10.0, 0.2, false});
  NEAR(m.measured, 0.0, 0.0);
  const double nonsense[] = {NAN, INFINITY, -1.0};
  for (int i = 0; i < 3; i++) {
    m = lzq_measure_out(nonsense[i], (lzq_tool){10.0, 0.2, false});
    ck_assert(m.too_coarse && isnan(m.measured));
  }
  ck_assert(lzq_measure_out(5.0, (lzq_tool){10.0, 0.0, false}).too_coarse);
  published_random random = published_seed("measuring", 20270306);
  for (int i = 0; i < 5000; i++) { // never off by more than half a step
    double exact = published_uniform(&random, 0, 400), step = published_uniform(&random, 0.05, 0.5);
    m = lzq_measure_out(exact, (lzq_tool){step * 50.0, step});
    ck_assert(fabs(m.error) <= 0.5 * step + 1e-9);
  }
}
END_TEST

// 684 typed for 68.4 into 2,400 L at 0.1615: 0.4465, ten times, refused whoever asks
START_TEST(a_slip_of_ten_is_refused)
{
  lzq_dose_request request = {
      .computed_mg = 68.4, .typed_mg = 684.0, .level = 0.1615, .volume_l = 2400.0, .harm = 0.30};
  lzq_dose_answer answer = lzq_dose_verdict(&request);
  ck_assert_int_eq(answer.code, LZQ_DOSE_REFUSED_SLIP);
  ck_assert(answer.refused && answer.slip_of_ten);
  NEAR(answer.ratio, 10.0, 1e-12);
  NEAR(answer.predicted, 0.4465, 1e-12);
  NEAR(lzq_dose_predict(2400.0, 0.1615, 684.0, one_mg_ml), 0.4465, 1e-12);
}
END_TEST

START_TEST(verdicts_at_their_edges)
{
  const struct {
    double factor;
    lzq_dose_verdict_code code;
  } cases[] = {{0.5, LZQ_DOSE_ASK_AGAIN},      {0.51, LZQ_DOSE_FITS},
               {1.0, LZQ_DOSE_FITS},           {1.5, LZQ_DOSE_FITS},
               {1.51, LZQ_DOSE_SECOND_PERSON}, {4.99, LZQ_DOSE_SECOND_PERSON},
               {5.0, LZQ_DOSE_REFUSED_SLIP},   {0.1, LZQ_DOSE_ASK_AGAIN}};
  for (int i = 0; i < 8; i++) {
    lzq_dose_request request = {.computed_mg = 68.4,
                                .typed_mg = 68.4 * cases[i].factor,
                                .level = 0.1,
                                .volume_l = 2400.0,
                                .harm = NAN};
    ck_assert_int_eq(lzq_dose_verdict(&request).code, cases[i].code);
  }
  lzq_dose_request request = {
      .computed_mg = 100.0, .typed_mg = 120.0, .level = 0.70, .volume_l = 1000.0, .harm = 0.80};
  ck_assert_int_eq(lzq_dose_verdict(&request).code, LZQ_DOSE_REFUSED_HARM);
  request.typed_mg = 100.0; // reached exactly is reached
  ck_assert_int_eq(lzq_dose_verdict(&request).code, LZQ_DOSE_REFUSED_HARM);
  request.typed_mg = 99.0;
  ck_assert_int_eq(lzq_dose_verdict(&request).code, LZQ_DOSE_FITS);
  request.computed_mg = NAN;
  ck_assert_int_eq(lzq_dose_verdict(&request).code, LZQ_DOSE_SECOND_PERSON);
  request.computed_mg = 0.0;
  ck_assert_int_eq(lzq_dose_verdict(&request).code, LZQ_DOSE_REFUSED_SLIP);
  const double nonsense[] = {0.0, -1.0, NAN, INFINITY};
  for (int i = 0; i < 4; i++) {
    request.typed_mg = nonsense[i];
    ck_assert_int_eq(lzq_dose_verdict(&request).code, LZQ_DOSE_REFUSED_INPUT);
  }
}
END_TEST

// Given at 07:40; a second person at 09:10 is stopped until a reading after the mixing time; it
// would be 0.2185
START_TEST(two_people_one_dose)
{
  lzq_dose_request request = {.computed_mg = 68.4,
                              .typed_mg = 68.4,
                              .level = 0.19,
                              .volume_l = 2400.0,
                              .harm = NAN,
                              .other_dose_open = true};
  lzq_dose_answer answer = lzq_dose_verdict(&request);
  ck_assert_int_eq(answer.code, LZQ_DOSE_OPEN);
  ck_assert(answer.refused);
  NEAR(answer.predicted, 0.2185, 1e-12);
  lzq_minute given = 7 * 60 + 40;
  ck_assert(!lzq_reading_closes_dose(given, given - 1, LZQ_MIXING_MIN));
  ck_assert(!lzq_reading_closes_dose(given, given + 59, LZQ_MIXING_MIN));
  ck_assert(lzq_reading_closes_dose(given, given + 60, LZQ_MIXING_MIN));
}
END_TEST

START_TEST(bad_input_is_refused)
{
  lzq_dose dose;
  const lzq_stock empty = {0.0, LZQ_AS_ITSELF};
  ck_assert_int_eq(lzq_dose_raise(0.0, 0.1, 0.2, one_mg_ml, &dose), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_dose_raise(100.0, NAN, 0.2, one_mg_ml, &dose), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_dose_raise(100.0, 0.1, 0.2, empty, &dose), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_dose_raise(100.0, -0.1, 0.2, one_mg_ml, &dose), LZQ_BAD_INPUT);
  ck_assert_int_eq(
      lzq_dose_replace(100.0, 0.1, 0.2, 101.0, false, 0.0, one_mg_ml, LZQ_INTO_SYSTEM, &dose),
      LZQ_BAD_INPUT);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("dose");
  TCase *tcase = tcase_create("dose");
  tcase_add_test(tcase, extremes_of_steps_and_minutes);
  tcase_add_test(tcase, printed_copper_dose);
  tcase_add_test(tcase, putting_back_what_a_change_takes_out);
  tcase_add_test(tcase, drip_change);
  tcase_add_test(tcase, rise_in_three_daily_steps);
  tcase_add_test(tcase, harm_is_answered_by_a_change);
  tcase_add_test(tcase, every_line_adds_up);
  tcase_add_test(tcase, measured_with_what_there_is);
  tcase_add_test(tcase, a_slip_of_ten_is_refused);
  tcase_add_test(tcase, verdicts_at_their_edges);
  tcase_add_test(tcase, two_people_one_dose);
  tcase_add_test(tcase, bad_input_is_refused);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
