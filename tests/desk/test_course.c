// SPDX-License-Identifier: GPL-3.0-or-later
// A whole course under the shipped main protocol, every figure asserted. Common practice, no
// source: 0.50 mg/L in three daily steps, SG 1.016 (salinity 21.4) on copper, at least 14 days
// held, a move only into water that matches. The same course with noise inside the band gives the
// same minutes.
#include <lz_protocol_file.h>
#include <math.h>

#include "../lib/prng.h"
#include "lab.h"

static Lab lab;
static lzt_prng noise;
static gboolean noisy;

// Entries are made when they happen.
static void
come(const char *local)
{
  lz_clock_set(lab.clock, lab_at(local));
}

static void
gear_off(const char *system)
{
  static const char *const gear[] = {"uv", "carbon", "resin"};
  for (gsize i = 0; i < G_N_ELEMENTS(gear); i++)
    lab_say(&lab, "gear", "2027-03-01 07:00", "system", system, "gear", gear[i], "on", "no", NULL);
}

static void
setup(void)
{
  static const char *const systems[] = {"Blue-2", "Blue-3", "Green-1"};
  lab_open(&lab, "2027-03-01 06:00");
  lab_station(&lab);
  g_autofree char *path =
      g_build_filename(lz_data_dir(), "protocols", "complexed-copper-low-salinity.protocol", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) protocol = lz_protocol_load(path, &error);
  ck_assert_msg(protocol && lz_desk_submit(lab.desk, (LzCommand *const *)protocol->pdata,
                                           protocol->len, &error),
                "%s", error ? error->message : "?");
  for (gsize i = 0; i < G_N_ELEMENTS(systems); i++) {
    lab_say(&lab, "system", NULL, "name", systems[i], "volume_l", "1800", "role",
            i < 2 ? "treatment" : "finishing", NULL);
    lab_say(&lab, "tank", NULL, "system", systems[i], "number", "1", NULL);
  }
  lab_say(&lab, "bottle", NULL, "name", "C-14", "analyte", "copper", "form", "amine", "strength",
          "5.00", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all",
          "error_abs", "0.01", NULL);
  lab_say(&lab, "instrument", NULL, "name", "M1", "method", "conductivity", "error_abs", "0.2",
          NULL);
  come("2027-03-01 07:00");
  gear_off("Blue-2");
  come("2027-03-01 09:05");
  lab_say(&lab, "lot", "2027-03-01 09:00", "code", "0412", "tank", "Blue-2/1", "heads", "30", NULL);
  lab_say(&lab, "course", "2027-03-01 09:05", "lot", "0412", "protocol",
          "Complexed copper with lowered salinity", NULL);
  lzt_prng_seed(&noise, 412);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
read_both(const char *system, const char *at, double copper, double salinity)
{
  double dc = noisy ? lzt_prng_real(&noise, -0.02, 0.02) : 0;
  double ds = noisy ? lzt_prng_real(&noise, -0.1, 0.1) : 0;
  g_autofree char *c = lz_format_machine(copper + dc), *s = lz_format_machine(salinity + ds);
  come(at);
  g_autoptr(LzCommand) copper_read = lz_command_build(
      "reading", "system", system, "analyte", "copper", "value", c, "instrument", "P1", NULL);
  g_autoptr(LzCommand) salt_read = lz_command_build(
      "reading", "system", system, "analyte", "salinity", "value", s, "instrument", "M1", NULL);
  LzCommand *both[] = {copper_read, salt_read};
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_desk_submit(lab.desk, both, 2, &error), "%s at %s: %s", system, at,
                error ? error->message : "?");
}

// 257 L of fresh water, then the dose: what is carried afterwards, before anybody reads.
static void
step(const char *at, const char *ml, double copper, double salinity)
{
  come(at);
  lab_say(&lab, "change", at, "system", "Blue-2", "litres", "257", "new_salinity", "0",
          "new_copper", "0", NULL);
  lab_say(&lab, "dose", at, "system", "Blue-2", "bottle", "C-14", "amount_ml", ml, "in_new_water",
          "yes", NULL);
  const lzq_water_plan *water = &lz_desk_plan(lab.desk)->waters[0];
  ck_assert_double_eq_tol(water->level[0], copper, 0.0005);
  ck_assert_double_eq_tol(water->level[1], salinity, 0.01); // from readings of two decimals
}

