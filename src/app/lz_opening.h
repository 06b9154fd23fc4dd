// SPDX-License-Identifier: GPL-3.0-or-later
// A station's file that is being opened in a thread: a large one is read from beginning to end now
// and then. All of it in the main thread.
#ifndef LZ_OPENING_H
#define LZ_OPENING_H

#include <lz_desk.h>
#include <stdbool.h>

typedef struct _LzOpening LzOpening;

// Begins. A file that is being closed is waited for. clock NULL = the real one.
LzOpening *lz_opening_new(const char *path, LzClock *clock);
const char *lz_opening_path(const LzOpening *opening);
double lz_opening_share(const LzOpening *opening); // how far it is, 0 to 1
// Waits so long at most; true = it has ended.
bool lz_opening_wait(LzOpening *opening, int most_ms);
// What came of one that has ended: a desk that watches (transfer full), or NULL with error.
LzDesk *lz_opening_take(LzOpening *opening, GError **error);
// Stops it if it has not ended, and lets go of what was not taken.
void lz_opening_free(LzOpening *opening);

#endif
