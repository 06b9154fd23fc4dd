// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: where every lot stood, by the record alone, in one walk over what moved them.
#ifndef LZ_STAYS_H
#define LZ_STAYS_H

#include "lz_model.h"

// Minutes from .. to-1 of one lot in one tank. `to` LZQ_NEVER = it stands there still.
typedef struct {
  uint32_t lot, system, tank;
  lzq_minute from, to;
  int64_t in, out; // entries that brought it and took it away; out 0 = still there
  int32_t heads;   // when it came
} LzStay;

// By lot, then time, from the records up to and including `until`. A reference (transfer full) to
// what is kept for the next who asks: nobody changes it.
GArray *lz_stays(LzModel *model, lzq_minute until);
// Where the stays of a lot, or of those behind it, begin.
guint lz_stays_of(const GArray *stays, uint32_t lot);

#endif
