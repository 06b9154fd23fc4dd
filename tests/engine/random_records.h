// SPDX-License-Identifier: GPL-3.0-or-later
// What happens in a random station: drawn in the order of time, then entered in a disturbed order.
#ifndef LZT_RANDOM_RECORDS_H
#define LZT_RANDOM_RECORDS_H

#include "random_station.h"

// The works edge around which values of an analyte are drawn.
double lzt_usual_level(lzq_analyte analyte);

// Fills records, until and known_id; waters, instruments, protocols and lots are there already.
void lzt_random_records(lzt_prng *prng, const lzt_wish *wish, lzt_history *history);

// Neighbours in the order of entry change places.
void lzt_disturb(lzt_prng *prng, lzt_history *history);

// A correction of one of the entries so far.
void lzt_draw_correction(lzt_prng *prng, lzt_history *history);

#endif
