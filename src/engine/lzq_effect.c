// SPDX-License-Identifier: GPL-3.0-or-later
// The table of sweeps: one for each pair of a water and a distinct band, made when first asked for.
#include "lzq_effect.h"

#include <string.h>

#include "lzq_sort.h"
#include "lzq_sweep.h"

typedef struct {
  uint64_t key; // system and band, 0 = free
  lzq_sweep sweep;
} entry;

struct lzq_effects {
  const lzq_snapshot *snapshot;
  lzq_arena *arena;
  const lzq_track *track;
  uint32_t *band_id; // by phase and band: equal bands share one, counted from 1
  uint32_t wanted;
  entry **table;
  size_t table_size, n; // a power of two
  lzq_sweep_scratch scratch;
};

static uint64_t
bits_of(double value)
{
  uint64_t bits;
  memcpy(&bits, &value, sizeof bits);
  return bits;
}

// What of a band decides about credit.
static uint64_t
band_hash(const lzq_band *band)
{
  uint64_t hash = lzq_hash((uint64_t)band->analyte << 40 | (uint64_t)band->form << 36 |
                           (uint64_t)band->side << 33 | (uint64_t)band->error_inside << 32 |
                           (uint32_t)band->gap_min);
  hash = lzq_hash(hash ^ bits_of(band->works));
  return lzq_hash(hash ^ (band->side == LZQ_BETWEEN ? bits_of(band->works_high) : 0));
}

static bool
same_band(const lzq_band *a, const lzq_band *b)
{
  return a->analyte == b->analyte && a->form == b->form && a->side == b->side &&
         a->error_inside == b->error_inside && a->gap_min == b->gap_min && a->works == b->works &&
         (a->side != LZQ_BETWEEN || a->works_high == b->works_high);
}

static bool
name_bands(lzq_effects *e)
{
  const lzq_snapshot *snapshot = e->snapshot;
  size_t size = 16;
  while (size < (size_t)snapshot->n_phases * LZQ_MAX_BANDS * 2)
    size *= 2;
  const lzq_band **seen = LZQ_NEW(e->arena, const lzq_band *, size);
  uint32_t *seen_id = LZQ_NEW(e->arena, uint32_t, size);
  e->band_id = LZQ_NEW(e->arena, uint32_t, (size_t)snapshot->n_phases * LZQ_MAX_BANDS);
  if (!seen || !seen_id || !e->band_id)
    return false;
  uint32_t n = 0;
  for (uint32_t p = 0; p < snapshot->n_phases; p++)
    for (uint32_t b = 0; b < snapshot->phases[p].n_bands; b++) {
      const lzq_band *band = &snapshot->phases[p].bands[b];
      size_t i = band_hash(band) & (size - 1);
      while (seen[i] && !same_band(seen[i], band))
        i = (i + 1) & (size - 1);
      if (!seen[i]) {
        seen[i] = band;
        seen_id[i] = ++n;
      }
      e->band_id[(size_t)p * LZQ_MAX_BANDS + b] = seen_id[i];
      e->wanted |= 1u << band->analyte;
    }
  return true;
}

lzq_effects *
lzq_effects_new(const lzq_snapshot *snapshot, lzq_arena *arena)
{
  lzq_effects *e = LZQ_NEW(arena, lzq_effects, 1);
  if (!e)
    return NULL;
  e->snapshot = snapshot;
  e->arena = arena;
  e->table_size = 64;
  e->table = LZQ_NEW(arena, entry *, e->table_size);
  return e->table && name_bands(e) ? e : NULL;
}

uint32_t
lzq_effects_wanted(const lzq_effects *effects)
{
  return effects->wanted;
}

void
lzq_effects_track(lzq_effects *effects, const lzq_track *track)
{
  effects->track = track;
}

// Place of the key, or the free one where it belongs.
static entry **
table_place(entry **table, size_t size, uint64_t key)
{
  size_t i = lzq_hash(key) & (size - 1);
  while (table[i] && table[i]->key != key)
    i = (i + 1) & (size - 1);
  return &table[i];
}

static bool
table_grow(lzq_effects *e)
{
  const size_t size = e->table_size * 2;
  entry **table = LZQ_NEW(e->arena, entry *, size);
  if (!table)
    return false;
  for (size_t i = 0; i < e->table_size; i++)
    if (e->table[i])
      *table_place(table, size, e->table[i]->key) = e->table[i];
  e->table = table;
  e->table_size = size;
  return true;
}

const lzq_sweep *
lzq_effects_sweep(lzq_effects *effects, uint32_t system, uint32_t phase, uint32_t band)
{
  const uint32_t id = effects->band_id[(size_t)phase * LZQ_MAX_BANDS + band];
  const uint64_t key = (uint64_t)system << 32 | id;
  entry *found = *table_place(effects->table, effects->table_size, key);
  if (found)
    return &found->sweep;
  if (effects->n * 2 >= effects->table_size && !table_grow(effects))
    return NULL;
  entry *made = LZQ_NEW(effects->arena, entry, 1);
  if (!made)
    return NULL;
  made->key = key;
  if (lzq_sweep_make(&effects->track->systems[system],
                     &effects->snapshot->phases[phase].bands[band], &effects->scratch,
                     effects->arena, &made->sweep) != LZQ_OK)
    return NULL;
  *table_place(effects->table, effects->table_size, key) = made;
  effects->n++;
  return &made->sweep;
}

size_t
lzq_sweep_find(const lzq_sweep *sweep, lzq_minute t)
{
  size_t low = 0, high = sweep->n_runs;
  while (high - low > 1) {
    size_t middle = low + (high - low) / 2;
    if (sweep->runs[middle].from <= t)
      low = middle;
    else
      high = middle;
  }
  return low;
}

lzq_minute
lzq_sweep_next(const lzq_sweep *sweep, lzq_minute t)
{
  size_t low = 0, high = sweep->n_spoken;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (sweep->spoken[middle] <= t)
      low = middle + 1;
    else
      high = middle;
  }
  return low < sweep->n_spoken ? sweep->spoken[low] : LZQ_NEVER;
}
