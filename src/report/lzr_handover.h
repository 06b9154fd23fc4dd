// SPDX-License-Identifier: GPL-3.0-or-later
// The two halves of the handover: what stands and is to be done, and what was done and seen.
#ifndef LZR_HANDOVER_H
#define LZR_HANDOVER_H

#include "lzr_sheet.h"

// Since when the sheet tells: the last handover within a day, else twelve hours.
lzq_minute lzr_shift_start(LzrBuild *build);
// "17:13" of today, "11-25 17:13" of another day: one line in any language, or a page grows.
const char *lzr_handover_clock(LzrBuild *build, lzq_minute at);
const char *lzr_mark_word(LzMark mark);
// Protocol and credit of the lot that is furthest behind in a water; NULL if none has a course.
const LzLotInfo *lzr_slowest_lot(LzDesk *desk, uint32_t system);
// "17:15, Blue-1: copper 0.490 mg/L, P2 (TA)."
const char *lzr_entry_line(LzrBuild *build, LzEntry *entry);
// Lots that may not be moved now: those that stay for one and the same reason are one line, at most
// `most` of them by name.
void lzr_lots_stay(LzrBuild *build, const lzq_plan *plan, guint most);
// Blocks 7 and 8: instruments out of check, bottles that run out or are out of date.
void lzr_handover_shelf(LzrBuild *build);
// Blocks 3 to 5: moves done and forbidden, deaths and signs, shipments.
void lzr_handover_facts(LzrBuild *build);
// Block 6: what is due before the shift after the coming one and nobody has begun, and what must
// not be done.
void lzr_not_started(LzrBuild *build);
// Copper of the last week in every water that has a band for it, small, side by side.
void lzr_copper_charts(LzrBuild *build);

#endif