// 34 x (1 - 257/1,800) = 29.15, 24.98, 21.42; 61.2, 69.9, 75.1 mL of 5.00 mg/mL = 0.170, 0.340,
// 0.500.
static void
rise(void)
{
  gboolean noise_later = noisy;
  noisy = FALSE; // what is read becomes what is carried: the steps' own figures want it exact
  read_both("Blue-2", "2027-03-01 17:00", 0, 34);
  step("2027-03-02 09:30", "61.2", 0.170, 29.15);
  read_both("Blue-2", "2027-03-02 11:00", 0.170, 29.15);
  step("2027-03-03 09:30", "69.9", 0.340, 24.98);
  read_both("Blue-2", "2027-03-03 11:00", 0.340, 24.98);
  step("2027-03-04 08:30", "75.1", 0.500, 21.42);
  read_both("Blue-2", "2027-03-04 10:00", 0.50, 21.42);
  noisy = noise_later;
}

static void
hold(void)
{
  read_both("Blue-2", "2027-03-04 17:00", 0.50, 21.42);
  read_both("Blue-2", "2027-03-05 07:30", 0.50, 21.42); // Friday evening's test is missed
  read_both("Blue-2", "2027-03-06 07:30", 0.50, 21.42);
  read_both("Blue-3", "2027-03-06 07:30", 0.50, 21.42);
  come("2027-03-06 10:00");
  lab_say(&lab, "move", "2027-03-06 10:00", "lot", "0412", "tank", "Blue-3/1", NULL);
  read_both("Blue-3", "2027-03-06 17:00", 0.50, 21.42);
  read_both("Blue-2", "2027-03-06 17:00", 0.50, 21.42); // speaks for the hours before the move
  gboolean noise_later = noisy;
  noisy = FALSE;
  read_both("Blue-3", "2027-03-07 07:30", 0.50, 21.42);
  noisy = noise_later;
  come("2027-03-07 10:00");
  lab_say(&lab, "change", "2027-03-07 10:00", "system", "Blue-3", "litres", "270", "new_salinity",
          "21.42", "new_copper", "0", NULL);
  ck_assert_double_eq_tol(lz_desk_plan(lab.desk)->waters[1].level[0], 0.425, 1e-9);
  come("2027-03-07 15:00");
  lab_say(&lab, "dose", "2027-03-07 15:00", "system", "Blue-3", "bottle", "C-14", "amount_ml",
          "27.0", NULL);
  read_both("Blue-3", "2027-03-07 17:00", 0.50, 21.42);
  for (int day = 8; day <= 18; day++)
    for (int slot = 0; slot < 2; slot++) {
      g_autofree char *at = g_strdup_printf("2027-03-%02d %s", day, slot ? "17:00" : "07:30");
      read_both("Blue-3", at, 0.50, 21.42);
    }
}

static const lzq_visit *
visit_of(const lzq_lot_credit *credit, uint32_t phase)
{
  for (uint32_t i = 0; i < credit->n_visits; i++)
    if (credit->visits[i].phase == phase)
      return &credit->visits[i];
  ck_abort_msg("phase %u was never entered", phase);
}

// 14 d of credit from Thursday 10:00, and lost 479 min (23:31 to 07:30) and 300 min (10:00 to
// 15:00): 18 March 22:59 local, provisional until the next test.
static void
ck_course(void)
{
  rise();
  hold();
  lab_go(&lab, "2027-03-18 22:59");
  const lzq_visit *held = visit_of(lab_credit(&lab, "0412"), 1);
  ck_local(held->start, "Thu 4 Mar 10:00");
  ck_local(held->end, "Thu 18 Mar 22:59");
  ck_assert_int_eq(held->credit_min, 20160);
  ck_assert_int_eq(held->end - held->start - held->credit_min, 479 + 300);
  ck_assert_int_eq(held->firm_at, LZQ_NEVER);
  read_both("Blue-3", "2027-03-19 07:30", 0.50, 21.42);
  lab_go(&lab, "2027-03-19 07:30");
  held = visit_of(lab_credit(&lab, "0412"), 1);
  ck_local(held->end, "Thu 18 Mar 22:59");
  ck_local(held->firm_at, "Fri 19 Mar 07:30");
}

START_TEST(a_whole_course)
{
  noisy = FALSE;
  ck_course();
}
END_TEST

START_TEST(the_same_minutes_with_noise_inside_the_band)
{
  noisy = TRUE;
  ck_course();
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-course");
  TCase *tests = tcase_create("course");
  tcase_add_checked_fixture(tests, setup, teardown);
  tcase_add_test(tests, a_whole_course);
  tcase_add_test(tests, the_same_minutes_with_noise_inside_the_band);
  tcase_set_timeout(tests, 170);
  suite_add_tcase(suite, tests);
  return lab_run(suite);
}
