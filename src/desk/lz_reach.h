// SPDX-License-Identifier: GPL-3.0-or-later
// Every lot that a bottle, or all bottles of one batch, reached: by doses into its water, baths and
// feed; and the lots in which those fish went on since, by a split or a merge. What a recall of a
// batch asks for.
#ifndef LZ_REACH_H
#define LZ_REACH_H

#include "lz_desk.h"

typedef struct {
  uint32_t lot, bottle; // engine indices
  uint32_t as;          // lot that its fish were when it first reached them, LZQ_NONE = this one
  lzq_minute first, last;
  int32_t times, heads; // how often; how many fish stood there the last time, or came later
  double mg;            // given to its water, its bath or its feed, in all
} LzReach;

// LzReach elements by bottle, then lot; batch as on the label, or a bottle's number. Empty where
// nothing was given from it.
GArray *lz_desk_reached(LzDesk *desk, const char *batch_or_bottle);
// Whether the station has a bottle of that batch, or of that number: that nothing was given of a
// mistyped one is no answer to a recall.
gboolean lz_desk_has_batch(LzDesk *desk, const char *batch_or_bottle);

#endif
