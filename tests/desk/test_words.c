// SPDX-License-Identifier: GPL-3.0-or-later
// Every code of the engine has its sentence: none is empty, none is another's, each carries its
// numbers.
#include <string.h>

#include "lab.h"
#include <lz_fields.h>
#include <lz_words.h>

static Lab lab;

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
}

static void
teardown(void)
{
  lab_close(&lab);
}

static void
is_new(GHashTable *seen, char *words, const char *what, int code)
{
  ck_assert_msg(words && *words, "%s %d has no words", what, code);
  ck_assert_msg(strchr(words, '%') == NULL, "%s %d: %s", what, code, words);
  ck_assert_msg(g_hash_table_add(seen, words), "%s %d says the same as another: %s", what, code,
                words);
}

START_TEST(each_reason)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  for (int code = 1; code < LZQ_N_BECAUSE; code++) {
    lzq_because because = {.code = (lzq_because_code)code, .n = {3, 5, 7, 1}};
    is_new(seen, lz_words_because(lab.desk, &because), "because", code);
  }
}
END_TEST

START_TEST(reasons_carry_their_numbers)
{
  static const struct {
    lzq_because because;
    const char *words;
  } cases[] = {
      {{LZQ_BECAUSE_CREDIT_RUNS, {6347, 20160}}, "4 d 9 h 47 min of 14 d"},
      {{LZQ_BECAUSE_REPLACE, {360, 0.19, 0.1615, 0.19}}, "360 L"},
      {{LZQ_BECAUSE_RISE_STEP, {2, 3, 0.17, 0.34}}, "0.170 mg/L to 0.340 mg/L"},
      {{LZQ_BECAUSE_SHORT, {61}}, "1 h 1 min"},
      // 0.19 mg/L at 0.004 /h: 0.19 (1 - exp(-0.096)) = 0.0174 a day
      {{LZQ_BECAUSE_EXPECTED, {0.19, 0.2, 0.004, 1}}, "it loses about 0.017 mg/L a day"},
      {{LZQ_BECAUSE_EXPECTED, {0.19, 0.2, 0.004, 0}}, "usually about 0.017 mg/L a day"},
  };
  for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
    g_autofree char *words = lz_words_because(lab.desk, &cases[i].because);
    ck_assert_msg(strstr(words, cases[i].words) != NULL, "%s", words);
  }
}
END_TEST

START_TEST(each_why)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  lzq_band band = {.analyte = LZQ_SALINITY, .gap_min = 960};
  for (int why = LZQ_WHY_PLACE; why <= LZQ_WHY_NEXT_BAD; why++)
    is_new(seen, lz_words_why((lzq_why)why, &band), "why", why);
  g_autofree char *old = lz_words_why(LZQ_WHY_LAST_OLD, &band);
  ck_assert_msg(strstr(old, "16 h") && strstr(old, "salinity"), "%s", old);
}
END_TEST

START_TEST(each_task_and_word)
{
  g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
  for (int kind = 0; kind < LZQ_N_TASK_KINDS; kind++) {
    lzq_task task = {.kind = (lzq_task_kind)kind, .bottle = LZQ_NONE};
    is_new(seen, lz_words_task(lab.desk, &task), "task", kind);
    ck_assert_str_ne(lz_words_task_kind((lzq_task_kind)kind), "");
  }
  for (int a = 0; a < LZQ_N_ANALYTES; a++)
    ck_assert_str_ne(lz_words_analyte((lzq_analyte)a), "");
  for (int k = 0; k < LZQ_N_PHASE_KINDS; k++)
    ck_assert_str_ne(lz_words_phase_kind((lzq_phase_kind)k), "");
  for (int g = 0; g < LZQ_N_GEAR; g++)
    ck_assert_str_ne(lz_words_gear((lzq_gear)g), "");
}
END_TEST

START_TEST(each_fault)
{
  for (int what = LZQ_FAULT_SYSTEM; what <= LZQ_FAULT_ARGUMENT; what++) {
    lzq_fault fault = {.what = (lzq_fault_what)what, .field = "field", .value = 3};
    g_autofree char *words = lz_words_fault(lab.desk, &fault);
    ck_assert_msg(strstr(words, "field") && strstr(words, "3"), "%s", words);
  }
}
END_TEST

START_TEST(each_kind_and_field)
{
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  for (guint k = 0; k < n; k++) {
    ck_assert_str_ne(lz_words_kind(kinds[k].name), "");
    for (guint f = 0; f < kinds[k].n_fields; f++) {
      const char *field = kinds[k].fields[f].name;
      ck_assert_msg(!g_str_equal(lz_words_field(kinds[k].name, field), field), "%s.%s has no label",
                    kinds[k].name, field);
    }
  }
}
END_TEST

// Tables and the command line name a field by its name, a window by its label.
START_TEST(a_refusal_names_the_field_as_its_form_does)
{
  g_autofree char *named = lz_words_error("reading", "value: “490” is not allowed");
  g_autofree char *other = lz_words_error("reading", "disk: full");
  g_autofree char *plain = lz_words_error("reading", "nothing is given");
  ck_assert_str_eq(named, "Value: “490” is not allowed");
  ck_assert_str_eq(other, "disk: full");
  ck_assert_str_eq(plain, "nothing is given");
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("desk-words");
  TCase *all = tcase_create("all");
  tcase_add_checked_fixture(all, setup, teardown);
  tcase_add_test(all, each_reason);
  tcase_add_test(all, reasons_carry_their_numbers);
  tcase_add_test(all, each_why);
  tcase_add_test(all, each_task_and_word);
  tcase_add_test(all, each_fault);
  tcase_add_test(all, each_kind_and_field);
  tcase_add_test(all, a_refusal_names_the_field_as_its_form_does);
  suite_add_tcase(suite, all);
  return lab_run(suite);
}
