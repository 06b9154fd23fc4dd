// SPDX-License-Identifier: GPL-3.0-or-later
// Estimators are kept: fed in place as entries come, and in the file between two starts. Both must
// equal estimators made anew from the record, to the last bit. Stations invented.
#include <lz_estimate.h>

#include "../lib/prng.h"
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
  house_course(&lab, "2027-03-01 07:00");
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
  house_read(&lab, "2027-03-02 08:00", "0.19");
  int64_t wrong = house_read(&lab, "2027-03-02 17:00", "0.20");
  LzEstimate e;
  ck_assert(lz_desk_estimate(lab.desk, 0, LZQ_COPPER, lz_desk_now(lab.desk), &e));
  double before = e.mean;
  g_autofree char *id = g_strdup_printf("%" G_GINT64_FORMAT, wrong);
  lab_say(&lab, "reading", "2027-03-02 17:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.18", "instrument", "P1", "@corrects", id, "@reason", "misread", NULL);
  ck_assert(lz_desk_estimate(lab.desk, 0, LZQ_COPPER, lz_desk_now(lab.desk), &e));
  ck_assert(e.mean < before - 0.004);
  compare(lz_desk_now(lab.desk));
}
END_TEST

// --- the months that an estimate learns from

// Five months in which the beginning moves on twice: kept in place and made anew begin alike.
START_TEST(the_beginning_moves_on_for_both)
{
  lzt_prng r;
  lzt_prng_seed(&r, 20270302 + (uint64_t)_i);
  int64_t readings[64];
  guint n = 0;
  house_course(&lab, "2027-03-01 07:00");
  for (int step = 0; step < 50; step++) {
    lz_clock_set(lab.clock, lab_at("2027-03-01 08:00") + (lzq_minute)step * (3 * LZQ_DAY + 130));
    lz_desk_replan(lab.desk);
    random_act(&r, readings, &n);
    if (step % 5 == 4)
      compare(lz_desk_now(lab.desk));
  }
}
END_TEST

static double
mean_after(const char *from, const char *value, const char *dose_at)
{
  for (int i = 0; from && i < 12; i++) {
    lz_clock_set(lab.clock, lab_at(from) + i * 600);
    lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
            "instrument", "P1", NULL);
  }
  if (dose_at)
    lab_say(&lab, "dose", dose_at, "system", "Blue-1", "bottle", "C-09", "amount_ml", "4", NULL);
  lz_desk_replan(lab.desk);
  LzEstimate e;
  return lz_desk_estimate(lab.desk, 0, LZQ_COPPER, lz_desk_now(lab.desk), &e) && e.known ? e.mean
                                                                                         : NAN;
}

// A water that was last read before the beginning and then dosed: nobody knows its level, and it is
// not taken as the dose alone. The next reading is believed.
START_TEST(a_dose_into_water_read_long_ago_says_nothing)
{
  lab_say(&lab, "bottle", NULL, "name", "C-09", "analyte", "copper", "form", "ionic", "strength",
          "5", NULL);
  mean_after("2027-03-01 08:00", "0.19", NULL);
  lz_clock_set(lab.clock, lab_at("2027-09-20 08:00"));
  double dosed = mean_after(NULL, NULL, "2027-09-20 08:00");
  ck_assert_msg(isnan(dosed), "%.4f mg/L", dosed);
  compare(lz_desk_now(lab.desk));
  ck_assert_double_eq_tol(mean_after("2027-09-20 12:00", "0.21", NULL), 0.21, 0.005);
  compare(lz_desk_now(lab.desk));
}
END_TEST

// --- checkpoints in the file

static LzEstimate
all_of(lzq_minute at, LzEstimate *out)
{
  for (int a = 0; a <= LZQ_TEMPERATURE; a++)
    ck_assert(lz_desk_estimate(lab.desk, 0, (lzq_analyte)a, at, &out[a]));
  return out[0];
}

