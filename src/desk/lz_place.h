// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: where a lot stands and how many it is, by the record alone, at any minute.
#ifndef LZ_PLACE_H
#define LZ_PLACE_H

#include "lz_model.h"

typedef struct {
  uint32_t tank, system; // LZQ_NONE = nowhere
  int32_t heads;
  gboolean received, released, merged;
  gboolean counted; // its heads are known: none is dead
  lzq_minute received_at;
  uint32_t protocol; // of its course, LZQ_NONE = none
} LzPlace;

// After all records up to and including `at`.
LzPlace lz_place_of(LzModel *model, uint32_t lot, lzq_minute at);

// Whether it is there with living fish: neither released nor merged.
gboolean lz_place_lives(const LzPlace *place);

// Whether living fish stand in a water at that minute.
gboolean lz_place_any_lives(LzModel *model, uint32_t system, lzq_minute at);

#endif
