// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what stands beside a model's records in this PC's copy of them: which entries
// are kept by their numbers, the ids of all, and the lists in which records are looked up.
#ifndef LZ_RECORDS_BESIDE_H
#define LZ_RECORDS_BESIDE_H

#include "lz_kept_file.h"
#include "lz_model.h"

typedef struct {
  const int64_t *named; // n_named; like all that follows it points into the bytes
  gsize n_named;
  LzLying lying;
  const uint32_t **lists; // of lying
  gsize *lengths;
} LzBeside;

void lz_beside_put(LzKeptFile *file, const LzModel *model, const GArray *named);
// FALSE = these bytes, aligned to 8, are not what was put, or not of so many entries. The caller
// clears *out in either case, and not before the bytes go.
gboolean lz_beside_read(LzBeside *out, const char *bytes, gsize size, guint64 entries);
void lz_beside_clear(LzBeside *beside);

#endif
