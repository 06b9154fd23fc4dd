// SPDX-License-Identifier: GPL-3.0-or-later
// Stations of the cases that are about several lots and dates: E (new fish into shared water) and F
// (a spot on day ten). Invented; every figure follows from the inputs.
#ifndef SCENES_H
#define SCENES_H

#include "journey.h"

// Coral-3 and Coral-4 for finishing, hold of 30 days without a band, last-in rule; lot A of 140
// fish in Coral-3/1 since 1 May 2027 09:00 local.
Ctl *scene_shared_water(void);
// Pearl-2: lot P of 24 fish under fourteen days of observation since 8 June 2027 09:00 local, and
// Q of 10 beside it; N of 12 fish went on from Pearl-2 into Pearl-3 on 15 June. Protocols "Treat in
// place" (4 + 21 + 1 + 14 days) and "Four transfers" (12 + 14 days) to choose from.
Ctl *scene_observation(void);
// Blue-1 for treatment: lot A of 30 fish under fourteen days at 0.45 mg/L copper or more (longest
// gap 16 h) since 3 March 2027 08:00 local, read 0.50 at 09:00 by a photometer.
Ctl *scene_hold(void);
// One day of copper in Blue-1, then a watch in Gold-1. Lot A of 30 fish went on there on 2 March
// 2027 09:00 local; the reading of 08:00 was then corrected below the band, which leaves the day 12
// hours short. The station lets a person accept 720 minutes.
Ctl *scene_left_short(void);
// Blue-1 and Blue-2 for treatment; in Blue-1 since 1 March 2027 09:00 local lot A of 30 fish, which
// needs copper from 0.45 mg/L up, and lot B of 20, which needs at most 0.02: no level serves both.
Ctl *scene_conflict(void);

#endif
