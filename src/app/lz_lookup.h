// SPDX-License-Identifier: GPL-3.0-or-later
// How the state of a row of the desk is drawn and said.
#ifndef LZ_LOOKUP_H
#define LZ_LOOKUP_H

#include <lz_desk.h>
#include <lz_draw.h>
#include <lz_rows.h>

// "Coral-4/1": the first tank of a system by name, NULL if it has none.
const char *lz_lookup_first_tank(LzDesk *desk, const char *system);
// Bits LZD_WATER_ of a system's base; 0 for none.
unsigned lz_lookup_water(LzDesk *desk, uint32_t system);
unsigned lz_water_bits(const LzSystemInfo *system);

// The band mark of a level: its sign, and the word beside it.
lzd_mark lz_band_sign(LzMark mark);
const char *lz_band_word(LzMark mark);
// The same where an edge has a side: a level on its band's upper or lower edge.
lzd_mark lz_band_sign_at(LzMark mark, const lzq_band *band, double level);
// The station as described now; NULL before it is set up. Owned by the desk.
LzEntry *lz_lookup_station(LzDesk *desk);

#endif
