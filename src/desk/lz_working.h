// SPDX-License-Identifier: GPL-3.0-or-later
// How an amount is worked out, line by line, so that a person can check it with a pencil: the
// engine's codes and numbers in words, alike in the window, on the command line and on paper.
#ifndef LZ_WORKING_H
#define LZ_WORKING_H

#include <lzq_dose.h>

#include "lz_desk.h"

typedef struct {
  char *what, *how, *value; // "To add", "1 800 L × (0.5 − 0.44) mg/L", "108 mg"; how may be ""
  gboolean result;          // the amount that is asked for
} LzWorkingLine;

// LzWorkingLine elements, owned by the array.
GPtrArray *lz_working_new(void);
void lz_working_add(GPtrArray *lines, const char *what, const char *how, const char *value,
                    gboolean result);
// Appends the engine's lines. `unit` is that of levels ("mg/L", "" for salinity), `tool_unit` that
// of what is measured ("mL", "g").
void lz_working_append(GPtrArray *lines, const lzq_working *working, const char *unit,
                       const char *tool_unit);

// The dose that is advised, or what a task of the plan asks for; empty where nothing is worked out.
GPtrArray *lz_working_dose(LzDesk *desk, const LzDoseAdvice *advice);
GPtrArray *lz_working_task(LzDesk *desk, const lzq_task *task);

// What one starts from to work that dose out alone: volume, level, target, strength. No result.
GPtrArray *lz_working_given(LzDesk *desk, const LzDoseAdvice *advice);

// The same as one text for a screen reader: "what how value; what how value".
char *lz_working_spoken(GPtrArray *lines);

#endif
