// SPDX-License-Identifier: GPL-3.0-or-later
// The plan of a minute: slots resolved for the weeks ahead, the share of tests missed, the engine,
// and what it found wrong as a sentence.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_advice.h"
#include "lz_banks.h"
#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_estimate_private.h"
#include "lz_medicine.h"
#include "lz_words.h"

#define SLOT_DAYS_BACK  2
#define SLOT_DAYS_AHEAD 120

// --- the plan

static void
set_slots(LzDesk *desk, lzq_minute at)
{
  LzModel *m = desk->model;
  const char *text = m->station ? lz_entry_text(m->station->now, "slots") : NULL;
  lzq_minute from = lz_zone_day_start(m->zone, lz_zone_day(m->zone, at) - SLOT_DAYS_BACK);
  g_autofree char *key = g_strdup_printf("%s|%s", lz_zone_name(m->zone), text ? text : "");
  if (desk->slots_from == from && g_strcmp0(desk->slots_for, key) == 0)
    return;
  GArray *slots =
      lz_zone_slots(m->zone, text, from, from + (SLOT_DAYS_BACK + SLOT_DAYS_AHEAD) * LZQ_DAY, NULL);
  g_array_unref(m->slots);
  m->slots = slots ? slots : g_array_new(FALSE, TRUE, sizeof(lzq_slot));
  desk->slots_from = from;
  g_free(desk->slots_for);
  desk->slots_for = g_steal_pointer(&key);
}

lzq_book *
lz_desk_book(LzDesk *desk)
{
  if (desk->book && desk->book_others != desk->model->others)
    lzq_book_clear(desk->book);
  desk->book_others = desk->model->others;
  return desk->book;
}

// What one water will need at its next test, by the estimate.
static gboolean
expects(LzDesk *desk, const lzq_plan *plan, uint32_t system, lzq_minute at, lzq_expected *out)
{
  lzq_water_bank bank;
  LzEstimate e;
  LzDoseAdvice advice;
  if (!plan->waters[system].has_band[LZQ_COPPER] || !lz_plan_holds_fish(plan, system) ||
      lzq_plan_torn(plan, system, LZQ_COPPER) ||
      !lz_banks_at(desk->banks, desk->model, system, LZQ_COPPER, at, &bank))
    return FALSE;
  lz_estimate_of_bank(desk, plan, &bank, at, &e);
  if (isnan(e.top_up_mg) || e.next_test == LZQ_NEVER)
    return FALSE;
  lz_advice_make(desk, system, LZQ_COPPER, 0, at, &advice);
  *out = (lzq_expected){.system = system,
                        .bottle = advice.bottle,
                        .analyte = LZQ_COPPER,
                        .at = e.next_test,
                        .deadline = e.unseen_by < e.next_test ? LZQ_NEVER : e.unseen_by,
                        .expected = e.expected,
                        .target = plan->waters[system].band[LZQ_COPPER].target,
                        .mg = e.top_up_mg,
                        .loss_per_h = e.loss_per_h,
                        .loss_learnt = e.loss_learnt};
  return TRUE;
}

// The plan with what the estimates see coming.
static lzq_status
expect(LzDesk *desk, lzq_minute at, lzq_arena *arena, const lzq_plan **plan)
{
  const lzq_snapshot *snapshot = lz_model_view(desk->model);
  g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(lzq_expected));
  for (uint32_t system = 0; system < snapshot->n_systems; system++) {
    lzq_expected one;
    if (expects(desk, *plan, system, at, &one))
      g_array_append_val(all, one);
  }
  return lzq_plan_expect(snapshot, *plan, (const lzq_expected *)(void *)all->data, all->len, arena,
                         plan);
}

static void
no_memory(GError **error)
{
  g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO,
                      _("there is not enough memory for the plan"));
}

static const lzq_plan *
make_plan(LzDesk *desk, const lzq_snapshot *snapshot, const lzq_credit *credit, lzq_minute at,
          lzq_arena *arena, GError **error)
{
  const lzq_plan *plan = NULL;
  lzq_fault fault = {0};
  lzq_status status =
      lzq_plan_of_credit(lz_desk_book(desk), snapshot, credit, at, arena, &plan, &fault);
  if (status == LZQ_OK)
    return plan;
  if (status == LZQ_NO_MEMORY) {
    no_memory(error);
  } else {
    g_autofree char *words = lz_words_fault(desk, &fault);
    g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED, words);
  }
  return NULL;
}

const lzq_plan *
lz_desk_make_plan(LzDesk *desk, lzq_minute at, lzq_arena *arena, GError **error)
{
  set_slots(desk, at);
  lz_missed_refresh(desk, at);
  return make_plan(desk, lz_model_view(desk->model), NULL, at, arena, error);
}

static void
keep_credit(LzDesk *desk, const lzq_credit *credit, lzq_minute at)
{
  desk->credit = credit;
  desk->credit_at = at;
  desk->credit_generation = desk->model->generation;
  desk->credit_entries = desk->model->entries->len;
}

const lzq_credit *
lz_desk_credit_at(const LzDesk *desk, lzq_minute at)
{
  return desk->credit_at == at && desk->credit_generation == desk->model->generation &&
                 desk->credit_entries == desk->model->entries->len
             ? desk->credit
             : NULL;
}

const lzq_plan *
lz_desk_plan_ahead(LzDesk *desk, lzq_minute at, lzq_arena *arena, GError **error)
{
  lz_medicine_mark_spent(desk, at);
  const lzq_plan *plan = lz_desk_make_plan(desk, at, arena, error);
  keep_credit(desk, plan ? plan->credit : NULL, at);
  if (!plan || expect(desk, at, arena, &plan) == LZQ_OK)
    return plan;
  no_memory(error);
  return NULL;
}

const lzq_plan *
lz_desk_plan_at(LzDesk *desk, lzq_minute at, lzq_arena *arena, GError **error)
{
  lzq_arena_init(arena, lzq_allocator_libc(), 0);
  return lz_desk_make_plan(desk, at, arena, error);
}

const lzq_plan *
lz_desk_plan_at_once(LzDesk *desk, lzq_arena *arena, GError **error)
{
  lzq_arena_init(arena, lzq_allocator_libc(), 0);
  lzq_snapshot snapshot = *lz_model_view(desk->model);
  snapshot.slots = NULL;
  snapshot.n_slots = 0;
  return make_plan(desk, &snapshot, lz_desk_credit_at(desk, desk->now), desk->now, arena, error);
}

gboolean
lz_plan_holds_fish(const lzq_plan *plan, uint32_t system)
{
  for (uint32_t i = 0; i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    if (lot->system == system && lot->heads > 0 && !lot->released && !lot->merged && !lot->dead)
      return TRUE;
  }
  return FALSE;
}

const lzq_plan *
lz_desk_plan(LzDesk *desk)
{
  return desk->plan;
}

const char *
lz_desk_plan_error(LzDesk *desk)
{
  return desk->plan_error;
}

const lzq_snapshot *
lz_desk_snapshot(LzDesk *desk)
{
  return lz_model_view(desk->model);
}
