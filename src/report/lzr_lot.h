// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a lot's treatment record, in the order in which they are printed.
#ifndef LZR_LOT_H
#define LZR_LOT_H

#include "lzr_stay.h"

typedef struct {
  uint32_t lot;
  const LzLotInfo *info;
  const lzq_lot_credit *credit; // NULL: the engine refused
  GArray *stays;                // LzrStay
} LzrLot;

// Medicines used, everything given, water changed.
void lzr_lot_given(LzrBuild *build, const LzrLot *lot);
// Levels measured, and estimated between the readings.
void lzr_lot_levels(LzrBuild *build, const LzrLot *lot);
// Phases served, with the gaps and why; the chart.
void lzr_lot_credit(LzrBuild *build, const LzrLot *lot);
// The band of the last counted phase that had one for copper, else salinity; NULL if none had.
const lzq_band *lzr_lot_band(LzrBuild *build, const LzrLot *lot);
// Sightings that the lot was in contact with; what was found short of it.
void lzr_lot_contacts(LzrBuild *build, const LzrLot *lot);
void lzr_lot_shorts(LzrBuild *build, const LzrLot *lot);
// What was photographed at sightings and scrapes; nothing if there is nothing.
void lzr_lot_photos(LzrBuild *build, const LzrLot *lot);

#endif
