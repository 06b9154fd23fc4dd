// SPDX-License-Identifier: GPL-3.0-or-later
// What in a damaged file is still as it was written. Each entry is looked up by itself, so that one
// damaged page costs what is on it and no more; its hash is taken again from the entry before it in
// its PC's chain.
#include "lzs_salvage.h"

#include "lzs_file.h"
#include "lzs_graft.h"
#include "lzs_walk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define JUDGED      0.4 // of a salvage: every entry was held against its chain
#define KEPT        0.8 // what can be kept was written; the rest is the verification
#define LEAST_BYTES 48  // an entry takes more than this, which bounds what a damaged id may claim

bool
lzs_salvage_read(lzs_findings *found, int64_t id, lzs_entry *entry)
{
  const lzs_kind_spec *last = NULL;
  memset(entry, 0, sizeof *entry);
  sqlite3_stmt *common = lzs_db_q(found->from, LZS_Q_ENTRY_ONE, NULL);
  if (common == NULL)
    return false;
  sqlite3_bind_int64(common, 1, id);
  if (sqlite3_step(common) != SQLITE_ROW || lzs_walk_common(common, entry, &last) != LZS_ROW_SOUND)
    return false;
  sqlite3_stmt *values = lzs_db_scan(found->from, entry->kind, NULL);
  if (values == NULL)
    return false;
  sqlite3_bind_int64(values, 1, id);
  return sqlite3_step(values) == SQLITE_ROW && sqlite3_column_int64(values, 0) == id &&
         lzs_walk_values(values, entry) == LZS_ROW_SOUND;
}

// One PC's chain as far as it was followed.
typedef struct {
  uint8_t pc[16];
  int64_t id, seq;
  bool fits;           // the last entry's hash did
  uint8_t hash[32];    // as it stands in the last entry
  uint8_t retaken[32]; // as its values give it
} thread;

typedef struct {
  thread *items;
  size_t n;
} threads;

static thread *
thread_of(threads *all, const uint8_t pc[16])
{
  for (size_t i = 0; i < all->n; i++)
    if (memcmp(all->items[i].pc, pc, 16) == 0)
      return &all->items[i];
  thread *items = realloc(all->items, (all->n + 1) * sizeof *items);
  if (items == NULL)
    return NULL;
  all->items = items;
  thread *t = &items[all->n++];
  memset(t, 0, sizeof *t);
  memcpy(t->pc, pc, 16);
  t->fits = true;
  return t;
}

static bool
fits(const lzs_entry *entry, const uint8_t before[32])
{
  uint8_t hash[32];
  lzs_hash(entry, before, hash);
  return memcmp(hash, entry->hash, sizeof hash) == 0;
}

// The last entry's values were sound, its hash column was not.
static lzs_status
mend(lzs_findings *found, const thread *t, lzs_error *error)
{
  lzs_mended *more = realloc(found->mended, (found->n_mended + 1) * sizeof *more);
  if (more == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "salvage");
  found->mended = more;
  more[found->n_mended].id = t->id;
  memcpy(more[found->n_mended++].hash, t->retaken, 32);
  found->of[t->id].fate = LZS_KEPT_SOUND;
  return LZS_OK;
}

// missing: how many ids since the chain's last entry could not be read.
static lzs_status
judge_one(lzs_findings *found, thread *t, const lzs_entry *entry, int64_t missing, lzs_error *error)
{
  lzs_status status = LZS_OK;
  uint8_t *fate = &found->of[entry->id].fate;
  bool follows = entry->pc_seq == t->seq + 1;
  bool gap = entry->pc_seq > t->seq + 1 && entry->pc_seq - t->seq - 1 <= missing;
  *fate = LZS_LOST_CHANGED;
  if (follows && fits(entry, t->hash)) {
    *fate = LZS_KEPT_SOUND;
  } else if (follows && !t->fits && fits(entry, t->retaken)) {
    status = mend(found, t, error);
    *fate = LZS_KEPT_SOUND;
  } else if (gap) {
    *fate = LZS_KEPT_UNPROVEN;
  }
  lzs_hash(entry, t->hash, t->retaken);
  t->fits = *fate != LZS_LOST_CHANGED;
  t->seq = gap || follows ? entry->pc_seq : t->seq + 1;
  t->id = entry->id;
  memcpy(t->hash, entry->hash, sizeof t->hash);
  return status;
}

