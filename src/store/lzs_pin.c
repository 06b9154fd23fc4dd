// SPDX-License-Identifier: GPL-3.0-or-later
// PINs: kept as Argon2id hashes, so that a copy of the file gives none away cheaply. They keep
// colleagues from signing for one another by mistake; they do not encrypt the file.
#include "lzs_check.h"
#include "lzs_side.h"
#include "lzs_text.h"

#include <sodium.h>
#include <string.h>

#define MAX_PIN 128 // bytes

static lzs_status
check(lzs_store *store, int64_t person, const char *pin, lzs_error *error)
{
  lzs_status status = lzs_check_reference(store, "person", person, LZS_PERSON, error);
  if (status != LZS_OK || pin == NULL)
    return status;
  if (pin[0] == '\0' || strnlen(pin, MAX_PIN + 1) > MAX_PIN || !lzs_text_valid(pin))
    return lzs_fail(error, LZS_BAD_INPUT, "pin", NULL, "accepted: 1 to 128 bytes of UTF-8");
  return LZS_OK;
}

lzs_status
lzs_pin_set(lzs_store *store, int64_t person, const char *pin, lzs_error *error)
{
  lzs_status status = check(store, person, pin, error);
  if (status != LZS_OK)
    return status;
  char hash[crypto_pwhash_STRBYTES];
  if (pin != NULL &&
      crypto_pwhash_str_alg(hash, pin, strlen(pin), crypto_pwhash_OPSLIMIT_INTERACTIVE,
                            crypto_pwhash_MEMLIMIT_INTERACTIVE, crypto_pwhash_ALG_ARGON2ID13) != 0)
    return lzs_fail(error, LZS_NO_MEMORY, "pin", NULL, "Argon2id needs 64 MiB");
  const lzs_bind binds[] = {{.type = 'i', .i = person}, {.type = 't', .text = hash}};
  if (pin == NULL)
    return lzs_side_run(store, "DELETE FROM pin WHERE person = ?1", binds, 1, error);
  return lzs_side_run(store,
                      "INSERT OR REPLACE INTO pin (person, hash, sum) "
                      "VALUES (?1, ?2, lzs_sum(?1, ?2))",
                      binds, 2, error);
}

typedef struct {
  const char *pin;
  bool set, fits;
} attempt;

static bool
compare(void *ctx, sqlite3_stmt *stmt)
{
  attempt *a = ctx;
  const char *hash = (const char *)sqlite3_column_text(stmt, 0);
  a->set = true;
  a->fits =
      a->pin != NULL && hash != NULL && crypto_pwhash_str_verify(hash, a->pin, strlen(a->pin)) == 0;
  return false;
}

lzs_status
lzs_pin_check(lzs_store *store, int64_t person, const char *pin, bool *out, lzs_error *error)
{
  *out = false;
  attempt a = {.pin = pin};
  const lzs_bind bind = {.type = 'i', .i = person};
  lzs_status status = lzs_check_reference(store, "person", person, LZS_PERSON, error);
  if (status == LZS_OK)
    status = lzs_side_query(store, "SELECT hash FROM pin WHERE person = ?1", &bind, 1, compare, &a,
                            error);
  if (status == LZS_OK)
    *out = a.set ? a.fits : pin == NULL;
  return status;
}
