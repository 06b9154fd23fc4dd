// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of properties share: two histories, before and after a change, and the engine's
// answers.
#ifndef LZT_PROPERTY_KIT_H
#define LZT_PROPERTY_KIT_H

#include <check.h>

#include "random_station.h"

#include "lzq_credit.h"

extern lzt_history before, after;
extern lzt_prng prng;
extern uint64_t first_seed, stations; // LZ_SEED, LZ_STATIONS

// The answer of the engine on a history, kept until the next answer in the same place.
typedef struct {
  lzq_arena arena;
  const lzq_credit *credit;
} answer;
extern answer was, is; // of before, of after

#define BIT(kind) (1u << (kind))
#define WATER_EVENTS                                                                               \
  (BIT(LZQ_REC_VOLUME) | BIT(LZQ_REC_CHANGE) | BIT(LZQ_REC_TOPUP) | BIT(LZQ_REC_DOSE) |            \
   BIT(LZQ_REC_GEAR))

// Asks the engine; fails the test where it refuses.
void ask(answer *a, const lzt_history *history);

// after = before.
void copy_station(void);

// Takes out the records of those kinds (bits).
void strip(lzt_history *history, uint32_t kinds);

// Draws `before`: a station in which "worse" has one meaning: bands at or above, a sighting that
// never goes back further than an earlier phase's, no place that depends on where the lot stood,
// nothing carried over into another course, nothing accepted, nothing corrected; and without
// records of those kinds.
void draw_station(uint64_t seed, uint32_t without);

// One of the records of that kind, or NULL.
lzq_record *some_record(lzt_history *history, lzq_record_kind kind);

// A new entry at the end of the record.
lzq_record *enter(lzt_history *history, lzq_record_kind kind, lzq_minute at);

lzq_minute some_minute(const lzt_history *history);

// Runs the tests of one program; returns its exit status.
typedef struct {
  const char *name;
  const TTest *test;
} property;
int run_properties(const char *suite, const property *properties, size_t n);

#endif
