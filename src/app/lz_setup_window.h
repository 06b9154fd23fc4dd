// SPDX-License-Identifier: GPL-3.0-or-later
// "Set up your own": three questions, then the station's window.
#ifndef LZ_SETUP_WINDOW_H
#define LZ_SETUP_WINDOW_H

#include <gtk/gtk.h>

#define LZ_TYPE_SETUP_WINDOW (lz_setup_window_get_type())
G_DECLARE_FINAL_TYPE(LzSetupWindow, lz_setup_window, LZ, SETUP_WINDOW, GtkWindow)

GtkWidget *lz_setup_window_new(GtkApplication *application, GtkWindow *parent);

#endif
