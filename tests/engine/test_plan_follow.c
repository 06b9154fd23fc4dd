// SPDX-License-Identifier: GPL-3.0-or-later
// Staff that do exactly what the plan says, at the minute it says, in water that behaves as the
// mass balance: no level passes its plan edge, no rate is broken, no dose goes into unconfirmed
// water, no move meets water that does not match, and the first plan's release is the one that
// comes true. Random protocols, volumes, slots and starting levels; a failing seed is printed.
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "plan_station.h"
#include "prng.h"

#define MAX_MOVES 400

typedef struct {
  double copper, salinity;
  lzq_minute open_at;    // last dose that no reading has followed by the mixing time
  lzq_minute visit[512]; // levels after each visit
  double copper_at[512], salinity_at[512], fall_from[512];
  int n;
} basin;

typedef struct {
  lzt_station *s;
  basin waters[4];
  uint64_t seed;
  lzq_minute done_at; // the last task carried out
  lzq_minute first_release, first_served;
  bool released;
  int n_doses, n_changes, n_moves;
} world;

#define HOLDS(w, condition, ...)                                                                   \
  do {                                                                                             \
    if (!(condition)) {                                                                            \
      printf("seed %llu: ", (unsigned long long)(w)->seed);                                        \
      printf(__VA_ARGS__);                                                                         \
      printf("\n");                                                                                \
    }                                                                                              \
    ck_assert(condition);                                                                          \
  } while (0)

// --- a random station with one course

static void
protocol_make(lzt_station *s, lzt_prng *p)
{
  bool ionic = lzt_prng_chance(p, 0.5), salt = lzt_prng_chance(p, 0.6);
  double target = ionic ? 0.19 : 0.50;
  lzt_bottle(s, LZQ_COPPER, ionic ? LZQ_FORM_IONIC : LZQ_FORM_AMINE, lzt_prng_real(p, 0.5, 10));
  lzt_protocol(s);
  lzq_phase *rise = lzt_phase(s, LZQ_PHASE_RISE);
  rise->reach = true;
  rise->rise_steps = (int32_t)lzt_prng_range(p, 2, 5);
  rise->rise_per_day = target / rise->rise_steps * lzt_prng_real(p, 1.0, 1.6);
  rise->step_gap_min = (int32_t)lzt_prng_range(p, 0, 1) * 1200;
  rise->salinity_step = 6;
  rise->salinity_fall_day = lzt_prng_real(p, 4, 12);
  if (lzt_prng_chance(p, 0.5))
    rise->gear_off = 1 << LZQ_GEAR_UV | 1 << LZQ_GEAR_CARBON;
  lzq_band *band = lzt_band(rise, LZQ_COPPER, LZQ_AT_OR_ABOVE, target * 0.92, target);
  band->form = ionic ? LZQ_FORM_IONIC : LZQ_FORM_AMINE;
  band->plan = target * 1.15;
  band->harm = target * 1.5;
  if (salt) {
    band = lzt_band(rise, LZQ_SALINITY, LZQ_AT_OR_BELOW, 22.5, lzt_prng_real(p, 18, 22));
    band->plan = 15;
  }
  lzq_phase *hold = lzt_phase(s, LZQ_PHASE_HOLD);
  uint32_t to = hold->sighting_to;
  *hold = *rise;
  hold->kind = LZQ_PHASE_HOLD;
  hold->reach = false;
  hold->sighting_to = to;
  hold->min_credit_min = lzt_prng_range(p, 1, 6) * 700;
  if (lzt_prng_chance(p, 0.5)) { // into clean water of the same salinity
    lzq_phase *up = lzt_phase(s, LZQ_PHASE_RAISE);
    up->place = LZQ_PLACE_ROLE;
    up->role = LZQ_ROLE_FINISHING;
    up->reach = salt;
    up->salinity_rise_day = 3;
    up->copper_free = true;
    up->tol_salinity = 1;
    if (salt)
      lzt_band(up, LZQ_SALINITY, LZQ_AT_OR_ABOVE, 33, 34);
  } else {
    lzq_phase *out = lzt_phase(s, LZQ_PHASE_COPPER_OUT);
    out->reach = true;
    band = lzt_band(out, LZQ_COPPER, LZQ_AT_OR_BELOW, 0.02, 0);
  }
  lzt_phase(s, LZQ_PHASE_OBSERVE)->min_elapsed_min = lzt_prng_range(p, 1, 5) * 1000;
}

