// SPDX-License-Identifier: GPL-3.0-or-later
// What whoever takes over must have read, one sentence a line, the most urgent first: the same
// blocks as on the printed sheet, without its tables.
#ifndef LZ_HANDOVER_LINES_H
#define LZ_HANDOVER_LINES_H

#include <lz_desk.h>

GPtrArray *lz_handover_lines(LzDesk *desk); // of char *, owned by the array; never empty

#endif
