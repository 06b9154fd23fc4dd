// SPDX-License-Identifier: GPL-3.0-or-later
// Where a lot stood and what was written about it: receipts, splits and moves of the ledger in
// force, told as stays in waters.
#ifndef LZR_STAY_H
#define LZR_STAY_H

#include "lzr_chart.h"

// Stays of a lot by time (LzrStay); the last one's `to` is LZQ_NEVER while the fish are there.
GArray *lzr_stays(LzrBuild *build, uint32_t lot);
// TRUE if the lot stood in the system at that minute.
gboolean lzr_stood_in(const GArray *stays, uint32_t system, lzq_minute at);
// TRUE if an entry names the lot, or (the water's own: dose, change, reading ...) falls into its
// stays, or is the merge of another lot into it.
gboolean lzr_lot_has(LzrBuild *build, uint32_t lot, const GArray *stays, LzEntry *fact);
// Facts of a kind for which that holds. LzEntry elements, by time.
GPtrArray *lzr_lot_facts(LzrBuild *build, uint32_t lot, const GArray *stays, const char *kind);
// The entry that made the lot: its receipt, or the split that took it off another.
LzEntry *lzr_origin(LzrBuild *build, uint32_t lot);
// Its receipt; of a lot split off, the receipt of the lot that it came from.
LzEntry *lzr_receipt(LzrBuild *build, uint32_t lot);

#endif
