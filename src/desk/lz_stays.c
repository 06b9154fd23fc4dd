// SPDX-License-Identifier: GPL-3.0-or-later
// Stays of lots: see lz_stays.h.
#include "lz_stays.h"

#include <lzq_history.h>

typedef struct {
  const LzModel *model;
  GArray *stays;
  guint *open;    // per lot: index + 1 of the stay it is in, 0 = in none
  int32_t *heads; // per lot
} Walk;

void
lz_each_record(LzModel *m, lzq_minute until, LzTakeRecord take, gpointer data)
{
  lzq_arena arena;
  lzq_history history;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  if (lzq_history_make(lz_model_view(m), UINT64_MAX, until, &arena, &history) == LZQ_OK)
    for (size_t i = 0; i < history.n; i++)
      take(data, history.items[i]);
  lzq_arena_free(&arena);
}

static int64_t
entry_of(const lzq_record *r)
{
  return (int64_t)(r->id / LZ_RECORDS_PER_ENTRY);
}

static void
leave(Walk *walk, uint32_t lot, const lzq_record *r)
{
  if (walk->open[lot] == 0)
    return;
  LzStay *stay = &g_array_index(walk->stays, LzStay, walk->open[lot] - 1);
  stay->to = r->at;
  stay->out = entry_of(r);
  walk->open[lot] = 0;
}

static void
enter(Walk *walk, uint32_t lot, uint32_t tank, const lzq_record *r)
{
  leave(walk, lot, r);
  if (tank >= walk->model->tanks->len)
    return;
  LzStay stay = {.lot = lot,
                 .system = g_array_index(walk->model->tanks, lzq_tank, tank).system,
                 .tank = tank,
                 .from = r->at,
                 .to = LZQ_NEVER,
                 .in = entry_of(r),
                 .heads = walk->heads[lot]};
  g_array_append_val(walk->stays, stay);
  walk->open[lot] = walk->stays->len;
}

static uint32_t
tank_of(const Walk *walk, uint32_t lot)
{
  guint open = walk->open[lot];
  return open ? g_array_index(walk->stays, LzStay, open - 1).tank : LZQ_NONE;
}

static void
lose(Walk *walk, const lzq_record *r, int32_t heads)
{
  walk->heads[r->lot] -= heads;
  if (walk->heads[r->lot] <= 0)
    leave(walk, r->lot, r);
}

static void
take(gpointer data, const lzq_record *r)
{
  Walk *walk = data;
  const uint32_t n = walk->model->lots->len;
  if (r->lot >= n)
    return;
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_RECEIVE:
    walk->heads[r->lot] = r->heads;
    enter(walk, r->lot, r->tank, r);
    break;
  case LZQ_REC_MOVE: enter(walk, r->lot, r->tank, r); break;
  case LZQ_REC_SPLIT:
    if (r->other < n) {
      walk->heads[r->other] = r->heads;
      enter(walk, r->other, tank_of(walk, r->lot), r);
    }
    lose(walk, r, r->heads);
    break;
  case LZQ_REC_MERGE:
    if (r->other < n)
      walk->heads[r->other] += walk->heads[r->lot];
    lose(walk, r, walk->heads[r->lot]);
    break;
  case LZQ_REC_COUNT: walk->heads[r->lot] = r->heads; break;
  case LZQ_REC_DEATH: lose(walk, r, r->heads); break;
  case LZQ_REC_RELEASE: leave(walk, r->lot, r); break;
  default: break;
  }
}

static int
by_lot(gconstpointer a, gconstpointer b)
{
  const LzStay *x = a, *y = b;
  return x->lot != y->lot ? (x->lot > y->lot) - (x->lot < y->lot)
                          : (x->from > y->from) - (x->from < y->from);
}

GArray *
lz_stays(LzModel *m, lzq_minute until)
{
  Walk walk = {.model = m,
               .stays = g_array_new(FALSE, FALSE, sizeof(LzStay)),
               .open = g_new0(guint, m->lots->len + 1),
               .heads = g_new0(int32_t, m->lots->len + 1)};
  lz_each_record(m, until, take, &walk);
  g_free(walk.open);
  g_free(walk.heads);
  g_array_sort(walk.stays, by_lot); // stable where it matters: one lot enters at most once a minute
  return walk.stays;
}
