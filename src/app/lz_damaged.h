// SPDX-License-Identifier: GPL-3.0-or-later
// What a person is offered when a station file is damaged: salvage what is sound into a new file
// beside it, or restore a back-up. The damaged file stays as it is.
#ifndef LZ_DAMAGED_H
#define LZ_DAMAGED_H

#include "lz_window.h"

// path: of the new file, and what is to be said of it; or NULL with why there is none.
typedef void (*LzDamagedDone)(const char *path, const GError *say, gpointer data);
void lz_damaged_offer(LzWindow *window, const char *path, LzDamagedDone done, gpointer data);

#endif
