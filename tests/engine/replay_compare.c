// SPDX-License-Identifier: GPL-3.0-or-later
// What is compared: of each lot its state, its visits, and every minute of its spans.
#include "replay_compare.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "oracle.h"
#include "lzq_shorts.h"
#include "plan_print.h"

typedef struct {
  char *why;
  size_t room;
  uint32_t lot;
  bool differs;
} verdict;

static void
differ(verdict *v, const char *field, int64_t index, int64_t engine, int64_t oracle)
{
  if (v->differs || engine == oracle)
    return;
  v->differs = true;
  snprintf(v->why, v->room, "lot %u: %s [%" PRId64 "]: engine %" PRId64 ", oracle %" PRId64, v->lot,
           field, index, engine, oracle);
}

static void
compare_visits(verdict *v, const lzq_lot_credit *e, const lzq_lot_credit *o)
{
  differ(v, "n_visits", 0, e->n_visits, o->n_visits);
  for (uint32_t i = 0; i < e->n_visits && !v->differs; i++) {
    const lzq_visit *a = &e->visits[i], *b = &o->visits[i];
#define SAME(field) differ(v, "visit." #field, i, (int64_t)a->field, (int64_t)b->field)
    SAME(protocol);
    SAME(phase);
    SAME(start);
    SAME(course_from);
    SAME(placed_at);
    SAME(given_at);
    SAME(end);
    SAME(left);
    SAME(credit_min);
    SAME(credit_from);
    SAME(accepted_min);
    SAME(lapses);
    SAME(first_lapse);
    SAME(last_lapse);
    SAME(open_min);
    SAME(firm_at);
#undef SAME
  }
}

// A minute's answer from the spans, in the oracle's form; *at walks along.
static void
compare_minutes(verdict *v, const lzq_lot_credit *e, const lzt_oracle *oracle,
                const lzt_oracle_lot *lot)
{
  uint32_t at = 0;
  for (uint32_t i = 0; i < e->n_spans; i++) {
    differ(v, "span.from<to", i, e->spans[i].from < e->spans[i].to, 1);
    if (i)
      differ(v, "spans in order", i, e->spans[i - 1].to <= e->spans[i].from, 1);
  }
  for (size_t m = 0; m < oracle->n_cells && !v->differs; m++) {
    lzq_minute t = oracle->from + (lzq_minute)m;
    const lzt_cell *cell = &lot->cells[m];
    while (at < e->n_spans && e->spans[at].to <= t)
      at++;
    const lzq_span *span = at < e->n_spans && e->spans[at].from <= t ? &e->spans[at] : NULL;
    differ(v, "minute.runs", t, span != NULL, cell->visit >= 0);
    if (!span || cell->visit < 0)
      continue;
    differ(v, "minute.why", t, span->why, cell->why);
    if (cell->why > LZQ_WHY_PLACE)
      differ(v, "minute.band", t, span->band, cell->band);
    differ(v, "minute.visit", t, span->visit, cell->visit);
    differ(v, "minute.system", t, span->system, cell->system);
    if (cell->why == LZQ_WHY_NONE)
      differ(v, "minute.firm", t, span->firm, cell->confirmed != LZQ_NEVER);
  }
}

static void
compare_lot(verdict *v, const lzq_lot_credit *e, const lzt_oracle *oracle,
            const lzt_oracle_lot *lot)
{
  const lzq_lot_credit *o = &lot->sum;
#define SAME(field) differ(v, #field, 0, (int64_t)e->field, (int64_t)o->field)
  SAME(received_at);
  SAME(released);
  SAME(released_at);
  SAME(merged);
  SAME(merged_into);
  SAME(dead);
  compare_visits(v, e, o);
  compare_minutes(v, e, oracle, lot);
  SAME(last_sighting);
  SAME(heads);
  if (!o->dead && !o->merged && !o->released) {
    SAME(has_course);
    SAME(system);
    SAME(tank);
    SAME(served);
    SAME(served_at);
    SAME(firm_at);
    SAME(held_by);
    if (o->has_course) {
      SAME(protocol);
      SAME(phase);
    }
    if (o->has_course && !o->served) {
      SAME(credit_min);
      SAME(open_min);
      SAME(accepted_min);
      SAME(run_min);
    }
  }
  SAME(releasable_at);
#undef SAME
}

