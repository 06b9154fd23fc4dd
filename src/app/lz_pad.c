// SPDX-License-Identifier: GPL-3.0-or-later
// The table behind lz_pad.h. X sends KP_Home ... KP_Insert for the pad with Num Lock off, and
// KP_Separator for the pad's comma on many layouts.
#include "lz_pad.h"

typedef struct {
  guint keyval;
  LzPadKind kind;
  int digit;
  bool from_pad;
} Row;

// Keys that mean the same everywhere.
static const Row always[] = {
    {GDK_KEY_period, LZ_PAD_POINT, -1, false},    {GDK_KEY_comma, LZ_PAD_POINT, -1, false},
    {GDK_KEY_KP_Decimal, LZ_PAD_POINT, -1, true}, {GDK_KEY_KP_Separator, LZ_PAD_POINT, -1, true},
    {GDK_KEY_plus, LZ_PAD_PLUS, -1, false},       {GDK_KEY_KP_Add, LZ_PAD_PLUS, -1, true},
    {GDK_KEY_minus, LZ_PAD_MINUS, -1, false},     {GDK_KEY_KP_Subtract, LZ_PAD_MINUS, -1, true},
    {GDK_KEY_asterisk, LZ_PAD_STAR, -1, false},   {GDK_KEY_KP_Multiply, LZ_PAD_STAR, -1, true},
    {GDK_KEY_slash, LZ_PAD_SLASH, -1, false},     {GDK_KEY_KP_Divide, LZ_PAD_SLASH, -1, true},
    {GDK_KEY_Return, LZ_PAD_ENTER, -1, false},    {GDK_KEY_ISO_Enter, LZ_PAD_ENTER, -1, false},
    {GDK_KEY_KP_Enter, LZ_PAD_ENTER, -1, true},   {GDK_KEY_Escape, LZ_PAD_ESCAPE, -1, false},
    {GDK_KEY_BackSpace, LZ_PAD_ERASE, -1, false}, {GDK_KEY_Up, LZ_PAD_UP, -1, false},
    {GDK_KEY_Down, LZ_PAD_DOWN, -1, false},       {GDK_KEY_Left, LZ_PAD_LEFT, -1, false},
    {GDK_KEY_Right, LZ_PAD_RIGHT, -1, false},
};

// The pad with Num Lock off: a digit in a number field, an arrow elsewhere.
static const struct {
  guint keyval;
  int digit;
  LzPadKind elsewhere;
} unlocked[] = {
    {GDK_KEY_KP_Insert, 0, LZ_PAD_OTHER}, {GDK_KEY_KP_End, 1, LZ_PAD_OTHER},
    {GDK_KEY_KP_Down, 2, LZ_PAD_DOWN},    {GDK_KEY_KP_Page_Down, 3, LZ_PAD_OTHER},
    {GDK_KEY_KP_Left, 4, LZ_PAD_LEFT},    {GDK_KEY_KP_Begin, 5, LZ_PAD_OTHER},
    {GDK_KEY_KP_Right, 6, LZ_PAD_RIGHT},  {GDK_KEY_KP_Home, 7, LZ_PAD_OTHER},
    {GDK_KEY_KP_Up, 8, LZ_PAD_UP},        {GDK_KEY_KP_Page_Up, 9, LZ_PAD_OTHER},
};

static LzPadKey
key(LzPadKind kind, int digit, bool from_pad)
{
  return (LzPadKey){kind, digit, from_pad};
}

LzPadKey
lz_pad_read(guint keyval, GdkModifierType state, bool numbers)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK))
    return key(LZ_PAD_OTHER, -1, false);
  if (keyval >= GDK_KEY_0 && keyval <= GDK_KEY_9)
    return key(LZ_PAD_DIGIT, (int)(keyval - GDK_KEY_0), false);
  if (keyval >= GDK_KEY_KP_0 && keyval <= GDK_KEY_KP_9)
    return key(LZ_PAD_DIGIT, (int)(keyval - GDK_KEY_KP_0), true);
  for (size_t i = 0; i < G_N_ELEMENTS(unlocked); i++)
    if (unlocked[i].keyval == keyval)
      return numbers ? key(LZ_PAD_DIGIT, unlocked[i].digit, true)
                     : key(unlocked[i].elsewhere, -1, true);
  if (keyval == GDK_KEY_KP_Delete)
    return key(numbers ? LZ_PAD_POINT : LZ_PAD_OTHER, -1, true);
  for (size_t i = 0; i < G_N_ELEMENTS(always); i++)
    if (always[i].keyval == keyval)
      return key(always[i].kind, -1, always[i].from_pad);
  return key(LZ_PAD_OTHER, -1, false);
}
