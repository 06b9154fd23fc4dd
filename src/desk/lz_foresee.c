// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_foresee.h. Commands are applied to the model, planned, and taken off again.
#include "lz_foresee.h"

#include <glib/gi18n-lib.h>
#include <lzq_diff.h>

#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_words.h"

static void
shift_free(gpointer data)
{
  LzShift *shift = data;
  g_free(shift->lot);
  g_free(shift->because);
  g_free(shift);
}

void
lz_foresight_free(LzForesight *f)
{
  if (!f)
    return;
  g_ptr_array_unref(f->lots);
  g_ptr_array_unref(f->conflicts);
  g_ptr_array_unref(f->rooms);
  g_free(f);
}

static lzq_minute
last_minute(LzDesk *desk, int applied)
{
  const GPtrArray *entries = desk->model->entries;
  lzq_minute at = desk->now;
  for (guint i = entries->len - (guint)applied; i < entries->len; i++)
    at = MAX(at, ((const LzEntry *)entries->pdata[i])->at);
  return at;
}

static gboolean
holds_fish(const lzq_plan *plan, uint32_t system)
{
  for (uint32_t i = 0; i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    if (lot->system == system && lot->heads > 0 && !lot->released && !lot->merged && !lot->dead)
      return TRUE;
  }
  return FALSE;
}

// Where the new lots could stand without delaying anybody.
static void
find_rooms(LzDesk *desk, const lzq_plan *after, const lzq_diff *diff, LzForesight *out)
{
  const lzq_snapshot *s = lz_desk_snapshot(desk);
  uint32_t system = LZQ_NONE;
  gboolean delays = FALSE;
  for (uint32_t i = 0; i < diff->n_lots; i++) {
    delays = delays || (!diff->lots[i].added && diff->lots[i].later_min > 0);
    if (diff->lots[i].added)
      system = after->credit->lots[diff->lots[i].lot].system;
  }
  for (uint32_t i = 0; delays && system < s->n_systems && i < s->n_systems; i++)
    if (i != system && s->systems[i].role == s->systems[system].role && !holds_fish(after, i))
      g_ptr_array_add(out->rooms, g_strdup(lz_desk_name(desk, "system", i)));
}

static LzForesight *
foresight_of(LzDesk *desk, const lzq_plan *before, const lzq_plan *after, lzq_arena *arena)
{
  const lzq_diff *diff = NULL;
  if (lzq_diff_make(before, after, lz_desk_snapshot(desk)->n_systems, arena, &diff) != LZQ_OK)
    return NULL;
  LzForesight *out = g_new0(LzForesight, 1);
  out->lots = g_ptr_array_new_with_free_func(shift_free);
  out->conflicts = g_ptr_array_new_with_free_func(g_free);
  out->rooms = g_ptr_array_new_with_free_func(g_free);
  out->fish_days = diff->fish_days;
  for (uint32_t i = 0; i < diff->n_lots; i++) {
    const lzq_diff_lot *lot = &diff->lots[i];
    LzShift *shift = g_new0(LzShift, 1);
    *shift = (LzShift){.lot = g_strdup(lz_desk_name(desk, "lot", lot->lot)),
                       .before = lot->before,
                       .after = lot->after,
                       .later_min = lot->later_min,
                       .heads = lot->heads,
                       .fish_days = lot->fish_days,
                       .added = lot->added,
                       .because = lz_words_because(desk, &lot->because)};
    g_ptr_array_add(out->lots, shift);
  }
  for (uint32_t i = 0; i < diff->n_conflicts; i++)
    g_ptr_array_add(out->conflicts, g_strdup(lz_desk_name(desk, "system", diff->conflicts[i])));
  find_rooms(desk, after, diff, out);
  return out;
}

LzForesight *
lz_desk_foresee(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  LzForesight *out = NULL;
  lzq_arena without, with;
  int applied = lz_desk_try(desk, commands, n, error);
  if (applied < 0)
    return NULL;
  lzq_minute at = last_minute(desk, applied);
  lz_model_drop(desk->model, (guint)applied);
  const lzq_plan *before = lz_desk_plan_at(desk, at, &without, error);
  applied = before ? lz_desk_try(desk, commands, n, error) : -1;
  if (applied >= 0) {
    const lzq_plan *after = lz_desk_plan_at(desk, at, &with, error);
    out = after ? foresight_of(desk, before, after, &with) : NULL;
    if (after && !out)
      g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO,
                          _("there is not enough memory for the plan"));
    lzq_arena_free(&with);
    lz_model_drop(desk->model, (guint)applied);
  }
  lzq_arena_free(&without);
  return out;
}
