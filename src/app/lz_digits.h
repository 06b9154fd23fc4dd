// SPDX-License-Identifier: GPL-3.0-or-later
// Digits to press for whoever has a pointer and no keys: over a number field, as wide as a glove.
// The keyboard does not need it, so Tab passes it by.
#ifndef LZ_DIGITS_H
#define LZ_DIGITS_H

#include "lz_number_entry.h"

// A popover of digits that types into `entry`; its last key does what Enter does in the window
// (win.pad). Owned by the caller through gtk_widget_set_parent.
GtkWidget *lz_digits_new(LzNumberEntry *entry);

#endif
