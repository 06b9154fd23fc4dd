// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers in words. Expected words: common use of English and German (value from memory); a slip of
// ten must read differently.
#include "lz_app_test.h"
#include "lz_spell.h"

static void
says(double value, const char *unit, const char *language, const char *expected)
{
  g_autofree char *words = lz_spell(value, unit, language);
  ck_assert_str_eq(words, expected);
}

START_TEST(english)
{
  says(684, "mL", "en", "six hundred eighty-four mL");
  says(68.4, "mL", "en", "sixty-eight point four mL");
  says(0.19, "mg/L", "en", "zero point one nine mg/L");
  says(21, "", "en", "twenty-one");
}
END_TEST

START_TEST(german_without_soft_hyphens)
{
  says(684, "mL", "de", "sechshundertvierundachtzig mL");
  says(0.5, "", "de", "null Komma fünf");
}
END_TEST

START_TEST(what_has_no_words)
{
  ck_assert_ptr_null(lz_spell(0.0 / 0.0, "", "en"));
  ck_assert_ptr_null(lz_spell(1e12, "", "en"));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("spell");
  TCase *words = tcase_create("words");
  tcase_add_test(words, english);
  tcase_add_test(words, german_without_soft_hyphens);
  tcase_add_test(words, what_has_no_words);
  suite_add_tcase(suite, words);
  return lz_app_test_run(suite, false);
}
