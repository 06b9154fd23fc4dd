// SPDX-License-Identifier: GPL-3.0-or-later
// Words that a narrow window cuts: the pointer over them, or Ctrl+F1 on them, says them in full.
#ifndef LZ_TIP_H
#define LZ_TIP_H

#include <gtk/gtk.h>

void lz_tip_add(GtkWidget *window);
// What is said over a widget, NULL where nothing is cut; the label's own.
const char *lz_tip_of(GtkWidget *widget);

#endif
