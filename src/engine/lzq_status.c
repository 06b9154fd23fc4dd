// SPDX-License-Identifier: GPL-3.0-or-later
// Names of the engine's statuses, and the one way to report a fault.
#include "lzq_status.h"

const char *
lzq_status_name(lzq_status status)
{
  switch (status) {
  case LZQ_OK: return "ok";
  case LZQ_NO_MEMORY: return "no memory";
  case LZQ_BAD_INPUT: return "bad input";
  case LZQ_OUT_OF_RANGE: return "out of range";
  }
  return "unknown";
}

lzq_status
lzq_fault_set(lzq_fault *fault, lzq_fault_what what, uint32_t index, uint32_t part,
              const char *field, double value)
{
  if (fault)
    *fault =
        (lzq_fault){.what = what, .index = index, .part = part, .field = field, .value = value};
  return LZQ_BAD_INPUT;
}
