// SPDX-License-Identifier: GPL-3.0-or-later
// Usual reasons to press for whoever has a pointer and no keys: beside the field that asks why an
// entry is corrected. Any other is typed, so Tab passes the button by.
#ifndef LZ_REASONS_H
#define LZ_REASONS_H

#include <gtk/gtk.h>

// A box of the entry with the button beside it. Floating.
GtkWidget *lz_reasons_beside(GtkEntry *entry);

#endif
