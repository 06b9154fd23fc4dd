// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of the register that add up: medicines by bottle, and what was thrown away.
#ifndef LZR_REGISTER_H
#define LZR_REGISTER_H

#include "lzr_sheet.h"

// A table that is begun by its first row.
typedef struct {
  LzrBuild *build;
  const lzd_column *columns;
  guint n;
  gboolean open;
} LzrRows;

void lzr_rows_begin(LzrRows *rows);

// Water or tank that a fact names, else where its lot stood then.
const char *lzr_where(LzrBuild *build, LzEntry *fact);
// "from Dock-1/1 to Blue-1/1"
const char *lzr_move_words(LzrBuild *build, LzEntry *move);
// Lots that stood in the system at that minute: "0313, 0314".
const char *lzr_reached(LzrBuild *build, uint32_t system, lzq_minute at);

// Number of the prescription, who prescribed (with the contact), who sold it (with the address),
// the receipt: a line each.
const char *lzr_bottle_papers(LzrBuild *build, LzEntry *bottle);

// Block 6: by bottle: batch, expiry, prescription, in, given, out, and the lots that it reached.
void lzr_register_medicines(LzrBuild *build, lzq_minute from, lzq_minute until);
// Block 8: dead fish, water with medicine in it, medicines thrown away.
void lzr_register_disposals(LzrBuild *build, lzq_minute from, lzq_minute until);

#endif
