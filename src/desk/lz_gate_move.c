// SPDX-License-Identifier: GPL-3.0-or-later
// The gate in front of a move: fish go on only when the end of their phase is proven, and only into
// water that already matches. Fish that must go all the same go with a reason on record.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_place.h"
#include "lz_seen.h"
#include "lz_words.h"

static gboolean
stop(LzDraft *d, char *words, GError **error)
{
  g_autofree char *owned = words;
  if (d->live && !d->entry.reason)
    return lz_gate_refuse(error, LZ_GATED_MOVE,
                          _("tank: %s; if they must go all the same, say why"), words);
  lz_command_note(d->command, g_steal_pointer(&owned));
  return TRUE;
}

// Copper that nobody read or dosed is none; any other level that is not known says nothing.
static double
level_of(LzDraft *d, uint32_t system, lzq_analyte analyte)
{
  g_autoptr(GArray) steps = lz_carry(d->model, system, analyte, d->entry.happened_min);
  gboolean untouched = TRUE;
  for (guint i = 0; i < steps->len; i++) {
    uint8_t kind = g_array_index(steps, LzCarryStep, i).kind;
    untouched =
        untouched && kind != LZQ_REC_READING && kind != LZQ_REC_DOSE && kind != LZQ_REC_GEAR;
  }
  return analyte == LZQ_COPPER && untouched ? 0 : lz_carry_level(steps);
}

static gboolean
matches(LzDraft *d, uint32_t from, uint32_t to, lzq_analyte analyte, const lzq_phase *phase,
        GError **error)
{
  double here = level_of(d, from, analyte), there = level_of(d, to, analyte);
  double most = analyte == LZQ_COPPER ? phase->tol_copper : phase->tol_salinity;
  double differs = fabs(here - there);
  if (analyte == LZQ_COPPER && phase->copper_free) {
    most = phase->tol_copper_free;
    differs = there;
  }
  if (!isfinite(most) || !isfinite(differs) || differs <= most + LZQ_EDGE)
    return TRUE;
  lzq_because because = {LZQ_BECAUSE_MOVE_NOT_MATCHED, {analyte, here, there, most}};
  return stop(d, lz_words_because(d->desk, &because), error);
}

// While something was seen and nobody has answered it, nothing goes in or out without a reason.
static gboolean
nothing_seen(LzDraft *d, uint32_t system, GError **error)
{
  g_autoptr(LzSeen) seen = system != LZQ_NONE && d->live ? lz_seen_open(d->desk, system) : NULL;
  if (!seen)
    return TRUE;
  g_autofree char *when = lz_format_when(lz_desk_zone(d->desk), seen->at, d->entry.happened_min);
  return stop(
      d,
      g_strdup_printf(_("moves in and out of %1$s are stopped: something was seen there %2$s"),
                      lz_desk_name(d->desk, "system", system), when),
      error);
}

gboolean
lz_gate_receipt(LzDraft *d, uint32_t system, GError **error)
{
  return d->entry.corrects || d->before || nothing_seen(d, system, error);
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
  if (!nothing_seen(d, place.system, error) || !nothing_seen(d, to, error) ||
      !lz_gate_enter(d, lz_model_species(d->model, lot), lot->label, to, error))
    return FALSE;
  const lzq_snapshot *s = lz_model_view(d->model);
  const lzq_credit *credit = NULL;
  gboolean ok = TRUE;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  if (lzq_credit_of_book(lz_desk_book(d->desk), s, d->entry.happened_min, &arena, &credit, NULL) ==
      LZQ_OK) {
    const lzq_lot_credit *c = &credit->lots[lot->index];
    const lzq_visit *last = c->n_visits > 1 ? &c->visits[c->n_visits - 2] : NULL;
    if (c->has_course && !c->served) {
      const lzq_phase *phase = &s->phases[s->protocols[c->protocol].first_phase + c->phase];
      lzq_because open = {LZQ_BECAUSE_MOVE_NOT_FIRM, {0}};
      if (last && last->left == LZQ_LEFT_ENDED && last->firm_at == LZQ_NEVER)
        ok = stop(d, lz_words_because(d->desk, &open), error);
      ok = ok && matches(d, place.system, to, LZQ_COPPER, phase, error) &&
           matches(d, place.system, to, LZQ_SALINITY, phase, error);
    }
  }
  lzq_arena_free(&arena);
  return ok;
}