static void
name_one(lzs_findings *found, int64_t id)
{
  if (id > 0 && id <= found->last)
    found->of[id].named = true;
}

static void
name_all(lzs_findings *found, const lzs_entry *entry)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  name_one(found, entry->who);
  name_one(found, entry->witness);
  name_one(found, entry->corrects);
  name_one(found, entry->entity);
  for (size_t i = 0; i < spec->n_fields; i++)
    if (spec->fields[i].type == LZS_T_REF && !entry->v[i].null)
      name_one(found, entry->v[i].i);
}

lzs_status
lzs_salvage_judge(lzs_findings *found, lzs_error *error)
{
  threads all = {0};
  int64_t missing = 0;
  lzs_status status = LZS_OK;
  for (int64_t id = 1; id <= found->last && status == LZS_OK; id++) {
    lzs_entry entry;
    found->of[id].fate = LZS_LOST_UNREADABLE;
    found->of[id].there = lzs_salvage_read(found, id, &entry);
    if (!found->of[id].there) {
      missing++;
      continue;
    }
    thread *t = thread_of(&all, entry.pc);
    status = t != NULL ? judge_one(found, t, &entry, missing, error)
                       : lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "salvage");
    if (found->of[id].fate <= LZS_KEPT_DOUBTFUL)
      name_all(found, &entry);
    if (status == LZS_OK && !lzs_told_step(&found->from->told, (double)id / (double)found->last))
      status = lzs_told_stopped(error);
  }
  free(all.items);
  return status;
}

// Ids above `end` whose row the ledger and its index both have, though its values are lost.
static void
rows_behind(lzs_findings *found, int64_t end)
{
  sqlite3_stmt *rows =
      lzs_db_prepare(found->from,
                     "SELECT id FROM entry NOT INDEXED WHERE id > ?1 AND id <= ?2 AND id IN "
                     "(SELECT id FROM entry INDEXED BY sqlite_autoindex_entry_1 WHERE pc > 0)",
                     NULL);
  if (rows == NULL)
    return;
  sqlite3_bind_int64(rows, 1, end);
  sqlite3_bind_int64(rows, 2, found->last);
  while (sqlite3_step(rows) == SQLITE_ROW)
    found->of[sqlite3_column_int64(rows, 0)].absent = false;
  sqlite3_finalize(rows);
}

// Behind the last entry that can be read: a damaged id may be any number, so only ids that a row
// of values or both copies of the ledger's row still name were entries.
static void
doubt_the_end(lzs_findings *found)
{
  int64_t end = found->last;
  while (end > 0 && !found->of[end].there)
    end--;
  for (int64_t id = end + 1; id <= found->last; id++)
    found->of[id].absent = true;
  for (int k = 0; k < LZS_N_KINDS; k++) {
    sqlite3_stmt *values = lzs_db_scan(found->from, (lzs_kind)k, NULL);
    if (values == NULL)
      continue;
    sqlite3_bind_int64(values, 1, end + 1);
    while (sqlite3_step(values) == SQLITE_ROW && sqlite3_column_int64(values, 0) <= found->last)
      found->of[sqlite3_column_int64(values, 0)].absent = false;
    sqlite3_reset(values);
  }
  rows_behind(found, end);
}

