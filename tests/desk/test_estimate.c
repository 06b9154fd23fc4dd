// SPDX-License-Identifier: GPL-3.0-or-later
// Estimates through the desk: when a falling level leaves its band and which round must look;
// readings held against their prediction. Stations invented; the equations' own references are in
// tests/engine (series, estimate, water).
#include <lz_estimate.h>
#include <lz_rows.h>
#include <math.h>

#include "house.h"

static Lab lab;

static void
setup(void)
{
  house_open(&lab);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static LzEstimate
estimate(lzq_analyte analyte)
{
  LzEstimate e;
  ck_assert(lz_desk_estimate(lab.desk, 0, analyte, lz_desk_now(lab.desk), &e));
  return e;
}

// 8 March 08:00 0.200, 20:00 0.194, 9 March 08:00 0.188, nothing dosed. By the end points k =
// ln(0.200/0.188)/24 = 0.00258 /h and 0.18 is reached ln(0.188/0.18)/k = 16.9 h later, 10 March
// 00:52. The estimator differs by its prior and the +-0.01 of each reading, and says by how much.
START_TEST(when_does_it_leave_the_band)
{
  house_course(&lab, "2027-03-08 07:00");
  house_read(&lab, "2027-03-08 08:00", "0.200");
  ck_assert(!estimate(LZQ_COPPER).loss_learnt); // one reading shows no loss
  house_read(&lab, "2027-03-08 20:00", "0.194");
  house_read(&lab, "2027-03-09 08:00", "0.188");
  LzEstimate e = estimate(LZQ_COPPER);
  double k = log(0.200 / 0.188) / 24;
  lzq_minute by_end_points = lab_at("2027-03-09 08:00") + (lzq_minute)(log(0.188 / 0.18) / k * 60);
  ck_local(by_end_points, "Wed 10 Mar 00:52");
  ck_assert(e.known && e.low < 0.188 && 0.188 < e.high);
  ck_assert_double_eq_tol(e.mean, 0.190, 0.005);
  ck_assert(e.loss_per_h > k / 2 && e.loss_per_h < 2 * k);
  ck_assert_double_eq(e.edge, 0.18);
  ck_assert(!e.above && e.beyond_now > 0.05 && e.beyond_now < 0.35);
  // the interval holds the answer of the end points
  ck_assert(e.exit_low <= by_end_points && by_end_points <= e.exit_high);
  ck_assert(e.exit_low <= e.exit_likely && e.exit_likely <= e.exit_high);
  // 17:00 is the evening round; after midnight would be too late
  ck_local(e.next_test, "Tue 9 Mar 17:00");
  ck_assert(e.cannot_hold);
  g_autofree char *words = lz_estimate_exit_words(lab.desk, &e, lz_desk_now(lab.desk));
  ck_assert_msg(strstr(words, "may have left its band already"), "%s", words);
  ck_assert_msg(strstr(words, "test and top up"), "%s", words);
}
END_TEST

// Read ten minutes before the round: neither the estimate nor the water's line asks for it again.
START_TEST(a_round_that_was_made)
{
  house_course(&lab, "2027-03-08 07:00");
  house_read(&lab, "2027-03-08 07:20", "0.185");
  lab_go(&lab, "2027-03-08 07:21");
  LzEstimate e = estimate(LZQ_COPPER);
  ck_local(e.next_test, "Mon 8 Mar 17:00");
  ck_local(e.fixed_test, "Mon 8 Mar 17:00");
  g_autoptr(LzSystemRow) row = g_list_model_get_item(lz_desk_systems(lab.desk), 0);
  ck_local(lz_system_row_info(row)->next_test, "Mon 8 Mar 17:00");
  lab_go(&lab, "2027-03-08 07:50");
  ck_local(lz_system_row_info(row)->next_test, "Mon 8 Mar 17:00");
  ck_assert(lz_system_row_info(row)->late_test == LZQ_NEVER);
  // the evening's left out: said as such, and the next one is the morning's
  lab_go(&lab, "2027-03-08 19:30");
  ck_local(lz_system_row_info(row)->next_test, "Tue 9 Mar 07:30");
  ck_local(lz_system_row_info(row)->late_test, "Mon 8 Mar 17:00");
  const char *line = lz_row_detail(LZ_ROW(row));
  ck_assert_msg(strstr(line, "copper not tested today 17:00; next test"), "%s", line);
}
END_TEST

START_TEST(nothing_known_and_nothing_modelled)
{
  LzEstimate e = estimate(LZQ_COPPER);
  ck_assert(!e.known && isnan(e.mean) && e.exit_low == LZQ_NEVER && e.next_test == LZQ_NEVER);
  ck_assert(!lz_desk_estimate(lab.desk, 0, LZQ_PH, lz_desk_now(lab.desk), &e));
  ck_assert(!lz_desk_estimate(lab.desk, 7, LZQ_COPPER, lz_desk_now(lab.desk), &e));
}
END_TEST

START_TEST(salinity_and_temperature)
{
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", "34", "error",
          "0.3", NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "temperature", "value", "25.2",
          "error", "0.2", NULL);
  lab_go(&lab, "2027-03-02 06:00");
  LzEstimate salt = estimate(LZQ_SALINITY), warmth = estimate(LZQ_TEMPERATURE);
  // 0.5 % of the water a day evaporates by the prior: 34 x 1.005 = 34.17
  ck_assert_double_eq_tol(salt.mean, 34.17, 0.02);
  ck_assert(salt.low < 34 && salt.high > 34.3 && isnan(salt.loss_per_h));
  ck_assert_double_eq_tol(salt.evaporation_l_day, 12, 2); // 0.5 % of 2,400 L
  ck_assert_double_eq_tol(warmth.mean, 25, 0.1);          // drawn back to its usual level
}
END_TEST

