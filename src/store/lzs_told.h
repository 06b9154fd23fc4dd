// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: how far long work has come, told to whoever asked (lzs_set_progress).
#ifndef LZS_TOLD_H
#define LZS_TOLD_H

#include "lzs_store.h"

#include <sqlite3.h>

typedef struct {
  lzs_progress progress; // NULL = nobody hears
  void *ctx;
  double from, to; // the part of the whole that is now under way
  double last;     // told last, of the whole
} lzs_told;

// Begins the part of the whole from..to.
void lzs_told_part(lzs_told *told, double from, double to);
// How much of the part is done; false = stop. told NULL is harmless. Tells a hundredth at a time.
bool lzs_told_step(lzs_told *told, double share);
// The same answer as a failure.
lzs_status lzs_told_stopped(lzs_error *error);
// Lets a long statement of SQLite's be stopped, which says nothing about how far it is.
void lzs_told_watch(lzs_told *told, sqlite3 *db);
void lzs_told_unwatch(sqlite3 *db);

#endif
