// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: a copy of a damaged file that SQLite can open. Its header and the pages that hold the
// schema are the same in every file of one version, so damaged ones are replaced by a new file's.
#ifndef LZS_GRAFT_H
#define LZS_GRAFT_H

#include "lzs_db.h"

// Copies path, with the journals beside it, to temp and makes it open. The file at path is only
// read.
lzs_status lzs_graft_copy(const char *path, const char *temp, lzs_error *error);

#endif
