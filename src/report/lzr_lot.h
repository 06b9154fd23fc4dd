// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a lot's treatment record, in the order in which they are printed.
#ifndef LZR_LOT_H
#define LZR_LOT_H

#include "lzr_stay.h"

// A lot whose record these fish have a part in: their own, that of the lot that they were taken off
// (until then), that of a lot that joined them (until then).
typedef struct {
  uint32_t lot;
  GArray *stays;    // LzrStay, all of that lot
  lzq_minute until; // what happened before it counts; LZQ_NEVER for the lot itself
  int64_t before;   // entry that ended it: of one minute, what was entered before it counts
  gboolean some;    // only some of the fish were in it: they joined
} LzrPart;

// A stay in a phase as the engine counts it; `lot`: whose credit holds it.
typedef struct {
  lzq_visit visit;
  uint32_t lot;
} LzrVisit;

typedef struct {
  uint32_t lot;
  const LzLotInfo *info;
  const lzq_lot_credit *credit; // NULL: the engine refused
  GArray *stays;                // LzrStay, its own
  GArray *parts;                // LzrPart, itself first
  GArray *way;    // LzrStay by time: where all of these fish stood, before a split too
  GArray *visits; // LzrVisit by start, before a split too
  GArray *spans;  // lzq_span by time; its visit is an index into visits
} LzrLot;

// lzr_lot_family.c: everything but `info`. Clear after use.
void lzr_lot_open(LzrBuild *build, uint32_t lot, LzrLot *out);
void lzr_lot_clear(LzrLot *lot);
// The part of the record that an entry belongs to, NULL = none.
const LzrPart *lzr_lot_part(LzrBuild *build, const LzrLot *lot, LzEntry *fact);
// As lzr_lot_facts, of all parts, each entry once.
GPtrArray *lzr_family_facts(LzrBuild *build, const LzrLot *lot, const char *kind);
// "lot A" where it was told of another lot of the family, else NULL.
const char *lzr_as_words(LzrBuild *build, const LzrLot *lot, LzEntry *fact);

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
