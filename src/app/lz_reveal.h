// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps what a person works in whole on the screen: GTK 4.8 scrolls only to the field with the
// focus, and what stands below it (echo, gate) would be out of sight.
#ifndef LZ_REVEAL_H
#define LZ_REVEAL_H

#include <gtk/gtk.h>

// Scrolls `widget`, which is inside of `scroll`, whole into sight whenever it grows or moves while
// it has the focus.
void lz_reveal_keep(GtkScrolledWindow *scroll, GtkWidget *widget);
// And now, once it is laid out.
void lz_reveal(GtkScrolledWindow *scroll, GtkWidget *widget);

#endif
