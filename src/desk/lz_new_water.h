// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: medicine that was mixed into new water before its change. It is on record as a
// dose, so that the level counts it from then on, and must not be entered with the change again.
#ifndef LZ_NEW_WATER_H
#define LZ_NEW_WATER_H

#include "lz_carry.h"

typedef struct {
  double mg; // 0 = none waits
  lzq_minute at;
} LzNewWater;

// What waits at a minute in new water that no change on record has brought in, of a day; steps of
// one analyte up to that minute.
LzNewWater lz_new_water(LzModel *model, const GArray *steps, lzq_minute at);

#endif
