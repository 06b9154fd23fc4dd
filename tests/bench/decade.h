// SPDX-License-Identifier: GPL-3.0-or-later
// A station of ten years as a program would have written it, entry by entry: 100 systems of 50
// tanks, about three lots a day that come, serve a course, are split, sold or die, and what is
// read, dosed, changed and fed in between. Invented from beginning to end; the same bytes at every
// run.
#ifndef DECADE_H
#define DECADE_H

#include "lzs_store.h"

// Appends `wanted` entries or a few more to an empty store whose clock is decade_clock. Leaves the
// program with a message if the store refuses one.
void decade_make(lzs_store *store, int64_t wanted);
// Milliseconds of the minute that the story has reached.
int64_t decade_clock(void *ctx);

typedef struct {
  int64_t entries, lots, living, corrections, late, days;
} decade_count;
decade_count decade_counted(void);

#endif