// Releases found short because another lot held: of served lots whose last end became firm.
static void
compare_held(verdict *v, const lzq_snapshot *snap, const lzq_credit *credit,
             const lzt_oracle *oracle, lzq_arena *arena)
{
  lzq_shorts shorts;
  if (lzq_shorts_make(snap, credit, arena, &shorts) != LZQ_OK)
    abort();
  for (uint32_t i = 0; i < snap->n_lots; i++) {
    const lzq_lot_credit *o = &oracle->lots[i].sum;
    bool listed = false;
    for (size_t s = 0; s < shorts.n; s++)
      listed |= shorts.items[s].lot == i && shorts.items[s].how == LZQ_SHORT_HELD;
    v->lot = i;
    differ(v, "released while held", 0, listed,
           o->released && o->served && o->firm_at != LZQ_NEVER && o->went_held_by != LZQ_NONE);
  }
}

bool
lzt_replay_agrees(const lzt_history *history, char *why, size_t room)
{
  lzq_arena arena;
  lzq_fault fault = {0};
  const lzq_credit *credit = NULL;
  verdict v = {why, room, 0, false};
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  lzq_status status = lzq_snapshot_check(&history->snap, &fault);
  if (status == LZQ_OK)
    status =
        lzq_credit_run(&history->snap, history->known_id, history->until, &arena, &credit, &fault);
  if (status != LZQ_OK) {
    snprintf(why, room, "engine says %s: %s of %d, %u", lzq_status_name(status),
             fault.field ? fault.field : "-", (int)fault.what, fault.index);
    lzq_arena_free(&arena);
    return false;
  }
  lzt_oracle *oracle = lzt_oracle_run(&history->snap, history->known_id, history->until);
  for (uint32_t i = 0; i < history->snap.n_lots && !v.differs; i++) {
    v.lot = i;
    compare_lot(&v, &credit->lots[i], oracle, &oracle->lots[i]);
  }
  if (history->known_id == UINT64_MAX)
    compare_held(&v, &history->snap, credit, oracle, &arena);
  lzt_oracle_free(oracle);
  lzq_arena_free(&arena);
  return !v.differs;
}

static char *
credit_text(lzq_book *book, const lzq_snapshot *snapshot, lzq_minute until)
{
  lzq_arena arena;
  const lzq_credit *credit = NULL;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_status status = lzq_credit_of_book(book, snapshot, until, &arena, &credit, NULL);
  char *text = status == LZQ_OK ? lzt_print_credit(credit) : NULL;
  lzq_arena_free(&arena);
  return text;
}

bool
lzt_book_agrees(const lzt_history *history, char *why, size_t room)
{
  lzq_snapshot snapshot = history->snap;
  lzq_book *book = lzq_book_new(lzq_allocator_libc());
  bool agrees = book != NULL;
  for (snapshot.n_records = 0; agrees && snapshot.n_records <= history->snap.n_records;
       snapshot.n_records++) {
    char *kept = credit_text(book, &snapshot, history->until);
    char *anew = credit_text(NULL, &snapshot, history->until);
    const char *difference = kept && anew ? lzt_print_difference(kept, anew) : "no answer";
    if (difference)
      snprintf(why, room, "book after %zu records: %s", snapshot.n_records, difference);
    agrees = !difference;
    free(kept);
    free(anew);
  }
  lzq_book_free(book);
  return agrees;
}

// True without the record at `index`: the two still differ (in anything but a refused snapshot).
static bool
differs_without(const lzt_history *history, size_t index, lzt_agrees agrees, lzt_history *smaller)
{
  char why[200];
  *smaller = *history;
  lzt_history_bind(smaller);
  memmove(&smaller->records[index], &smaller->records[index + 1],
          (history->snap.n_records - index - 1) * sizeof(lzq_record));
  smaller->snap.n_records--;
  if (lzq_snapshot_check(&smaller->snap, NULL) != LZQ_OK)
    return false;
  return !agrees(smaller, why, sizeof why);
}

void
lzt_replay_shrink(lzt_history *history, lzt_agrees agrees)
{
  static lzt_history smaller;
  bool again = true;
  while (again) {
    again = false;
    for (size_t i = history->snap.n_records; i-- > 0;)
      if (differs_without(history, i, agrees, &smaller)) {
        *history = smaller;
        lzt_history_bind(history);
        again = true;
      }
  }
}

bool
lzt_replay_keep(const lzt_history *history, const char *folder, const char *note, char *path,
                size_t room)
{
  snprintf(path, room, "%s/case-%016" PRIx64 ".history", folder,
           (uint64_t)history->until * 0x9e3779b97f4a7c15u ^ history->snap.n_records);
  FILE *file = fopen(path, "w");
  if (!file)
    return false;
  bool written = lzt_history_write(history, note, file);
  return fclose(file) == 0 && written;
}
