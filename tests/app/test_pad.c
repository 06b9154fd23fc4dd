// SPDX-License-Identifier: GPL-3.0-or-later
// Every key of a number pad, with Num Lock on and off. Keysym names: X11 keysymdef.h.
#include "lz_app_test.h"
#include "lz_pad.h"

static const guint locked[10] = {GDK_KEY_KP_0, GDK_KEY_KP_1, GDK_KEY_KP_2, GDK_KEY_KP_3,
                                 GDK_KEY_KP_4, GDK_KEY_KP_5, GDK_KEY_KP_6, GDK_KEY_KP_7,
                                 GDK_KEY_KP_8, GDK_KEY_KP_9};
static const guint unlocked[10] = {
    GDK_KEY_KP_Insert, GDK_KEY_KP_End,   GDK_KEY_KP_Down, GDK_KEY_KP_Page_Down, GDK_KEY_KP_Left,
    GDK_KEY_KP_Begin,  GDK_KEY_KP_Right, GDK_KEY_KP_Home, GDK_KEY_KP_Up,        GDK_KEY_KP_Page_Up};

START_TEST(digit_with_num_lock_on_and_off)
{
  LzPadKey on = lz_pad_read(locked[_i], 0, false);
  LzPadKey off = lz_pad_read(unlocked[_i], 0, true);
  LzPadKey row = lz_pad_read(GDK_KEY_0 + (guint)_i, 0, false);
  ck_assert_int_eq(on.kind, LZ_PAD_DIGIT);
  ck_assert_int_eq(on.digit, _i);
  ck_assert_int_eq(off.kind, LZ_PAD_DIGIT);
  ck_assert_int_eq(off.digit, _i);
  ck_assert(off.from_pad);
  ck_assert_int_eq(row.digit, _i);
  ck_assert(!row.from_pad);
}
END_TEST

START_TEST(arrows_of_the_pad_walk_outside_number_fields)
{
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Up, 0, false).kind, LZ_PAD_UP);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Down, 0, false).kind, LZ_PAD_DOWN);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Left, 0, false).kind, LZ_PAD_LEFT);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Right, 0, false).kind, LZ_PAD_RIGHT);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Home, 0, false).kind, LZ_PAD_OTHER);
}
END_TEST

START_TEST(point_comma_separator_are_one_key)
{
  static const guint keys[] = {GDK_KEY_period, GDK_KEY_comma, GDK_KEY_KP_Decimal,
                               GDK_KEY_KP_Separator};
  for (size_t i = 0; i < G_N_ELEMENTS(keys); i++)
    ck_assert_int_eq(lz_pad_read(keys[i], 0, true).kind, LZ_PAD_POINT);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Delete, 0, true).kind, LZ_PAD_POINT);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Delete, 0, false).kind, LZ_PAD_OTHER);
}
END_TEST

START_TEST(signs_of_pad_and_letters_agree)
{
  static const struct {
    guint pad, letters;
    LzPadKind kind;
  } rows[] = {{GDK_KEY_KP_Add, GDK_KEY_plus, LZ_PAD_PLUS},
              {GDK_KEY_KP_Subtract, GDK_KEY_minus, LZ_PAD_MINUS},
              {GDK_KEY_KP_Multiply, GDK_KEY_asterisk, LZ_PAD_STAR},
              {GDK_KEY_KP_Divide, GDK_KEY_slash, LZ_PAD_SLASH},
              {GDK_KEY_KP_Enter, GDK_KEY_Return, LZ_PAD_ENTER}};
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    ck_assert_int_eq(lz_pad_read(rows[i].pad, 0, false).kind, rows[i].kind);
    ck_assert_int_eq(lz_pad_read(rows[i].letters, 0, true).kind, rows[i].kind);
  }
}
END_TEST

START_TEST(a_shortcut_is_no_pad_key)
{
  ck_assert_int_eq(lz_pad_read(GDK_KEY_1, GDK_CONTROL_MASK, true).kind, LZ_PAD_OTHER);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_KP_Add, GDK_ALT_MASK, true).kind, LZ_PAD_OTHER);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_asterisk, GDK_SHIFT_MASK, true).kind, LZ_PAD_STAR);
  ck_assert_int_eq(lz_pad_read(GDK_KEY_a, 0, true).kind, LZ_PAD_OTHER);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("pad");
  TCase *keys = tcase_create("keys");
  tcase_add_loop_test(keys, digit_with_num_lock_on_and_off, 0, 10);
  tcase_add_test(keys, arrows_of_the_pad_walk_outside_number_fields);
  tcase_add_test(keys, point_comma_separator_are_one_key);
  tcase_add_test(keys, signs_of_pad_and_letters_agree);
  tcase_add_test(keys, a_shortcut_is_no_pad_key);
  suite_add_tcase(suite, keys);
  return lz_app_test_run(suite, false);
}
