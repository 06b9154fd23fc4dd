// SPDX-License-Identifier: GPL-3.0-or-later
// Invented stations of any size under the station's main protocol, in the middle of their hold on
// 9 March 2027.
#ifndef FULL_STATION_H
#define FULL_STATION_H

#include "ctl.h"

// n systems Blue-1 .. of treatment and `lots` lots 0401 .. spread over their tanks, on complexed
// copper with lowered salinity since 1 March. The first three waters read too low or too high.
Ctl *full_station(int systems, int lots);
// A bare station of one system and one lot without any reading, all its texts as given.
Ctl *bare_station(const char *system, const char *lot, const char *species);

#endif
