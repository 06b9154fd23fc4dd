// SPDX-License-Identifier: GPL-3.0-or-later
// Ways on after a sighting, and ways out where no water serves two lots: what could be entered, and
// what each would cost. Nothing of it starts by itself; a person takes one to its form.
#ifndef LZ_WAYS_H
#define LZ_WAYS_H

#include "lz_foresee.h"

typedef struct {
  char *words;            // "Treat in place", "Lot B moves to Coral-4"
  char *caution;          // of its protocol, what it needs; "" = nothing
  GPtrArray *commands;    // LzCommand that would be entered, one for each lot
  LzForesight *foresight; // NULL = it would be refused
  char *refusal;          // why; NULL
  lzq_minute release;     // the last of its lots, LZQ_NEVER = cannot be said
  double days, fish_days; // later: of the lot that waits longest, of all. NAN = one has no date
} LzWay;

// Every protocol of the station (its newest version) for these lots (uint32_t); the earliest
// release first, what would be refused last. Later than as things stand. LzWay elements.
GPtrArray *lz_ways_on(LzDesk *desk, const GArray *lots);
// For the two lots that no level of that water serves: one moves to water without fish, goes over
// to the other's protocol, or its own is stopped. Only those after which a level serves that water,
// the cheapest in fish-days first, those that leave a lot without a date last. As things stand no
// lot there has a date, so the cost is what it comes to beyond having that water alone, of every
// lot there. Empty if there is no conflict.
GPtrArray *lz_ways_out(LzDesk *desk, uint32_t system);

#endif
