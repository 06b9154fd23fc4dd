// SPDX-License-Identifier: GPL-3.0-or-later
// Work on the whole file that may take a minute, in a thread with a connection of its own: a bar
// shows how far it is, a cancellable stops it in good order.
#ifndef LZ_LONG_WORK_H
#define LZ_LONG_WORK_H

#include <gtk/gtk.h>
#include <lz_desk.h>

// Takes every hash of the station's file at `path` again, or makes a verified copy of it at `copy`
// (NULL = none). Shows `bar` while it runs; `done` is called in the main thread with `owner`.
void lz_long_work_start(GObject *owner, const char *path, const char *copy, GtkProgressBar *bar,
                        GCancellable *stop, GAsyncReadyCallback done);
// What the verification found (of a copy: nothing but zeros), freed with g_free; NULL = it failed,
// or was stopped (LZ_DESK_ERROR_STOPPED).
LzVerify *lz_long_work_finish(GAsyncResult *result, GError **error);

#endif
