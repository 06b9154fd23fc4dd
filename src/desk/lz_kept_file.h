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
// Zeros up to a multiple of LZ_MAPPED_UNIT; how long it is then.
gsize lz_kept_file_align(LzKeptFile *file);
// Puts it in its place and frees. FALSE = something failed: nothing is left of it.
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
// Reads and sums the first `size` bytes of a mapped file, which then need not stay in memory. FALSE
// = they cannot be read.
gboolean lz_sum_mapped(LzSum *sum, LzMapped *mapped, gsize size);

#endif
