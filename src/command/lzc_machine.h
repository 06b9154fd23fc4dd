// SPDX-License-Identifier: GPL-3.0-or-later
// The words of tables for machines: they never change with the language. "" for none.
#ifndef LZC_MACHINE_H
#define LZC_MACHINE_H

#include <lz_desk.h>

const char *lzc_word_analyte(lzq_analyte analyte); // as `record reading` takes it: "copper"
const char *lzc_word_unit(lzq_unit unit);          // "mL", "L", "g", "kg", "heads", "min"
const char *lzc_word_task(lzq_task_kind kind);     // "test", "dose", "change" ...
const char *lzc_word_because(lzq_because_code code);
const char *lzc_word_contact(lzq_contact_how how); // "water", "moved_out", "nets" ...

// A computed number with a point: ten digits, "" when it cannot be said. Newly allocated.
char *lzc_number(double value);

#endif
