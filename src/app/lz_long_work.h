// SPDX-License-Identifier: GPL-3.0-or-later
// Work on a whole file that may take a minute, in a thread with a connection of its own: a bar
// shows how far it is, a cancellable stops it in good order.
#ifndef LZ_LONG_WORK_H
#define LZ_LONG_WORK_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// Runs in a thread and touches nothing but its wish. What it made, newly allocated; NULL with error
// = it failed, or `hear` (told with `hearer` how far it is) said no (LZ_DESK_ERROR_STOPPED).
typedef gpointer (*LzLongJob)(gpointer wish, LzProgress hear, gpointer hearer, GError **error);

// Shows `bar` while the job runs; `done` is called in the main thread with `owner`. wish (transfer
// full) is freed with free_wish after it.
void lz_long_work_start(GObject *owner, LzLongJob job, gpointer wish, GDestroyNotify free_wish,
                        GtkProgressBar *bar, GCancellable *stop, GAsyncReadyCallback done);
// In `done`: what the job made, freed with g_free; NULL with error.
gpointer lz_long_work_finish(GAsyncResult *result, GError **error);
gpointer lz_long_work_wish(GAsyncResult *result); // the work's own

#endif
