// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: a file of this PC's own as memory, so that what nobody looks at stays on the
// disk. What is written there stays in this process; the file never changes by it. Behind the
// file's bytes there is room to go on.
//
// A file that is mapped may be renamed over or deleted. One that is cut short meanwhile, or whose
// disk fails, can not be read any more: the process then ends as at a power cut, after it has
// deleted the file, so that the next one opens without it. Nothing acknowledged is lost.
#ifndef LZ_MAPPED_H
#define LZ_MAPPED_H

#include <glib.h>

typedef struct {
  char *bytes;
  gsize size; // bytes that may be read and written, the room with them
  char *path; // of the file; it is only deleted
} LzMapped;

// `size` bytes of the file from `from` (a multiple of LZ_MAPPED_UNIT), and `room` behind them. NULL
// = it cannot be mapped.
#define LZ_MAPPED_UNIT ((gsize)65536)
LzMapped *lz_mapped_new(int fd, gsize from, gsize size, gsize room, const char *path);
void lz_mapped_free(LzMapped *mapped); // NULL is harmless
// Reads `size` bytes from `at` (a multiple of LZ_MAPPED_UNIT) from the disk. FALSE = they cannot be
// read.
gboolean lz_mapped_read(LzMapped *mapped, gsize at, gsize size);
// These bytes were looked at and nothing was written there: they need not stay in memory.
void lz_mapped_rest(LzMapped *mapped, gsize at, gsize size);

#endif
