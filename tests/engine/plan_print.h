// SPDX-License-Identifier: GPL-3.0-or-later
// A plan or a credit as text, every field and every bit of every number, for tests that two of them
// are the same.
#ifndef LZT_PLAN_PRINT_H
#define LZT_PLAN_PRINT_H

#include "lz_engine.h"

// Texts to be freed by the caller. Aborts without memory.
char *lzt_print_credit(const lzq_credit *credit);
char *lzt_print_plan(const lzq_plan *plan, uint32_t n_systems);

// The first line in which they differ, in a buffer of the function; NULL = none.
const char *lzt_print_difference(const char *a, const char *b);

#endif