static void
world_make(world *w, uint64_t seed)
{
  lzt_prng p;
  lzt_prng_seed(&p, seed);
  *w = (world){.s = malloc(sizeof *w->s), .seed = seed};
  lzt_station_init(w->s);
  for (int i = 0; i < 2; i++) {
    uint32_t system = lzt_system(w->s, i == 0 ? LZQ_ROLE_TREATMENT : LZQ_ROLE_FINISHING,
                                 lzt_prng_real(&p, 100, 3000));
    w->s->systems[system].max_change_day = lzt_prng_real(&p, 0.3, 1);
    w->s->systems[system].mixing_min = (int32_t)lzt_prng_range(&p, 20, 90);
    w->waters[i] = (basin){.salinity = 34, .open_at = LZQ_LONG_AGO};
  }
  protocol_make(w->s, &p);
  int slots[3] = {(int)lzt_prng_range(&p, 360, 560), (int)lzt_prng_range(&p, 700, 900),
                  (int)lzt_prng_range(&p, 1000, 1200)};
  lzt_slots(w->s, 3, 1, 50, slots, lzt_prng_chance(&p, 0.5) ? 3 : 2);
  int32_t gap = (int32_t)lzt_prng_range(&p, 1100, 1500);
  for (uint32_t i = 0; i < w->s->snap.n_phases; i++)
    for (uint32_t j = 0; j < w->s->phases[i].n_bands; j++)
      w->s->phases[i].bands[j].gap_min = gap;
  lzq_minute start = lzt_at(3, 1, slots[0] / 60, slots[0] % 60);
  lzt_receive(w->s, lzt_lot(w->s), 0, 20, start - 30);
  lzt_course(w->s, 0, 0, 0, start - 30);
  for (int i = 0; i < 2; i++) {
    lzt_read(w->s, (uint32_t)i, LZQ_SALINITY, 34, start - 30);
    lzt_read(w->s, (uint32_t)i, LZQ_COPPER, 0, start - 30);
  }
  w->done_at = start - 20;
}

// --- carrying tasks out

static void
visit_note(basin *water, lzq_minute at)
{
  ck_assert_int_lt(water->n, 512);
  water->visit[water->n] = at;
  water->copper_at[water->n] = water->copper;
  water->salinity_at[water->n++] = water->salinity;
}

static void
do_dose(world *w, const lzq_task *task)
{
  basin *water = &w->waters[task->system];
  double volume = w->s->systems[task->system].volume_l;
  HOLDS(w, water->open_at == LZQ_LONG_AGO, "a dose at %lld into unconfirmed water",
        (long long)task->at);
  HOLDS(w, fabs(task->amount * w->s->bottles[task->bottle].strength_mg_ml - task->dose_mg) < 1e-9,
        "mL and mg differ");
  water->copper += task->dose_mg / volume;
  HOLDS(w, fabs(water->copper - task->level_after) < 1e-6, "level after %g, said %g", water->copper,
        task->level_after);
  lzt_dose(w->s, task->system, w->s->bottles[task->bottle].form, task->dose_mg, task->at);
  water->open_at = task->at;
  w->n_doses++;
}

static void
do_change(world *w, const lzq_task *task)
{
  basin *water = &w->waters[task->system];
  double f = task->amount / w->s->systems[task->system].volume_l;
  double salinity = isnan(task->new_salinity) ? water->salinity : task->new_salinity;
  HOLDS(w, f <= w->s->systems[task->system].max_change_day + 1e-6, "a change of %g", f);
  water->copper *= 1 - f;
  water->salinity = water->salinity * (1 - f) + salinity * f;
  lzt_change(w->s, task->system, task->amount, 0, salinity, task->at);
  w->n_changes++;
}

