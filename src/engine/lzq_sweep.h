// SPDX-License-Identifier: GPL-3.0-or-later
// Private to the engine: one water seen through one band, as runs of minutes with one answer. Made
// once for each pair, kept in the book and shared by every lot that needs it.
#ifndef LZQ_SWEEP_H
#define LZQ_SWEEP_H

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

// A reading as the band sees it.
typedef struct {
  lzq_minute at;
  double low, high; // with the error where it must lie inside, else both the value
  bool good;
} lzq_spoken;

// A sweep in its scratch, until the next.
typedef struct {
  const lzq_run *runs;
  size_t n_runs;
  const lzq_spoken *spoken;
  size_t n_spoken;
} lzq_swept;

// Arrays that one sweep after another is made in, of one arena.
typedef struct {
  lzq_spoken *spoken;
  size_t spoken_capacity;
  uint8_t *back;
  size_t back_capacity;
  lzq_run *runs;
  size_t runs_capacity;
} lzq_sweep_scratch;

// Of a whole track; or of one that begins at a cut, behind the first stay: its runs are then those
// from the minute of the first of `spoken` on, and none if none has spoken. The scratch grows in
// `arena`. LZQ_NO_MEMORY leaves *out as it was.
lzq_status lzq_sweep_make(const lzq_track_system *system, const lzq_band *band, bool whole,
                          lzq_sweep_scratch *scratch, lzq_arena *arena, lzq_swept *out);

// Index of the run in which minute t lies.
size_t lzq_sweep_find(const lzq_sweep *sweep, lzq_minute t);

// How many readings up to t exist for the band.
size_t lzq_sweep_spoken(const lzq_sweep *sweep, lzq_minute t);

// Minute of the first reading after t that exists for the band, LZQ_NEVER = none.
lzq_minute lzq_sweep_next(const lzq_sweep *sweep, lzq_minute t);

#endif
