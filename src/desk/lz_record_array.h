// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the engine's records of a model, one behind the other: in memory, or the first
// of them in a mapped file. It is read by g_array_index and `len` as any array.
#ifndef LZ_RECORD_ARRAY_H
#define LZ_RECORD_ARRAY_H

#include <lz_engine.h>

#include "lz_mapped.h"

typedef struct _LzRecordArray LzRecordArray;
struct _LzRecordArray {
  char *data;
  guint len;
  guint room;            // records that fit
  guint lying;           // so many lie there, also behind `len`
  LzMapped *mapped;      // NULL = on the heap
  gboolean anew;         // all are being made anew
  LzRecordArray *before; // as they were, once one of them became another
};

LzRecordArray *lz_record_array_new(guint room);
// Takes the mapped file, which begins with `lying` records; the length is 0.
LzRecordArray *lz_record_array_of(LzMapped *mapped, guint lying);
void lz_record_array_free(LzRecordArray *array);
// One that lies there already as it is is not written, so that its page stays the file's.
void lz_record_array_append(LzRecordArray *array, const lzq_record *record);
void lz_record_array_cut(LzRecordArray *array, guint len);

// All are made anew, where they lie: the length is 0. As long as each is what it was, nothing is
// written.
void lz_record_array_begin(LzRecordArray *array);
// As they were before they were begun anew; lying says how many.
const lzq_record *lz_record_array_lay(const LzRecordArray *array, guint *n);
// They are made. Whether one of them became another.
gboolean lz_record_array_end(LzRecordArray *array);

#endif
