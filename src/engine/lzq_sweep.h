// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: how one sweep is made (lzq_sweep.c) for the table of them (lzq_effect.c).
#ifndef LZQ_SWEEP_H
#define LZQ_SWEEP_H

#include "lzq_effect.h"

// A reading as the band sees it.
typedef struct {
  lzq_minute at;
  double low, high; // with the error where it must lie inside, else both the value
  bool good;
} lzq_spoken;

// Arrays that one sweep after another is made in.
typedef struct {
  lzq_spoken *spoken;
  size_t spoken_capacity;
  uint8_t *back;
  size_t back_capacity;
  lzq_run *runs;
  size_t runs_capacity;
} lzq_sweep_scratch;

// LZQ_NO_MEMORY leaves *out as it was.
lzq_status lzq_sweep_make(const lzq_track_system *system, const lzq_band *band,
                          lzq_sweep_scratch *scratch, lzq_arena *arena, lzq_sweep *out);

#endif
