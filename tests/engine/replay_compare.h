// SPDX-License-Identifier: GPL-3.0-or-later
// The engine's credit against the oracle's, to the minute; and a difference made small and kept.
#ifndef LZT_REPLAY_COMPARE_H
#define LZT_REPLAY_COMPARE_H

#include <stddef.h>

#include "history_file.h"

// True if both agree; else a sentence on the first difference in `why`.
bool lzt_replay_agrees(const lzt_history *history, char *why, size_t room);

// Drops records one by one while the two still differ.
void lzt_replay_shrink(lzt_history *history);

// Writes the shrunk case into the folder and puts its path into `path`.
bool lzt_replay_keep(const lzt_history *history, const char *folder, const char *note, char *path,
                     size_t room);

#endif
