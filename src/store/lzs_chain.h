// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: the chains of all PCs, followed side by side while entries come in order.
#ifndef LZS_CHAIN_H
#define LZS_CHAIN_H

#include "lzs_fail.h"
#include "lzs_store.h"

typedef struct {
  uint8_t pc[16];
  int64_t seq;      // last running number
  uint8_t hash[32]; // last hash
} lzs_chain;

// Where the chain of a salvaged file goes on behind what was lost (docs/store/salvage.md).
typedef struct {
  uint8_t pc[16];
  int64_t seq;
  bool known;    // `before` is the hash of the entry that was lost before this one
  bool doubtful; // kept although its hash does not fit
  uint8_t before[32];
} lzs_mark;

typedef struct {
  lzs_chain *items; // in order of PC id
  size_t n, room;
  lzs_mark *marks; // in order of PC id and number
  size_t n_marks;
} lzs_chains;

// Reads the marks of a salvaged file; inside a read transaction, before the first check.
lzs_status lzs_chains_marks(lzs_chains *chains, lzs_store *store, lzs_error *error);

// Checks that an entry follows on its PC's chain and moves the chain on. *wrong is NULL if it does,
// else what does not fit; the chain goes on from what the entry says, so that one changed entry is
// found once.
lzs_status lzs_chains_check(lzs_chains *chains, const lzs_entry *entry, const char **wrong,
                            lzs_error *error);
// Whether the entry was kept as it lay when the file was salvaged.
bool lzs_chains_doubtful(const lzs_chains *chains, const lzs_entry *entry);
// SHA-256 over PC id and last hash of each chain, in order of PC id.
void lzs_chains_head(const lzs_chains *chains, uint8_t out[32]);
void lzs_chains_free(lzs_chains *chains);

#endif
