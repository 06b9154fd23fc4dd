// SPDX-License-Identifier: GPL-3.0-or-later
// The gate in front of a course: a protocol that fits, and fish that bear what it doses.
#include <glib/gi18n-lib.h>

#include "lz_gate_keep.h"

static gboolean
doses_copper(const LzModel *m, uint32_t protocol)
{
  const lzq_protocol *p = &g_array_index(m->protocols, lzq_protocol, protocol);
  for (uint32_t i = 0; i < p->n_phases; i++) {
    const lzq_phase *phase = &g_array_index(m->phases, lzq_phase, p->first_phase + i);
    for (uint32_t b = 0; b < phase->n_bands; b++)
      if (phase->bands[b].analyte == LZQ_COPPER && phase->bands[b].side != LZQ_AT_OR_BELOW)
        return TRUE;
  }
  return FALSE;
}

gboolean
lz_gate_course(LzDraft *d, GError **error)
{
  const LzEntity *lot = lz_model_entity(d->model, lz_draft_ref(d, "lot"));
  const LzEntity *protocol = lz_model_entity(d->model, lz_draft_ref(d, "protocol"));
  uint32_t n = g_array_index(d->model->protocols, lzq_protocol, protocol->index).n_phases;
  double phase = lz_draft_number(d, "phase");
  if (n == 0)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("protocol: %s has no phases yet"),
                     protocol->label);
  if (phase > n)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("phase: %d is not accepted; accepted is 1 to %d"), (int)phase, (int)n);
  uint32_t traits = g_array_index(d->model->lots, lzq_lot, lot->index).traits;
  if (!lz_check_protocol(d->desk, protocol->index, traits, d->command, error) ||
      !lz_gate_keep(d, lot, protocol, error))
    return FALSE;
  if (!doses_copper(d->model, protocol->index))
    return TRUE;
  if (traits & (LZQ_TRAIT_INVERTEBRATE | LZQ_TRAIT_CARTILAGINOUS | LZQ_TRAIT_COPPER_SENSITIVE))
    lz_gate_refuse(d, LZ_GATED_SPECIES,
                   _("lot: %s must not meet copper, which %s doses; choose another protocol with "
                     "the veterinarian"),
                   lot->label, protocol->label);
  // "unknown" is said by somebody who looked; where nothing is said a note stands
  // (lz_check_protocol)
  const LzEntry *species = lz_model_species(d->model, lot);
  if (species && g_strcmp0(lz_entry_text(species, "copper"), "unknown") == 0)
    lz_gate_stop(d, LZ_GATED_NO_DATA,
                 g_strdup_printf(_("lot: nothing is known of %1$s with copper, which %2$s "
                                   "doses"),
                                 lot->label, protocol->label));
  return TRUE;
}
