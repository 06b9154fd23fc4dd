// SPDX-License-Identifier: GPL-3.0-or-later
// Case H, a whole course under the main protocol as it ships, played through the command line.
#ifndef COURSE_H
#define COURSE_H

#include "ctl.h"

// Blue-2, Blue-3 and Green-1 of 1,800 L, bottle C-14 of 5.00 mg/mL; lot 0412 of 30 fish received
// and on its course on 1 March 2027.
Ctl *course_station(void);
// Tuesday to Thursday: salinity 34 to 21.42, copper to 0.500.
void course_rise(Ctl *c);
// Thursday evening to 18 March 17:00: one test missed, a move into Blue-3, five hours below.
void course_hold(Ctl *c);
// Copper and salinity of a system, read at one local time.
void course_read(Ctl *c, const char *system, const char *at, double copper, double salinity);

#endif
