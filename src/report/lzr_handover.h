// SPDX-License-Identifier: GPL-3.0-or-later
// The two halves of the handover: what stands and is to be done, and what was done and seen.
#ifndef LZR_HANDOVER_H
#define LZR_HANDOVER_H

#include "lzr_sheet.h"

enum { LZR_TASKS_MAX = 12 };

// Since when the sheet tells: the last handover within a day, else twelve hours.
lzq_minute lzr_shift_start(LzrBuild *build);
const char *lzr_mark_word(LzMark mark);
// Blocks 3 to 5: moves done and forbidden, deaths and signs, shipments.
void lzr_handover_facts(LzrBuild *build);

#endif
