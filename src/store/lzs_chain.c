// SPDX-License-Identifier: GPL-3.0-or-later
// Following the chains: one per PC, running numbers from 1 without a gap, each hash over the one
// before it.
#include "lzs_chain.h"

#include "lzs_db.h"

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

static const lzs_mark *
mark_of(const lzs_chains *chains, const lzs_entry *entry)
{
  size_t low = 0, high = chains->n_marks;
  while (low < high) {
    size_t mid = low + (high - low) / 2;
    int side = memcmp(chains->marks[mid].pc, entry->pc, sizeof entry->pc);
    if (side == 0 && chains->marks[mid].seq == entry->pc_seq)
      return &chains->marks[mid];
    if (side < 0 || (side == 0 && chains->marks[mid].seq < entry->pc_seq))
      low = mid + 1;
    else
      high = mid;
  }
  return NULL;
}

bool
lzs_chains_doubtful(const lzs_chains *chains, const lzs_entry *entry)
{
  const lzs_mark *mark = mark_of(chains, entry);
  return mark != NULL && mark->doubtful;
}

static const char *
what_is_wrong(const lzs_chain *chain, const lzs_mark *mark, const lzs_entry *entry)
{
  uint8_t hash[32];
  if (mark != NULL ? entry->pc_seq <= chain->seq : entry->pc_seq != chain->seq + 1)
    return "the PC's running number does not follow";
  if (mark != NULL && (mark->doubtful || !mark->known))
    return NULL;
  lzs_hash(entry, mark != NULL ? mark->before : chain->hash, hash);
  return memcmp(hash, entry->hash, sizeof hash) == 0 ? NULL : "the hash does not fit the values";
}

lzs_status
lzs_chains_check(lzs_chains *chains, const lzs_entry *entry, const char **wrong, lzs_error *error)
{
  *wrong = NULL;
  lzs_chain *chain = chain_of(chains, entry->pc);
  if (chain == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "chains");
  *wrong = what_is_wrong(chain, mark_of(chains, entry), entry);
  chain->seq = entry->pc_seq;
  memcpy(chain->hash, entry->hash, sizeof chain->hash);
  return LZS_OK;
}

lzs_status
lzs_chains_marks(lzs_chains *chains, lzs_store *store, lzs_error *error)
{
  int64_t n = 0;
  lzs_status status = lzs_db_int(store->db, "SELECT count(*) FROM salvaged", &n, error);
  if (status != LZS_OK || n == 0)
    return status;
  chains->marks = calloc((size_t)n, sizeof *chains->marks);
  if (chains->marks == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "marks");
  sqlite3_stmt *stmt =
      lzs_db_prepare(store,
                     "SELECT p.uid, s.pc_seq, s.before, s.doubtful FROM salvaged s "
                     "JOIN pc p ON p.id = s.pc ORDER BY p.uid, s.pc_seq",
                     error);
  if (stmt == NULL)
    return lzs_db_status(store);
  int code = SQLITE_DONE;
  while (chains->n_marks < (size_t)n && (code = sqlite3_step(stmt)) == SQLITE_ROW) {
    lzs_mark *mark = &chains->marks[chains->n_marks++];
    if (sqlite3_column_bytes(stmt, 0) == sizeof mark->pc)
      memcpy(mark->pc, sqlite3_column_blob(stmt, 0), sizeof mark->pc);
    mark->seq = sqlite3_column_int64(stmt, 1);
    mark->known = sqlite3_column_bytes(stmt, 2) == sizeof mark->before;
    if (mark->known)
      memcpy(mark->before, sqlite3_column_blob(stmt, 2), sizeof mark->before);
    mark->doubtful = sqlite3_column_int(stmt, 3) != 0;
  }
  if (code != SQLITE_ROW && code != SQLITE_DONE)
    status = lzs_db_fail(store->db, code, "read marks", error);
  sqlite3_finalize(stmt);
  return status;
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
  free(chains->marks);
  memset(chains, 0, sizeof *chains);
}
