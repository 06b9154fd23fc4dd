// SPDX-License-Identifier: GPL-3.0-or-later
// Every gate of the program: what it stops, why, on whose word, what to do instead, and who may
// lift it. docs/gates.md prints the same table, and a test compares the two.
#ifndef LZ_GATES_H
#define LZ_GATES_H

#include <glib.h>

typedef enum {
  LZ_GATED_OPEN_DOSE,
  LZ_GATED_UNKNOWN,
  LZ_GATED_DOUBTED,
  LZ_GATED_SLIP,
  LZ_GATED_HARM,
  LZ_GATED_LARGE,
  LZ_GATED_SMALL,
  LZ_GATED_NOT_PLANNED,
  LZ_GATED_FORM,
  LZ_GATED_SPECIES,
  LZ_GATED_NO_DATA,
  LZ_GATED_NEVER_MEET,
  LZ_GATED_DOUBTFUL,
  LZ_GATED_EQUIPMENT,
  LZ_GATED_METHOD,
  LZ_GATED_EXPIRED,
  LZ_GATED_PRESCRIPTION,
  LZ_GATED_STATION_LIMIT,
  LZ_GATED_PUBLISHED_LIMIT,
  LZ_GATED_TOO_SOON,
  LZ_GATED_SALINITY_STEP,
  LZ_GATED_TOO_MUCH_WATER,
  LZ_GATED_COUNTED_TWICE,
  LZ_GATED_MOVE,
  LZ_GATED_SEEN,
  LZ_GATED_BATH,
  LZ_GATED_ALONE,
  LZ_GATED_DISAGREE,
  LZ_GATED_BASIS,
  LZ_GATED_UNLIKELY,
  LZ_N_GATES
} LzGateCode;

typedef enum {
  LZ_LIFT_NOBODY,
  LZ_LIFT_SECOND_PERSON, // another person agrees and is recorded
  LZ_LIFT_REASON,        // whoever acts, with a reason on record
  LZ_LIFT_AGAIN,         // whoever acts, by typing the amount again
  LZ_LIFT_KEPT,          // nothing is stopped: kept, and not used
} LzLift;

typedef struct {
  const char *id;                            // machine's word: "open_dose"
  const char *what, *why, *source, *instead; // English msgids
  LzLift lift;
} LzGateRule;

const LzGateRule *lz_gate_rule(LzGateCode code);
const char *lz_gate_lift(LzLift lift); // English msgid: "nobody"

#endif
