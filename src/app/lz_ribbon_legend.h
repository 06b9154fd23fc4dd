// SPDX-License-Identifier: GPL-3.0-or-later
// What the ribbons of a plan mean, in one line below them.
#ifndef LZ_RIBBON_LEGEND_H
#define LZ_RIBBON_LEGEND_H

#include <gtk/gtk.h>

GtkWidget *lz_ribbon_legend_new(void);

#endif
