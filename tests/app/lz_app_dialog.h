// SPDX-License-Identifier: GPL-3.0-or-later
// Dialogs that ask for a file, answered as a person would answer them. Without a portal on the bus
// the dialog is GTK's own, a window of this process.
#ifndef LZ_APP_DIALOG_H
#define LZ_APP_DIALOG_H

#include "lz_app_window.h"

// Instead of lz_app_window_init: without portal and services, in a home of its own.
gboolean lz_app_dialog_init(void);
// The dialog that is open; NULL = none.
GtkDialog *lz_app_dialog(void);
// The name that is offered, then another folder and name, and Save.
void lz_app_save_as(const char *offered, const char *path);
void lz_app_choose(const char *path);
void lz_app_call_off(void);

char *lz_app_path(const char *name); // in the folder of the station
const char *lz_app_notice(void);     // over the window
void lz_app_said_saved(const char *path);
// The words of a PDF, where poppler-utils are on this machine; the last of `words` is NULL.
void lz_app_pdf_says(const char *path, const char *const *words);

#endif
