// SPDX-License-Identifier: GPL-3.0-or-later
// The protocol check: each refusal and each warning is met by a protocol that is otherwise sound.
// Limits: ionic copper 0.21 mg/L (Zec, Hadfield and Hungerford 2021), complexed copper 0.60 by plan
// (common practice, no source), salinity 10 (Colorni 1985; Yanong FA164), formalin bath 60 min
// (VM061).
#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "plan_station.h"

typedef struct {
  lzt_station station;
  lzq_protocol_context context;
  lzq_phase *rise, *hold, *watch;
  const lzq_finding *found;
  uint32_t n;
} fixture;

static fixture *f;

// Sound in every respect: the changes below are the only thing wrong with it.
static void
setup(void)
{
  f = calloc(1, sizeof *f);
  lzt_station_init(&f->station);
  static const int slots[] = {450, 1020};
  lzt_slots(&f->station, 3, 1, 3, slots, 2);
  f->context = (lzq_protocol_context){.slots = f->station.slots,
                                      .n_slots = f->station.snap.n_slots,
                                      .copper_limit = NAN,
                                      .salinity_error = NAN};
  lzt_protocol(&f->station);
  f->rise = lzt_phase(&f->station, LZQ_PHASE_RISE);
  f->rise->reach = true;
  f->rise->rise_steps = 4;
  f->rise->rise_per_day = 0.06;
  f->rise->gear_off = 1 << LZQ_GEAR_CARBON | 1 << LZQ_GEAR_RESIN;
  lzq_band *band = lzt_band(f->rise, LZQ_COPPER, LZQ_AT_OR_ABOVE, 0.18, 0.19);
  band->form = LZQ_FORM_IONIC;
  band->plan = 0.21;
  band->harm = 0.25;
  band->gap_min = 960;
  f->hold = lzt_phase(&f->station, LZQ_PHASE_HOLD);
  *f->hold = *f->rise;
  f->hold->kind = LZQ_PHASE_HOLD;
  f->hold->sighting_to = 0;
  f->hold->reach = false;
  f->hold->rise_steps = 0;
  f->hold->min_credit_min = 21 * LZQ_DAY;
  f->watch = lzt_phase(&f->station, LZQ_PHASE_OBSERVE);
  f->watch->min_elapsed_min = 14 * LZQ_DAY;
  f->watch->sighting_to = 0;
}

static void
teardown(void)
{
  lzt_station_free(&f->station);
  free(f);
}

static void
run(void)
{
  ck_assert_int_eq(lzq_protocol_check(f->rise, 3, &f->context, &f->station.arena, &f->found, &f->n),
                   LZQ_OK);
}

static const lzq_finding *
find(lzq_finding_code code)
{
  run();
  for (uint32_t i = 0; i < f->n; i++)
    if (f->found[i].code == code)
      return &f->found[i];
  ck_abort_msg("finding %d is not there (%u others)", code, f->n);
  return NULL;
}

static void
expect(lzq_finding_code code, lzq_severity severity, uint32_t phase)
{
  const lzq_finding *found = find(code);
  ck_assert_int_eq(found->severity, severity);
  ck_assert_uint_eq(found->phase, phase);
  ck_assert_ptr_nonnull(found->field);
}

START_TEST(a_sound_protocol_has_no_remark)
{
  run();
  for (uint32_t i = 0; i < f->n; i++)
    ck_abort_msg("phase %u, %s: code %d", f->found[i].phase, f->found[i].field, f->found[i].code);
}
END_TEST

