// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: a read transaction, so that one call sees the file at one instant.
#ifndef LZS_READ_H
#define LZS_READ_H

#include "lzs_db.h"

lzs_status lzs_read_begin(lzs_store *store, lzs_error *error);
// Ends it whatever came of it.
void lzs_read_end(lzs_store *store);

#endif
