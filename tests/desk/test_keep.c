// SPDX-License-Identifier: GPL-3.0-or-later
// Another course that keeps the time served. Common practice, no source: days of watching prove
// nothing about a fortnight at 0.18 mg/L of ionic copper, a hold at a lower edge proves nothing
// about a higher one, and a stricter hold proves the laxer.
#include "lab.h"

static Lab lab;

static void
protocol(const char *name, const char *works, gboolean watched_first)
{
  g_autofree char *first = g_strdup_printf("%s/1/%d", name, watched_first ? 2 : 1);
  lab_say(&lab, "protocol", NULL, "name", name, "version", "1", NULL);
  if (watched_first)
    lab_say(&lab, "phase", NULL, "protocol", name, "position", "1", "name", "watch", "kind",
            "observe", "min_credit_min", "2 d", NULL);
  lab_say(&lab, "phase", NULL, "protocol", name, "position", watched_first ? "2" : "1", "name",
          "hold", "kind", "hold", "min_credit_min", "14 d", NULL);
  lab_say(&lab, "band", NULL, "phase", first, "analyte", "copper", "form", "ionic", "side",
          "at_or_above", "works", works, "target", "0.2", "plan", "0.21", "harm", "0.25", "gap_min",
          "24 h", NULL);
}

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "500", "role", "treatment", NULL);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all",
          "error_abs", "0.01", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Watch", "version", "1", NULL);
  lab_say(&lab, "phase", NULL, "protocol", "Watch", "position", "1", "name", "watch", "kind",
          "observe", "min_credit_min", "20 d", NULL);
  protocol("Ionic", "0.18", FALSE);
  protocol("Strict", "0.19", FALSE);
  protocol("Late", "0.18", TRUE);
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "9", NULL);
  lab_say(&lab, "reading", "2027-03-01 09:00", "system", "Blue-1", "analyte", "copper", "value",
          "0.2", "instrument", "P1", NULL);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
hold_until(const char *name, int day)
{
  lab_say(&lab, "course", "2027-03-01 09:00", "lot", "0412", "protocol", name, NULL);
  for (int d = 2; d <= day; d++) {
    g_autofree char *at = g_strdup_printf("2027-03-%02d 09:00", d);
    lz_clock_set(lab.clock, lab_at(at));
    lab_say(&lab, "reading", at, "system", "Blue-1", "analyte", "copper", "value", "0.2",
            "instrument", "P1", NULL);
  }
}

static const char *
refused(const char *name, const char *phase)
{
  return lab_refused(&lab, LZ_DESK_ERROR_USAGE, "course", NULL, "lot", "0412", "protocol", name,
                     "keep", "yes", phase ? "phase" : NULL, phase, NULL);
}

static void
ck_kept(const char *name, uint32_t phase, int days)
{
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", name, "keep", "yes", NULL);
  const lzq_lot_credit *credit = lab_credit(&lab, "0412");
  ck_assert_uint_eq(credit->phase, phase);
  ck_assert_int_eq(credit->credit_min, days * 1440);
}

START_TEST(watching_is_no_hold)
{
  hold_until("Watch", 12);
  ck_assert_ptr_nonnull(strstr(refused("Ionic", NULL), "no phase of Ionic/1"));
  ck_assert_ptr_nonnull(strstr(refused("Ionic", "1"), "accepted is no"));
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Ionic", NULL);
  ck_assert_int_eq(lab_credit(&lab, "0412")->credit_min, 0);
}
END_TEST

START_TEST(a_lower_edge_proves_no_higher_one)
{
  hold_until("Ionic", 6);
  refused("Strict", NULL);
  hold_until("Strict", 6); // begins anew on the record of the same days
  ck_kept("Ionic", 0, 5);
}
END_TEST

// The hold is the second phase there; its watching asks for something else.
START_TEST(the_phase_that_fits_is_entered)
{
  hold_until("Ionic", 6);
  ck_assert_ptr_nonnull(strstr(refused("Late", "1"), "phase 2 (hold)"));
  ck_kept("Late", 1, 5);
  ck_assert_ptr_nonnull(strstr(lab_notes(&lab), "5 d"));
}
END_TEST

START_TEST(without_a_course_there_is_nothing_to_keep)
{
  lz_clock_set(lab.clock, lab_at("2027-03-01 10:00"));
  refused("Ionic", NULL);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-keep");
  TCase *tests = tcase_create("keep");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, watching_is_no_hold);
  tcase_add_test(tests, a_lower_edge_proves_no_higher_one);
  tcase_add_test(tests, the_phase_that_fits_is_entered);
  tcase_add_test(tests, without_a_course_there_is_nothing_to_keep);
  suite_add_tcase(suite, tests);
  return lab_run(suite);
}
