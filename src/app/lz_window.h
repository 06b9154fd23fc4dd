// SPDX-License-Identifier: GPL-3.0-or-later
// One window on one station: the frame with the five places. It owns the desk.
#ifndef LZ_WINDOW_H
#define LZ_WINDOW_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#include "lz_long_work.h"
#include "lz_place.h"

#define LZ_TYPE_WINDOW (lz_window_get_type())
G_DECLARE_FINAL_TYPE(LzWindow, lz_window, LZ, WINDOW, GtkApplicationWindow)

GtkWidget *lz_window_new(GtkApplication *application);
// desk (transfer full); NULL shows the start page.
void lz_window_set_desk(LzWindow *self, LzDesk *desk);
LzDesk *lz_window_desk(LzWindow *self);
// Shows that a station is being opened, where none is open; what is set next takes its place.
void lz_window_show_opening(LzWindow *self, GtkWidget *view);
// The file that is open or being opened; NULL on the start page.
const char *lz_window_path(LzWindow *self);
// The visible place; NULL on the start page.
LzPlace *lz_window_place(LzWindow *self);
void lz_window_go(LzWindow *self, const char *place);
// The place of that name, visible or not; NULL on the start page.
LzPlace *lz_window_find_place(LzWindow *self, const char *name);
// One sentence in the bar under the header bar, read out; NULL takes it away.
void lz_window_notice(LzWindow *self, const char *sentence);
// Does what takes long in a thread (see lz_long_work.h), one at a time; `doing` is in the bar
// meanwhile, with how far it is and a button that stops it. `worked` hears what came of it, unless
// the window is closed first: made NULL = nothing, for the error. FALSE: something else runs, which
// the bar says.
typedef void (*LzWindowWorked)(LzWindow *self, gpointer made, const GError *error, gpointer wish);
bool lz_window_work(LzWindow *self, LzLongJob job, gpointer wish, GDestroyNotify free_wish,
                    const char *doing, LzWindowWorked worked);
// Copies the station file `from`, which may be in use, to `to` and checks the copy. `done`
// hears what came of it: error NULL = the copy is whole, else there is none.
typedef void (*LzWindowCopied)(LzWindow *self, const char *to, const GError *error, gpointer data);
void lz_window_copy(LzWindow *self, const char *from, const char *to, const char *doing,
                    LzWindowCopied done, gpointer data);

#endif