static void
do_test(world *w, const lzq_task *task)
{
  basin *water = &w->waters[task->system];
  bool copper = task->analyte == LZQ_COPPER;
  lzt_read(w->s, task->system, (lzq_analyte)task->analyte, copper ? water->copper : water->salinity,
           task->at);
  if (copper && water->open_at != LZQ_LONG_AGO &&
      task->at >= water->open_at + w->s->systems[task->system].mixing_min)
    water->open_at = LZQ_LONG_AGO;
}

static void
do_move(world *w, const lzq_task *task)
{
  const basin *from = &w->waters[task->system], *to = &w->waters[task->to_system];
  HOLDS(w, to->copper <= 0.02 + LZQ_EDGE, "moved into copper %g", to->copper);
  HOLDS(w, fabs(from->salinity - to->salinity) <= 1 + LZQ_EDGE, "moved from salinity %g to %g",
        from->salinity, to->salinity);
  lzt_move(w->s, task->lot, task->tank, task->at);
  w->n_moves++;
}

// Looked at while it feeds, on the station day of the slot.
static void
do_feed(world *w, const lzq_task *task)
{
  lzq_record *r = lzt_record(w->s, LZQ_REC_FEED, task->at);
  r->lot = task->lot;
  r->amount = 1;
  for (uint32_t i = 0; i < w->s->snap.n_slots && w->s->slots[i].at <= task->at; i++)
    r->day = w->s->slots[i].day;
}

static void
carry_out(world *w, const lzq_task *task)
{
  switch (task->kind) {
  case LZQ_TASK_TEST: do_test(w, task); break;
  case LZQ_TASK_DOSE: do_dose(w, task); break;
  case LZQ_TASK_CHANGE: do_change(w, task); break;
  case LZQ_TASK_SALT: {
    basin *water = &w->waters[task->system];
    water->salinity += task->amount * 1000 / w->s->systems[task->system].volume_l;
    lzq_record *r = lzt_record(w->s, LZQ_REC_DOSE, task->at);
    r->system = task->system;
    r->analyte = LZQ_SALINITY;
    r->amount = task->amount * 1000;
    break;
  }
  case LZQ_TASK_GEAR:
    lzt_gear(w->s, task->system, (lzq_gear)task->gear, task->amount > 0, task->at);
    break;
  case LZQ_TASK_MOVE: do_move(w, task); break;
  case LZQ_TASK_FEED:
  case LZQ_TASK_INSPECT: do_feed(w, task); break;
  case LZQ_TASK_RELEASE:
    lzt_record(w->s, LZQ_REC_RELEASE, task->at)->lot = task->lot;
    w->released = true;
    break;
  default: break;
  }
}

// --- what must hold after every visit

static void
check_water(world *w, uint32_t system, lzq_minute at)
{
  basin *water = &w->waters[system];
  const lzq_phase *rise = &w->s->phases[0];
  const lzq_band *copper = &rise->bands[0];
  HOLDS(w, water->copper <= copper->plan + 1e-9, "copper %g beyond the plan edge %g", water->copper,
        copper->plan);
  if (rise->n_bands > 1)
    HOLDS(w, water->salinity >= rise->bands[1].plan - 1e-9, "salinity %g too low", water->salinity);
  visit_note(water, at);
  for (int i = water->n - 1; i >= 0 && water->n > 1; i--) {
    bool within = water->visit[i] > at - LZQ_DAY;
    if (system == 0) { // no fish in the other water while it is prepared
      HOLDS(w, water->copper - water->copper_at[i] <= rise->rise_per_day + 1e-6,
            "copper rose %g within a day", water->copper - water->copper_at[i]);
      HOLDS(w, water->salinity_at[i] - water->salinity <= rise->salinity_fall_day + 1e-6,
            "salinity fell %g within a day", water->salinity_at[i] - water->salinity);
    } else if (w->n_moves > 0) {
      HOLDS(w, water->salinity - water->salinity_at[i] <= 3 + 1e-6, "salinity rose %g within a day",
            water->salinity - water->salinity_at[i]);
    }
    if (!within)
      break; // the level in force as the window began
  }
}

