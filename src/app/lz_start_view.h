// SPDX-License-Identifier: GPL-3.0-or-later
// What an empty PC shows: open the demo, set up your own, restore a back-up, open a file.
#ifndef LZ_START_VIEW_H
#define LZ_START_VIEW_H

#include <gtk/gtk.h>

#define LZ_TYPE_START_VIEW (lz_start_view_get_type())
G_DECLARE_FINAL_TYPE(LzStartView, lz_start_view, LZ, START_VIEW, GtkWidget)

GtkWidget *lz_start_view_new(void);

#endif
