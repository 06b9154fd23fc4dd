// SPDX-License-Identifier: GPL-3.0-or-later
// Estimates through the desk: when a falling level leaves its band and which round must look; banks
// fed in place against banks made anew; readings held against their prediction. Stations invented;
// the equations' own references are in tests/engine (series, estimate, water).
#include <lz_estimate.h>
#include <lz_protocol_file.h>
#include <math.h>

#include "../lib/prng.h"
#include "lab.h"

static Lab lab;

// Ionic copper 0.18 to 0.21, aim 0.19, longest test gap 24 h (common practice, no source).
static const char protocol[] =
    "[protocol]\nname=House\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nsighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\n"
    "plan=0.21\nharm=0.25\ngap_min=1440\n";

static void
setup(void)
{
  g_autoptr(GError) error = NULL;
  lab_open(&lab, "2027-03-01 06:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "1.00", "strength_as", "metal", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all",
          "error_abs", "0.01", NULL);
  g_autoptr(GPtrArray) all = lz_protocol_parse(protocol, strlen(protocol), "House", &error);
  ck_assert_msg(all && lz_desk_submit(lab.desk, (LzCommand *const *)all->pdata, all->len, &error),
                "%s", error ? error->message : "");
}

static void
teardown(void)
{
  lab_close(&lab);
}

static int64_t
read_copper(const char *at, const char *value)
{
  lab_go(&lab, at);
  return lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
                 "instrument", "P1", NULL);
}

static void
course(const char *at)
{
  lab_go(&lab, at);
  lab_say(&lab, "lot", NULL, "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "House", NULL);
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
  course("2027-03-08 07:00");
  read_copper("2027-03-08 08:00", "0.200");
  read_copper("2027-03-08 20:00", "0.194");
  read_copper("2027-03-09 08:00", "0.188");
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
  ck_assert_double_eq(lz_desk_advise_dose(lab.desk, 0, 0).level_before, 0.351);
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
  read_copper("2027-03-02 08:00", "0.19");
  read_copper("2027-03-02 17:00", "0.19");
  ck_assert_str_eq(lab_notes(&lab), "");
  double predicted;
  lab_go(&lab, "2027-03-03 08:00");
  ck_assert(lz_desk_reading_is_odd(lab.desk, 0, LZQ_COPPER, 0.30, &predicted));
  ck_assert_double_eq_tol(predicted, 0.185, 0.01);
  ck_assert(!lz_desk_reading_is_odd(lab.desk, 0, LZQ_COPPER, 0.185, NULL));
  double before = estimate(LZQ_COPPER).mean;
  g_autoptr(LzEntry) odd = entry(read_copper("2027-03-03 08:00", "0.30"));
  ck_assert_int_eq(lz_entry_int(odd, "suspect"), 1);
  ck_assert_msg(strstr(lab_notes(&lab), "Repeat the test"), "%s", lab_notes(&lab));
  ck_assert_double_eq_tol(estimate(LZQ_COPPER).mean, before, 1e-9); // it has not moved
}
END_TEST

// |0.29 - 0.30| < 3 sqrt(2) 0.01 = 0.042: both true, the level did jump.
START_TEST(a_repeat_that_agrees_confirms)
{
  read_copper("2027-03-02 08:00", "0.19");
  read_copper("2027-03-02 17:00", "0.19");
  int64_t odd = read_copper("2027-03-03 08:00", "0.30");
  g_autoptr(LzEntry) again = entry(read_copper("2027-03-03 08:20", "0.29"));
  ck_assert_int_eq(lz_entry_int(again, "confirms"), odd);
  ck_assert_int_eq(lz_entry_int(again, "suspect"), 0);
  ck_assert_double_eq_tol(estimate(LZQ_COPPER).mean, 0.295, 0.01);
}
END_TEST

START_TEST(a_repeat_that_does_not_agree_leaves_it_suspect)
{
  read_copper("2027-03-02 08:00", "0.19");
  read_copper("2027-03-02 17:00", "0.19");
  read_copper("2027-03-03 08:00", "0.30");
  g_autoptr(LzEntry) again = entry(read_copper("2027-03-03 08:20", "0.188"));
  ck_assert(!lz_entry_has(again, "confirms") && !lz_entry_int(again, "suspect"));
  g_autoptr(LzEntry) third = entry(read_copper("2027-03-03 08:30", "0.45"));
  ck_assert_int_eq(lz_entry_int(third, "suspect"), 1);
  ck_assert(!lz_entry_has(third, "confirms"));
}
END_TEST

START_TEST(a_later_reading_is_no_repeat)
{
  read_copper("2027-03-02 08:00", "0.19");
  read_copper("2027-03-02 17:00", "0.19");
  read_copper("2027-03-03 08:00", "0.30");
  g_autoptr(LzEntry) later = entry(read_copper("2027-03-03 09:01", "0.30"));
  ck_assert(!lz_entry_has(later, "confirms"));
}
END_TEST

START_TEST(what_a_person_says_stands)
{
  read_copper("2027-03-02 08:00", "0.19");
  read_copper("2027-03-02 17:00", "0.19");
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

// --- kept in place equals made anew

static void
compare(lzq_minute at)
{
  for (int a = 0; a <= LZQ_TEMPERATURE; a++) {
    LzEstimate kept, anew;
    LzDeskOptions options = {.read_only = TRUE, .clock = lab.clock, .pc_folder = lab.folder};
    g_autoptr(LzDesk) other = lz_desk_open(lab.path, &options, NULL);
    ck_assert(other != NULL);
    lz_desk_estimate(lab.desk, 0, (lzq_analyte)a, at, &kept);
    lz_desk_estimate(other, 0, (lzq_analyte)a, at, &anew);
    ck_assert(kept.known == anew.known);
    if (!kept.known)
      continue;
    ck_assert_msg(kept.mean == anew.mean && kept.low == anew.low && kept.high == anew.high,
                  "analyte %d: %.17g and %.17g", a, kept.mean, anew.mean);
    ck_assert(kept.exit_likely == anew.exit_likely && kept.next_test == anew.next_test);
  }
}

static void
random_act(lzt_prng *r, int64_t *readings, guint *n)
{
  g_autofree char *value = g_strdup_printf("%.3f", lzt_prng_real(r, 0.15, 0.23));
  g_autofree char *warm = g_strdup_printf("%.1f", lzt_prng_real(r, 24, 26));
  switch (lzt_prng_range(r, 0, 5)) {
  case 0:
  case 1:
    readings[(*n)++] = lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper",
                               "value", value, "instrument", "P1", NULL);
    break;
  case 2:
    lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "200", "new_salinity", "34", NULL);
    break;
  case 3:
    lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "temperature", "value", warm,
            "error", "0.2", NULL);
    break;
  case 4:
    lab_say(&lab, "check", NULL, "instrument", "P1", "ok", lzt_prng_chance(r, 0.75) ? "yes" : "no",
            NULL);
    break;
  default:
    if (*n > 0) {
      g_autofree char *id =
          g_strdup_printf("%" G_GINT64_FORMAT, readings[lzt_prng_range(r, 0, (int64_t)*n - 1)]);
      lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
              "instrument", "P1", "@corrects", id, "@reason", "misread", NULL);
    }
  }
}

