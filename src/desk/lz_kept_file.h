// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: a large file that this PC keeps for itself. It is written beside its name and
// put there whole, never changed afterwards; and it is read once and summed before anything in it
// is believed. The sum is against damage: who can write to the PC's folder can read the key that
// seals what says the sum as well.
#ifndef LZ_KEPT_FILE_H
#define LZ_KEPT_FILE_H

#include <glib.h>
#include <stdbool.h>

#include "lz_mapped.h"

#define LZ_KEPT_PART ".part" // ending while it is written

// --- writing
typedef struct _LzKeptFile LzKeptFile;

LzKeptFile *lz_kept_file_new(const char *path); // NULL = it cannot be written
// Of a LzKeptFile, as the writer of an lzq_book. Multiples of 8 bytes.
bool lz_kept_file_put(void *file, const void *bytes, gsize size);
// Ends a part of the file by zeros up to a multiple of LZ_MAPPED_UNIT; how long the file is then,
// and the sum of the part.
gsize lz_kept_file_part(LzKeptFile *file, guint64 *sum);
// Ends the last part, puts the file in its place and frees. FALSE = something failed: nothing is
// left of it.
gboolean lz_kept_file_end(LzKeptFile *file, gsize *size, guint64 *sum);

// --- reading
// One of that size, for reading; -1 = it is not there. What is no plain file is not waited for.
int lz_kept_file_open(const char *path, gsize size);

// --- the sum
typedef struct {
  guint64 lane[4];
} LzSum; // {0} to begin with

// Sums on: of what lies one behind the other, all but the last a multiple of 32 bytes.
void lz_sum_add(LzSum *sum, const void *bytes, gsize size);
guint64 lz_sum_end(const LzSum *sum);
// Whether `size` bytes from `at` (a multiple of LZ_MAPPED_UNIT) of a mapped file can be read and
// have that sum. Then they need not stay in memory.
gboolean lz_sum_fits(LzMapped *mapped, gsize at, gsize size, guint64 sum);

#endif