// The highest id that any table or index still names, within what the file can hold.
static int64_t
last_id(lzs_store *from, const char *path)
{
  int64_t last = 0, one = 0;
  struct stat st;
  int64_t most = stat(path, &st) == 0 ? st.st_size / LEAST_BYTES : 0;
  char sql[160];
  if (lzs_db_int(from->db, "SELECT max(id) FROM entry WHERE id < 1000000000000", &one, NULL) ==
      LZS_OK)
    last = one;
  if (lzs_db_int(from->db,
                 "SELECT max(id) FROM (SELECT id FROM entry INDEXED BY sqlite_autoindex_entry_1 "
                 "WHERE pc > 0)",
                 &one, NULL) == LZS_OK &&
      one > last)
    last = one;
  for (int k = 0; k < LZS_N_KINDS; k++) {
    sqlite3_snprintf(sizeof sql, sql, "SELECT max(id) FROM \"%w\"",
                     lzs_kind_get((lzs_kind)k)->name);
    if (lzs_db_int(from->db, sql, &one, NULL) == LZS_OK && one > last)
      last = one;
  }
  return last < most ? last : most;
}

static lzs_status
salvage_to(lzs_store *from, const char *temp, lzs_store *to, lzs_each_fate each, void *ctx,
           lzs_salvage_result *out, lzs_error *error)
{
  lzs_findings found = {.from = from, .last = last_id(from, temp)};
  found.of = calloc((size_t)found.last + 1, sizeof *found.of);
  if (found.of == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "salvage");
  lzs_told_part(&from->told, 0, JUDGED);
  lzs_status status = lzs_salvage_judge(&found, error);
  lzs_told_part(&from->told, JUDGED, KEPT);
  if (status == LZS_OK)
    doubt_the_end(&found);
  if (status == LZS_OK)
    status = lzs_salvage_keep(&found, to, each, ctx, out, error);
  free(found.of);
  free(found.mended);
  return status;
}

// The new file gets its name only when it is whole and verifies.
static lzs_status
make_new(lzs_store *from, const char *temp, const char *part, const lzs_options *options,
         lzs_each_fate each, void *ctx, lzs_salvage_result *out, lzs_error *error)
{
  lzs_store *to = NULL;
  lzs_options how = options != NULL ? *options : (lzs_options){0};
  lzs_verify_result result;
  how.read_only = false;
  how.place = LZS_PLACE_NETWORK; // one file without a log beside it
  lzs_status status = lzs_create(part, &how, &to, error);
  if (status == LZS_OK)
    status = salvage_to(from, temp, to, each, ctx, out, error);
  if (status == LZS_OK) {
    to->told = from->told;
    lzs_told_part(&to->told, KEPT, 1);
    status = lzs_verify(to, &result, error);
  }
  if (status == LZS_OK && how.pc_folder != NULL)
    status = lzs_pc_renew(to, error);
  lzs_close(to);
  return status;
}

lzs_status
lzs_salvage(const char *path, const char *to_path, const lzs_options *options, lzs_each_fate each,
            void *ctx, lzs_salvage_result *out, lzs_error *error)
{
  memset(out, 0, sizeof *out);
  if (access(to_path, F_OK) == 0)
    return lzs_fail(error, LZS_EXISTS, "file", to_path, NULL);
  char suffix[40];
  snprintf(suffix, sizeof suffix, ".damaged-%ld", (long)getpid());
  char *temp = lzs_file_beside(to_path, suffix), *part = lzs_file_beside(to_path, ".part");
  lzs_store *from = NULL;
  lzs_options reading = {.place = LZS_PLACE_NETWORK};
  lzs_status status = LZS_NO_MEMORY;
  if (temp != NULL && part != NULL)
    status = lzs_graft_copy(path, temp, error);
  else
    lzs_fail(error, status, "file", path, NULL);
  if (status == LZS_OK)
    status = lzs_open(temp, &reading, &from, error);
  if (status == LZS_OK) {
    if (options != NULL)
      lzs_set_progress(from, options->progress, options->progress_ctx);
    lzs_file_discard(part);
    status = make_new(from, temp, part, options, each, ctx, out, error);
  }
  lzs_close(from);
  if (status == LZS_OK)
    status = lzs_file_publish(part, to_path, false, error);
  if (temp != NULL)
    lzs_file_discard(temp);
  if (part != NULL && status != LZS_OK)
    lzs_file_discard(part);
  free(temp);
  free(part);
  return status;
}
