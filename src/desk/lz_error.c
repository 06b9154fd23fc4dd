// SPDX-License-Identifier: GPL-3.0-or-later
// The error domain of the desk, and how its codes end a program.
#include "lz_error.h"

G_DEFINE_QUARK(lz - desk - error - quark, lz_desk_error)

int
lz_error_exit_status(const GError *error)
{
  if (!error)
    return 0;
  if (error->domain != LZ_DESK_ERROR)
    return 3;
  switch ((LzDeskError)error->code) {
  case LZ_DESK_ERROR_REFUSED:
  case LZ_DESK_ERROR_NEEDS_READBACK:
  case LZ_DESK_ERROR_NEEDS_SECOND_PERSON:
  case LZ_DESK_ERROR_NEEDS_REASON: return 1;
  case LZ_DESK_ERROR_USAGE:
  case LZ_DESK_ERROR_AMBIGUOUS_TIME: return 2;
  default: return 3;
  }
}
