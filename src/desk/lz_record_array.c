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

static void
drop_before(LzRecordArray *array)
{
  if (array->before)
    lz_record_array_free(array->before);
  array->before = NULL;
}

void
lz_record_array_free(LzRecordArray *array)
{
  drop_before(array);
  if (array->mapped)
    lz_mapped_free(array->mapped);
  else
    g_free(array->data);
  g_free(array);
}

// To memory of its own; what it was is the caller's.
static LzRecordArray
move(LzRecordArray *array, guint room)
{
  const LzRecordArray was = *array;
  char *data = g_malloc_n(room, sizeof(lzq_record));
  if (array->len)
    memcpy(data, array->data, (gsize)array->len * sizeof(lzq_record));
  *array = (LzRecordArray){.data = data, .len = was.len, .room = room, .before = was.before};
  return was;
}

static void
grow(LzRecordArray *array)
{
  const guint room = MAX(64, array->room + array->room / 2);
  if (array->mapped) {
    lz_mapped_free(move(array, room).mapped);
    return;
  }
  array->data = g_realloc_n(array->data, room, sizeof(lzq_record));
  array->room = room;
}

// The first that became another: those that follow are still wanted as they were.
static void
depart(LzRecordArray *array)
{
  LzRecordArray *before = g_new(LzRecordArray, 1);
  *before = move(array, MAX(64, array->lying));
  before->anew = FALSE;
  array->before = before;
}

void
lz_record_array_append(LzRecordArray *array, const lzq_record *record)
{
  if (array->len == array->room)
    grow(array);
  const lzq_record *place = &g_array_index(array, lzq_record, array->len);
  // NOLINTNEXTLINE(bugprone-suspicious-memory-comparison): a NaN equals itself
  if (array->len >= array->lying || memcmp(place, record, sizeof *record) != 0) {
    if (array->anew && array->len < array->lying)
      depart(array);
    memcpy(&g_array_index(array, lzq_record, array->len), record, sizeof *record);
  }
  array->len++;
}

void
lz_record_array_cut(LzRecordArray *array, guint len)
{
  array->len = len;
}

void
lz_record_array_begin(LzRecordArray *array)
{
  array->lying = array->len;
  array->anew = TRUE;
  array->len = 0;
}

const lzq_record *
lz_record_array_lay(const LzRecordArray *array, guint *n)
{
  const LzRecordArray *of = array->before ? array->before : array;
  *n = of->lying;
  return (const lzq_record *)(const void *)of->data;
}

gboolean
lz_record_array_end(LzRecordArray *array)
{
  const gboolean others = array->before != NULL;
  drop_before(array);
  array->anew = FALSE;
  return others;
}
