// SPDX-License-Identifier: GPL-3.0-or-later
// The options that say who does an act, when and why: one set for an act that is entered and for
// one that is only asked about.
#ifndef LZC_ACT_H
#define LZC_ACT_H

#include "lzc.h"

typedef struct {
  char *happened, *who, *witness, *reason, *entity, *readback; // NULL = not given
  gint64 corrects;                                             // 0 = nothing
  gboolean voided;
} LzcActOptions;

void lzc_act_clear(LzcActOptions *o);

// lzc_options with these beside the verb's own `entries` (an array that ends with {NULL}).
gboolean lzc_act_options(const char *verb, const char *rest, const char *summary,
                         const GOptionEntry *entries, LzcActOptions *o, int *argc, char ***argv,
                         int *status);

// Puts what was given into the command.
void lzc_act_apply(LzDesk *desk, const LzcActOptions *o, LzCommand *command);

#endif
