// SPDX-License-Identifier: GPL-3.0-or-later
// A station with one water, "Blue-1" of 2,400 L, a photometer P1 of +-0.01 mg/L and a house
// protocol of ionic copper 0.18 to 0.21, aim 0.19, longest test gap 24 h (common practice, no
// source).
#ifndef HOUSE_H
#define HOUSE_H

#include "lab.h"

// On 1 March 2027, 06:00. Closed by lab_close.
void house_open(Lab *lab);
void house_reopen(Lab *lab); // MK acts again
// Lot 0412 of 30 fish, under the protocol from a local time on.
void house_course(Lab *lab, const char *at);
// Copper by P1 at a local time; its id.
int64_t house_read(Lab *lab, const char *at, const char *value);

#endif
