// SPDX-License-Identifier: GPL-3.0-or-later
// Restoring a ledger that was exported: entries keep id, times, PC and hash, so that the chains can
// be verified here as they were there. Afterwards this PC is a new one.
#include "lzs_chain.h"
#include "lzs_check.h"
#include "lzs_write.h"

#include <string.h>

typedef struct {
  lzs_chains chains;
  int64_t last_id, recorded_ms, last_new;
  uint8_t pc[16]; // PC of the entry before, and this file's number for it
  int64_t pc_number;
} progress;

static lzs_status
check_order(const lzs_entry *entry, progress *p, lzs_error *error)
{
  if (entry->id <= p->last_id)
    return lzs_fail_int(error, LZS_BAD_INPUT, "id", entry->id, "ids must rise");
  if (entry->recorded_ms < p->recorded_ms)
    return lzs_fail_int(error, LZS_BAD_INPUT, "recorded_ms", entry->recorded_ms,
                        "before the entry before it");
  const char *wrong;
  lzs_status status = lzs_chains_check(&p->chains, entry, &wrong, error);
  if (status == LZS_OK && wrong != NULL)
    return lzs_fail_int(error, LZS_CORRUPT, "hash", entry->id, wrong);
  p->last_id = entry->id;
  p->recorded_ms = entry->recorded_ms;
  return status;
}

static lzs_status
restore_one(lzs_store *store, const lzs_entry *entry, progress *p, lzs_error *error)
{
  lzs_status status = lzs_check_entry(store, entry, p->last_new, error);
  if (status == LZS_OK)
    status = check_order(entry, p, error);
  if (status == LZS_OK && (p->pc_number == 0 || memcmp(p->pc, entry->pc, sizeof p->pc) != 0)) {
    memcpy(p->pc, entry->pc, sizeof p->pc);
    status = lzs_write_pc(store, p->pc, &p->pc_number, error);
  }
  if (status == LZS_OK)
    status = lzs_write_entry(store, entry, p->pc_number, error);
  if (status == LZS_OK)
    lzs_check_remember(store, entry);
  else if (error != NULL)
    error->entry = entry->id;
  return status;
}

static lzs_status
check_empty(lzs_store *store, lzs_error *error)
{
  int64_t last = 0;
  lzs_status status = lzs_last_id(store, &last, error);
  if (status == LZS_OK && last != 0)
    return lzs_fail(error, LZS_REFUSED, "file", store->path,
                    "only an empty file can be restored to");
  return status;
}

lzs_status
lzs_restore(lzs_store *store, const lzs_entry *entries, size_t n, lzs_error *error)
{
  progress p = {.last_new = n > 0 ? entries[n - 1].id : 0};
  lzs_status status = lzs_db_begin(store, error);
  if (status != LZS_OK)
    return status;
  status = check_empty(store, error);
  lzs_told_part(&store->told, 0, 1);
  for (size_t i = 0; status == LZS_OK && i < n; i++) {
    status = restore_one(store, &entries[i], &p, error);
    if (status == LZS_OK && !lzs_told_step(&store->told, (double)(i + 1) / (double)n))
      status = lzs_told_stopped(error);
  }
  lzs_chains_free(&p.chains);
  // Before the commit: a new id without a restore does no harm, the other way round it would.
  if (status == LZS_OK && store->pc_folder != NULL)
    status = lzs_pc_renew(store, error);
  return lzs_db_end(store, status, error);
}
