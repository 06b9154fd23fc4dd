// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_gate_keep.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_format.h"
#include "lz_gate_move.h"

typedef struct {
  const lzq_snapshot *snapshot;
  const lzq_phase *served; // that the lot is in
  uint32_t place;          // of it in its order
  const lzq_protocol *next;
} Change;

static gboolean
serves(const Change *c, uint32_t place)
{
  return lzq_phase_serves(c->served, &c->snapshot->phases[c->next->first_phase + place]);
}

// The same place in the order, else the first that may keep it; LZQ_NONE = none may.
static uint32_t
find_place(const Change *c)
{
  if (c->place < c->next->n_phases && serves(c, c->place))
    return c->place;
  for (uint32_t p = 0; p < c->next->n_phases; p++)
    if (serves(c, p))
      return p;
  return LZQ_NONE;
}

static gboolean
refuse(LzDraft *d, const Change *c, const LzEntity *protocol, uint32_t asked, GError **error)
{
  const lzq_phase *phases = c->snapshot->phases;
  const char *served = lz_desk_name(d->desk, "phase", (uint32_t)(c->served - phases));
  uint32_t may = find_place(c);
  if (may == LZQ_NONE)
    return lz_refuse(
        error, LZ_DESK_ERROR_USAGE,
        // Translators: phase; protocol
        _("keep: no phase of %2$s asks for what “%1$s” proved; accepted is no: the lot "
          "begins anew"),
        served, protocol->label);
  const char *next = lz_desk_name(d->desk, "phase", c->next->first_phase + asked);
  return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                   // Translators: phase; phase; position of a phase, its name
                   _("keep: time served in “%1$s” does not prove “%2$s”, which asks for something "
                     "else; accepted is no, or phase %3$d (%4$s)"),
                   served, next, (int)may + 1,
                   lz_desk_name(d->desk, "phase", c->next->first_phase + may));
}

static gboolean
judge(LzDraft *d, const LzEntity *protocol, const lzq_lot_credit *lot, GError **error)
{
  const lzq_snapshot *s = lz_model_view(d->model);
  const Change c = {s, &s->phases[s->protocols[lot->protocol].first_phase + lot->phase], lot->phase,
                    &s->protocols[protocol->index]};
  double given = lz_draft_number(d, "phase");
  uint32_t place = isnan(given) ? find_place(&c) : (uint32_t)given - 1;
  if (place == LZQ_NONE || !serves(&c, place))
    return refuse(d, &c, protocol, place == LZQ_NONE ? 0 : place, error);
  lz_draft_set_int(d, "phase", place + 1);
  g_autofree char *kept = lz_format_duration(lot->credit_min);
  // Translators: a duration; phase
  lz_command_note(d->command,
                  g_strdup_printf(_("%1$s served are kept, in “%2$s”"), kept,
                                  lz_desk_name(d->desk, "phase", c.next->first_phase + place)));
  return TRUE;
}

gboolean
lz_gate_keep(LzDraft *d, const LzEntity *lot, const LzEntity *protocol, GError **error)
{
  if (!lz_draft_yes(d, "keep"))
    return TRUE;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_credit *credit = lz_gate_credit(d, &arena);
  const lzq_lot_credit *own = credit ? &credit->lots[lot->index] : NULL;
  gboolean ok;
  if (!own || !own->has_course || own->served)
    ok = lz_refuse(error, LZ_DESK_ERROR_USAGE,
                   _("keep: %s is in no phase of a course then, so there is nothing to keep; "
                     "accepted is no"),
                   lot->label);
  else
    ok = judge(d, protocol, own, error);
  lzq_arena_free(&arena);
  return ok;
}
