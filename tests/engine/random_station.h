// SPDX-License-Identifier: GPL-3.0-or-later
// Random stations with random histories, the same for the same seed: short stays of few lots in few
// waters, every kind of record, crowded minutes, corrections, and values and ages exactly on an
// edge.
#ifndef LZT_RANDOM_STATION_H
#define LZT_RANDOM_STATION_H

#include "history_file.h"
#include "prng.h"

typedef struct {
  int days;         // 1..days of history
  int lots, waters; // most of them
  int records;      // about so many
  bool corrections; // replacements, voids, changes of the minute, late entries
  bool plain;       // no moves, splits, merges, stops, other courses or releases
} lzt_wish;

// The ordinary mixture: at most 5 days, 3 lots, 2 waters; one in twenty wider.
lzt_wish lzt_wish_ordinary(lzt_prng *prng);

void lzt_random_station(uint64_t seed, const lzt_wish *wish, lzt_history *out);

#endif
