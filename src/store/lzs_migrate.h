// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: brings a file to the newest schema, one numbered step after the other.
#ifndef LZS_MIGRATE_H
#define LZS_MIGRATE_H

#include "lzs_db.h"

// "LZRT": how a station file is told from other SQLite files (header bytes 68 to 71).
#define LZS_APPLICATION_ID 0x4C5A5254

// The text of each step; step i makes version i + 1. Made from schema/*.sql by the build.
extern const char *const lzs_schema[];
extern const int lzs_schema_n;

// Whether the file is a station's, and which version; *version 0 for a file without any content.
lzs_status lzs_migrate_version(sqlite3 *db, int64_t *version, lzs_error *error);

// Runs steps [version, n), all in one transaction with the change of version: all or nothing.
// Another program may have done so meanwhile, which is well.
lzs_status lzs_migrate_run(sqlite3 *db, const char *const *steps, int n, lzs_error *error);

// Whether tables, indexes and triggers are those of a new file.
lzs_status lzs_migrate_schema_is_new(sqlite3 *db, bool *same, lzs_error *error);

// A copy of path beside it, "path.schema-N", before it leaves version N; an existing copy is kept
// and a free name found.
lzs_status lzs_migrate_copy(sqlite3 *db, const char *path, int64_t version, lzs_error *error);

#endif
