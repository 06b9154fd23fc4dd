// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the window that a widget stands in is narrow for the size of its text: see
// lz_window_fit.c.
#ifndef LZ_NARROW_H
#define LZ_NARROW_H

#include <gtk/gtk.h>

typedef void (*LzNarrowFollow)(GtkWidget *widget, gboolean narrow);

// Calls `follow` when the widget comes into a window, and whenever that becomes narrow or wide.
void lz_narrow_follow(GtkWidget *widget, LzNarrowFollow follow);

#endif
