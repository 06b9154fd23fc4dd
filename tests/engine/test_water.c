// SPDX-License-Identifier: GPL-3.0-or-later
// The record fed to the estimators: which record does what, and that feeding at once, one by one
// and from a checkpoint are the same to the last bit.
#include "lzq_water.h"

#include <string.h>

#include "published.h"

#define H 60 // minutes

static const lzq_system systems[] = {{.volume_l = 2400.0}, {.volume_l = 1000.0}};
static const lzq_instrument instruments[] = {
    {.sees_forms = 1u << LZQ_FORM_IONIC, .error_abs = 0.01, .resolution = 0.001},
    {.sees_forms = 0xff, .error_abs = 0.01, .resolution = 0.001},
    {.sees_forms = 0xff, .error_abs = 0.3, .resolution = 0.1}};

static lzq_snapshot
snapshot_of(const lzq_record *records, size_t n)
{
  return (lzq_snapshot){.station = {.trust_unchecked = true},
                        .systems = systems,
                        .n_systems = 2,
                        .instruments = instruments,
                        .n_instruments = 3,
                        .records = records,
                        .n_records = n};
}

static lzq_record
reading(int at_h, lzq_analyte analyte, uint32_t instrument, double value)
{
  return (lzq_record){.kind = LZQ_REC_READING,
                      .at = at_h * H,
                      .analyte = analyte,
                      .instrument = instrument,
                      .value = value,
                      .error = NAN};
}

static lzq_record
dose(int at_h, lzq_analyte analyte, lzq_form form, double mg)
{
  return (lzq_record){.kind = LZQ_REC_DOSE,
                      .at = at_h * H,
                      .analyte = analyte,
                      .form = form,
                      .instrument = LZQ_NONE,
                      .amount = mg};
}

static lzq_record
event(int at_h, lzq_record_kind kind, double amount)
{
  return (lzq_record){.kind = kind,
                      .at = at_h * H,
                      .amount = amount,
                      .instrument = LZQ_NONE,
                      .new_copper = NAN,
                      .ok = true};
}

// Feeds the records (given in the order in which they act) to one water.
static lzq_water_bank
fed(lzq_analyte analyte, double c_ref, lzq_record *records, size_t n)
{
  for (size_t i = 0; i < n; i++)
    records[i].id = i + 1;
  lzq_snapshot snapshot = snapshot_of(records, n);
  lzq_arena arena;
  lzq_history history;
  lzq_water_bank whole, single;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  ck_assert_int_eq(lzq_history_make(&snapshot, UINT64_MAX, LZQ_NEVER, &arena, &history), LZQ_OK);
  ck_assert_int_eq(lzq_water_begin(&whole, &snapshot, 0, analyte, c_ref), LZQ_OK);
  single = whole;
  ck_assert_int_eq(lzq_waters_feed(&whole, 1, &snapshot, &history, &arena), LZQ_OK);
  // from a checkpoint half way: the same bytes
  lzq_history half = history;
  half.n = 0;
  while (half.n < history.n && history.items[half.n]->at <= 30 * H)
    half.n++;
  ck_assert_int_eq(lzq_waters_feed(&single, 1, &snapshot, &half, &arena), LZQ_OK);
  lzq_water_bank kept;
  memcpy(&kept, &single, sizeof kept);
  ck_assert_int_eq(lzq_waters_feed(&kept, 1, &snapshot, &history, &arena), LZQ_OK);
  NEAR(lzq_water_at(&kept, 1000 * H).mean, lzq_water_at(&whole, 1000 * H).mean, 1e-12);
  lzq_arena_free(&arena);
  return whole;
}

START_TEST(copper_through_a_week)
{
  lzq_record records[] = {
      dose(0, LZQ_COPPER, LZQ_FORM_IONIC, 456.0), // 0.19 mg/L
      reading(2, LZQ_COPPER, 1, 0.190),           reading(12, LZQ_COPPER, 1, 0.186),
      event(24, LZQ_REC_CHANGE, 360.0),           dose(24, LZQ_COPPER, LZQ_FORM_IONIC, 68.4),
      reading(36, LZQ_COPPER, 1, 0.183),          reading(48, LZQ_COPPER, 1, 0.178)};
  lzq_water_bank water = fed(LZQ_COPPER, 0.195, records, 7);
  lzq_water_estimate now = lzq_water_at(&water, 48 * H);
  ck_assert(now.known && now.low < now.mean && now.mean < now.high);
  NEAR(now.mean, 0.179, 0.006);
  ck_assert(now.loss_per_h > 0.0005 && now.loss_per_h < 0.006);
  NEAR(now.volume.volume_l, 2400.0, 240.0);
  ck_assert(!now.volume.differs && isnan(now.evaporation_l_day));
  lzq_exit leaves = lzq_water_exit(&water, 48 * H, 0.15, false);
  ck_assert(leaves.low_h > 10.0 && leaves.low_h < leaves.likely_h);
  lzq_water_estimate later = lzq_water_at(&water, 96 * H); // nothing done: lower, and less sure
  ck_assert(later.mean < now.mean && later.high - later.low > now.high - now.low);
}
END_TEST

