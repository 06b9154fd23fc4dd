// SPDX-License-Identifier: GPL-3.0-or-later
// Room in a water: the fish that live in it and what they weigh, beside what the station allows
// (fields max_heads and max_g_per_l of the system). How many fish a litre may hold depends on the
// filter and the species, so there is no figure of ours: a lead sets it, or none holds.
#ifndef LZ_ROOM_H
#define LZ_ROOM_H

#include "lz_desk.h"

typedef struct {
  int heads, weighed; // weighed: of these, the fish whose weight is known
  double grams;       // of those that were weighed
} LzCrowd;

// Living fish in that system now, by the record.
LzCrowd lz_room_now(LzDesk *desk, uint32_t system);

// "Fits: ..." or "Over by ...", one line per limit, for the fish that are there and those to come
// (NULL = none); "" where the system has no limit. over: whether a limit is passed; may be NULL.
char *lz_room_words(LzDesk *desk, uint32_t system, const LzCrowd *coming, gboolean *over);

#endif
