// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: one water seen through one band, as runs of minutes with one answer. Made
// once for each pair and shared by every lot that needs it.
#ifndef LZQ_EFFECT_H
#define LZQ_EFFECT_H

#include "lzq_credit.h"
#include "lzq_track.h"

// Minutes from `from` up to the next run.
typedef struct {
  lzq_minute from;
  uint8_t why; // lzq_why
  bool firm;
} lzq_run;

typedef struct {
  const lzq_run *runs; // the first begins at LZQ_LONG_AGO
  size_t n_runs;
  const lzq_minute *spoken; // minutes of the readings that exist for the band
  size_t n_spoken;
} lzq_sweep;

typedef struct lzq_effects lzq_effects;

// Bands of all phases of the snapshot, equal ones made one. NULL = no memory.
lzq_effects *lzq_effects_new(const lzq_snapshot *snapshot, lzq_arena *arena);

// Bits of the analytes that some band asks for.
uint32_t lzq_effects_wanted(const lzq_effects *effects);

// The track must live as long as the effects.
void lzq_effects_track(lzq_effects *effects, const lzq_track *track);

// Sweep of a system for band `band` of snapshot.phases[phase]; made when first asked for. Right
// from the first minute at which fish are put into the system. NULL = no memory.
const lzq_sweep *lzq_effects_sweep(lzq_effects *effects, uint32_t system, uint32_t phase,
                                   uint32_t band);

// Index of the run in which minute t lies.
size_t lzq_sweep_find(const lzq_sweep *sweep, lzq_minute t);

// Minute of the first reading after t that exists for the band, LZQ_NEVER = none.
lzq_minute lzq_sweep_next(const lzq_sweep *sweep, lzq_minute t);

#endif
