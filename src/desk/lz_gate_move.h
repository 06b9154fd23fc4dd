// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: the parts of the gate in front of fish that are carried from one water to
// another.
#ifndef LZ_GATE_MOVE_H
#define LZ_GATE_MOVE_H

#include "lz_check.h"

// A stop, unless there is a reason on record; then it is a note. Takes the words.
void lz_gate_move_stop(LzDraft *draft, char *words);

// The credit of every lot at the minute of the act, in arena; NULL = there is not enough memory.
const lzq_credit *lz_gate_credit(LzDraft *draft, lzq_arena *arena);

// lz_gate_match.c: by the phase's tolerances; NULL = it is under no course.
void lz_gate_match(LzDraft *draft, uint32_t from, uint32_t to, const lzq_phase *phase);

// lz_gate_share.c: notes on what it means for the lot, and for those that live there, that it comes
// into a water. lot NULL = it is being received.
void lz_gate_share(LzDraft *draft, const LzEntity *lot, uint32_t to, const lzq_credit *credit);

#endif
