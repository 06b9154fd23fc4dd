// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: a copy of a file in use.
#ifndef LZS_BACKUP_H
#define LZS_BACKUP_H

#include "lzs_db.h"

// Copies what db shows at one instant to a single file without a log beside it, checks its pages,
// syncs it and gives it its name. With replace false an existing file is LZS_EXISTS.
lzs_status lzs_backup_copy(sqlite3 *db, const char *to_path, bool replace, lzs_error *error);

#endif