static void
same(const LzEstimate *a, const LzEstimate *b)
{
  for (int i = 0; i <= LZQ_TEMPERATURE; i++) {
    ck_assert(a[i].known == b[i].known);
    if (!a[i].known)
      continue;
    ck_assert_msg(a[i].mean == b[i].mean && a[i].low == b[i].low && a[i].high == b[i].high,
                  "analyte %d: %.17g and %.17g", i, a[i].mean, b[i].mean);
    ck_assert(a[i].exit_likely == b[i].exit_likely && a[i].next_test == b[i].next_test);
  }
}

static void
eighty_readings(void)
{
  house_course(&lab, "2027-03-01 07:00");
  for (int i = 0; i < 80; i++) {
    g_autofree char *value = g_strdup_printf("%.3f", 0.2 - 0.0003 * i + 0.002 * (i % 3));
    lz_clock_set(lab.clock, lab_at("2027-03-01 08:00") + i * 150);
    lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
            "instrument", "P1", NULL);
  }
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "salinity", "value", "34", "error",
          "0.3", NULL);
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "temperature", "value", "25.2",
          "error", "0.2", NULL);
}

START_TEST(checkpoints_can_be_thrown_away)
{
  LzEstimate before[3], opened[3], anew[3], after[3];
  eighty_readings();
  lz_desk_replan(lab.desk);
  lzq_minute at = lz_desk_now(lab.desk);
  all_of(at, before);
  ck_assert(before[0].known && before[1].known && before[2].known);
  house_reopen(&lab);
  all_of(at, opened);
  same(before, opened);
  ck_assert_uint_eq(lz_desk_estimators_made(lab.desk), 0); // nothing was replayed
  // one more reading is fed on top
  lab_say(&lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", "0.178",
          "instrument", "P1", NULL);
  house_reopen(&lab); // too little is new to be written
  all_of(at, opened);
  ck_assert_uint_eq(lz_desk_estimators_made(lab.desk), 0);
  lz_desk_forget_checkpoints(lab.desk);
  all_of(at, anew);
  same(opened, anew);
  ck_assert_uint_ge(lz_desk_estimators_made(lab.desk), 3);
  // gone from the file as well
  house_reopen(&lab);
  all_of(at, after);
  same(anew, after);
}
END_TEST

// What was kept is of no use once somebody corrects the past, or describes an instrument anew.
START_TEST(a_changed_past_is_worked_out_anew)
{
  LzEstimate kept[3], anew[3];
  eighty_readings();
  lz_desk_replan(lab.desk);
  lzq_minute at = lz_desk_now(lab.desk);
  all_of(at, kept);
  house_reopen(&lab);
  if (_i == 0)
    lab_say(&lab, "instrument", NULL, "@entity", "P1", "name", "P1", "method", "photometer", "sees",
            "all", "error_abs", "0.03", NULL);
  else
    lab_say(&lab, "check", "2027-03-05 08:00", "instrument", "P1", "ok", "no", NULL);
  house_reopen(&lab); // what was kept is older than that
  all_of(at, kept);
  lz_desk_forget_checkpoints(lab.desk);
  all_of(at, anew);
  same(kept, anew);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk: estimators kept");
  TCase *tc = tcase_create("kept");
  tcase_set_timeout(tc, 60);
  tcase_add_checked_fixture(tc, setup, teardown);
  tcase_add_loop_test(tc, the_beginning_moves_on_for_both, 0, 3);
  tcase_add_test(tc, a_dose_into_water_read_long_ago_says_nothing);
  tcase_add_test(tc, a_correction_replaces_what_was_fed);
  tcase_add_test(tc, checkpoints_can_be_thrown_away);
  tcase_add_loop_test(tc, a_changed_past_is_worked_out_anew, 0, 2);
  tcase_add_loop_test(tc, kept_in_place_equals_made_anew, 0, 4);
  suite_add_tcase(suite, tc);
  return lab_run(suite);
}
