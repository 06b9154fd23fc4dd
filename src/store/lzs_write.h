// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: puts one checked and hashed entry into the file, inside a transaction.
#ifndef LZS_WRITE_H
#define LZS_WRITE_H

#include "lzs_db.h"

// The number that this file has for a PC, made if there is none.
lzs_status lzs_write_pc(lzs_store *store, const uint8_t uid[16], int64_t *out, lzs_error *error);
lzs_status lzs_write_entry(lzs_store *store, const lzs_entry *entry, int64_t pc, lzs_error *error);

#endif