START_TEST(kept_in_place_equals_made_anew)
{
  lzt_prng r;
  lzt_prng_seed(&r, 20270301 + (uint64_t)_i);
  int64_t readings[64];
  guint n = 0;
  course("2027-03-01 07:00");
  for (int step = 0; step < 40; step++) {
    lzq_minute at = lab_at("2027-03-01 08:00") + step * 190;
    lz_clock_set(lab.clock, at);
    lz_desk_replan(lab.desk);
    random_act(&r, readings, &n);
    if (step % 8 == 7)
      compare(lz_desk_now(lab.desk));
  }
}
END_TEST

// The last thing fed is corrected at its own minute: it must not be fed twice.
START_TEST(a_correction_replaces_what_was_fed)
{
  read_copper("2027-03-02 08:00", "0.19");
  int64_t wrong = read_copper("2027-03-02 17:00", "0.20");
  double before = estimate(LZQ_COPPER).mean;
  g_autofree char *id = g_strdup_printf("%" G_GINT64_FORMAT, wrong);
  lab_say(&lab, "reading", "2027-03-02 17:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.18", "instrument", "P1", "@corrects", id, "@reason", "misread", NULL);
  ck_assert(estimate(LZQ_COPPER).mean < before - 0.004);
  compare(lz_desk_now(lab.desk));
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
  tcase_add_test(tc, nothing_known_and_nothing_modelled);
  tcase_add_test(tc, salinity_and_temperature);
  tcase_add_test(tc, another_volume_is_offered_never_taken);
  tcase_add_test(tc, a_reading_out_of_expectation_is_flagged);
  tcase_add_test(tc, a_repeat_that_agrees_confirms);
  tcase_add_test(tc, a_repeat_that_does_not_agree_leaves_it_suspect);
  tcase_add_test(tc, a_later_reading_is_no_repeat);
  tcase_add_test(tc, what_a_person_says_stands);
  tcase_add_test(tc, a_correction_replaces_what_was_fed);
  tcase_add_loop_test(tc, kept_in_place_equals_made_anew, 0, 4);
  suite_add_tcase(suite, tc);
  return lab_run(suite);
}
