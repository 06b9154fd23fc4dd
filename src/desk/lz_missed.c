// SPDX-License-Identifier: GPL-3.0-or-later
// The share of planned tests that this station misses: over the last 60 days, at the test slots at
// which a lot with bands stood in a water. Counted once a station day, since it moves slowly and
// needs the credit of every lot.
#include <math.h>

#include "lz_desk_private.h"

#define MISSED_DAYS 60
#define KEPT_MIN    120 // a test this close to its slot kept it: common practice, no source

typedef struct {
  const lzq_snapshot *snapshot;
  const GArray *slots; // lzq_slot
  guint8 *planned;     // n_systems rows of n slots
  guint8 *kept;
} Missed;

// Index of the first slot at or after a minute.
static guint
slot_from(const GArray *slots, lzq_minute at)
{
  guint low = 0, high = slots->len;
  while (low < high) {
    guint middle = low + (high - low) / 2;
    if (g_array_index(slots, lzq_slot, middle).at < at)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

static void
mark_planned(Missed *m, const lzq_lot_credit *lot)
{
  for (uint32_t i = 0; i < lot->n_spans; i++) {
    const lzq_span *span = &lot->spans[i];
    const lzq_visit *visit = &lot->visits[span->visit];
    const lzq_protocol *protocol = &m->snapshot->protocols[visit->protocol];
    if (span->system == LZQ_NONE || visit->phase >= protocol->n_phases ||
        m->snapshot->phases[protocol->first_phase + visit->phase].n_bands == 0)
      continue;
    for (guint s = slot_from(m->slots, span->from); s < m->slots->len; s++) {
      if (g_array_index(m->slots, lzq_slot, s).at >= span->to)
        break;
      m->planned[(gsize)span->system * m->slots->len + s] = 1;
    }
  }
}

static void
mark_kept(Missed *m, const LzModel *model)
{
  const lzq_minute from = g_array_index(m->slots, lzq_slot, 0).at - KEPT_MIN;
  guint i = lz_model_record_since(model, 0, from);
  for (; i < m->snapshot->n_records; i = lz_model_record_since(model, i + 1, from)) {
    const lzq_record *r = &m->snapshot->records[i];
    if (r->kind != LZQ_REC_READING || r->voided || r->system == LZQ_NONE)
      continue;
    for (guint s = slot_from(m->slots, r->at - KEPT_MIN); s < m->slots->len; s++) {
      if (g_array_index(m->slots, lzq_slot, s).at > r->at + KEPT_MIN)
        break;
      m->kept[(gsize)r->system * m->slots->len + s] = 1;
    }
  }
}

static double
share(LzDesk *desk, GArray *slots, lzq_minute at)
{
  LzModel *model = desk->model;
  lzq_arena arena;
  const lzq_credit *credit = NULL;
  const lzq_snapshot *snapshot = lz_model_view(model);
  gsize n = (gsize)snapshot->n_systems * slots->len, planned = 0, missed = 0;
  if (n == 0 || model->courses == 0)
    return 0;
  g_autofree guint8 *marks = g_new0(guint8, 2 * n);
  Missed m = {snapshot, slots, marks, marks + n};
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  if (lzq_credit_of_book(lz_desk_book(desk), snapshot, at, &arena, &credit, NULL) == LZQ_OK) {
    for (uint32_t i = 0; i < credit->n_lots; i++)
      mark_planned(&m, &credit->lots[i]);
    mark_kept(&m, model);
  }
  lzq_arena_free(&arena);
  for (gsize i = 0; i < n; i++) {
    planned += m.planned[i];
    missed += m.planned[i] && !m.kept[i];
  }
  return planned ? (double)missed / (double)planned : 0;
}

void
lz_missed_refresh(LzDesk *desk, lzq_minute at)
{
  LzModel *model = desk->model;
  int32_t day = lz_zone_day(model->zone, at);
  if (desk->missed_known && desk->missed_day == day)
    return;
  const char *text = model->station ? lz_entry_text(model->station->now, "slots") : NULL;
  lzq_minute until = at - KEPT_MIN; // a slot that is still to be kept is not missed
  g_autoptr(GArray) slots =
      lz_zone_slots(model->zone, text, until - MISSED_DAYS * LZQ_DAY, until, NULL);
  model->rules.missed_share = slots ? share(desk, slots, at) : 0;
  desk->missed_day = day;
  desk->missed_known = TRUE;
}
