// SPDX-License-Identifier: GPL-3.0-or-later
// Opening, making and restoring station files, and the window that goes with each.
#ifndef LZ_FILES_H
#define LZ_FILES_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// Raises the window of that file, or opens one; a failure is shown as a sentence in the window.
void lz_files_open(GtkApplication *application, const char *path);
// What came of opening: desk (transfer full) in a window, or the error in one.
void lz_files_show(GtkApplication *application, LzDesk *desk, const GError *error);
void lz_files_open_demo(GtkApplication *application);
void lz_files_open_last(GtkApplication *application);
void lz_files_ask_open(GtkApplication *application, GtkWindow *window);
void lz_files_ask_new(GtkApplication *application, GtkWindow *window);
// A copy of the back-up under a name that is free, checked, opened in a window; see lz_window_copy.
void lz_files_restore(GtkApplication *application, const char *from);
// Which back-up, what it holds, and then lz_files_restore.
void lz_files_ask_restore(GtkWindow *window);
// A dialog for the name of a file to write, not shown yet: connect to "response", read the answer
// by lz_files_saved_path, which lets the dialog go. NULL = called off.
GtkNativeDialog *lz_files_ask_save(GtkWindow *window, const char *title, const char *name);
// The same for a JPEG or PNG picture to read.
GtkNativeDialog *lz_files_ask_photo(GtkWindow *window);
char *lz_files_saved_path(GtkNativeDialog *dialog, int response);

#endif
