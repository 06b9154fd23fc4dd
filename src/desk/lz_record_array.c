// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_record_array.h.
#include "lz_record_array.h"

#include <string.h>

LzRecordArray *
lz_record_array_new(guint room)
{
  LzRecordArray *array = g_new0(LzRecordArray, 1);
  array->data = room ? g_malloc_n(room, sizeof(lzq_record)) : NULL;
  array->room = room;
  return array;
}

LzRecordArray *
lz_record_array_of(LzMapped *mapped, guint lying)
{
  LzRecordArray *array = g_new0(LzRecordArray, 1);
  array->data = mapped->bytes;
  array->room = (guint)MIN(mapped->size / sizeof(lzq_record), G_MAXUINT32);
  array->lying = lying;
  array->mapped = mapped;
  return array;
}

void
lz_record_array_free(LzRecordArray *array)
{
  if (array->mapped)
    lz_mapped_free(array->mapped);
  else
    g_free(array->data);
  g_free(array);
}

static void
grow(LzRecordArray *array)
{
  const guint room = MAX(64, array->room + array->room / 2);
  if (!array->mapped) {
    array->data = g_realloc_n(array->data, room, sizeof(lzq_record));
  } else {
    char *data = g_malloc_n(room, sizeof(lzq_record));
    memcpy(data, array->data, (gsize)array->len * sizeof(lzq_record));
    g_clear_pointer(&array->mapped, lz_mapped_free);
    array->data = data;
    array->lying = 0;
  }
  array->room = room;
}

void
lz_record_array_append(LzRecordArray *array, const lzq_record *record)
{
  if (array->len == array->room)
    grow(array);
  lzq_record *place = &g_array_index(array, lzq_record, array->len);
  // NOLINTNEXTLINE(bugprone-suspicious-memory-comparison): a NaN equals itself
  if (array->len >= array->lying || memcmp(place, record, sizeof *record) != 0)
    memcpy(place, record, sizeof *record);
  array->len++;
}

void
lz_record_array_cut(LzRecordArray *array, guint len)
{
  array->len = len;
}
