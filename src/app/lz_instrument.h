// SPDX-License-Identifier: GPL-3.0-or-later
// What an instrument measures, in words.
#ifndef LZ_INSTRUMENT_H
#define LZ_INSTRUMENT_H

#include <lz_rows.h>

// "copper (all), pH": what its kind says, the forms of copper that it sees, and what it read in the
// last ninety days; "–" = nothing is known. Newly allocated.
char *lz_instrument_measures(LzDesk *desk, const LzInstrumentInfo *info);

#endif
