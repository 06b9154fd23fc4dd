// SPDX-License-Identifier: GPL-3.0-or-later
// Contrast of every palette against W3C WCAG 2.1: 1.4.3 (text 4.5:1), 1.4.11 (what is not text
// 3:1).
#include "picture.h"

// W3C, WCAG 2.1, contrast ratio: "can range from 1 to 21".
START_TEST(contrast_has_the_ends_of_the_standard)
{
  ck_assert_double_eq_tol(lzd_contrast(0x000000, 0xFFFFFF), 21, 1e-9);
  ck_assert_double_eq_tol(lzd_contrast(0x808080, 0x808080), 1, 1e-12);
  ck_assert_double_eq(lzd_contrast(0x123456, 0xFEDCBA), lzd_contrast(0xFEDCBA, 0x123456));
}
END_TEST

// Value from memory, widely printed: #767676 is the lightest grey with 4.5:1 on white (4.54).
START_TEST(contrast_of_the_known_grey)
{
  ck_assert_double_eq_tol(lzd_contrast(0x767676, 0xFFFFFF), 4.54, 0.005);
  ck_assert_double_lt(lzd_contrast(0x777777, 0xFFFFFF), 4.5);
}
END_TEST

static void
at_least(lzd_theme theme, lzd_role ink, lzd_role ground, double least)
{
  const lzd_palette *p = lzd_palette_get(theme);
  double ratio = lzd_contrast(p->rgb[ink], p->rgb[ground]);
  ck_assert_msg(ratio >= least, "theme %d: role %d on %d has %.2f, less than %.1f", theme, ink,
                ground, ratio, least);
}

START_TEST(text_reaches_aa_on_every_ground)
{
  static const lzd_role inks[] = {LZD_TEXT, LZD_TEXT2, LZD_ACCENT, LZD_ALARM};
  static const lzd_role grounds[] = {LZD_BACKGROUND, LZD_SURFACE, LZD_SUNK, LZD_ACCENT_TINT,
                                     LZD_ALARM_TINT};
  for (int theme = 0; theme < LZD_THEMES; theme++)
    for (size_t i = 0; i < 4; i++)
      for (size_t g = 0; g < 5; g++)
        at_least((lzd_theme)theme, inks[i], grounds[g], 4.5);
}
END_TEST

START_TEST(words_in_what_is_filled_reach_aa)
{
  for (int theme = 0; theme < LZD_THEMES; theme++) {
    at_least((lzd_theme)theme, LZD_BACKGROUND, LZD_ACCENT, 4.5); // past part of a ribbon
    at_least((lzd_theme)theme, LZD_SURFACE, LZD_ACCENT, 4.5);    // pennant
  }
}
END_TEST

START_TEST(outlines_reach_aa_for_what_is_not_text)
{
  static const lzd_role lines[] = {LZD_RULE, LZD_PLANNED};
  for (int theme = 0; theme < LZD_THEMES; theme++)
    for (size_t i = 0; i < 2; i++) {
      at_least((lzd_theme)theme, lines[i], LZD_BACKGROUND, 3);
      at_least((lzd_theme)theme, lines[i], LZD_SURFACE, 3);
    }
}
END_TEST

START_TEST(high_contrast_reaches_aaa)
{
  at_least(LZD_HIGH_CONTRAST, LZD_TEXT, LZD_BACKGROUND, 7);
  at_least(LZD_HIGH_CONTRAST, LZD_TEXT2, LZD_BACKGROUND, 7);
  at_least(LZD_HIGH_CONTRAST, LZD_ACCENT, LZD_BACKGROUND, 7);
  at_least(LZD_HIGH_CONTRAST, LZD_ALARM, LZD_BACKGROUND, 7);
  at_least(LZD_HIGH_CONTRAST, LZD_HATCH, LZD_BACKGROUND, 7);
}
END_TEST

START_TEST(an_unknown_theme_is_the_light_one)
{
  ck_assert_ptr_eq(lzd_palette_get((lzd_theme)99), lzd_palette_get(LZD_LIGHT));
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("palette");
  TCase *tc = tcase_create("contrast");
  tcase_add_test(tc, contrast_has_the_ends_of_the_standard);
  tcase_add_test(tc, contrast_of_the_known_grey);
  tcase_add_test(tc, text_reaches_aa_on_every_ground);
  tcase_add_test(tc, words_in_what_is_filled_reach_aa);
  tcase_add_test(tc, outlines_reach_aa_for_what_is_not_text);
  tcase_add_test(tc, high_contrast_reaches_aaa);
  tcase_add_test(tc, an_unknown_theme_is_the_light_one);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