START_TEST(exact_steps)
{
  lzq_record records[] = {reading(0, LZQ_COPPER, 1, 0.19), event(0, LZQ_REC_CHANGE, 360.0)};
  lzq_water_bank water = fed(LZQ_COPPER, 0.195, records, 2);
  NEAR(lzq_water_at(&water, 0).mean, 0.1615, 1e-12);
  lzq_record drip[] = {reading(0, LZQ_COPPER, 1, 0.19), event(0, LZQ_REC_CHANGE, 360.0)};
  drip[1].drip = true;
  drip[1].new_copper = 0.05;
  water = fed(LZQ_COPPER, 0.195, drip, 2);
  NEAR(lzq_water_at(&water, 0).mean, 0.05 + 0.14 * exp(-0.15), 1e-12); // Kraul et al. 1985 [R]
  // the volume in force at the event is what counts
  lzq_record half[] = {event(-1, LZQ_REC_VOLUME, 1200.0), reading(0, LZQ_COPPER, 1, 0.19),
                       event(0, LZQ_REC_CHANGE, 360.0)};
  water = fed(LZQ_COPPER, 0.195, half, 3);
  NEAR(lzq_water_at(&water, 0).mean, 0.19 * 0.7, 1e-12);
}
END_TEST

// A kit for free copper says nothing about complexed copper, high or low
START_TEST(method_that_cannot_see)
{
  lzq_record records[] = {dose(0, LZQ_COPPER, LZQ_FORM_AMINE, 1200.0),
                          reading(2, LZQ_COPPER, 0, 0.05), reading(3, LZQ_COPPER, 0, 0.06),
                          reading(4, LZQ_COPPER, 1, 0.50)};
  lzq_water_bank water = fed(LZQ_COPPER, 0.5, records, 4);
  ck_assert_uint_eq(water.bank.readings, 1);
  NEAR(lzq_water_at(&water, 4 * H).mean, 0.50, 0.01);
  records[0].form = LZQ_FORM_IONIC; // which it does see
  records[0].amount = 132.0;
  water = fed(LZQ_COPPER, 0.5, records, 3);
  ck_assert_uint_eq(water.bank.readings, 2);
}
END_TEST

// A failed check makes every reading since the last good one suspect; they move nothing
START_TEST(instrument_that_failed)
{
  lzq_record good = event(1, LZQ_REC_CHECK, 0.0), bad = event(20, LZQ_REC_CHECK, 0.0);
  good.instrument = bad.instrument = 1;
  bad.ok = false;
  lzq_record records[] = {reading(0, LZQ_COPPER, 1, 0.19),  good, reading(10, LZQ_COPPER, 1, 0.15),
                          reading(11, LZQ_COPPER, 1, 0.15), bad,  reading(24, LZQ_COPPER, 1, 0.10)};
  lzq_water_bank water = fed(LZQ_COPPER, 0.195, records, 6);
  ck_assert_uint_eq(water.bank.readings, 0); // the first one starts the bank, the rest says nothing
  NEAR(lzq_water_at(&water, 0).mean, 0.19, 1e-12);
  records[4].ok = true; // had the check passed, they would have counted
  water = fed(LZQ_COPPER, 0.195, records, 6);
  ck_assert_uint_gt(water.bank.readings, 0);
}
END_TEST

// So long after its check an instrument says less: the same reading leaves more doubt, by exactly
// the grown variance (house rule, lzq_calibrate.h)
START_TEST(the_check_is_long_ago)
{
  lzq_record check = event(0, LZQ_REC_CHECK, 0.0);
  check.instrument = 1;
  lzq_record fresh[] = {check, reading(10 * 24, LZQ_COPPER, 1, 0.19)};
  lzq_record stale[] = {check, reading(44 * 24, LZQ_COPPER, 1, 0.19)};
  double res = 0.001 * 0.001 / 12.0;
  lzq_water_bank one = fed(LZQ_COPPER, 0.195, fresh, 2), two = fed(LZQ_COPPER, 0.195, stale, 2);
  NEAR(one.bank.f[0].pxx, 1e-4 + res, 1e-11);
  NEAR(two.bank.f[0].pxx, 2e-4 + res, 1e-11); // 44 days: sqrt(2) times the error
}
END_TEST

