// SPDX-License-Identifier: GPL-3.0-or-later
// What nobody doses but every fish lives in: un-ionised ammonia, nitrite, pH, oxygen, and what the
// biofilter has proven; each with what it means for the fish now, and on what that rests. The
// formulas are the engine's (lzq_ammonia.h, lzq_oxygen.h, lzq_biofilter.h).
#ifndef LZ_OTHER_WATER_H
#define LZ_OTHER_WATER_H

#include "lz_desk.h"

typedef enum {
  LZ_CONCERN_UNKNOWN, // read, but something is missing that it would take to judge it
  LZ_CONCERN_NONE,
  LZ_CONCERN_WATCH,
  LZ_CONCERN_ACT
} LzConcern;

typedef struct {
  const char *code;   // for machines: ammonia_unionised, nitrite, ph, oxygen, biofilter
  const char *name;   // for people
  double value;       // NAN = cannot be said
  double low, high;   // what the errors of its readings leave open; NAN = nobody states one
  const char *unit;   // "" for pH
  int decimals;       // that are worth showing
  lzq_minute read_at; // of its oldest reading
  gboolean as_read;   // a reading itself; FALSE = worked out of readings
  LzConcern concern;
  char *meaning; // one or two sentences, with their source
} LzOtherWater;

// By the last good readings at or before `at`; only what has been read. LzOtherWater, freed with
// the array.
GPtrArray *lz_desk_other_water(LzDesk *desk, uint32_t system, lzq_minute at);

#endif
