// SPDX-License-Identifier: GPL-3.0-or-later
// The one way to report a failure, and the defaults of a look.
#include "lzd_base.h"

lzd_status
lzd_fail(lzd_fault *fault, lzd_status status, const char *where, size_t index, const char *field,
         const char *reason)
{
  if (fault)
    *fault = (lzd_fault){.where = where, .index = index, .field = field, .reason = reason};
  return status;
}

double
lzd_look_text(const lzd_look *look)
{
  return look->text_scale > 0 ? look->text_scale : 1;
}

double
lzd_look_unit(const lzd_look *look)
{
  return look->unit_scale > 0 ? look->unit_scale : 1;
}

bool
lzd_rect_has(lzd_rect rect, double x, double y)
{
  return x >= rect.x && x < rect.x + rect.w && y >= rect.y && y < rect.y + rect.h;
}
