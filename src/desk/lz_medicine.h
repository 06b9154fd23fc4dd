// SPDX-License-Identifier: GPL-3.0-or-later
// What went into and out of a bottle, as pharmacy keeps it: opened with, delivered, given, thrown
// away, left.
#ifndef LZ_MEDICINE_H
#define LZ_MEDICINE_H

#include "lz_desk.h"

// In mL; a dose, a bath or a feed in mg counts by the strength of the bottle.
typedef struct {
  double opened_ml;       // NAN = not said
  double in_ml;           // delivered, or more counted than there should have been
  double given_ml;        // into water, baths and feed
  double thrown_ml;       // disposed
  double lost_ml;         // spilled, less counted, other
  double left_ml;         // at `until`, whatever `from` is; NAN = not known
  lzq_minute first, last; // given; LZQ_LONG_AGO = never
} LzMedicineUse;

// Of entries as they are in force, [from, until).
LzMedicineUse lz_desk_medicine_use(LzDesk *desk, int64_t bottle, lzq_minute from, lzq_minute until);

// What is left in a bottle at `until`, as left_ml above. Sums that went before are kept: it costs
// what was entered since.
double lz_medicine_left(LzDesk *desk, int64_t bottle, lzq_minute until);

// Which bottles are empty at a minute, for whoever picks one (lzq_bottle_pick). One of which nobody
// said how much it held is never empty.
void lz_medicine_mark_spent(LzDesk *desk, lzq_minute at);

typedef struct _LzMedicineSums LzMedicineSums; // kept by the desk, can be worked out again
LzMedicineSums *lz_medicine_sums_new(void);
void lz_medicine_sums_free(LzMedicineSums *sums);

#endif
