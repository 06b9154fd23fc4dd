// SPDX-License-Identifier: GPL-3.0-or-later
// The gate in front of a move: fish go on only when the end of their phase is proven, and only into
// water that already matches. Fish that must go all the same go with a reason on record.
#include <glib/gi18n-lib.h>

#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_gate_move.h"
#include "lz_place.h"
#include "lz_seen.h"
#include "lz_words.h"

void
lz_gate_move_stop(LzDraft *d, char *words)
{
  g_autofree char *owned = words;
  // Translators: what stands in the way of a move
  lz_gate_stop(d, LZ_GATED_MOVE, g_strdup_printf(_("tank: %s"), words));
}

const lzq_credit *
lz_gate_credit(LzDraft *d, lzq_arena *arena)
{
  const lzq_credit *credit = NULL;
  if (lzq_credit_of_book(lz_desk_book(d->desk), lz_model_view(d->model), d->entry.happened_min,
                         arena, &credit, NULL) != LZQ_OK)
    return NULL;
  return credit;
}

// While something was seen and nobody has answered it, nothing goes in or out without a reason.
// Judged at the minute of the act, as everything at a gate.
static void
stop_if_seen(LzDraft *d, uint32_t system)
{
  lzq_minute at = d->entry.happened_min;
  if (system == LZQ_NONE || !d->live || !lz_seen_any(d->desk, system, at))
    return;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  g_autoptr(LzSeen) seen = lz_seen_open_at(d->desk, system, at, lz_gate_credit(d, &arena));
  lzq_arena_free(&arena);
  if (!seen)
    return;
  g_autofree char *when = lz_format_when(lz_desk_zone(d->desk), seen->at, d->entry.happened_min);
  lz_gate_stop(d, LZ_GATED_SEEN,
               g_strdup_printf(
                   _("tank: moves in and out of %1$s are stopped: something was seen there %2$s"),
                   lz_desk_name(d->desk, "system", system), when));
}

void
lz_gate_receipt(LzDraft *d, uint32_t system)
{
  if (d->entry.corrects || d->before)
    return;
  stop_if_seen(d, system);
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_credit *credit = d->live ? lz_gate_credit(d, &arena) : NULL;
  if (credit)
    lz_gate_share(d, NULL, system, credit);
  lzq_arena_free(&arena);
}

static void
stop_unproven(LzDraft *d, const lzq_lot_credit *credit)
{
  const lzq_visit *last = credit->n_visits > 1 ? &credit->visits[credit->n_visits - 2] : NULL;
  if (!credit->has_course || credit->served || !last || last->left != LZQ_LEFT_ENDED ||
      last->firm_at != LZQ_NEVER)
    return;
  const lzq_because open = {LZQ_BECAUSE_MOVE_NOT_FIRM, {0}};
  lz_gate_move_stop(d, lz_words_because(d->desk, &open));
}

static const lzq_phase *
phase_of(LzDraft *d, const lzq_lot_credit *credit)
{
  const lzq_snapshot *s = lz_model_view(d->model);
  if (!credit->has_course || credit->served)
    return NULL;
  return &s->phases[s->protocols[credit->protocol].first_phase + credit->phase];
}

gboolean
lz_gate_move(LzDraft *d, const LzEntity *lot, GError **error)
{
  LzPlace place = lz_place_of(d->model, lot->index, d->entry.happened_min);
  uint32_t to = lz_draft_water(d);
  if (place.heads <= 0)
    return lz_refuse(error, LZ_DESK_ERROR_REFUSED,
                     _("lot: %s has no fish left to move; count it first if that is wrong"),
                     lot->label);
  if (place.system == LZQ_NONE || place.system == to || d->entry.corrects)
    return TRUE;
  stop_if_seen(d, place.system);
  stop_if_seen(d, to);
  lz_gate_enter(d, lz_model_species(d->model, lot), lot->label, to);
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_credit *credit = lz_gate_credit(d, &arena);
  if (credit) {
    const lzq_lot_credit *own = &credit->lots[lot->index];
    stop_unproven(d, own);
    lz_gate_match(d, place.system, to, phase_of(d, own));
    lz_gate_share(d, lot, to, credit);
  }
  lzq_arena_free(&arena);
  return TRUE;
}
