// SPDX-License-Identifier: GPL-3.0-or-later
// Extremes by blocks against looking at every reading; a spike among a million is kept.
#include "picture.h"

static lzd_reading *
readings_of(size_t n, lzt_prng *state)
{
  lzd_reading *r = calloc(n ? n : 1, sizeof *r);
  lzd_minute t = 0;
  for (size_t i = 0; i < n; i++) {
    t += (lzd_minute)(random_unit(state) * 4); // equal times occur
    r[i] = (lzd_reading){.minute = t, .value = random_unit(state), .mark = LZD_READ_DISC};
    double odd = random_unit(state);
    if (odd < 0.01)
      r[i].state = LZD_SUSPECT;
    else if (odd < 0.02)
      r[i].mark = LZD_READ_CROSS;
    else if (odd < 0.03)
      r[i].value = NAN;
  }
  return r;
}

// The oracle: every reading of the run, one after the other.
static void
look_at_all(const lzd_reading *r, size_t from, size_t to, double *low, double *high, double *odd)
{
  *low = INFINITY, *high = -INFINITY, *odd = -1;
  for (size_t i = from; i < to; i++) {
    if (isnan(r[i].value))
      continue;
    if (r[i].state == LZD_PLAIN && r[i].mark != LZD_READ_CROSS) {
      *low = fmin(*low, r[i].value);
      *high = fmax(*high, r[i].value);
    } else {
      *odd = fmax(*odd, fabs(r[i].value));
    }
  }
}

START_TEST(blocks_agree_with_every_reading)
{
  lzt_prng state = seed_of_run();
  size_t n = 5000;
  lzd_reading *r = readings_of(n, &state);
  lzd_index *index;
  ck_assert_int_eq(lzd_index_new(&index, r, n, NULL), LZD_OK);
  for (int i = 0; i < 3000; i++) {
    size_t a = (size_t)(random_unit(&state) * (double)n),
           b = (size_t)(random_unit(&state) * (double)n);
    size_t from = a < b ? a : b, to = a < b ? b : a;
    double low, high, odd;
    look_at_all(r, from, to, &low, &high, &odd);
    for (int with = 0; with <= 1; with++) {
      lzd_extreme e = lzd_index_range(with ? index : NULL, r, from, to);
      ck_assert(e.low == low && e.high == high);
      ck_assert_uint_eq(e.count, to - from);
      if (odd >= 0)
        ck_assert_double_eq(fabs(r[e.odd].value), odd);
      else
        ck_assert_uint_eq(e.odd, SIZE_MAX);
    }
  }
  lzd_index_free(index);
  free(r);
}
END_TEST

START_TEST(columns_take_every_reading_of_the_window_once)
{
  lzt_prng state = seed_of_run();
  size_t n = 20000;
  lzd_reading *r = readings_of(n, &state);
  lzd_index *index;
  ck_assert_int_eq(lzd_index_new(&index, r, n, NULL), LZD_OK);
  lzd_extreme columns[97];
  for (int i = 0; i < 50; i++) {
    lzd_minute from = (lzd_minute)(random_unit(&state) * 20000);
    lzd_minute to = from + 200 + (lzd_minute)(random_unit(&state) * 30000);
    lzd_index_columns(index, r, n, from, to, columns, 97);
    size_t total = 0;
    double low = INFINITY, high = -INFINITY, all_low, all_high, odd;
    for (int c = 0; c < 97; c++) {
      total += columns[c].count;
      low = fmin(low, columns[c].low);
      high = fmax(high, columns[c].high);
    }
    size_t a = lzd_readings_from(r, n, from), b = lzd_readings_from(r, n, to);
    look_at_all(r, a, b, &all_low, &all_high, &odd);
    ck_assert_uint_eq(total, b - a);
    ck_assert(low == all_low && high == all_high);
  }
  lzd_index_free(index);
  free(r);
}
END_TEST

START_TEST(a_spike_among_a_million_is_in_its_column)
{
  size_t n = 1000000, at = 777777;
  lzd_reading *r = calloc(n, sizeof *r);
  for (size_t i = 0; i < n; i++)
    r[i] = (lzd_reading){.minute = (lzd_minute)i, .value = 0.5, .mark = LZD_READ_DISC};
  r[at].value = 0.9;
  lzd_index *index;
  ck_assert_int_eq(lzd_index_new(&index, r, n, NULL), LZD_OK);
  lzd_extreme columns[850];
  lzd_index_columns(index, r, n, 0, (lzd_minute)n, columns, 850);
  for (int c = 0; c < 850; c++)
    ck_assert_double_eq(columns[c].high, c == (int)(at * 850 / n) ? 0.9 : 0.5);
  lzd_index_free(index);
  free(r);
}
END_TEST

START_TEST(readings_out_of_order_are_refused_with_their_place)
{
  lzd_reading r[3] = {{.minute = 1}, {.minute = 5}, {.minute = 4}};
  lzd_index *index = (lzd_index *)r;
  lzd_fault fault = {0};
  ck_assert_int_eq(lzd_index_new(&index, r, 3, &fault), LZD_BAD_INPUT);
  ck_assert_ptr_null(index);
  ck_assert_str_eq(fault.where, "reading");
  ck_assert_uint_eq(fault.index, 2);
}
END_TEST

START_TEST(no_readings_have_an_index_too)
{
  lzd_index *index;
  ck_assert_int_eq(lzd_index_new(&index, NULL, 0, NULL), LZD_OK);
  lzd_extreme e = lzd_index_range(index, NULL, 0, 0);
  ck_assert(e.low > e.high);
  ck_assert_uint_eq(e.count, 0);
  lzd_index_free(index);
  lzd_index_free(NULL);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("index");
  TCase *tc = tcase_create("extremes");
  tcase_set_timeout(tc, 60);
  tcase_add_test(tc, blocks_agree_with_every_reading);
  tcase_add_test(tc, columns_take_every_reading_of_the_window_once);
  tcase_add_test(tc, a_spike_among_a_million_is_in_its_column);
  tcase_add_test(tc, readings_out_of_order_are_refused_with_their_place);
  tcase_add_test(tc, no_readings_have_an_index_too);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
