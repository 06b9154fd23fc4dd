// SPDX-License-Identifier: GPL-3.0-or-later
// The bytes over which an entry's hash is taken: layout 1 of docs/store/chain.md. They come from
// the entry's values, never from SQLite's pages, so that no migration can break a chain. A field
// without a value leaves no bytes, so that a field added later breaks none either.
#include "lzs_store.h"

#include <sodium.h>
#include <string.h>

#define LAYOUT 1

_Static_assert(sizeof(double) == 8, "IEEE 754 binary64");

// Gathers small pieces so that SHA-256 is fed whole blocks.
typedef struct {
  crypto_hash_sha256_state sha;
  size_t n;
  uint8_t buffer[1024];
} writer;

static void
put(writer *w, const void *bytes, size_t n)
{
  if (n > sizeof w->buffer - w->n) {
    crypto_hash_sha256_update(&w->sha, w->buffer, w->n);
    w->n = 0;
  }
  if (n > sizeof w->buffer) {
    crypto_hash_sha256_update(&w->sha, bytes, n);
  } else if (n > 0) {
    memcpy(w->buffer + w->n, bytes, n);
    w->n += n;
  }
}

// Big-endian, two's complement.
static void
put_int(writer *w, uint64_t value, size_t size)
{
  uint8_t bytes[8];
  for (size_t i = 0; i < size; i++)
    bytes[i] = (uint8_t)(value >> (8 * (size - 1 - i)));
  put(w, bytes, size);
}

static void
put_text(writer *w, const char *text)
{
  size_t n = strlen(text);
  put_int(w, n, 4);
  put(w, text, n);
}

static void
put_real(writer *w, double value)
{
  uint64_t bits;
  if (value == 0)
    value = 0; // SQLite keeps no sign on a zero
  memcpy(&bits, &value, sizeof bits);
  put_int(w, bits, 8);
}

static void
put_value(writer *w, const lzs_field *field, const lzs_value *value)
{
  put_text(w, field->name);
  switch (field->type) {
  case LZS_T_TEXT:
  case LZS_T_WORD:
    put(w, "t", 1);
    put_text(w, value->text);
    break;
  case LZS_T_REAL:
    put(w, "r", 1);
    put_real(w, value->r);
    break;
  case LZS_T_INT:
  case LZS_T_BOOL:
  case LZS_T_REF:
    put(w, "i", 1);
    put_int(w, (uint64_t)value->i, 8);
    break;
  }
}

void
lzs_hash(const lzs_entry *entry, const uint8_t before[32], uint8_t out[32])
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  writer w;
  w.n = 0;
  crypto_hash_sha256_init(&w.sha);
  put_int(&w, LAYOUT, 1);
  put(&w, before, 32);
  put_int(&w, (uint64_t)entry->id, 8);
  put_text(&w, spec->name);
  put_int(&w, (uint64_t)entry->happened_min, 8);
  put_int(&w, (uint64_t)(int64_t)entry->offset_min, 4);
  put_int(&w, (uint64_t)entry->recorded_ms, 8);
  put_int(&w, (uint64_t)entry->who, 8);
  put_int(&w, (uint64_t)entry->witness, 8);
  put_int(&w, entry->reason != NULL, 1);
  if (entry->reason != NULL)
    put_text(&w, entry->reason);
  put(&w, entry->pc, sizeof entry->pc);
  put_int(&w, (uint64_t)entry->pc_seq, 8);
  put_int(&w, (uint64_t)entry->corrects, 8);
  put_int(&w, entry->voided, 1);
  put_int(&w, (uint64_t)entry->entity, 8);
  for (size_t i = 0; i < spec->n_fields; i++)
    if (!entry->v[i].null)
      put_value(&w, &spec->fields[i], &entry->v[i]);
  crypto_hash_sha256_update(&w.sha, w.buffer, w.n);
  crypto_hash_sha256_final(&w.sha, out);
}