// A low reading is suspect; the dose that answers it and the reading after tell that it was true
START_TEST(a_dose_explains_the_next_reading)
{
  lzq_record records[] = {reading(0, LZQ_COPPER, 1, 0.190), reading(12, LZQ_COPPER, 1, 0.188),
                          reading(24, LZQ_COPPER, 1, 0.08),
                          dose(25, LZQ_COPPER, LZQ_FORM_IONIC, 0.11 * 2400.0),
                          reading(31, LZQ_COPPER, 1, 0.188)};
  lzq_water_bank water = fed(LZQ_COPPER, 0.195, records, 5);
  ck_assert(!water.bank.suspect.waiting);
  NEAR(lzq_water_at(&water, 31 * H).mean, 0.188, 0.006);
  records[4].value = 0.295; // it was the reading that was wrong
  water = fed(LZQ_COPPER, 0.195, records, 5);
  ck_assert(!water.bank.suspect.waiting);
  NEAR(lzq_water_at(&water, 31 * H).mean, 0.295, 0.012);
  // salinity: 2.4 kg of salt in 2,400 L is 1 up; half changed for fresh water
  lzq_record salt[] = {
      reading(0, LZQ_SALINITY, 2, 30.0),  reading(12, LZQ_SALINITY, 2, 30.0),
      reading(24, LZQ_SALINITY, 2, 25.0), dose(25, LZQ_SALINITY, LZQ_FORM_NONE, 2400.0),
      event(26, LZQ_REC_CHANGE, 1200.0),  reading(27, LZQ_SALINITY, 2, 13.0)};
  salt[4].new_salinity = 0.0;
  water = fed(LZQ_SALINITY, 35, salt, 6);
  ck_assert(!water.suspect.waiting);
  NEAR(lzq_water_at(&water, 27 * H).mean, 13.0, 0.25);
}
END_TEST

// A second instrument has its own gain: its reading counts for less
START_TEST(another_instrument)
{
  lzq_record same[] = {reading(0, LZQ_COPPER, 1, 0.5), reading(1, LZQ_COPPER, 1, 0.5)};
  lzq_record other[] = {reading(0, LZQ_COPPER, 1, 0.5), reading(1, LZQ_COPPER, 0, 0.5)};
  lzq_water_bank one = fed(LZQ_COPPER, 0.5, same, 2), two = fed(LZQ_COPPER, 0.5, other, 2);
  ck_assert(lzq_bank_summary(&two.bank).sd > 1.05 * lzq_bank_summary(&one.bank).sd);
}
END_TEST

// Where the station does not trust what was never checked, such a reading says nothing
START_TEST(never_checked)
{
  lzq_record records[] = {reading(0, LZQ_COPPER, 1, 0.19)};
  records[0].id = 1;
  lzq_snapshot snapshot = snapshot_of(records, 1);
  snapshot.station.trust_unchecked = false;
  lzq_arena arena;
  lzq_history history;
  lzq_water_bank water;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  ck_assert_int_eq(lzq_history_make(&snapshot, UINT64_MAX, LZQ_NEVER, &arena, &history), LZQ_OK);
  ck_assert_int_eq(lzq_water_begin(&water, &snapshot, 0, LZQ_COPPER, 0.2), LZQ_OK);
  ck_assert_int_eq(lzq_waters_feed(&water, 1, &snapshot, &history, &arena), LZQ_OK);
  ck_assert(!water.known);
  lzq_arena_free(&arena);
}
END_TEST

START_TEST(carbon_makes_copper_unknown)
{
  lzq_record carbon = event(5, LZQ_REC_GEAR, 0.0);
  carbon.gear = LZQ_GEAR_CARBON;
  lzq_record records[] = {reading(0, LZQ_COPPER, 1, 0.19), carbon, reading(8, LZQ_COPPER, 1, 0.02)};
  lzq_water_bank water = fed(LZQ_COPPER, 0.195, records, 3);
  NEAR(lzq_water_at(&water, 8 * H).mean, 0.02, 0.005); // taken at once, not suspect
}
END_TEST

