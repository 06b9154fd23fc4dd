// SPDX-License-Identifier: GPL-3.0-or-later
// Stays of lots: see lz_stays.h.
#include "lz_stays.h"

typedef struct {
  const LzModel *model;
  GArray *stays;
  guint *open;    // per lot: index + 1 of the stay it is in, 0 = in none
  int32_t *heads; // per lot
  bool *gone;     // per lot: released or merged
} Walk;

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

// None left is the end of its stay; fish that were given up as dead and are counted again stand
// where they stood.
static void
count(Walk *walk, const lzq_record *r)
{
  walk->heads[r->lot] = r->heads;
  if (r->heads <= 0)
    leave(walk, r->lot, r);
  for (guint i = walk->stays->len; r->heads > 0 && !walk->gone[r->lot] && i-- > 0;)
    if (g_array_index(walk->stays, LzStay, i).lot == r->lot) {
      if (!walk->open[r->lot])
        enter(walk, r->lot, g_array_index(walk->stays, LzStay, i).tank, r);
      break;
    }
}

static void
take(Walk *walk, const lzq_record *r)
{
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
    walk->gone[r->lot] = true;
    break;
  case LZQ_REC_COUNT: count(walk, r); break;
  case LZQ_REC_DEATH: lose(walk, r, r->heads); break;
  case LZQ_REC_RELEASE:
    leave(walk, r->lot, r);
    walk->gone[r->lot] = true;
    break;
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

// Records in force of all lots, in the order in which they act. A lot's own suffice: a split or
// merge is also listed with the other lot.
static GArray *
acts_until(LzModel *m, lzq_minute until, lzq_minute *next)
{
  *next = LZQ_NEVER;
  GArray *acts = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (uint32_t lot = 0; lot < m->of_lot->len; lot++) {
    const GArray *own = m->of_lot->pdata[lot];
    for (guint i = 0; i < own->len; i++) {
      const uint32_t index = g_array_index(own, uint32_t, i);
      const lzq_record *r = &g_array_index(m->records, lzq_record, index);
      if (r->at > until)
        *next = MIN(*next, r->at);
      else if (r->lot == lot && lz_model_record_holds(m, index))
        g_array_append_val(acts, index);
    }
  }
  g_array_sort_with_data(acts, lz_model_by_acting, m);
  return acts;
}

static GArray *
walk_all(LzModel *m, lzq_minute until)
{
  Walk walk = {.model = m,
               .stays = g_array_new(FALSE, FALSE, sizeof(LzStay)),
               .open = g_new0(guint, m->lots->len + 1),
               .heads = g_new0(int32_t, m->lots->len + 1),
               .gone = g_new0(bool, m->lots->len + 1)};
  g_autoptr(GArray) acts = acts_until(m, until, &m->stays_next);
  for (guint i = 0; i < acts->len; i++)
    take(&walk, &g_array_index(m->records, lzq_record, g_array_index(acts, uint32_t, i)));
  g_free(walk.open);
  g_free(walk.heads);
  g_free(walk.gone);
  g_array_sort(walk.stays, by_lot); // stable where it matters: one lot enters at most once a minute
  return walk.stays;
}

// Whether a record may move a lot.
static gboolean
moves_lots(const lzq_record *r)
{
  switch ((lzq_record_kind)r->kind) {
  case LZQ_REC_RECEIVE:
  case LZQ_REC_MOVE:
  case LZQ_REC_SPLIT:
  case LZQ_REC_MERGE:
  case LZQ_REC_COUNT:
  case LZQ_REC_DEATH:
  case LZQ_REC_RELEASE: return TRUE;
  default: return FALSE; // a correction is of the kind that it corrects
  }
}

// Most entries move no lot, and time alone brings none that was entered ahead.
static gboolean
stays_hold(const LzModel *m, lzq_minute until)
{
  if (!m->stays || m->stays_generation != m->generation || m->stays_records > m->records->len ||
      until < m->stays_until || until >= m->stays_next)
    return FALSE;
  for (guint i = m->stays_records; i < m->records->len; i++)
    if (moves_lots(&g_array_index(m->records, lzq_record, i)))
      return FALSE;
  return TRUE;
}

GArray *
lz_stays(LzModel *m, lzq_minute until)
{
  if (!stays_hold(m, until)) {
    g_clear_pointer(&m->stays, g_array_unref);
    m->stays = walk_all(m, until);
    m->stays_generation = m->generation;
    m->stays_until = until;
  }
  m->stays_records = m->records->len;
  return g_array_ref(m->stays);
}

guint
lz_stays_of(const GArray *stays, uint32_t lot)
{
  guint low = 0, high = stays->len;
  while (low < high) {
    const guint middle = low + (high - low) / 2;
    if (g_array_index(stays, LzStay, middle).lot < lot)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}
