// SPDX-License-Identifier: GPL-3.0-or-later
// Digits to press for whoever has a pointer and no keys: beside a number field, as wide as a glove.
// The keyboard does not need them, so Tab passes them by.
#ifndef LZ_DIGITS_H
#define LZ_DIGITS_H

#include <gtk/gtk.h>

// What the widest key does.
typedef enum {
  LZ_DIGITS_RECORD, // as Enter in the window (win.pad)
  LZ_DIGITS_READY,  // puts the digits away
  LZ_DIGITS_NEXT,   // as Enter in the field; the digits stay while the next is a number too
} LzDigitsLast;

// A button that opens digits for `text`; NULL = for the number field that has the focus in the
// window, and the button is shut while none has. A number field is one whose input purpose says so.
GtkWidget *lz_digits_button_new(GtkEditable *text, LzDigitsLast last);
// A box of the entry, made a number field, with its digits beside it; both are shown and
// sensitive as the entry is. Floating.
GtkWidget *lz_digits_beside(GtkEntry *entry);
// The same for an entry that stands in a GtkBox or GtkGrid already.
void lz_digits_put_beside(GtkEntry *entry);
// As if the keys had been pressed.
void lz_digits_type(GtkEditable *text, const char *keys);

#endif
