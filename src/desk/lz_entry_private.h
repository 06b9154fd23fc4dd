// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: an entry in one block of memory, made from the store's and turned back into it.
#ifndef LZ_ENTRY_PRIVATE_H
#define LZ_ENTRY_PRIVATE_H

#include <lzs_store.h>

#include "lz_entry.h"

typedef union {
  int64_t i;
  double r;
  const char *text; // in the same block; of a word interned
} LzEntryValue;

// What few entries have.
typedef struct {
  int64_t witness;
  const char *reason; // in the entry's block, NULL = none
  char *hash_hex;     // made when asked for
} LzEntryRare;

struct _LzEntry {
  grefcount refs;
  lzs_kind kind;
  const lzs_kind_spec *spec;
  int64_t id, at, recorded_ms, who, pc_seq, corrects, entity;
  int32_t offset_min;
  guint voided : 1;
  guint corrected : 1; // in its model: another entry corrects it or takes it away
  const char *pc_hex;  // interned: few PCs write to a file
  LzEntryRare *rare;   // NULL = nothing of that
  uint8_t hash[32];
  uint64_t set;     // bit per field: it has a value
  LzEntryValue v[]; // of the fields that have one, in their order
};
G_STATIC_ASSERT(LZS_MAX_FIELDS <= 64);

static inline gboolean
lz_entry_is_set(const LzEntry *entry, gsize field)
{
  return entry->set >> field & 1;
}

// Of a field that is set.
static inline const LzEntryValue *
lz_entry_value(const LzEntry *entry, gsize field)
{
  return &entry->v[__builtin_popcountll(entry->set & ((UINT64_C(1) << field) - 1))];
}

LzEntry *lz_entry_new(const lzs_entry *from);
// Strings point into `entry`, which must outlive *out.
void lz_entry_to_store(const LzEntry *entry, lzs_entry *out);
// What only the store knows: id, time of recording, PC, hash.
void lz_entry_stamp(LzEntry *entry, const lzs_entry *appended);

// As bytes, a multiple of 8, that are worth something to this very build only (lz_entry_pack.c).
void lz_entry_pack(const LzEntry *entry, GByteArray *out);
// From bytes aligned to 8, of which *size were its own. NULL = these are none.
LzEntry *lz_entry_unpack(const char *bytes, gsize left, gsize *size);
// The words of a field of words, ended by NULL; the one at a place, NULL = there is none; and the
// place of the one that an entry has, -1 = a word of another program.
const char *const *lz_entry_words(const lzs_kind_spec *spec, gsize field);
const char *lz_entry_word_of(const lzs_kind_spec *spec, gsize field, guint place);
int lz_entry_word_at(const LzEntry *entry, gsize field);
// The one string for a PC.
const char *lz_entry_pc_of(const uint8_t pc[16]);

// -1 if the kind has none of that name, or it is not set.
int lz_entry_field(const LzEntry *entry, const char *field);

#endif