// A photometer that shows 17 % more than what the entered volume gives, dose after dose.
START_TEST(another_volume_is_offered_never_taken)
{
  static const char *const levels[] = {"0.0585", "0.117", "0.1755", "0.234", "0.2925", "0.351"};
  for (int i = 0; i < 6; i++) {
    g_autofree char *dosed = g_strdup_printf("2027-03-%02d 08:00", 2 + i);
    g_autofree char *read = g_strdup_printf("2027-03-%02d 10:00", 2 + i);
    lab_go(&lab, read);
    g_autoptr(LzCommand) dose =
        lz_command_build("dose", "system", "Blue-1", "bottle", "C-07", "amount_ml", "120", NULL);
    lz_command_set_at_text(dose, dosed);
    lz_command_set_as_written(dose, TRUE);
    lz_command_set_reason(dose, "test");
    lz_command_set_witness(dose, "TA");
    lz_command_set_readback(dose, "120");
    g_autoptr(GError) error = NULL;
    ck_assert_msg(lz_desk_submit_one(lab.desk, dose, &error), "%s", error ? error->message : "");
    g_autoptr(LzCommand) reading =
        lz_command_build("reading", "system", "Blue-1", "analyte", "copper", "value", levels[i],
                         "error", "0.002", "instrument", "P1", NULL);
    lz_command_set_as_written(reading, TRUE);
    ck_assert(lz_desk_submit_one(lab.desk, reading, NULL));
  }
  LzEstimate e = estimate(LZQ_COPPER);
  ck_assert_double_eq(e.entered_l, 2400);
  ck_assert(e.volume_differs);
  ck_assert(e.volume_l < 0.9 * 2400 && fabs(e.volume_l - 2400) > 2 * e.volume_sd_l);
  g_autofree char *words = lz_estimate_volume_words(lab.desk, 0, &e);
  ck_assert_msg(strstr(words, "cannot tell a volume from its own gain"), "%s", words);
  ck_assert_double_eq(lz_desk_advise_dose(lab.desk, 0, LZQ_COPPER, 0).level_before, 0.351);
}
END_TEST

// --- readings held against their prediction

static LzEntry *
entry(int64_t id)
{
  return lz_desk_entry(lab.desk, id, NULL);
}

START_TEST(a_reading_out_of_expectation_is_flagged)
{
  house_read(&lab, "2027-03-02 08:00", "0.19");
  house_read(&lab, "2027-03-02 17:00", "0.19");
  ck_assert_str_eq(lab_notes(&lab), "");
  double predicted;
  lab_go(&lab, "2027-03-03 08:00");
  ck_assert(lz_desk_reading_is_odd(lab.desk, 0, LZQ_COPPER, 0.30, &predicted));
  ck_assert_double_eq_tol(predicted, 0.185, 0.01);
  ck_assert(!lz_desk_reading_is_odd(lab.desk, 0, LZQ_COPPER, 0.185, NULL));
  double before = estimate(LZQ_COPPER).mean;
  g_autoptr(LzEntry) odd = entry(house_read(&lab, "2027-03-03 08:00", "0.30"));
  ck_assert_int_eq(lz_entry_int(odd, "suspect"), 1);
  ck_assert_msg(strstr(lab_notes(&lab), "Repeat the test"), "%s", lab_notes(&lab));
  ck_assert_double_eq_tol(estimate(LZQ_COPPER).mean, before, 1e-9); // it has not moved
}
END_TEST

