// SPDX-License-Identifier: GPL-3.0-or-later
// Following the chains: one per PC, running numbers from 1 without a gap, each hash over the one
// before it.
#include "lzs_chain.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>

// Place of a PC in the list, or where it belongs.
static size_t
place_of(const lzs_chains *chains, const uint8_t pc[16])
{
  size_t low = 0, high = chains->n;
  while (low < high) {
    size_t mid = low + (high - low) / 2;
    if (memcmp(chains->items[mid].pc, pc, 16) < 0)
      low = mid + 1;
    else
      high = mid;
  }
  return low;
}

static lzs_chain *
chain_of(lzs_chains *chains, const uint8_t pc[16])
{
  size_t at = place_of(chains, pc);
  if (at < chains->n && memcmp(chains->items[at].pc, pc, 16) == 0)
    return &chains->items[at];
  if (chains->n == chains->room) {
    size_t room = chains->room > 0 ? 2 * chains->room : 8;
    lzs_chain *items = realloc(chains->items, room * sizeof *items);
    if (items == NULL)
      return NULL;
    chains->items = items;
    chains->room = room;
  }
  lzs_chain *chain = &chains->items[at];
  memmove(chain + 1, chain, (chains->n - at) * sizeof *chain);
  chains->n++;
  memset(chain, 0, sizeof *chain);
  memcpy(chain->pc, pc, 16);
  return chain;
}

lzs_status
lzs_chains_check(lzs_chains *chains, const lzs_entry *entry, const char **wrong, lzs_error *error)
{
  *wrong = NULL;
  lzs_chain *chain = chain_of(chains, entry->pc);
  if (chain == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "chains");
  uint8_t hash[32];
  lzs_hash(entry, chain->hash, hash);
  if (entry->pc_seq != chain->seq + 1)
    *wrong = "the PC's running number does not follow";
  else if (memcmp(hash, entry->hash, sizeof hash) != 0)
    *wrong = "the hash does not fit the values";
  chain->seq = entry->pc_seq;
  memcpy(chain->hash, entry->hash, sizeof chain->hash);
  return LZS_OK;
}

void
lzs_chains_head(const lzs_chains *chains, uint8_t out[32])
{
  crypto_hash_sha256_state sha;
  crypto_hash_sha256_init(&sha);
  for (size_t i = 0; i < chains->n; i++) {
    crypto_hash_sha256_update(&sha, chains->items[i].pc, 16);
    crypto_hash_sha256_update(&sha, chains->items[i].hash, 32);
  }
  crypto_hash_sha256_final(&sha, out);
}

void
lzs_chains_free(lzs_chains *chains)
{
  free(chains->items);
  memset(chains, 0, sizeof *chains);
}
