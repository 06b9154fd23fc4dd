// SPDX-License-Identifier: GPL-3.0-or-later
// Fish and chlorine never meet: no fish into a water that is being disinfected or was last read
// with chlorine in it, and no disinfection, nor an empty system, on record where fish live.
#include <glib/gi18n-lib.h>

#include "lz_carry.h"
#include "lz_gate_medicine.h"
#include "lz_place.h"

static gboolean
is_disinfecting(const LzModel *m, uint32_t system, lzq_minute at)
{
  lzq_minute said = LZQ_LONG_AGO;
  lzq_state state = LZQ_STATE_EMPTY;
  for (guint k = 0; k < m->states->len; k++) {
    const uint32_t i = g_array_index(m->states, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->system == system && r->at <= at && r->at >= said && lz_model_record_holds(m, i)) {
      said = r->at;
      state = (lzq_state)r->state;
    }
  }
  return state == LZQ_STATE_DISINFECTING;
}

static gboolean
was_read(LzModel *m, uint32_t system, lzq_minute at)
{
  g_autoptr(GArray) steps = lz_carry(m, system, LZQ_CHLORINE, at);
  double last = 0;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_READING && step->good)
      last = step->after;
  }
  return last > LZQ_NONE_LEFT;
}

void
lz_gate_bleach(LzDraft *d, const char *lot, uint32_t system)
{
  const lzq_minute at = d->entry.happened_min;
  if (!is_disinfecting(d->model, system, at) && !was_read(d->model, system, at))
    return;
  lz_gate_stop(d, LZ_GATED_NEVER_MEET,
               g_strdup_printf(_("tank: %1$s is being disinfected or holds chlorine, and lot "
                                 "%2$s is alive; rinse, fill, read none, and record the new "
                                 "state first"),
                               lz_desk_name(d->desk, "system", system), lot));
}

void
lz_gate_state(LzDraft *d)
{
  const LzEntity *system = lz_model_entity(d->model, lz_draft_ref(d, "system"));
  const char *state = lz_draft_text(d, "state");
  const gboolean ends_life =
      g_strcmp0(state, "disinfecting") == 0 || g_strcmp0(state, "empty") == 0;
  if (!system || !ends_life || !lz_place_any_lives(d->model, system->index, d->entry.happened_min))
    return;
  lz_gate_stop(
      d, LZ_GATED_NEVER_MEET,
      g_strdup_printf(_("state: fish live in %s; move or count them out first"), system->label));
}
