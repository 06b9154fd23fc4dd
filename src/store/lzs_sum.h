// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: the SQL function lzs_sum(value, ...), BLAKE2b-128 over its arguments: each is one byte
// of type (n i r t b), 8 bytes of length and its bytes, big-endian. It tells a damaged row outside
// the chain from a sound one.
#ifndef LZS_SUM_H
#define LZS_SUM_H

#include "lzs_db.h"

// The name of a picture: BLAKE2b-256 over its bytes alone (RFC 7693), in SQL lzs_picture(bytes).
#define LZS_PICTURE_HASH 32
void lzs_sum_picture(const void *bytes, size_t size, uint8_t out[LZS_PICTURE_HASH]);

lzs_status lzs_sum_register(sqlite3 *db, lzs_error *error);

#endif
