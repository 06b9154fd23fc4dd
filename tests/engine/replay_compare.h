// SPDX-License-Identifier: GPL-3.0-or-later
// The engine's credit against the oracle's, to the minute, and against itself with another book;
// and a difference made small and kept.
#ifndef LZT_REPLAY_COMPARE_H
#define LZT_REPLAY_COMPARE_H

#include <stddef.h>

#include "history_file.h"

// True if both agree; else a sentence on the first difference in `why`.
bool lzt_replay_agrees(const lzt_history *history, char *why, size_t room);

// True if a book that follows entry by entry and one made anew give the same bytes, all the way.
bool lzt_book_agrees(const lzt_history *history, char *why, size_t room);

// Drops records one by one while the question is still answered with no.
typedef bool (*lzt_agrees)(const lzt_history *history, char *why, size_t room);
void lzt_replay_shrink(lzt_history *history, lzt_agrees agrees);

// Writes the shrunk case into the folder and puts its path into `path`.
bool lzt_replay_keep(const lzt_history *history, const char *folder, const char *note, char *path,
                     size_t room);

#endif
