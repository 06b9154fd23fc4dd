// SPDX-License-Identifier: GPL-3.0-or-later
// Where a fuzz target keeps its files: a folder in memory that goes when the process ends, and in
// it one water with a lot in a hold of copper. (Check's assertions work in its tests only, so the
// stations of tests/desk cannot be used here.)
#ifndef SCRATCH_H
#define SCRATCH_H

#include <lz_desk.h>

// "FOLDER/name" in this process' folder; newly allocated.
char *scratch_path(const char *name);
// An empty file of that name, open under a clock that stands; a closed one as bytes.
LzDesk *scratch_empty(const char *name);
GBytes *scratch_station(void);
// The station open.
LzDesk *scratch_desk(void);

// An answer and an error exclude each other, and the sentence can be shown. Clears the error.
void scratch_said(gboolean done, GError **error);
// Opens the file for reading and asks for all that a screen would show. FALSE: refused with a
// sentence.
gboolean scratch_look(const char *path);

#endif
