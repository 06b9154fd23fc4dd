// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what stands beside a model's records in this PC's copy of them: the entries that
// are kept in memory, the ids of all, and the lists in which records are looked up.
#ifndef LZ_RECORDS_BESIDE_H
#define LZ_RECORDS_BESIDE_H

#include "lz_kept_file.h"
#include "lz_model.h"

typedef struct {
  GPtrArray *kept; // LzEntry, in the order of entry
  LzLying lying;   // all of it points into the bytes
} LzBeside;

// With the newest entries, and of those before them all that are no plain ones.
void lz_beside_put(LzKeptFile *file, const LzModel *model, guint newest);
// FALSE = these bytes, aligned to 8, are not what was put, or not of so many entries. The caller
// clears *out in either case, and not before the bytes go.
gboolean lz_beside_read(LzBeside *out, const char *bytes, gsize size, guint64 entries);
void lz_beside_clear(LzBeside *beside);

#endif
