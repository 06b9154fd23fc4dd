// SPDX-License-Identifier: GPL-3.0-or-later
// Panes side by side; where the window is narrow for the size of its text they stand below each
// other and the whole page scrolls.
#ifndef LZ_PANES_H
#define LZ_PANES_H

#include <gtk/gtk.h>

#define LZ_TYPE_PANES (lz_panes_get_type())
G_DECLARE_FINAL_TYPE(LzPanes, lz_panes, LZ, PANES, GtkWidget)

#endif
