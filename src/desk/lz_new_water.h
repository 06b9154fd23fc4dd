// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: medicine that was mixed into new water before its change (lzq_new_water.h). It
// is on record as a dose, comes in with its change, and must not be entered with that again.
#ifndef LZ_NEW_WATER_H
#define LZ_NEW_WATER_H

#include "lz_carry.h"

typedef struct {
  double mg; // 0 = none waits
  lzq_minute at;
} LzNewWater;

// What waits in new water that no change on record has brought in, after these steps of one
// analyte.
LzNewWater lz_new_water(const GArray *steps);

#endif