// |0.29 - 0.30| < 3 sqrt(2) 0.01 = 0.042: both true, the level did jump.
START_TEST(a_repeat_that_agrees_confirms)
{
  house_read(&lab, "2027-03-02 08:00", "0.19");
  house_read(&lab, "2027-03-02 17:00", "0.19");
  int64_t odd = house_read(&lab, "2027-03-03 08:00", "0.30");
  g_autoptr(LzEntry) again = entry(house_read(&lab, "2027-03-03 08:20", "0.29"));
  ck_assert_int_eq(lz_entry_int(again, "confirms"), odd);
  ck_assert_int_eq(lz_entry_int(again, "suspect"), 0);
  ck_assert_double_eq_tol(estimate(LZQ_COPPER).mean, 0.295, 0.01);
}
END_TEST

START_TEST(a_repeat_that_does_not_agree_leaves_it_suspect)
{
  house_read(&lab, "2027-03-02 08:00", "0.19");
  house_read(&lab, "2027-03-02 17:00", "0.19");
  house_read(&lab, "2027-03-03 08:00", "0.30");
  g_autoptr(LzEntry) again = entry(house_read(&lab, "2027-03-03 08:20", "0.188"));
  ck_assert(!lz_entry_has(again, "confirms") && !lz_entry_int(again, "suspect"));
  g_autoptr(LzEntry) third = entry(house_read(&lab, "2027-03-03 08:30", "0.45"));
  ck_assert_int_eq(lz_entry_int(third, "suspect"), 1);
  ck_assert(!lz_entry_has(third, "confirms"));
}
END_TEST

START_TEST(a_later_reading_is_no_repeat)
{
  house_read(&lab, "2027-03-02 08:00", "0.19");
  house_read(&lab, "2027-03-02 17:00", "0.19");
  house_read(&lab, "2027-03-03 08:00", "0.30");
  g_autoptr(LzEntry) later = entry(house_read(&lab, "2027-03-03 09:01", "0.30"));
  ck_assert(!lz_entry_has(later, "confirms"));
}
END_TEST

// A kit for complexed copper in water that the course keeps ionic: no dose is on record yet.
START_TEST(a_method_that_does_not_see_the_form)
{
  lab_say(&lab, "instrument", NULL, "name", "K9", "method", "drop_test", "sees", "amine",
          "error_abs", "0.01", NULL);
  house_course(&lab, "2027-03-02 07:00");
  house_read(&lab, "2027-03-02 08:00", "0.19");
  lab_go(&lab, "2027-03-02 08:10");
  double before = estimate(LZQ_COPPER).mean;
  g_autoptr(LzEntry) blind = entry(lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte",
                                           "copper", "value", "0.05", "instrument", "K9", NULL));
  ck_assert_int_eq(lz_entry_int(blind, "suspect"), 0);
  ck_assert_msg(strstr(lab_notes(&lab), "does not see the form"), "%s", lab_notes(&lab));
  ck_assert_msg(!strstr(lab_notes(&lab), "Repeat"), "%s", lab_notes(&lab));
  ck_assert_double_eq_tol(estimate(LZQ_COPPER).mean, before, 1e-9);
}
END_TEST

START_TEST(what_a_person_says_stands)
{
  house_read(&lab, "2027-03-02 08:00", "0.19");
  house_read(&lab, "2027-03-02 17:00", "0.19");
  lab_go(&lab, "2027-03-03 08:00");
  g_autoptr(LzEntry) trusted =
      entry(lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0.30",
                    "instrument", "P1", "suspect", "no", NULL));
  ck_assert_int_eq(lz_entry_int(trusted, "suspect"), 0);
  // nobody states an error: nothing to hold it against
  g_autoptr(LzEntry) bare = entry(lab_say(&lab, "reading", "2027-03-02 20:00", "system", "Blue-1",
                                          "analyte", "copper", "value", "0.9", NULL));
  ck_assert_int_eq(lz_entry_int(bare, "suspect"), 0);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk: estimates");
  TCase *tc = tcase_create("estimates");
  tcase_set_timeout(tc, 60);
  tcase_add_checked_fixture(tc, setup, teardown);
  tcase_add_test(tc, when_does_it_leave_the_band);
  tcase_add_test(tc, a_round_that_was_made);
  tcase_add_test(tc, nothing_known_and_nothing_modelled);
  tcase_add_test(tc, salinity_and_temperature);
  tcase_add_test(tc, another_volume_is_offered_never_taken);
  tcase_add_test(tc, a_reading_out_of_expectation_is_flagged);
  tcase_add_test(tc, a_repeat_that_agrees_confirms);
  tcase_add_test(tc, a_repeat_that_does_not_agree_leaves_it_suspect);
  tcase_add_test(tc, a_later_reading_is_no_repeat);
  tcase_add_test(tc, a_method_that_does_not_see_the_form);
  tcase_add_test(tc, what_a_person_says_stands);
  suite_add_tcase(suite, tc);
  return lab_run(suite);
}
