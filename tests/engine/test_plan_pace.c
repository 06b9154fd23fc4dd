// SPDX-License-Identifier: GPL-3.0-or-later
// The pace of salinity by readings that scatter, as every instrument's do: the rate of a day holds,
// and no reading that is a little off its neighbours costs a day. Limits of 3 a day up and 6 a step
// and a day down: the shipped protocols'.
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

static const int two_slots[] = {450, 1020}; // 07:30 and 17:00
static const double scatter[] = {0.1, -0.2, 0.15, -0.1, 0.2, 0, -0.15, 0.05};

// 400 L, a protocol of one phase.
static lzt_station *
station(lzq_phase_kind kind, lzq_side side, double works, double target)
{
  lzt_station *s = malloc(sizeof *s);
  lzt_station_init(s);
  lzt_system(s, LZQ_ROLE_TREATMENT, 400);
  lzt_protocol(s);
  lzq_phase *phase = lzt_phase(s, kind);
  phase->reach = true;
  phase->salinity_rise_day = 3;
  phase->salinity_fall_day = 6;
  phase->salinity_step = side == LZQ_AT_OR_BELOW ? 6 : 3;
  lzt_band(phase, LZQ_SALINITY, side, works, target)->gap_min = 960;
  lzt_receive(s, lzt_lot(s), 0, 10, lzt_at(3, 1, 7, 0));
  lzt_course(s, 0, 0, 0, lzt_at(3, 1, 7, 0));
  lzt_slots(s, 3, 1, 30, two_slots, 2);
  return s;
}

// Reads at every slot and does what the plan says is due then; the days until `target` is read.
static int
days_to(lzt_station *s, double salinity, double target, double a_day)
{
  double left[64]; // the level that each slot left
  for (int slot = 0; slot < 60; slot++) {
    const lzq_minute now =
        lzt_at(3, 1, 0, 0) + slot / 2 * (lzq_minute)LZQ_DAY + two_slots[slot % 2];
    lzt_read(s, 0, LZQ_SALINITY, salinity + scatter[slot % 8], now);
    if (fabs(salinity - target) < 0.5)
      return slot / 2;
    const lzq_plan *plan = lzt_plan(s, now);
    const lzq_task *salt = lzt_task(plan, LZQ_TASK_SALT, 0, 0);
    const lzq_task *change = lzt_task(plan, LZQ_TASK_CHANGE, 0, 0);
    if (salt && salt->at == now) {
      lzt_dose(s, 0, LZQ_FORM_NONE, salt->amount * 1000, now);
      s->records[s->snap.n_records - 1].analyte = LZQ_SALINITY;
      s->records[s->snap.n_records - 1].bottle = LZQ_NONE;
      salinity += salt->amount * 1000 / 400;
    } else if (change && change->at == now) {
      lzt_change(s, 0, change->amount, 0, 0, now);
      salinity *= 1 - change->amount / 400;
    }
    left[slot] = salinity;
    for (int before = slot; before >= 0 && before >= slot - 2; before--) // of two readings' scatter
      ck_assert_double_le(fabs(salinity - left[before]), a_day + 0.41);
  }
  return 60;
}

// 13.3 to 34 at 3 a day: seven days. One more for readings that lie low is borne; it was fourteen.
START_TEST(salinity_up_keeps_its_pace)
{
  lzt_station *s = station(LZQ_PHASE_RAISE, LZQ_AT_OR_ABOVE, 33, 34);
  ck_assert_int_le(days_to(s, 13.3, 34, 3), 8);
  lzt_station_free(s);
  free(s);
}
END_TEST

// 34 to 13.3 at 6 a day: five steps.
START_TEST(salinity_down_keeps_its_pace)
{
  lzt_station *s = station(LZQ_PHASE_LOWER, LZQ_AT_OR_BELOW, 14, 13.3);
  ck_assert_int_le(days_to(s, 34, 13.3, 6), 6);
  lzt_station_free(s);
  free(s);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_pace");
  TCase *all = tcase_create("all");
  tcase_add_test(all, salinity_up_keeps_its_pace);
  tcase_add_test(all, salinity_down_keeps_its_pace);
  suite_add_tcase(suite, all);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
