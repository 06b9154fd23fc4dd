// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_new_water.h.
#include "lz_new_water.h"

LzNewWater
lz_new_water(const GArray *steps)
{
  LzNewWater out = {0, LZQ_NEVER};
  uint32_t first = LZQ_NONE;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->waits) {
      first = out.mg > 0 ? first : step->record;
      out.at = step->at;
      out.mg += step->mg;
    } else if (step->record == first) { // it has come in, and all that waited with it
      out = (LzNewWater){0, LZQ_NEVER};
      first = LZQ_NONE;
    }
  }
  return out;
}
