// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: any text as a table of any kind is refused with a sentence or could be entered.
// The first byte chooses the kind; a whole ledger is tried against an empty file.
#include <lz_fields.h>
#include <lz_tables.h>

#include "scratch.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int
LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
  static LzDesk *empty;
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  GError *error = NULL;
  LzImport done = {0};
  if (size == 0)
    return 0;
  guint kind = bytes[0] % (n + 1);
  if (!empty)
    empty = scratch_empty("empty.lazaret");
  LzDesk *desk = kind < n ? scratch_desk() : empty;
  g_autoptr(GInputStream) in =
      g_memory_input_stream_new_from_data(bytes + 1, (gssize)size - 1, NULL);
  scratch_said(
      lz_table_import(desk, kind < n ? kinds[kind].plural : "entries", in, TRUE, &done, &error),
      &error);
  return 0;
}
