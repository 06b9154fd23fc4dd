// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: which PC this is.
#ifndef LZS_PC_H
#define LZS_PC_H

#include "lzs_db.h"

// Fills store->pc from the id kept in the PC's folder, making it at the first write.
lzs_status lzs_pc_ensure(lzs_store *store, lzs_error *error);

#endif