START_TEST(refusals)
{
  f->watch->warm_from = 26;
  f->watch->warm_to = 24;
  expect(LZQ_FINDING_WARMTH_CROSSED, LZQ_FINDING_REFUSE, 2);
  teardown(), setup();
  f->hold->bands[0].works = NAN;
  expect(LZQ_FINDING_NOT_A_NUMBER, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->hold->min_credit_min = -5;
  expect(LZQ_FINDING_NEGATIVE, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->rise->kind = (lzq_phase_kind)99;
  expect(LZQ_FINDING_UNKNOWN, LZQ_FINDING_REFUSE, 0);
  teardown(), setup();
  f->rise->n_bands = 5;
  expect(LZQ_FINDING_TOO_MANY, LZQ_FINDING_REFUSE, 0);
  teardown(), setup();
  f->hold->sighting_to = 2;
  expect(LZQ_FINDING_SIGHTING_FORWARD, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->hold->bands[0].target = 0.17;
  expect(LZQ_FINDING_TARGET_OUTSIDE, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->hold->bands[0].harm = 0.20;
  expect(LZQ_FINDING_EDGES_CROSSED, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->hold->bands[0].gap_min = 0;
  expect(LZQ_FINDING_NO_GAP, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->watch->min_elapsed_min = 0;
  expect(LZQ_FINDING_ENDS_AT_ONCE, LZQ_FINDING_REFUSE, 2);
  teardown(), setup();
  f->hold->gear_on = 1 << LZQ_GEAR_CARBON;
  expect(LZQ_FINDING_GEAR_BOTH, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  f->rise->rise_steps = 2; // 0.095 a step, 0.06 a day allowed
  expect(LZQ_FINDING_STEP_TOO_LARGE, LZQ_FINDING_REFUSE, 0);
  teardown(), setup();
  f->watch->eaten_share = 1.5;
  expect(LZQ_FINDING_SHARE, LZQ_FINDING_REFUSE, 2);
}
END_TEST

START_TEST(refusals_of_ranges)
{
  lzq_band *band = lzt_band(f->hold, LZQ_COPPER, LZQ_AT_OR_BELOW, 0.02, 0.01);
  (void)band;
  expect(LZQ_FINDING_BANDS_EMPTY, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  band = lzt_band(f->hold, LZQ_SALINITY, LZQ_BETWEEN, 22, 22);
  band->works_high = 21;
  expect(LZQ_FINDING_RANGE_EMPTY, LZQ_FINDING_REFUSE, 1);
  teardown(), setup();
  band = lzt_band(f->hold, LZQ_SALINITY, LZQ_BETWEEN, 21, 21.2);
  band->works_high = 21.5;
  band->error_inside = true;
  band->gap_min = 960;
  f->context.salinity_error = 0.5; // +-0.5 does not fit into 0.5
  expect(LZQ_FINDING_ERROR_TOO_WIDE, LZQ_FINDING_REFUSE, 1);
  ck_assert_int_eq(lzq_protocol_check(NULL, 0, NULL, &f->station.arena, &f->found, &f->n), LZQ_OK);
  ck_assert_uint_eq(f->n, 1);
  ck_assert_int_eq(f->found[0].code, LZQ_FINDING_NO_PHASES);
}
END_TEST

START_TEST(warnings)
{
  f->hold->bands[0].plan = 0.22;
  expect(LZQ_FINDING_LEVEL_HIGH, LZQ_FINDING_WARN, 1);
  teardown(), setup();
  f->context.traits = LZQ_TRAIT_INVERTEBRATE;
  expect(LZQ_FINDING_COPPER_SPECIES, LZQ_FINDING_WARN, 0);
  f->context.traits = LZQ_TRAIT_CARTILAGINOUS;
  expect(LZQ_FINDING_COPPER_SPECIES, LZQ_FINDING_WARN, 0);
  f->context.traits = LZQ_TRAIT_COPPER_UNKNOWN;
  expect(LZQ_FINDING_COPPER_UNKNOWN, LZQ_FINDING_WARN, 0);
  teardown(), setup();
  f->hold->medicine = LZQ_FORMALIN;
  f->hold->kind = LZQ_PHASE_MEDICATE;
  f->hold->dose_level = 25;
  expect(LZQ_FINDING_MEET, LZQ_FINDING_WARN, 1);
  teardown(), setup();
  f->hold->bands[0].gap_min = 600; // the night is 14.5 h long
  expect(LZQ_FINDING_GAP_SHORT, LZQ_FINDING_WARN, 1);
  f->hold->bands[0].gap_min = 870;
  expect(LZQ_FINDING_GAP_NO_SLACK, LZQ_FINDING_WARN, 1);
  teardown(), setup();
  f->hold->sighting_to = 1;
  expect(LZQ_FINDING_SIGHTING_BACK, LZQ_FINDING_WARN, 2);
  teardown(), setup();
  f->hold->bands[0].harm = NAN;
  expect(LZQ_FINDING_NO_HARM_EDGE, LZQ_FINDING_WARN, 1);
  teardown(), setup();
  f->hold->min_credit_min = 10 * LZQ_DAY;
  expect(LZQ_FINDING_SHORT_HOLD, LZQ_FINDING_WARN, 1);
  teardown(), setup();
  f->hold->gear_off = 0;
  expect(LZQ_FINDING_GEAR_FIGHTS, LZQ_FINDING_WARN, 1);
}
END_TEST

START_TEST(warnings_of_salinity_and_baths)
{
  lzq_band *salt = lzt_band(f->hold, LZQ_SALINITY, LZQ_AT_OR_BELOW, 12, 9);
  salt->gap_min = 960;
  expect(LZQ_FINDING_LEVEL_LOW, LZQ_FINDING_WARN, 1);
  expect(LZQ_FINDING_MEET_LOW_SALT, LZQ_FINDING_WARN, 1);
  f->context.traits = LZQ_TRAIT_LOW_SALT_SENSITIVE;
  expect(LZQ_FINDING_LOW_SALT_SPECIES, LZQ_FINDING_WARN, 1);
  teardown(), setup();
  f->watch->salinity_rise_day = 5;
  expect(LZQ_FINDING_FAST_SALINITY, LZQ_FINDING_WARN, 2);
  teardown(), setup();
  f->rise->rise_per_day = 0.3;
  expect(LZQ_FINDING_FAST_RISE, LZQ_FINDING_WARN, 0);
  teardown(), setup();
  f->watch->kind = LZQ_PHASE_BATH;
  f->watch->medicine = LZQ_FORMALIN;
  f->watch->bath_min = 90;
  expect(LZQ_FINDING_BATH_LONG, LZQ_FINDING_WARN, 2);
  f->watch->dose_level = 300;
  expect(LZQ_FINDING_LEVEL_HIGH, LZQ_FINDING_WARN, 2);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("protocol");
  TCase *cases = tcase_create("findings");
  tcase_add_checked_fixture(cases, setup, teardown);
  tcase_add_test(cases, a_sound_protocol_has_no_remark);
  tcase_add_test(cases, refusals);
  tcase_add_test(cases, refusals_of_ranges);
  tcase_add_test(cases, warnings);
  tcase_add_test(cases, warnings_of_salinity_and_baths);
  suite_add_tcase(suite, cases);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_ENV);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? 1 : 0;
}
