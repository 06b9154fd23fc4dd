// SPDX-License-Identifier: GPL-3.0-or-later
// The dialog that asks for a file, answered as a person would. Without a portal on the bus it is
// GTK's own, a window of this process.
#ifndef FILE_DIALOG_H
#define FILE_DIALOG_H

#include <gtk/gtk.h>

GtkDialog *file_dialog(void); // that is open; NULL = none
// The name that stands in the dialog, then another folder and name, and Save.
void file_dialog_save_as(const char *offered, const char *path);
void file_dialog_choose(const char *path);
void file_dialog_call_off(void);

#endif
