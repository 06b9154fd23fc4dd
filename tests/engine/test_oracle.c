// SPDX-License-Identifier: GPL-3.0-or-later
// The oracle itself, on stays worked out by hand, and the text form of histories.
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "oracle.h"
#include "random_station.h"

static lzt_history h;

// One water of 100 L, one lot, a hold of 100 minutes of copper at or above 0.50 mg/L, G = 60.
static void
one_hold(void)
{
  memset(&h, 0, sizeof h);
  h.snap.n_systems = h.snap.n_tanks = h.snap.n_instruments = h.snap.n_phases = 1;
  h.snap.n_protocols = h.snap.n_lots = 1;
  h.snap.station.trust_unchecked = true;
  h.systems[0].volume_l = 100;
  h.instruments[0].sees_forms = 1u << LZQ_FORM_IONIC;
  h.protocols[0].n_phases = 1;
  h.phases[0] = (lzq_phase){.n_bands = 1, .min_credit_min = 100, .lapse_min = -1};
  h.phases[0].bands[0] =
      (lzq_band){.analyte = LZQ_COPPER, .form = LZQ_FORM_IONIC, .works = 0.5, .gap_min = 60};
  h.until = 1000;
  h.known_id = UINT64_MAX;
  lzt_history_bind(&h);
}

static lzq_record *
add(lzq_record_kind kind, lzq_minute at)
{
  lzq_record *r = &h.records[h.snap.n_records++];
  *r = (lzq_record){.id = h.snap.n_records,
                    .kind = (uint8_t)kind,
                    .at = at,
                    .heads = 5,
                    .error = NAN,
                    .new_copper = NAN,
                    .new_salinity = NAN};
  return r;
}

static void
read_copper(lzq_minute at, double value)
{
  add(LZQ_REC_READING, at)->value = value;
}

static lzq_lot_credit
replay(lzq_visit *visit)
{
  lzt_oracle *oracle = lzt_oracle_run(&h.snap, h.known_id, h.until);
  lzq_lot_credit sum = oracle->lots[0].sum;
  ck_assert_uint_gt(sum.n_visits, 0);
  *visit = sum.visits[0];
  lzt_oracle_free(oracle);
  return sum;
}

// Readings at 0, 60 and 120: minutes 0..99 earn, the phase ends at 100, the reading at 120 proves
// it.
START_TEST(a_hold_by_hand)
{
  lzq_visit visit;
  one_hold();
  add(LZQ_REC_RECEIVE, 0);
  add(LZQ_REC_COURSE, 0);
  read_copper(0, 0.5);
  read_copper(60, 0.52);
  read_copper(120, 0.51);
  ck_assert_int_eq(replay(&visit).served_at, 100);
  ck_assert_int_eq(visit.firm_at, 120);
  ck_assert_int_eq(visit.open_min, 0);
}
END_TEST

// The gap holds to minute r+G: one minute later is not credited.
START_TEST(the_gap_by_hand)
{
  lzq_visit visit;
  one_hold();
  add(LZQ_REC_RECEIVE, 0);
  add(LZQ_REC_COURSE, 0);
  read_copper(0, 0.5);
  read_copper(62, 0.5);
  ck_assert_int_eq(replay(&visit).served_at, 101); // minute 61 is lost
  ck_assert_int_eq(visit.firm_at, LZQ_NEVER);      // nothing after 62 has spoken
  ck_assert_int_eq(visit.open_min, 39);            // 62..100
}
END_TEST

// A change of 10 L of 100 at minute 20, not replaced until the reading at 40 finds 0.45 mg/L:
// carried forward 0.52 x 0.9 = 0.468 is below the edge from 20 on; taken back 0.45 / 0.9 = 0.50 is
// on it.
START_TEST(a_change_by_hand)
{
  lzq_visit visit;
  one_hold();
  add(LZQ_REC_RECEIVE, 0);
  add(LZQ_REC_COURSE, 0);
  read_copper(0, 0.52);
  add(LZQ_REC_CHANGE, 20)->amount = 10;
  read_copper(40, 0.45);
  lzt_oracle *oracle = lzt_oracle_run(&h.snap, h.known_id, h.until);
  const lzt_cell *cells = oracle->lots[0].cells;
  ck_assert_int_eq(cells[19].why, LZQ_WHY_NONE);
  ck_assert_int_eq(cells[19].confirmed, 40);
  ck_assert_int_eq(cells[20].why, LZQ_WHY_CARRIED_BAD);
  ck_assert_int_eq(cells[40].why, LZQ_WHY_LAST_BAD);
  lzt_oracle_free(oracle);
  h.records[4].value = 0.449; // 0.4989 a moment before: the twenty minutes are gone
  ck_assert_int_eq(replay(&visit).credit_min, 0);
}
END_TEST

START_TEST(histories_as_text)
{
  static lzt_history back;
  lzt_prng prng;
  for (uint64_t seed = 1; seed <= 50; seed++) {
    lzt_prng_seed(&prng, seed);
    lzt_wish wish = lzt_wish_ordinary(&prng);
    lzt_random_station(seed, &wish, &h);
    char *first = NULL, *second = NULL;
    size_t first_size, second_size;
    FILE *file = open_memstream(&first, &first_size);
    ck_assert(lzt_history_write(&h, "round trip", file));
    fclose(file);
    file = fmemopen(first, first_size, "r");
    ck_assert(lzt_history_read(&back, file));
    fclose(file);
    file = open_memstream(&second, &second_size);
    ck_assert(lzt_history_write(&back, "round trip", file));
    fclose(file);
    ck_assert_str_eq(first, second);
    ck_assert_uint_eq(back.snap.n_records, h.snap.n_records);
    free(first);
    free(second);
  }
}
END_TEST

// Every drawn history is one that the engine takes.
START_TEST(stations_are_well_formed)
{
  for (uint64_t seed = 1; seed <= 500; seed++) {
    lzt_prng prng;
    lzq_fault fault = {0};
    lzt_prng_seed(&prng, seed);
    lzt_wish wish = lzt_wish_ordinary(&prng);
    lzt_random_station(seed, &wish, &h);
    lzq_status status = lzq_snapshot_check(&h.snap, &fault);
    ck_assert_msg(status == LZQ_OK, "seed %d: %s of %d, %u", (int)seed, fault.field,
                  (int)fault.what, fault.index);
  }
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("oracle");
  TCase *tcase = tcase_create("by hand");
  tcase_add_test(tcase, a_hold_by_hand);
  tcase_add_test(tcase, the_gap_by_hand);
  tcase_add_test(tcase, a_change_by_hand);
  tcase_add_test(tcase, histories_as_text);
  tcase_add_test(tcase, stations_are_well_formed);
  suite_add_tcase(suite, tcase);
  SRunner *runner = srunner_create(suite);
  srunner_run_all(runner, CK_NORMAL);
  int failed = srunner_ntests_failed(runner);
  srunner_free(runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
