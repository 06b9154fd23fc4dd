// SPDX-License-Identifier: GPL-3.0-or-later
// Scrolls its child up and down only where the page has too little room: it asks for the height
// that the child has at the width it gets, which GtkScrolledWindow of GTK 4.8 does not. Property
// "least": px at 100 % below which it does not go.
#ifndef LZ_TALL_H
#define LZ_TALL_H

#include <gtk/gtk.h>

#define LZ_TYPE_TALL (lz_tall_get_type())
G_DECLARE_FINAL_TYPE(LzTall, lz_tall, LZ, TALL, GtkWidget)

#endif
