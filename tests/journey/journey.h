// SPDX-License-Identifier: GPL-3.0-or-later
// What every journey program shares: one suite, one case, its tests from a list.
#ifndef JOURNEY_H
#define JOURNEY_H

#include <check.h>

#include "../command/cases.h"
#include "stage.h"

// Runs the tests and returns the exit status.
int journey_run(const char *suite, const TTest *const *tests);

// What `lazaretctl plan` gives for a lot's phase: the cell of a column in its row of that kind.
char *journey_plan(Ctl *c, const char *at, const char *phase, const char *what, const char *column);

// A number of an exported table's row.
double journey_number(const Table *table, guint row, const char *column);

#endif
