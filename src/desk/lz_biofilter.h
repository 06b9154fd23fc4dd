// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: what the biofilter of a water has proven by its record (lzq_biofilter.h), and
// whether a medicine has been given since that harms its bacteria.
#ifndef LZ_BIOFILTER_H
#define LZ_BIOFILTER_H

#include "lz_desk.h"

// Protein of food: taken as frozen food, the least that counts. Common practice, no source.
#define LZ_FOOD_PROTEIN 0.10

typedef struct {
  double mg_day; // ammonia nitrogen; 0 = nothing is proven
  lzq_minute at; // of the reading that proved it, LZQ_LONG_AGO
} LzProof;

// The most that any two successive ammonia readings of the last 60 days show.
LzProof lz_biofilter_proof(LzDesk *desk, uint32_t system, lzq_minute at);
// The last dose within a week of `at`, not before `since`, of formalin, peroxide, chloroquine or
// chlorine; LZQ_LONG_AGO = none. Schwartz et al. (2000), cold fresh water: 100 mg/L peroxide all
// but stopped nitrification, formalin did from 300 mg/L.
lzq_minute lz_biofilter_harmed(LzDesk *desk, uint32_t system, lzq_minute since, lzq_minute at);

#endif
