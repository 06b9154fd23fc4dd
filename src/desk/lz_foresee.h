// SPDX-License-Identifier: GPL-3.0-or-later
// What commands would change for every lot, before anybody confirms: the plan of the station as if
// they were on record, against the plan without them. Nothing is written.
#ifndef LZ_FORESEE_H
#define LZ_FORESEE_H

#include "lz_desk.h"

typedef struct {
  char *lot;
  uint32_t index;           // engine's; beyond the snapshot's lots for one that would be new
  GArray *segments;         // lzq_segment: its way as it would be
  lzq_minute before, after; // earliest release; LZQ_NEVER = cannot be said
  lzq_minute late;          // latest release as it would be
  int64_t later_min;        // 0 where one of them cannot be said
  int32_t heads;
  double fish_days; // later days times fish
  gboolean added;   // had no course before
  char *because;    // what decides the new date
} LzShift;

typedef struct {
  GPtrArray *lots; // LzShift, only those that move or are new
  double fish_days;
  GPtrArray *conflicts; // char *, systems that no level serves any more
  GPtrArray *unserved;  // char *, all that no level would serve, those from before too
  GPtrArray *rooms;     // char *, other systems of that role without fish, where
                        // what comes or moves in would delay nobody; empty if it delays nobody
  GPtrArray *contacts;  // char *, lots that a sighting among the commands makes contacts of
  GPtrArray *notes;     // char *, what would be said of the commands beside that
} LzForesight;

// The plans are of now, or of the last command where that lies ahead. NULL: refused, as
// lz_desk_check. Names, zone and snapshot that were asked for before are void afterwards, as after
// a "changed"; plan and rows stay.
LzForesight *lz_desk_foresee(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error);
// The same if nothing were tested, dosed or moved until that minute: the lots that stand in that
// water now (LZQ_NONE: all).
LzForesight *lz_desk_foresee_missed(LzDesk *desk, uint32_t system, lzq_minute until,
                                    GError **error);
void lz_foresight_free(LzForesight *foresight);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LzForesight, lz_foresight_free)

#endif
