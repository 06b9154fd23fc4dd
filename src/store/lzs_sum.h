// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: the SQL function lzs_sum(value, ...), BLAKE2b-128 over its arguments: each is one byte
// of type (n i r t b), 8 bytes of length and its bytes, big-endian. It tells a damaged row outside
// the chain from a sound one.
#ifndef LZS_SUM_H
#define LZS_SUM_H

#include "lzs_db.h"

lzs_status lzs_sum_register(sqlite3 *db, lzs_error *error);

#endif
