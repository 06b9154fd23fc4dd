// SPDX-License-Identifier: GPL-3.0-or-later
// Fish that come into a water where others are further on, and fish that leave the place that their
// course asks for: nothing is stopped, but nobody should learn of it from a date.
#include <glib/gi18n-lib.h>
#include <lzq_goal.h>

#include "lz_gate_move.h"
#include "lz_words.h"

enum { FURTHER_MIN = 1440 }; // begun together, if they began within this

static lzq_minute
begun(const lzq_lot_credit *credit)
{
  return credit->has_course && credit->n_visits ? credit->visits[0].start : LZQ_NEVER;
}

// A lot that stands in the water into which this one comes.
static gboolean
is_another(const LzEntity *lot, uint32_t i, const lzq_lot_credit *other, uint32_t to)
{
  return (!lot || i != lot->index) && other->system == to && !other->released && !other->merged &&
         !other->dead;
}

static void
note_others(LzDraft *d, const LzEntity *lot, uint32_t to, const lzq_credit *credit)
{
  if (d->model->rules.last_in)
    return; // then their dates move, and the what-if says so
  const lzq_minute own = lot ? begun(&credit->lots[lot->index]) : LZQ_NEVER;
  const lzq_minute since = own == LZQ_NEVER ? d->entry.happened_min : own;
  g_autoptr(GString) codes = g_string_new(NULL);
  for (uint32_t i = 0; i < credit->n_lots; i++) {
    const lzq_lot_credit *other = &credit->lots[i];
    if (!is_another(lot, i, other, to) || begun(other) == LZQ_NEVER ||
        begun(other) > since - FURTHER_MIN)
      continue;
    g_string_append_printf(codes, "%s%s", codes->len ? ", " : "", lz_desk_name(d->desk, "lot", i));
  }
  if (codes->len)
    lz_command_note(
        d->command,
        g_strdup_printf(_("%1$s holds lots that are further on (%2$s): what comes in now may bring "
                          "parasites to them, and their dates stay, since the station's last-in "
                          "rule is off"),
                        lz_desk_name(d->desk, "system", to), codes->str));
}

// Whether the rest of its course holds a medicine in the water.
static gboolean
holds_medicine(const lzq_snapshot *s, const lzq_lot_credit *credit)
{
  if (!credit->has_course)
    return FALSE;
  const lzq_protocol *protocol = &s->protocols[credit->protocol];
  for (uint32_t i = credit->phase; i < protocol->n_phases; i++) {
    lzq_goal goal = lzq_goal_none();
    lzq_goal_join(&goal, &s->phases[protocol->first_phase + i], 0);
    if (lzq_goal_medicates(&goal))
      return TRUE;
  }
  return FALSE;
}

// One of two that will share a water is under a medicine, and the other's course gives none.
static void
note_medicine(LzDraft *d, const LzEntity *lot, uint32_t to, const lzq_credit *credit)
{
  const lzq_snapshot *s = lz_model_view(d->model);
  const gboolean own = lot && holds_medicine(s, &credit->lots[lot->index]);
  for (uint32_t i = 0; i < credit->n_lots; i++) {
    const lzq_lot_credit *other = &credit->lots[i];
    if (!is_another(lot, i, other, to) || !other->has_course || holds_medicine(s, other) == own)
      continue;
    lz_command_note(d->command,
                    own ? g_strdup_printf(_("lot %1$s brings the medicine of its course into %2$s; "
                                            "the course of lot %3$s there gives none"),
                                          lot->label, lz_desk_name(d->desk, "system", to),
                                          lz_desk_name(d->desk, "lot", i))
                        : g_strdup_printf(_("lot %2$s in %1$s is under a medicine: whatever comes "
                                            "into that water meets it too"),
                                          lz_desk_name(d->desk, "system", to),
                                          lz_desk_name(d->desk, "lot", i)));
    return;
  }
}

// It stood in its place, and the phase has not ended.
static void
note_away(LzDraft *d, const LzEntity *lot, uint32_t to, const lzq_lot_credit *credit)
{
  const lzq_snapshot *s = lz_model_view(d->model);
  if (!credit->has_course || credit->served || credit->n_visits == 0 ||
      credit->visits[credit->n_visits - 1].placed_at == LZQ_NEVER)
    return;
  const lzq_phase *phase = &s->phases[s->protocols[credit->protocol].first_phase + credit->phase];
  if (phase->place != LZQ_PLACE_ROLE || s->systems[to].role == phase->role)
    return;
  if (s->systems[to].role == LZQ_ROLE_ISOLATION)
    lz_command_note(d->command,
                    g_strdup_printf(_("lot %2$s goes into isolation (%1$s): its time there does "
                                      "not count; the plan keeps the water as its course asks, and "
                                      "it goes back when you find it fit"),
                                    lz_desk_name(d->desk, "system", to), lot->label));
  else
    lz_command_note(
        d->command,
        g_strdup_printf(
            _("%1$s is no place for what lot %2$s is in: its time there does not count, "
              "and the plan will ask to bring it back; if it is to stay there, stop its "
              "course or begin another"),
            lz_desk_name(d->desk, "system", to), lot->label));
}

void
lz_gate_share(LzDraft *d, const LzEntity *lot, uint32_t to, const lzq_credit *credit)
{
  if (lot)
    note_away(d, lot, to, &credit->lots[lot->index]);
  note_others(d, lot, to, credit);
  note_medicine(d, lot, to, credit);
}
