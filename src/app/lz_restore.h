// SPDX-License-Identifier: GPL-3.0-or-later
// The first of the two steps in which a back-up is brought back: what it holds, and what of the
// station on this PC is not in it. Nothing is written before the second.
#ifndef LZ_RESTORE_H
#define LZ_RESTORE_H

#include "lz_window.h"

// backup is what was asked about.
typedef void (*LzRestoreYes)(GtkApplication *application, const char *backup);

// Verifies the back-up in a thread, compares it with the station at `station`, and asks in `window`
// whether to go on; a back-up that does not verify is a sentence in the window.
void lz_restore_ask(LzWindow *window, const char *backup, const char *station, LzRestoreYes yes);

#endif
