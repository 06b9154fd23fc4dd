// SPDX-License-Identifier: GPL-3.0-or-later
// Photographs: a table of their own, keyed by hash. An entry keeps the hash only, so the ledger
// stays small to read and its chain still covers every picture.
#include "lzs_side.h"
#include "lzs_sum.h"

#include <sodium.h>
#include <string.h>

void
lzs_picture_name(const void *bytes, size_t size, char name[LZS_PICTURE_NAME])
{
  uint8_t hash[LZS_PICTURE_HASH];
  lzs_sum_picture(bytes, size, hash);
  sodium_bin2hex(name, LZS_PICTURE_NAME, hash, sizeof hash);
}

lzs_status
lzs_picture_add(lzs_store *store, const void *bytes, size_t size, lzs_error *error)
{
  const lzs_bind bind = {.type = 'b', .bytes = bytes, .size = size};
  if (size == 0 || size > LZS_PICTURE_MOST)
    return lzs_fail_int(error, LZS_BAD_INPUT, "photo", (int64_t)size,
                        "accepted: a picture of 1 to 8388608 bytes");
  return lzs_side_run(store, "INSERT OR IGNORE INTO picture VALUES (lzs_picture(?1), ?1)", &bind, 1,
                      error);
}

typedef struct {
  lzs_pictured found;
  void *ctx;
  bool any, sound;
} wanted;

static bool
picture_row(void *ctx, sqlite3_stmt *stmt)
{
  wanted *w = ctx;
  w->any = true;
  w->sound = sqlite3_column_int(stmt, 1) != 0;
  if (w->sound)
    w->found(w->ctx, sqlite3_column_blob(stmt, 0), (size_t)sqlite3_column_bytes(stmt, 0));
  return false;
}

lzs_status
lzs_picture_get(lzs_store *store, const char *name, lzs_pictured found, void *ctx, lzs_error *error)
{
  wanted w = {.found = found, .ctx = ctx};
  uint8_t hash[LZS_PICTURE_HASH];
  size_t n = 0;
  if (sodium_hex2bin(hash, sizeof hash, name, strlen(name), NULL, &n, NULL) != 0 ||
      n != sizeof hash)
    return lzs_fail(error, LZS_NOT_FOUND, "photo", name, "accepted: 64 hexadecimal digits");
  const lzs_bind bind = {.type = 'b', .bytes = hash, .size = sizeof hash};
  lzs_status status =
      lzs_side_query(store, "SELECT bytes, hash = lzs_picture(bytes) FROM picture WHERE hash = ?1",
                     &bind, 1, picture_row, &w, error);
  if (status == LZS_OK && !w.any)
    return lzs_fail(error, LZS_NOT_FOUND, "photo", name, "no such picture");
  if (status == LZS_OK && !w.sound)
    return lzs_fail(error, LZS_CORRUPT, "photo", name, "its bytes were changed");
  return status;
}
