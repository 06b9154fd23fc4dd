// SPDX-License-Identifier: GPL-3.0-or-later
// Whole stories by commands, in a real file, every printed figure asserted: replacing what a change
// takes out, two people and one dose, a gap in a hold, a whole course. The figures follow from the
// inputs by the arithmetic written beside them; the stations, people and suppliers are invented.
#include <math.h>

#include "lab.h"
#include "lz_estimate.h"

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 06:00");
  lab_station(&lab);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
blue_1(const char *strength, const char *as)
{
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(&lab, "bottle", NULL, "name", "C-01", "analyte", "copper", "form", "ionic", "strength",
          strength, "strength_as", as, NULL);
  lab_say(&lab, "reading", "2027-03-01 06:00", "system", "Blue-1", "analyte", "copper", "value",
          "0,19", NULL);
}

// 2,400 L at 0.19 mg/L, 360 L changed with copper-free water: 0.1615; 68.4 mg = 2,400 x 0.15 x
// 0.19.
START_TEST(replaces_what_a_change_takes_out)
{
  blue_1("1.00", "metal");
  LzDoseAdvice a = lz_desk_advise_dose(lab.desk, 0, LZQ_COPPER, 360);
  ck_assert(a.possible);
  ck_assert_double_eq_tol(a.level_changed, 0.1615, 1e-12);
  ck_assert_double_eq_tol(a.mg, 68.4, 1e-9);
  ck_assert_double_eq_tol(a.ml, 68.4, 1e-9);
  ck_assert_double_eq_tol(a.level_after, 0.19, 1e-12);
}
END_TEST

// The bottle labelled in CuSO4.5H2O: 68.4 / 0.25451 = 268.7 mL.
START_TEST(a_bottle_labelled_in_salt_needs_more)
{
  blue_1("1.00", "salt");
  LzDoseAdvice a = lz_desk_advise_dose(lab.desk, 0, LZQ_COPPER, 360);
  ck_assert_double_eq_tol(a.mg, 68.4, 1e-9);
  ck_assert_double_eq_tol(a.ml, 268.7, 0.06);
}
END_TEST

START_TEST(a_slip_of_ten_is_refused_whoever_asks)
{
  blue_1("1.00", "metal");
  lab_go(&lab, "2027-03-01 07:40");
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "360", NULL);
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1",
                               "bottle", "C-01", "amount_ml", "684", NULL);
  ck_assert_msg(strstr(no, "predicted 0.1615 + 684/2400 = 0.4465 mg/L"), "%s", no);
  ck_assert_msg(strstr(no, "amount_ml: 684 is ten times the computed dose of 68.4"), "%s", no);
  lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1", "bottle", "C-01",
              "amount_ml", "684", "@witness", "TA", "@readback", "684", NULL);
  // entered afterwards it is refused as well
  lab_go(&lab, "2027-03-01 12:00");
  lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", "2027-03-01 07:40", "system", "Blue-1", "bottle",
              "C-01", "amount_ml", "684", NULL);
  lab_say(&lab, "dose", "2027-03-01 07:40", "system", "Blue-1", "bottle", "C-01", "amount_ml",
          "68.4", NULL);
}
END_TEST

// Half or less asks again; more than one and a half times asks a second person.
START_TEST(small_and_large_amounts_ask)
{
  blue_1("1.00", "metal");
  lab_go(&lab, "2027-03-01 07:40");
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "360", NULL);
  lab_refused(&lab, LZ_DESK_ERROR_NEEDS_READBACK, "dose", NULL, "system", "Blue-1", "bottle",
              "C-01", "amount_ml", "34.2", NULL);
  lab_refused(&lab, LZ_DESK_ERROR_NEEDS_SECOND_PERSON, "dose", NULL, "system", "Blue-1", "bottle",
              "C-01", "amount_ml", "103", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-01", "amount_ml", "34.2",
          "@readback", "34,2", NULL);
}
END_TEST

// Case A of a day: dosed into the 360 L, and changed half an hour later. The hold never stops:
// 2,400 x 0.15 x 0.19 = 360 x 0.19, and 0.19 x 0.85 + 68.4 / 2,400 = 0.19 (mass balance).
START_TEST(dosed_beforehand_the_level_stays)
{
  blue_1("1.00", "metal");
  lab_go(&lab, "2027-03-01 07:40");
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-01", "amount_ml", "68.4",
          "in_new_water", "yes", NULL);
  for (int i = 0; i < 2; i++) {
    LzEstimate e;
    lab_go(&lab, i ? "2027-03-01 08:11" : "2027-03-01 08:09");
    ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], 0.19, 1e-12);
    ck_assert(lz_desk_estimate(lab.desk, 0, LZQ_COPPER, lz_desk_now(lab.desk), &e));
    ck_assert_double_eq_tol(e.mean, 0.19, 0.003); // it may have lost some
    if (!i)
      lab_say(&lab, "change", "2027-03-01 08:10", "system", "Blue-1", "litres", "360", NULL);
  }
  // open from when it came in: a reading ten minutes after that says nothing yet
  lab_say(&lab, "reading", "2027-03-01 09:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.19", NULL);
  lab_go(&lab, "2027-03-01 09:05");
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1",
                               "bottle", "C-01", "amount_ml", "24", "@who", "TA", NULL);
  ck_assert_msg(strstr(no, "MK gave 68.4 mL at Mon 1 Mar 07:40"), "%s", no);
  ck_assert_msg(strstr(no, "Mon 1 Mar 09:10"), "%s", no);
}
END_TEST

