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

// W3C, WCAG 2.1, 1.4.6: 7:1. Even decorative lines reach what graphics need.
START_TEST(high_contrast_reaches_aaa)
{
  static const lzd_role inks[] = {LZD_TEXT, LZD_TEXT2, LZD_ACCENT, LZD_ALARM, LZD_HATCH};
  lzd_theme theme = _i ? LZD_DARK_CONTRAST : LZD_LIGHT_CONTRAST;
  for (size_t i = 0; i < sizeof inks / sizeof *inks; i++)
    at_least(theme, inks[i], LZD_BACKGROUND, 7);
  at_least(theme, LZD_ACCENT, LZD_ACCENT_TINT, 7);
  at_least(theme, LZD_ALARM, LZD_ALARM_TINT, 7);
  at_least(theme, LZD_HAIRLINE, LZD_BACKGROUND, 3);
}
END_TEST

// `ink` laid over `ground` with this opacity, as cairo does: in sRGB, not in linear light.
static uint32_t
laid_over(uint32_t ink, uint32_t ground, double alpha)
{
  uint32_t out = 0;
  for (int shift = 16; shift >= 0; shift -= 8) {
    double mixed = alpha * (ink >> shift & 255) + (1 - alpha) * (ground >> shift & 255);
    out |= (uint32_t)lround(mixed) << shift;
  }
  return out;
}

// Lines, marks and words stand upon the fill of an estimate's interval.
START_TEST(what_stands_on_an_interval_can_be_seen)
{
  static const lzd_role lines[] = {LZD_ACCENT, LZD_ALARM, LZD_TEXT2};
  for (int theme = 0; theme < LZD_THEMES; theme++) {
    const lzd_palette *p = lzd_palette_get((lzd_theme)theme);
    uint32_t fill = laid_over(p->rgb[LZD_ACCENT], p->rgb[LZD_BACKGROUND], p->interval_alpha);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
      ck_assert_msg(lzd_contrast(p->rgb[lines[i]], fill) >= 3, "theme %d: role %d on an interval",
                    theme, lines[i]);
    ck_assert_msg(lzd_contrast(p->rgb[LZD_TEXT], fill) >= 4.5, "theme %d: text on one", theme);
  }
}
END_TEST

// A style sheet finds each role once, by a name that CSS takes.
START_TEST(every_role_has_a_name_of_its_own)
{
  for (lzd_role role = 0; role < LZD_ROLES; role++) {
    const char *name = lzd_role_name(role);
    ck_assert_ptr_nonnull(name);
    ck_assert_uint_eq(strspn(name, "abcdefghijklmnopqrstuvwxyz_0123456789"), strlen(name));
    for (lzd_role other = 0; other < role; other++)
      ck_assert_str_ne(name, lzd_role_name(other));
  }
  ck_assert_ptr_null(lzd_role_name(LZD_ROLES));
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
  tcase_add_loop_test(tc, high_contrast_reaches_aaa, 0, 2);
  tcase_add_test(tc, what_stands_on_an_interval_can_be_seen);
  tcase_add_test(tc, every_role_has_a_name_of_its_own);
  tcase_add_test(tc, an_unknown_theme_is_the_light_one);
  suite_add_tcase(suite, tc);
  return run_suite(suite);
}
