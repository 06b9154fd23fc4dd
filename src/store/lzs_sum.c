// SPDX-License-Identifier: GPL-3.0-or-later
// A sum over the columns of one row: see lzs_sum.h.
#include "lzs_sum.h"

#include <sodium.h>
#include <string.h>

#define SUM_BYTES 16

static void
put(crypto_generichash_state *sum, char type, const void *bytes, size_t n)
{
  uint8_t head[9] = {(uint8_t)type};
  for (int i = 0; i < 8; i++)
    head[1 + i] = (uint8_t)((uint64_t)n >> (56 - 8 * i));
  crypto_generichash_update(sum, head, sizeof head);
  if (n > 0)
    crypto_generichash_update(sum, bytes, n);
}

static void
put_number(crypto_generichash_state *sum, char type, uint64_t bits)
{
  uint8_t bytes[8];
  for (int i = 0; i < 8; i++)
    bytes[i] = (uint8_t)(bits >> (56 - 8 * i));
  put(sum, type, bytes, sizeof bytes);
}

static void
put_value(crypto_generichash_state *sum, sqlite3_value *value)
{
  double real;
  uint64_t bits;
  switch (sqlite3_value_type(value)) {
  case SQLITE_INTEGER: put_number(sum, 'i', (uint64_t)sqlite3_value_int64(value)); break;
  case SQLITE_FLOAT:
    real = sqlite3_value_double(value);
    memcpy(&bits, &real, sizeof bits);
    put_number(sum, 'r', bits);
    break;
  case SQLITE_TEXT: {
    const void *text = sqlite3_value_text(value);
    put(sum, 't', text, (size_t)sqlite3_value_bytes(value));
    break;
  }
  case SQLITE_BLOB: {
    const void *blob = sqlite3_value_blob(value);
    put(sum, 'b', blob, (size_t)sqlite3_value_bytes(value));
    break;
  }
  default: put(sum, 'n', NULL, 0);
  }
}

static void
sum_of(sqlite3_context *context, int n, sqlite3_value **values)
{
  crypto_generichash_state sum;
  uint8_t out[SUM_BYTES];
  crypto_generichash_init(&sum, NULL, 0, sizeof out);
  for (int i = 0; i < n; i++)
    put_value(&sum, values[i]);
  crypto_generichash_final(&sum, out, sizeof out);
  sqlite3_result_blob(context, out, sizeof out, SQLITE_TRANSIENT);
}

static void
picture_of(sqlite3_context *context, int n, sqlite3_value **values)
{
  uint8_t out[LZS_PICTURE_HASH];
  const void *bytes = sqlite3_value_blob(values[0]);
  lzs_sum_picture(bytes, (size_t)sqlite3_value_bytes(values[0]), out);
  sqlite3_result_blob(context, out, sizeof out, SQLITE_TRANSIENT);
}

void
lzs_sum_picture(const void *bytes, size_t size, uint8_t out[LZS_PICTURE_HASH])
{
  crypto_generichash(out, LZS_PICTURE_HASH, bytes, size, NULL, 0);
}

lzs_status
lzs_sum_register(sqlite3 *db, lzs_error *error)
{
  static const int flags = SQLITE_UTF8 | SQLITE_DETERMINISTIC | SQLITE_DIRECTONLY;
  int code = sqlite3_create_function(db, "lzs_sum", -1, flags, NULL, sum_of, NULL, NULL);
  if (code == SQLITE_OK)
    code = sqlite3_create_function(db, "lzs_picture", 1, flags, NULL, picture_of, NULL, NULL);
  return code == SQLITE_OK ? LZS_OK : lzs_db_fail(db, code, "make lzs_sum", error);
}