START_TEST(a_second_dose_waits_for_a_reading)
{
  blue_1("1.00", "metal");
  lab_go(&lab, "2027-03-01 07:40");
  lab_say(&lab, "change", NULL, "system", "Blue-1", "litres", "360", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-01", "amount_ml", "68.4",
          "in_new_water", "yes", NULL);
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[0].level[0], 0.19, 1e-12);
  lab_go(&lab, "2027-03-01 09:10");
  const char *no = lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1",
                               "bottle", "C-01", "amount_ml", "68.4", "@who", "TA", NULL);
  ck_assert_msg(strstr(no, "MK gave 68.4 mL at Mon 1 Mar 07:40"), "%s", no);
  ck_assert_msg(strstr(no, "no reading has come since") && strstr(no, "0.2185"), "%s", no);
  // a reading sooner than the mixing time does not unlock it
  lab_say(&lab, "reading", "2027-03-01 08:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.16", NULL);
  lab_refused(&lab, LZ_DESK_ERROR_REFUSED, "dose", NULL, "system", "Blue-1", "bottle", "C-01",
              "amount_ml", "68.4", "@who", "TA", NULL);
  lab_say(&lab, "reading", "2027-03-01 09:10", "system", "Blue-1", "analyte", "copper", "value",
          "0.18", NULL);
  lab_say(&lab, "dose", NULL, "system", "Blue-1", "bottle", "C-01", "amount_ml", "20", "@who", "TA",
          NULL);
}
END_TEST

// --- a gap in a hold

static void
ionic(const char *lapse)
{
  lab_say(&lab, "protocol", NULL, "name", "Ionic", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Ionic", "position", "1", "name", "hold", "kind", "hold",
          "min_credit_min", "21 d", "lapse_min", "12 h", "lapse", lapse, NULL);
  lab_say(&lab, "band", NULL, "phase", "Ionic/1/1", "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", "0.18", "target", "0.19", "plan", "0.21", "gap_min", "24 h",
          NULL);
}

static LzCommand *
reading_at(lzq_minute at, const char *value)
{
  LzCommand *c =
      lz_command_build("reading", "system", "Blue-1", "analyte", "copper", "value", value, NULL);
  lz_command_set_at(c, at);
  return c;
}

static void
gap_in_a_hold(const char *lapse)
{
  blue_1("1.00", "metal");
  ionic(lapse);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_go(&lab, "2027-04-20 08:00");
  lab_say(&lab, "lot", "2027-03-04 08:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  lzq_minute begin = lab_at("2027-03-04 08:00"), low = lab_at("2027-03-14 08:00"),
             again = lab_at("2027-03-14 14:00");
  for (lzq_minute at = begin; at < low; at += LZQ_DAY / 2)
    g_ptr_array_add(all, reading_at(at, at == low - LZQ_DAY / 2 ? "0.18" : "0.19"));
  g_ptr_array_add(all, reading_at(low, "0.15"));
  for (int day = 0; day < 23; day++)
    g_ptr_array_add(all, reading_at(again + day * LZQ_DAY, "0.185"));
  LzCommand *course = lz_command_build("course", "lot", "0412", "protocol", "Ionic", NULL);
  lz_command_set_at(course, begin);
  g_ptr_array_add(all, course);
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_desk_submit(lab.desk, (LzCommand **)all->pdata, all->len, &error), "%s",
                error ? error->message : "");
}

// No credit from 13 Mar 20:00 to 14 Mar 14:00 (18 h): pause ends 26 Mar 02:00.
START_TEST(a_gap_pauses_the_hold)
{
  gap_in_a_hold("pause");
  ck_local(lab_credit(&lab, "0412")->served_at, "Fri 26 Mar 02:00");
}
END_TEST

// 504 h from 14 Mar 14:00, which the clock change of 28 March makes 4 Apr 15:00 local.
START_TEST(a_gap_restarts_the_hold)
{
  gap_in_a_hold("restart");
  ck_local(lab_credit(&lab, "0412")->served_at, "Sun 4 Apr 15:00");
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-cases");
  TCase *doses = tcase_create("doses"), *holds = tcase_create("holds");
  tcase_add_checked_fixture(doses, setup, teardown);
  tcase_add_test(doses, replaces_what_a_change_takes_out);
  tcase_add_test(doses, a_bottle_labelled_in_salt_needs_more);
  tcase_add_test(doses, a_slip_of_ten_is_refused_whoever_asks);
  tcase_add_test(doses, small_and_large_amounts_ask);
  tcase_add_test(doses, dosed_beforehand_the_level_stays);
  tcase_add_test(doses, a_second_dose_waits_for_a_reading);
  tcase_add_checked_fixture(holds, setup, teardown);
  tcase_add_test(holds, a_gap_pauses_the_hold);
  tcase_add_test(holds, a_gap_restarts_the_hold);
  tcase_set_timeout(holds, 60);
  suite_add_tcase(suite, doses);
  suite_add_tcase(suite, holds);
  return lab_run(suite);
}
