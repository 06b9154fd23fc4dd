// SPDX-License-Identifier: GPL-3.0-or-later
// The bar at the foot of the window: only the keys that act now, each also a button.
#ifndef LZ_KEY_BAR_H
#define LZ_KEY_BAR_H

#include <gtk/gtk.h>

#define LZ_TYPE_KEY_BAR (lz_key_bar_get_type())
G_DECLARE_FINAL_TYPE(LzKeyBar, lz_key_bar, LZ, KEY_BAR, GtkWidget)

// hints: LzHint (transfer none). Rebuilt only where they differ from what is shown.
void lz_key_bar_set(LzKeyBar *self, GPtrArray *hints);

// A key cap as a label.
GtkWidget *lz_keycap_new(const char *keys);

#endif
