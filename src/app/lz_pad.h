// SPDX-License-Identifier: GPL-3.0-or-later
// What a key means on a number pad, whatever Num Lock, the keyboard's layout or its language say.
// Pure: no widget is named here, so that the whole table is checked in a test.
#ifndef LZ_PAD_H
#define LZ_PAD_H

#include <stdbool.h>
#include <gdk/gdk.h>

typedef enum {
  LZ_PAD_OTHER,
  LZ_PAD_DIGIT,  // .digit says which
  LZ_PAD_POINT,  // point or comma, from the pad or the letters
  LZ_PAD_PLUS,   // one more
  LZ_PAD_MINUS,  // cannot, fewer
  LZ_PAD_STAR,   // I see something
  LZ_PAD_SLASH,  // go to
  LZ_PAD_ENTER,  // record and go on
  LZ_PAD_ESCAPE, // one step back
  LZ_PAD_UP,
  LZ_PAD_DOWN,
  LZ_PAD_LEFT,
  LZ_PAD_RIGHT,
  LZ_PAD_ERASE, // Backspace
} LzPadKind;

typedef struct {
  LzPadKind kind;
  int digit;     // 0 to 9 of a LZ_PAD_DIGIT, else -1
  bool from_pad; // the key stands on the number pad
} LzPadKey;

// numbers: the focus stands in a number field, so that KP_Home and its neighbours are digits even
// with Num Lock off; elsewhere they walk. A key with Ctrl, Alt or Super is LZ_PAD_OTHER.
LzPadKey lz_pad_read(guint keyval, GdkModifierType state, bool numbers);

#endif
