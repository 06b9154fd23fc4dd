// SPDX-License-Identifier: GPL-3.0-or-later
// A rise in steps: one figure for the next dose wherever it is asked for, no dose of the plan done
// as told is stopped, and none that breaks the protocol's rise a day passes on one person's word.
#include <lz_dose_now.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "../lib/prng.h"
#include "lab.h"

static Lab lab;

typedef struct {
  double volume, strength, target, per_day; // per_day 0 = not said
  int steps;
} Rise;

static void
number(LzCommand *command, const char *field, double value)
{
  lz_command_set_number(command, field, value);
}

static void
submit(LzCommand *command)
{
  g_autoptr(GError) error = NULL;
  ck_assert_msg(lz_desk_submit_one(lab.desk, command, &error), "%s",
                error ? error->message : "refused");
  lz_command_free(command);
}

static void
phase_of(const Rise *r, const char *position, const char *kind)
{
  LzCommand *phase = lz_command_build("phase", "protocol", "Rise", "position", position, "name",
                                      kind, "kind", kind, NULL);
  const gboolean rises = *kind == 'r';
  if (rises) {
    lz_command_set(phase, "reach", "yes");
    number(phase, "rise_steps", r->steps);
    number(phase, "step_gap_min", 1200);
    if (r->per_day > 0)
      number(phase, "rise_per_day", r->per_day);
  } else {
    number(phase, "min_credit_min", 20160);
  }
  submit(phase);
  g_autofree char *name = g_strdup_printf("Rise/1/%s", position);
  LzCommand *band = lz_command_build("band", "phase", name, "analyte", "copper", "form", "ionic",
                                     "side", "at_or_above", "gap_min", "1440", NULL);
  number(band, "works", r->target - 0.01);
  number(band, "target", r->target);
  number(band, "plan", r->target + 0.02);
  number(band, "harm", r->target + 0.06);
  submit(band);
}