// Everything of the earliest minute at which something can be done, in the order of the plan.
static bool
step(world *w)
{
  const lzq_plan *plan = lzt_plan(w->s, w->done_at);
  lzq_minute at = LZQ_NEVER;
  for (uint32_t i = 0; i < plan->n_tasks; i++) {
    const lzq_task *task = &plan->tasks[i];
    // a test, a move and a release come of themselves with their minute
    bool now = task->state == LZQ_TASK_DUE || task->kind == LZQ_TASK_TEST ||
               task->kind == LZQ_TASK_RELEASE || task->kind == LZQ_TASK_MOVE;
    if (now && task->at >= w->done_at && task->at < at)
      at = task->at;
  }
  if (at == LZQ_NEVER)
    return false;
  if (at > w->done_at) // plan again at that minute: what is due then is said then
    w->done_at = at;
  plan = lzt_plan(w->s, w->done_at);
  bool touched[4] = {false}, any = false;
  for (uint32_t i = 0; i < plan->n_tasks && !w->released; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (task->at != w->done_at || task->state == LZQ_TASK_BLOCKED || task->state == LZQ_TASK_WAITS)
      continue;
    carry_out(w, task);
    any = true;
    if (task->kind == LZQ_TASK_GEAR) { // on record: the dose that it blocked is free
      plan = lzt_plan(w->s, w->done_at);
      i = UINT32_MAX;
      continue;
    }
    touched[task->system] = touched[task->system] || task->kind == LZQ_TASK_DOSE ||
                            task->kind == LZQ_TASK_CHANGE || task->kind == LZQ_TASK_SALT;
  }
  for (uint32_t i = 0; i < 2; i++)
    if (touched[i])
      check_water(w, i, w->done_at);
  if (!any)
    w->done_at++;
  return true;
}

static void
follow(uint64_t seed, uint64_t *doses, uint64_t *changes)
{
  world w;
  world_make(&w, seed);
  const lzq_plan *plan = lzt_plan(w.s, w.done_at);
  w.first_served = plan->lots[0].served;
  w.first_release = plan->lots[0].release_earliest;
  HOLDS(&w, w.first_release != LZQ_NEVER, "no release date");
  for (int i = 0; i < MAX_MOVES && !w.released; i++) {
    if (!step(&w))
      break;
    if (i % 8 == 7)
      lzq_arena_reset(&w.s->arena);
  }
  HOLDS(&w, w.released, "not released by %+lld min after the plan",
        (long long)(w.done_at - w.first_release));
  const lzq_credit *credit = lzt_plan(w.s, w.done_at)->credit;
  HOLDS(&w, credit->lots[0].releasable_at != LZQ_NEVER || credit->lots[0].served,
        "released without having served");
  HOLDS(&w, credit->lots[0].served_at == w.first_served, "served %+lld min off the first plan",
        (long long)(credit->lots[0].served_at - w.first_served));
  *doses += (uint64_t)w.n_doses;
  *changes += (uint64_t)w.n_changes;
  lzt_station_free(w.s);
  free(w.s);
}

START_TEST(following_the_plan)
{
  const char *from = getenv("LZT_SEED"), *many = getenv("LZT_COUNT");
  uint64_t first = from ? strtoull(from, NULL, 10) : 1, doses = 0, changes = 0;
  uint64_t count = many ? strtoull(many, NULL, 10) : 200;
  for (uint64_t seed = first; seed < first + count; seed++)
    follow(seed, &doses, &changes);
  printf("courses followed to release: %llu from seed %llu, %llu doses, %llu changes\n",
         (unsigned long long)count, (unsigned long long)first, (unsigned long long)doses,
         (unsigned long long)changes);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("plan_follow");
  TCase *cases = tcase_create("following the plan");
  tcase_set_timeout(cases, 240);
  tcase_add_test(cases, following_the_plan);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
