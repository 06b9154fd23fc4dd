// SPDX-License-Identifier: GPL-3.0-or-later
// What a person is offered when a station file is damaged: salvage what is sound into a new file
// beside it, or restore a back-up. The damaged file stays as it is.
#ifndef LZ_DAMAGED_H
#define LZ_DAMAGED_H

#include "lz_window.h"

// desk: the new file, open (the callee takes it), or NULL with error.
typedef void (*LzDamagedDone)(LzDesk *desk, const GError *error, gpointer data);
void lz_damaged_offer(LzWindow *window, const char *path, LzClock *clock, LzDamagedDone done,
                      gpointer data);

#endif
