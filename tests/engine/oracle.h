// SPDX-License-Identifier: GPL-3.0-or-later
// An independent replay of the definition of credit, minute by minute: deliberately naive, so that
// it can be read against src/engine/lzq_credit.h line by line. It shares types with the engine and
// not one line of code: it resolves corrections, sorts, carries levels and ends phases by itself.
#ifndef LZT_ORACLE_H
#define LZT_ORACLE_H

#include "lzq_credit.h"

// One lot in one minute.
typedef struct {
  int32_t visit; // index into visits, -1 = no phase runs in this minute
  uint8_t why, band;
  uint32_t system;
  lzq_minute confirmed; // of an earned minute: when it became firm, LZQ_NEVER = open
} lzt_cell;

typedef struct {
  lzq_lot_credit sum; // visits point to memory of the oracle; spans stay NULL: see cells
  lzt_cell *cells;    // minute `from` of the oracle first, n_cells of them
} lzt_oracle_lot;

typedef struct {
  lzq_minute from, until;
  size_t n_cells; // minutes from .. until-1
  uint32_t n_lots;
  lzt_oracle_lot *lots;
} lzt_oracle;

// Replays; aborts without memory. At most 64 systems. Free with lzt_oracle_free.
lzt_oracle *lzt_oracle_run(const lzq_snapshot *snapshot, uint64_t known_id, lzq_minute until);

void lzt_oracle_free(lzt_oracle *oracle);

#endif
