// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: a copy of a file in use.
#ifndef LZS_BACKUP_H
#define LZS_BACKUP_H

#include "lzs_db.h"

typedef enum {
  LZS_BACKUP_VERIFIED, // every hash of the copy is taken again; replaces an older copy
  LZS_BACKUP_OLDER,    // of a file at an older schema: its pages are checked; replaces nothing
} lzs_backup_how;

// Copies what db shows at one instant to a single file without a log beside it, checks and syncs
// it, and only then gives it its name.
// `told` hears of it and may stop it; NULL = nobody.
lzs_status lzs_backup_copy(sqlite3 *db, const char *to_path, lzs_backup_how how, lzs_told *told,
                           lzs_error *error);

#endif
