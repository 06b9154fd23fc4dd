// SPDX-License-Identifier: GPL-3.0-or-later
// Inside of the oracle: the record as known, and what a water says about a minute.
#ifndef LZT_ORACLE_PARTS_H
#define LZT_ORACLE_PARTS_H

#include "lzq_credit.h"

// A record that counts, with its place in the order of entry and the volume in force at it.
typedef struct {
  const lzq_record *r;
  uint64_t order;
  double volume;          // of r->system, where it names one
  lzq_minute at;          // in which it acts: r->at, but for a dose that waits in new water
  double amount;          // r->amount, but for what runs out again of a dose in new water
  const lzq_record *with; // the change that brings it in, NULL
  uint64_t with_order;
} lzt_event;

typedef struct {
  const lzq_snapshot *snap;
  lzt_event *events; // in the order in which they act
  size_t n;
} lzt_known;

lzt_known lzt_known_make(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until);

// Doses in new water act with the change that brings them in (lzq_new_water.h, the definition).
void lzt_new_water(lzt_known *known);

// A minute with a reading that exists for a band: the worst values that it may mean.
typedef struct {
  lzq_minute at;
  double low, high;
} lzt_serving;

// What one water offers to one band.
typedef struct {
  const lzq_band *band;
  uint32_t system;
  lzt_serving *servings; // rising minutes
  size_t n_servings;
  lzt_event *events; // of that water that change levels, in the order in which they act
  size_t n_events;
} lzt_water;

typedef struct {
  lzq_why why;          // LZQ_WHY_NONE = earns
  lzq_minute confirmed; // LZQ_NEVER = open
} lzt_word;

lzt_water lzt_water_make(const lzt_known *known, uint32_t system, const lzq_band *band);

// The word of that water and band on minute t.
lzt_word lzt_water_judge(const lzt_water *water, lzq_minute t);

void *lzt_zeroed(size_t count, size_t size);

#endif
