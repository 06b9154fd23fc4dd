// SPDX-License-Identifier: GPL-3.0-or-later
// How a widget hands its look to the drawing layer: palette, text scale, direction, decimal sign.
#ifndef LZ_LOOK_H
#define LZ_LOOK_H

#include <gtk/gtk.h>
#include <lz_draw.h>

lzd_look lz_look_of(GtkWidget *widget);

#endif
