// SPDX-License-Identifier: GPL-3.0-or-later
// Stations of the acceptance cases, set up through the command line.
#ifndef CASES_H
#define CASES_H

#include "ctl.h"

// Blue-1 of 2,400 L, bottle C-07 of 1.00 mg/mL, ionic band 0.18-0.21 with target 0.19 and G 24 h,
// hold of 21 days, lapse after 12 h as said ("pause" or "restart"); lot 0412 of 30 fish received
// and on its course at 4 March 08:00.
Ctl *case_ionic(const char *lapse, const char *strength_as);
// Readings of copper in Blue-1: "yyyy-mm-dd hh:mm value" lines.
void case_read(Ctl *c, const char *lines);
// As case_read, twice a day at 08:00 and 20:00 from and up to these days of March 2027, always that
// value.
void case_read_daily(Ctl *c, int from_day, int to_day, double value);

#endif