START_TEST(salinity_and_temperature)
{
  lzq_record records[] = {reading(0, LZQ_SALINITY, 2, 34.0), event(10, LZQ_REC_CHANGE, 342.6),
                          reading(24, LZQ_SALINITY, 2, 29.2), event(48, LZQ_REC_TOPUP, 24.0)};
  lzq_water_bank water = fed(LZQ_SALINITY, 30.0, records, 4);
  lzq_water_estimate now = lzq_water_at(&water, 48 * H);
  NEAR(now.mean, 29.1, 0.4);
  ck_assert(now.evaporation_l_day >= 0.0 && isnan(now.loss_per_h));
  ck_assert(lzq_water_at(&water, 240 * H).mean > now.mean); // water goes, salt stays
  lzq_exit up = lzq_water_exit(&water, 48 * H, 30.5, true);
  ck_assert(up.low_h < up.likely_h);
  lzq_record warm[] = {reading(0, LZQ_TEMPERATURE, 2, 25.4), reading(12, LZQ_TEMPERATURE, 2, 25.2),
                       reading(24, LZQ_TEMPERATURE, 2, 31.0),
                       reading(24, LZQ_TEMPERATURE, 2, 25.1)};
  water = fed(LZQ_TEMPERATURE, 25.0, warm, 4);
  NEAR(lzq_water_at(&water, 24 * H).mean, 25.1, 0.2); // 31.0 was suspect and the repeat cleared it
  ck_assert(!water.suspect.waiting);
}
END_TEST

// Thomas et al. 2016 (abstract): gone after 8 days at first, 2 days at the repeat
START_TEST(praziquantel_goes_faster_at_the_repeat)
{
  lzq_record records[] = {dose(0, LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 4800.0),
                          dose(240, LZQ_PRAZIQUANTEL, LZQ_FORM_NONE, 4800.0)};
  lzq_water_bank first = fed(LZQ_PRAZIQUANTEL, 2.0, records, 1);
  lzq_water_bank second = fed(LZQ_PRAZIQUANTEL, 2.0, records, 2);
  NEAR(lzq_water_at(&first, 0).mean, 2.0, 1e-9);
  // 5 % of it left: after most of 8 days at first, after most of 2 days at the repeat
  double once = lzq_water_exit(&first, 0, 0.1, false).likely_h;
  double again = lzq_water_exit(&second, 240 * H, 0.1, false).likely_h;
  ck_assert(once > 90.0 && once < 192.0);
  ck_assert(again > 24.0 && again < 60.0);
}
END_TEST

START_TEST(unknown_and_refused)
{
  lzq_snapshot snapshot = snapshot_of(NULL, 0);
  lzq_water_bank water;
  ck_assert_int_eq(lzq_water_begin(&water, &snapshot, 2, LZQ_COPPER, 0.2), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_water_begin(&water, &snapshot, 0, LZQ_PH, 8.0), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_water_begin(&water, &snapshot, 0, LZQ_COPPER, NAN), LZQ_BAD_INPUT);
  ck_assert_int_eq(lzq_water_begin(&water, &snapshot, 0, LZQ_COPPER, 0.2), LZQ_OK);
  lzq_water_estimate now = lzq_water_at(&water, 0);
  ck_assert(!now.known && isnan(now.mean));
  ck_assert(isnan(lzq_water_exit(&water, 0, 0.18, false).below_now));
  lzq_record far = reading(0, LZQ_COPPER, 1, 0.19), off = reading(1, LZQ_COPPER, 1, 0.05);
  lzq_water_feed(&water, &snapshot, &far);
  ck_assert_int_eq(lzq_water_judge(&water, &snapshot, &off), LZQ_READ_SUSPECT);
  NEAR(lzq_water_at(&water, 0).mean, 0.19, 1e-12); // judging takes nothing
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("water");
  TCase *tcase = tcase_create("water");
  tcase_add_test(tcase, copper_through_a_week);
  tcase_add_test(tcase, exact_steps);
  tcase_add_test(tcase, method_that_cannot_see);
  tcase_add_test(tcase, instrument_that_failed);
  tcase_add_test(tcase, the_check_is_long_ago);
  tcase_add_test(tcase, a_dose_explains_the_next_reading);
  tcase_add_test(tcase, another_instrument);
  tcase_add_test(tcase, never_checked);
  tcase_add_test(tcase, carbon_makes_copper_unknown);
  tcase_add_test(tcase, salinity_and_temperature);
  tcase_add_test(tcase, praziquantel_goes_faster_at_the_repeat);
  tcase_add_test(tcase, unknown_and_refused);
  suite_add_tcase(suite, tcase);
  return published_run(suite);
}
