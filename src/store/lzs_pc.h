// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: which PC this is.
#ifndef LZS_PC_H
#define LZS_PC_H

#include "lzs_db.h"

// Fills store->pc from the id kept in the PC's folder, making it at the first write.
lzs_status lzs_pc_ensure(lzs_store *store, lzs_error *error);

// The PC's key, by which it knows again what it wrote itself. make: made if there is none yet;
// otherwise LZS_NOT_FOUND.
#define LZS_PC_KEY 32
lzs_status lzs_pc_key(const lzs_store *store, bool make, uint8_t key[LZS_PC_KEY], lzs_error *error);

#endif
