// SPDX-License-Identifier: GPL-3.0-or-later
// Writing what a damaged file still holds: sound entries as they were, with marks where the chain
// has gaps, and rows outside the chain whose sum fits.
#include "lzs_salvage.h"

#include "lzs_check.h"
#include "lzs_side.h"
#include "lzs_write.h"

#include <stdlib.h>
#include <string.h>

static bool
is_kept(const lzs_findings *found, int64_t id)
{
  return id == 0 ||
         (id > 0 && id <= found->last && found->of[id].fate <= (uint8_t)LZS_KEPT_DOUBTFUL);
}

static bool
rests_on_kept(const lzs_findings *found, const lzs_entry *entry)
{
  const lzs_kind_spec *spec = lzs_kind_get(entry->kind);
  bool kept = is_kept(found, entry->who) && is_kept(found, entry->witness) &&
              is_kept(found, entry->corrects) && is_kept(found, entry->entity);
  for (size_t i = 0; i < spec->n_fields && kept; i++)
    if (spec->fields[i].type == LZS_T_REF && !entry->v[i].null)
      kept = is_kept(found, entry->v[i].i);
  return kept;
}

// A changed entry on which others rest is kept as it lies: leaving it out would take them with it.
// Then whatever names a lost entry goes, until nothing more does.
static void
settle(lzs_findings *found)
{
  for (int64_t id = 1; id <= found->last; id++)
    if (found->of[id].fate == LZS_LOST_CHANGED && found->of[id].named) {
      found->of[id].fate = LZS_KEPT_DOUBTFUL;
      found->of[id].named = false; // once: it may turn out not to be one that can be kept
    }
  bool again = true;
  while (again) {
    again = false;
    for (int64_t id = 1; id <= found->last; id++) {
      lzs_entry entry;
      if (!is_kept(found, id) || !lzs_salvage_read(found, id, &entry) ||
          rests_on_kept(found, &entry))
        continue;
      found->of[id].fate = LZS_LOST_RESTS;
      again = true;
    }
  }
}

// The chains as they are written: where one goes on behind a gap it gets a mark.
typedef struct {
  uint8_t pc[16];
  int64_t number;   // this file's for the PC
  int64_t seq;      // last that was written
  int64_t passed;   // last that was seen, kept or not
  uint8_t hash[32]; // of the last that was seen
  bool hash_known;
} chain;

typedef struct {
  lzs_findings *found;
  lzs_store *to;
  chain *chains;
  size_t n_chains, next_mended;
  bool again; // a fate changed, on which earlier entries may rest
  lzs_salvage_result *out;
} keeper;

static chain *
chain_of(keeper *k, const uint8_t pc[16])
{
  for (size_t i = 0; i < k->n_chains; i++)
    if (memcmp(k->chains[i].pc, pc, 16) == 0)
      return &k->chains[i];
  chain *more = realloc(k->chains, (k->n_chains + 1) * sizeof *more);
  if (more == NULL)
    return NULL;
  k->chains = more;
  chain *c = &more[k->n_chains++];
  memset(c, 0, sizeof *c);
  memcpy(c->pc, pc, 16);
  c->hash_known = true;
  return c;
}

static lzs_status
mark(keeper *k, const chain *c, const lzs_entry *entry, bool known, bool doubtful, lzs_error *error)
{
  sqlite3_stmt *stmt = lzs_db_prepare(k->to,
                                      "INSERT INTO salvaged (pc, pc_seq, before, doubtful, sum) "
                                      "VALUES (?1, ?2, ?3, ?4, lzs_sum(?1, ?2, ?3, ?4))",
                                      error);
  if (stmt == NULL)
    return lzs_db_status(k->to);
  sqlite3_bind_int64(stmt, 1, c->number);
  sqlite3_bind_int64(stmt, 2, entry->pc_seq);
  if (known)
    sqlite3_bind_blob(stmt, 3, c->hash, sizeof c->hash, SQLITE_STATIC);
  sqlite3_bind_int(stmt, 4, doubtful);
  lzs_status status = lzs_db_run(k->to, stmt, "mark a gap", error);
  sqlite3_finalize(stmt);
  return status;
}

