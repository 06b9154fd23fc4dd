// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_foresee.h. Commands are applied to the model, planned, and taken off again.
#include "lz_foresee.h"

#include <glib/gi18n-lib.h>
#include <lzq_diff.h>

#include "lz_contacts.h"
#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_words.h"

static void
shift_free(gpointer data)
{
  LzShift *shift = data;
  g_free(shift->lot);
  g_free(shift->because);
  g_array_unref(shift->segments);
  g_free(shift);
}

void
lz_foresight_free(LzForesight *f)
{
  if (!f)
    return;
  g_ptr_array_unref(f->lots);
  g_ptr_array_unref(f->conflicts);
  g_ptr_array_unref(f->unserved);
  g_ptr_array_unref(f->rooms);
  g_ptr_array_unref(f->contacts);
  g_ptr_array_unref(f->notes);
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

// The water that the last of the applied entries brings fish into; LZQ_NONE.
static uint32_t
entered(LzDesk *desk, int applied)
{
  const LzModel *m = desk->model;
  for (guint i = 0; i < (guint)applied; i++) {
    const LzEntry *entry = m->entries->pdata[m->entries->len - 1 - i];
    uint32_t tank = (entry->kind == LZS_LOT || entry->kind == LZS_MOVE)
                        ? lz_model_index(m, LZS_TANK, lz_entry_int(entry, "tank"))
                        : LZQ_NONE;
    if (tank < m->tanks->len)
      return g_array_index(m->tanks, lzq_tank, tank).system;
  }
  return LZQ_NONE;
}

// Where what comes could stand without delaying anybody. A lot that loses its date is delayed too.
static void
find_rooms(LzDesk *desk, const lzq_plan *after, const lzq_diff *diff, uint32_t into,
           LzForesight *out)
{
  const lzq_snapshot *s = lz_desk_snapshot(desk);
  gboolean delays = FALSE;
  for (uint32_t i = 0; i < diff->n_lots; i++) {
    const lzq_diff_lot *lot = &diff->lots[i];
    delays = delays || (!lot->added && (lot->later_min > 0 ||
                                        (lot->before != LZQ_NEVER && lot->after == LZQ_NEVER)));
  }
  for (uint32_t i = 0; (delays || diff->n_conflicts) && into < s->n_systems && i < s->n_systems;
       i++)
    if (i != into && s->systems[i].role == s->systems[into].role && !lz_plan_holds_fish(after, i))
      g_ptr_array_add(out->rooms, g_strdup(lz_desk_name(desk, "system", i)));
}

// A transfer or dose that came too late, or a merge, sets the lot back in the plan after, and did
// not before.
static gboolean
goes_back(LzDesk *desk, const lzq_plan *before, const lzq_plan *after, uint32_t lot,
          lzq_because *why)
{
  const lzq_lot_credit *now = &after->credit->lots[lot];
  const lzq_visit *back = NULL;
  for (uint32_t i = 0; i < now->n_visits; i++)
    if (now->visits[i].left == LZQ_LEFT_LATE || now->visits[i].left == LZQ_LEFT_APART)
      back = &now->visits[i];
  if (!back)
    return FALSE;
  const lzq_lot_credit *old =
      lot < before->credit->n_lots ? &before->credit->lots[lot] : &(lzq_lot_credit){0};
  for (uint32_t i = 0; i < old->n_visits; i++)
    if (old->visits[i].left == back->left && old->visits[i].end == back->end)
      return FALSE;
  *why = lzq_because_left(lz_desk_snapshot(desk), back);
  return TRUE;
}

// What decides a lot's new date: the sighting, or what was late, where it is the commands' own that
// sets it back; else what the plan says it waits for.
static char *
why_of(LzDesk *desk, const lzq_plan *before, const lzq_plan *after, const lzq_diff_lot *lot)
{
  const lzq_lot_credit *now = &after->credit->lots[lot->lot];
  lzq_minute seen = lot->lot < before->credit->n_lots ? before->credit->lots[lot->lot].last_sighting
                                                      : now->last_sighting;
  lzq_because late;
  if (goes_back(desk, before, after, lot->lot, &late))
    return lz_words_because(desk, &late);
  if (now->last_sighting <= seen || lot->later_min <= 0 || now->system == LZQ_NONE)
    return lz_words_because(desk, &lot->because);
  lzq_because sighting = {LZQ_BECAUSE_SIGHTING, {(double)now->last_sighting, now->system}};
  return lz_words_because(desk, &sighting);
}

static LzShift *
shift_of(LzDesk *desk, const lzq_plan *before, const lzq_plan *after, const lzq_diff_lot *lot)
{
  const lzq_lot_plan *plan = &after->lots[lot->lot];
  LzShift *shift = g_new0(LzShift, 1);
  *shift = (LzShift){.lot = g_strdup(lz_desk_name(desk, "lot", lot->lot)),
                     .index = lot->lot,
                     .segments = g_array_new(FALSE, FALSE, sizeof(lzq_segment)),
                     .before = lot->before,
                     .after = lot->after,
                     .late = plan->release_late,
                     .later_min = lot->later_min,
                     .heads = lot->heads,
                     .fish_days = lot->fish_days,
                     .added = lot->added,
                     .because = why_of(desk, before, after, lot)};
  g_array_append_vals(shift->segments, plan->segments, plan->n_segments);
  return shift;
}

// Of the sightings among the entries that were applied last.
static void
find_contacts(LzDesk *desk, const lzq_plan *after, int applied, LzForesight *out)
{
  const GPtrArray *entries = desk->model->entries;
  for (guint i = entries->len - (guint)applied; i < entries->len; i++) {
    g_autoptr(GPtrArray) all =
        lz_contacts_of(desk, after->credit, ((const LzEntry *)entries->pdata[i])->id);
    for (guint k = 0; k < all->len; k++) {
      const LzContactInfo *c = &((const LzContact *)all->pdata[k])->info;
      // Translators: lot, what brought it near the sighting
      g_ptr_array_add(out->contacts, g_strdup_printf(_("lot %1$s %2$s"), c->code, c->what));
    }
  }
}

// system: only lots that stand there in the plan before; LZQ_NONE = all. into: see entered.
static LzForesight *
foresight_of(LzDesk *desk, const lzq_plan *before, const lzq_plan *after, uint32_t system,
             uint32_t into, lzq_arena *arena)
{
  const lzq_diff *diff = NULL;
  if (lzq_diff_make(before, after, lz_desk_snapshot(desk)->n_systems, arena, &diff) != LZQ_OK)
    return NULL;
  LzForesight *out = g_new0(LzForesight, 1);
  out->lots = g_ptr_array_new_with_free_func(shift_free);
  out->conflicts = g_ptr_array_new_with_free_func(g_free);
  out->rooms = g_ptr_array_new_with_free_func(g_free);
  out->unserved = g_ptr_array_new_with_free_func(g_free);
  out->contacts = g_ptr_array_new_with_free_func(g_free);
  out->notes = g_ptr_array_new_with_free_func(g_free);
  for (uint32_t i = 0; i < diff->n_lots; i++) {
    const lzq_diff_lot *lot = &diff->lots[i];
    if (system != LZQ_NONE && before->credit->lots[lot->lot].system != system)
      continue;
    g_ptr_array_add(out->lots, shift_of(desk, before, after, lot));
    out->fish_days += lot->added ? 0 : lot->fish_days;
  }
  for (uint32_t i = 0; i < diff->n_conflicts; i++)
    g_ptr_array_add(out->conflicts, g_strdup(lz_desk_name(desk, "system", diff->conflicts[i])));
  for (uint32_t i = 0; i < lz_desk_snapshot(desk)->n_systems; i++)
    if (after->waters[i].conflict_a != LZQ_NONE)
      g_ptr_array_add(out->unserved, g_strdup(lz_desk_name(desk, "system", i)));
  find_rooms(desk, after, diff, into, out);
  return out;
}

static void
find_notes(LzCommand *const *commands, gsize n, LzForesight *out)
{
  for (gsize i = 0; i < n; i++)
    for (const char *const *note = lz_command_notes(commands[i]); note && *note; note++)
      if (!g_ptr_array_find_with_equal_func(out->notes, *note, g_str_equal, NULL))
        g_ptr_array_add(out->notes, g_strdup(*note)); // tried twice, said once
}

static LzForesight *
or_no_memory(LzForesight *out, GError **error)
{
  if (!out)
    g_set_error_literal(error, LZ_DESK_ERROR, LZ_DESK_ERROR_IO,
                        _("there is not enough memory for the plan"));
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
    out = after ? or_no_memory(
                      foresight_of(desk, before, after, LZQ_NONE, entered(desk, applied), &with),
                      error)
                : NULL;
    if (out) {
      find_contacts(desk, after, applied, out);
      find_notes(commands, n, out);
    }
    lzq_arena_free(&with);
    lz_model_drop(desk->model, (guint)applied);
  }
  lzq_arena_free(&without);
  return out;
}

LzForesight *
lz_desk_foresee_missed(LzDesk *desk, uint32_t system, lzq_minute until, GError **error)
{
  lzq_arena now, later;
  const lzq_plan *before = lz_desk_plan_at(desk, desk->now, &now, error);
  LzForesight *out = NULL;
  if (before) {
    const lzq_plan *after = lz_desk_plan_at(desk, MAX(until, desk->now), &later, error);
    out = after ? or_no_memory(foresight_of(desk, before, after, system, LZQ_NONE, &later), error)
                : NULL;
    lzq_arena_free(&later);
  }
  lzq_arena_free(&now);
  return out;
}
