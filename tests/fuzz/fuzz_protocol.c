// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: any text as a protocol file is refused with a sentence or becomes commands, and
// these are refused by the desk with a sentence or could be entered.
#include <lz_protocol_file.h>

#include "scratch.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

int
LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
  LzDesk *desk = scratch_desk();
  GError *error = NULL;
  g_autoptr(GPtrArray) all = lz_protocol_parse((const char *)bytes, size, "any", &error);
  scratch_said(all != NULL, &error);
  if (all)
    scratch_said(lz_desk_check(desk, (LzCommand *const *)all->pdata, all->len, &error), &error);
  return 0;
}