static lzs_status
write_one(keeper *k, chain *c, lzs_entry *entry, lzs_fate fate, lzs_error *error)
{
  lzs_status status = LZS_OK;
  if (c->number == 0)
    status = lzs_write_pc(k->to, c->pc, &c->number, error);
  bool known = fate == LZS_KEPT_SOUND && c->hash_known;
  bool gap = entry->pc_seq != c->seq + 1;
  if (status == LZS_OK && (gap || fate != LZS_KEPT_SOUND))
    status = mark(k, c, entry, known, fate == LZS_KEPT_DOUBTFUL, error);
  if (status == LZS_OK)
    status = lzs_write_entry(k->to, entry, c->number, error);
  if (status == LZS_OK)
    c->seq = entry->pc_seq;
  return status;
}

static void
count(lzs_salvage_result *out, lzs_fate fate)
{
  out->kept += fate <= LZS_KEPT_DOUBTFUL;
  out->unproven += fate == LZS_KEPT_UNPROVEN;
  out->doubtful += fate == LZS_KEPT_DOUBTFUL;
  out->lost += fate > LZS_KEPT_DOUBTFUL;
}

static void
lose(keeper *k, int64_t id, lzs_fate fate)
{
  k->found->of[id].fate = (uint8_t)fate;
  k->again = true;
}

static lzs_status
keep_one(keeper *k, int64_t id, lzs_error *error)
{
  lzs_finding *f = &k->found->of[id];
  lzs_entry entry;
  lzs_error refused = {0};
  lzs_status status = LZS_OK;
  if (f->there && lzs_salvage_read(k->found, id, &entry)) {
    chain *c = chain_of(k, entry.pc);
    if (c == NULL)
      return lzs_fail(error, LZS_NO_MEMORY, NULL, NULL, "salvage");
    if (k->next_mended < k->found->n_mended && k->found->mended[k->next_mended].id == id)
      memcpy(entry.hash, k->found->mended[k->next_mended++].hash, sizeof entry.hash);
    // An entry as it lies must still be one that the program understands.
    if ((f->fate == LZS_KEPT_DOUBTFUL &&
         lzs_check_entry(k->to, &entry, k->found->last, &refused) != LZS_OK) ||
        (is_kept(k->found, id) && entry.pc_seq <= c->seq))
      lose(k, id, LZS_LOST_CHANGED);
    if (is_kept(k->found, id))
      status = write_one(k, c, &entry, (lzs_fate)f->fate, error);
    memcpy(c->hash, entry.hash, sizeof c->hash);
  }
  if (!f->absent)
    count(k->out, (lzs_fate)f->fate);
  return status;
}

// What stands beside the entries, looked up one by one where a bad page would else end the reading.
enum { AT_ONCE, BY_PERSON, BY_PLACE };

#define MOST_MISSED 5000 // photographs that a bad page leads to: more than 4 KiB can name

static const struct {
  const char *read, *write;
  int columns, by;
} sides[] = {
    {"SELECT person, name, initials, contact, sum FROM identity WHERE person = ?1 AND sum = "
     "lzs_sum(person, "
     "name, initials, contact)",
     "INSERT INTO identity VALUES (?1, ?2, ?3, ?4, ?5)", 5, BY_PERSON},
    {"SELECT person, hash, sum FROM pin WHERE person = ?1 AND sum = lzs_sum(person, hash)",
     "INSERT INTO pin VALUES (?1, ?2, ?3)", 3, BY_PERSON},
    {"SELECT key, value, at_ms, sum FROM draft WHERE sum = lzs_sum(key, value, at_ms)",
     "INSERT OR IGNORE INTO draft VALUES (?1, ?2, ?3, ?4)", 4, AT_ONCE},
    {"SELECT hash, bytes FROM picture WHERE rowid = ?1 AND hash = lzs_picture(bytes)",
     "INSERT OR IGNORE INTO picture VALUES (?1, ?2)", 2, BY_PLACE},
};

