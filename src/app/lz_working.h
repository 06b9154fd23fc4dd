// SPDX-License-Identifier: GPL-3.0-or-later
// How an amount is worked out, line by line, so that a person can check it with a pencil.
#ifndef LZ_WORKING_H
#define LZ_WORKING_H

#include <lz_desk.h>

typedef struct {
  char *what, *how, *value; // "Now in the water", "0.483 mg/L × 1 530 L", "739 mg"; how may be NULL
  gboolean result;          // the line under the rule
} LzWorkingLine;

// LzWorkingLine elements, owned by the array; empty where nothing is computed.
GPtrArray *lz_working_dose(LzDesk *desk, const LzDoseAdvice *advice);
// Of a task: a dose as above; a change, its litres and levels.
GPtrArray *lz_working_task(LzDesk *desk, const lzq_task *task);

// The same as one text for a screen reader: "what value; what value".
char *lz_working_spoken(GPtrArray *lines);

#endif