static void
station(const Rise *r)
{
  lab_open(&lab, "2027-03-01 07:30");
  lab_station(&lab);
  LzCommand *system = lz_command_build("system", "name", "Blue-1", "role", "treatment", NULL);
  number(system, "volume_l", r->volume);
  submit(system);
  lab_say(&lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  LzCommand *bottle =
      lz_command_build("bottle", "name", "C-07", "analyte", "copper", "form", "ionic", NULL);
  number(bottle, "strength", r->strength);
  submit(bottle);
  lab_say(&lab, "lot", "2027-02-20 09:00", "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "protocol", NULL, "name", "Rise", "version", "1", NULL);
  phase_of(r, "1", "rise");
  phase_of(r, "2", "hold");
  lab_say(&lab, "course", NULL, "lot", "0412", "protocol", "Rise", NULL);
}

static void
read_copper(double level)
{
  LzCommand *reading = lz_command_build("reading", "system", "Blue-1", "analyte", "copper", NULL);
  number(reading, "value", round(level * 100) / 100);
  submit(reading);
}

static void
go(lzq_minute at)
{
  lz_clock_set(lab.clock, at);
  lz_desk_replan(lab.desk);
}

// The dose that the plan asks for now, in mL; NAN = none. Water and the computed dose say the same.
static double
dose_due(void)
{
  lzq_arena arena;
  double ml = NAN;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_plan *plan = lz_desk_plan_at_once(lab.desk, &arena, NULL);
  for (uint32_t i = 0; i < plan->n_tasks && isnan(ml); i++)
    if (plan->tasks[i].kind == LZQ_TASK_DOSE && plan->tasks[i].at <= lz_desk_now(lab.desk))
      ml = plan->tasks[i].amount;
  g_auto(LzDoseNow) now;
  lz_desk_dose_now(lab.desk, plan, 0, LZQ_COPPER, &now);
  const LzDoseAdvice advice = lz_desk_advise_dose(lab.desk, 0, LZQ_COPPER, 0);
  ck_assert_msg(now.give == isfinite(ml), "%s", now.why ? now.why : "no reason");
  if (isfinite(ml)) {
    ck_assert_double_eq_tol(now.amount, ml, 1e-6);
    ck_assert_double_eq_tol(advice.ml, ml, 1e-6);
  }
  lzq_arena_free(&arena);
  return ml;
}

// Doses in round minutes, readings two hours later and off by at most what a kit shows.
static int
follow(lzt_prng *prng, const Rise *r)
{
  double level = 0;
  int doses = 0;
  const lzq_minute begin = lz_desk_now(lab.desk);
  read_copper(0);
  for (int day = 0; day < 12 && level < r->target - 0.02; day++) {
    go(begin + day * LZQ_DAY + lzt_prng_range(prng, 0, 40));
    const double ml = dose_due();
    if (isnan(ml))
      continue;
    LzCommand *dose = lz_command_build("dose", "system", "Blue-1", "bottle", "C-07", NULL);
    number(dose, "amount_ml", round(ml * 10) / 10); // as lz_format_amount says mL
    submit(dose);
    doses++;
    level += round(ml * 10) / 10 * r->strength / r->volume;
    go(lz_desk_now(lab.desk) + 120);
    read_copper(level + lzt_prng_real(prng, -0.005, 0.005));
  }
  ck_assert_msg(level >= r->target - 0.02, "%g of %g in %d steps", level, r->target, r->steps);
  return doses;
}

START_TEST(doses_of_the_plan_pass)
{
  const char *many = g_getenv("LZ_STATIONS");
  const int n = many ? atoi(many) : 20;
  int doses = 0;
  for (int seed = 1; seed <= n; seed++) {
    lzt_prng prng;
    lzt_prng_seed(&prng, (uint64_t)seed);
    Rise r = {.volume = (double)lzt_prng_range(&prng, 300, 3000),
              .strength = (double)lzt_prng_range(&prng, 10, 50) / 10,
              .target = (double)lzt_prng_range(&prng, 15, 55) / 100,
              .steps = (int)lzt_prng_range(&prng, 2, 5)};
    if (lzt_prng_chance(&prng, 0.5))
      r.per_day = ceil(r.target / r.steps * 100 + 0.5) / 100;
    printf("seed %d: %g L, %g mg/mL, to %g in %d steps, %g a day\n", seed, r.volume, r.strength,
           r.target, r.steps, r.per_day);
    station(&r);
    doses += follow(&prng, &r);
    lab_close(&lab);
  }
  printf("rises: %d from seed 1, %d doses\n", n, doses);
  ck_assert_int_ge(doses, 2 * n);
}
END_TEST

// 0.19 in four steps at 0.06 a day (Zec, Hadfield and Hungerford 2017: over 3 to 5 days), 1,500 L,
// 1.5 mg/mL: the first step, 0.0475 rounded up to 0.05, is 50 mL. 70 mL would be 0.070 at once:
// less than one and a half times the step, and more than a day's rise.
START_TEST(no_day_rises_more)
{
  const Rise r = {.volume = 1500, .strength = 1.5, .target = 0.19, .per_day = 0.06, .steps = 4};
  station(&r);
  read_copper(0);
  ck_assert_double_eq_tol(dose_due(), 50, 1e-9);
#define GIVE(ml) "dose", NULL, "system", "Blue-1", "bottle", "C-07", "amount_ml", ml, NULL
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_NEEDS_SECOND_PERSON, GIVE("70")),
              LZ_GATED_NOT_PLANNED);
  lab_say(&lab, GIVE("50"));
  lab_go(&lab, "2027-03-01 10:30");
  read_copper(0.04); // within half a step of 0.05: this step is done
  ck_assert(isnan(dose_due()));
  lab_is_gate(lab_refused(&lab, LZ_DESK_ERROR_NEEDS_SECOND_PERSON, GIVE("30")),
              LZ_GATED_NOT_PLANNED); // 0.070
  lab_go(&lab, "2027-03-02 07:30");
  ck_assert_double_eq_tol(dose_due(), 60, 1e-9); // to 0.10, from 0.04
  lab_close(&lab);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("rise");
  TCase *all = tcase_create("all");
  tcase_set_timeout(all, 120);
  tcase_add_test(all, doses_of_the_plan_pass);
  tcase_add_test(all, no_day_rises_more);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
