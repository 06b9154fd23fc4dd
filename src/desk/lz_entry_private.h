// SPDX-License-Identifier: GPL-3.0-or-later
// Inside the desk: an entry in one block of memory, made from the store's and turned back into it.
#ifndef LZ_ENTRY_PRIVATE_H
#define LZ_ENTRY_PRIVATE_H

#include <lzs_store.h>

#include "lz_entry.h"

typedef struct {
  union {
    int64_t i;
    double r;
    const char *text; // in the same block
  };
  gboolean set;
} LzEntryValue;

struct _LzEntry {
  grefcount refs;
  lzs_kind kind;
  const lzs_kind_spec *spec;
  int64_t id, at, recorded_ms, who, witness, pc_seq, corrects, entity;
  int32_t offset_min;
  gboolean voided;
  const char *reason; // in the same block, NULL = none
  uint8_t pc[16], hash[32];
  char *pc_hex, *hash_hex; // made when asked for
  LzEntryValue v[];        // spec->n_fields
};

LzEntry *lz_entry_new(const lzs_entry *from);
// Strings point into `entry`, which must outlive *out.
void lz_entry_to_store(const LzEntry *entry, lzs_entry *out);
// What only the store knows: id, time of recording, PC, hash.
void lz_entry_stamp(LzEntry *entry, const lzs_entry *appended);

// -1 if the kind has none of that name, or it is not set.
int lz_entry_field(const LzEntry *entry, const char *field);
// Index of the word in a field of words; -1 if not set.
int lz_entry_word(const LzEntry *entry, const char *field);

#endif
