// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the engine's records of a model, one behind the other: in memory, or the first
// of them in a mapped file. It is read by g_array_index and `len` as any array.
#ifndef LZ_RECORD_ARRAY_H
#define LZ_RECORD_ARRAY_H

#include <lz_engine.h>

#include "lz_mapped.h"

typedef struct {
  char *data;
  guint len;
  guint room;       // records that fit
  guint lying;      // so many lie there, also behind `len`
  LzMapped *mapped; // NULL = on the heap
} LzRecordArray;

LzRecordArray *lz_record_array_new(guint room);
// Takes the mapped file, which begins with `lying` records; the length is 0.
LzRecordArray *lz_record_array_of(LzMapped *mapped, guint lying);
void lz_record_array_free(LzRecordArray *array);
// One that lies there already as it is is not written, so that its page stays the file's.
void lz_record_array_append(LzRecordArray *array, const lzq_record *record);
void lz_record_array_cut(LzRecordArray *array, guint len);

#endif
