// SPDX-License-Identifier: GPL-3.0-or-later
// How what acts would change is printed: a line, or a CSV row, for every lot whose date moves.
#ifndef LZC_FORESIGHT_H
#define LZC_FORESIGHT_H

#include <lz_foresee.h>

#include "lzc.h"

typedef struct {
  LzDesk *desk;
  gboolean csv;
} LzcForesight;

void lzc_foresight_head(const LzcForesight *out); // of CSV
// way: a name for what is printed, "" = none. A way that moves no date has a row of its own too.
void lzc_foresight_put(const LzcForesight *out, const char *way, const LzForesight *foresight);
void lzc_foresight_refused(const LzcForesight *out, const char *way, const char *why);

#endif