// The rows of that place or person, or all; how many were kept.
static int64_t
copy_rows(keeper *k, sqlite3_stmt *read, sqlite3_stmt *write, int columns)
{
  int64_t kept = 0;
  while (sqlite3_step(read) == SQLITE_ROW) {
    for (int at = 0; at < columns; at++)
      sqlite3_bind_value(write, at + 1, sqlite3_column_value(read, at));
    kept += lzs_db_run(k->to, write, "keep a row", NULL) == LZS_OK;
  }
  sqlite3_reset(read);
  return kept;
}

static int64_t
copy_side(keeper *k, size_t side, sqlite3_stmt *read, sqlite3_stmt *write)
{
  const int by = sides[side].by, columns = sides[side].columns;
  int64_t kept = 0, missed = 0;
  if (by == AT_ONCE)
    return copy_rows(k, read, write, columns);
  for (int64_t id = 1; by == BY_PERSON ? id <= k->found->last : missed < MOST_MISSED; id++) {
    if (by == BY_PERSON && !is_kept(k->found, id))
      continue;
    sqlite3_bind_int64(read, 1, id);
    const int64_t n = copy_rows(k, read, write, columns);
    missed = n ? 0 : missed + 1;
    kept += n;
  }
  return kept;
}

static lzs_status
copy_sides(keeper *k, lzs_error *error)
{
  for (size_t i = 0; i < sizeof sides / sizeof sides[0]; i++) {
    sqlite3_stmt *read = lzs_db_prepare(k->found->from, sides[i].read, NULL);
    sqlite3_stmt *write = lzs_db_prepare(k->to, sides[i].write, error);
    const int64_t kept = read != NULL && write != NULL ? copy_side(k, i, read, write) : 0;
    k->out->names += i == 0 ? kept : 0;
    k->out->drafts += i == 2 ? kept : 0;
    sqlite3_finalize(read);
    sqlite3_finalize(write);
  }
  return LZS_OK;
}

// One attempt, in one transaction. *again: begin anew, something turned out not to be kept.
static lzs_status
attempt(lzs_findings *found, lzs_store *to, lzs_salvage_result *out, bool *again, lzs_error *error)
{
  keeper k = {.found = found, .to = to, .out = out};
  memset(out, 0, sizeof *out);
  settle(found);
  lzs_status status = lzs_db_begin(to, error);
  if (status != LZS_OK)
    return status;
  for (int64_t id = 1; id <= found->last && status == LZS_OK && !k.again; id++) {
    status = keep_one(&k, id, error);
    if (status == LZS_OK && !lzs_told_step(&found->from->told, (double)id / (double)found->last))
      status = lzs_told_stopped(error);
  }
  if (status == LZS_OK && !k.again)
    status = copy_sides(&k, error);
  if (status == LZS_OK && !k.again && out->kept == 0)
    status = lzs_fail(error, LZS_CORRUPT, "file", NULL, "no entry could be read");
  free(k.chains);
  *again = k.again;
  status = lzs_db_end(to, k.again ? LZS_REFUSED : status, error);
  return k.again ? LZS_OK : status;
}

lzs_status
lzs_salvage_keep(lzs_findings *found, lzs_store *to, lzs_each_fate each, void *ctx,
                 lzs_salvage_result *out, lzs_error *error)
{
  bool again = true;
  lzs_status status = LZS_OK;
  while (status == LZS_OK && again)
    status = attempt(found, to, out, &again, error);
  for (int64_t id = 1; id <= found->last && status == LZS_OK && each != NULL; id++) {
    lzs_entry entry;
    lzs_finding *f = &found->of[id];
    bool there = f->fate != LZS_KEPT_SOUND && f->there && lzs_salvage_read(found, id, &entry);
    if (f->fate != LZS_KEPT_SOUND && !f->absent &&
        !each(ctx, id, (lzs_fate)f->fate, there ? &entry : NULL))
      status = lzs_fail(error, LZS_REFUSED, NULL, NULL, "stopped");
  }
  return status;
}
