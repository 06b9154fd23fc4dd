// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: what the store does with files beside SQLite: publishing a finished file under its name
// at once, and finding out where a file lives.
#ifndef LZS_FILE_H
#define LZS_FILE_H

#include "lzs_fail.h"

#include <stdbool.h>
#include <stdint.h>

// "path" + suffix, from malloc; NULL without memory.
char *lzs_file_beside(const char *path, const char *suffix);

// Whether path is on a network file system, where shared memory and locks cannot be trusted (WAL
// needs both). Unknown counts as local.
bool lzs_file_on_network(const char *path);

// Whether a file and its folder may be written: SQLite needs room for its log beside the file.
bool lzs_file_writable(const char *path);

// Makes path and its name durable.
lzs_status lzs_file_sync(const char *path, lzs_error *error);

// Gives the finished file `from` the name `to` at once and durably. With replace false an existing
// `to` is LZS_EXISTS and nothing has changed.
lzs_status lzs_file_publish(const char *from, const char *to, bool replace, lzs_error *error);

// For its owner only (0600): it holds names and PINs. SQLite gives its log the same.
lzs_status lzs_file_own(const char *path, lzs_error *error);

// Takes away a SQLite file that was not finished, with every journal that may stand beside it: one
// left behind would be played back into the next file of that name.
void lzs_file_discard(const char *path);

// Writes a small file (mode 0600) whole or not at all; see lzs_file_publish for replace.
lzs_status lzs_file_write(const char *path, const void *bytes, size_t n, bool replace,
                          lzs_error *error);
// Reads at most size bytes. LZS_NOT_FOUND if there is none.
lzs_status lzs_file_read(const char *path, void *bytes, size_t size, size_t *n, lzs_error *error);

#endif
