// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_files.h"

#include <glib/gi18n.h>

#include "lz_window.h"

void
lz_files_open(GtkApplication *application, const char *path)
{
  gtk_window_present(GTK_WINDOW(lz_window_new(application)));
}

void
lz_files_open_demo(GtkApplication *application)
{
  gtk_window_present(GTK_WINDOW(lz_window_new(application)));
}

void
lz_files_open_last(GtkApplication *application)
{
  gtk_window_present(GTK_WINDOW(lz_window_new(application)));
}

void
lz_files_ask_open(GtkApplication *application, GtkWindow *window)
{
}

void
lz_files_ask_new(GtkApplication *application, GtkWindow *window)
{
}

void
lz_files_ask_restore(GtkApplication *application, GtkWindow *window)
{
}
