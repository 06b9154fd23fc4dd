// SPDX-License-Identifier: GPL-3.0-or-later
// What a species bears, and the gate in front of a water that holds what it does not: the same harm
// whether the medicine comes to the fish or the fish to the medicine.
#include <glib/gi18n-lib.h>

#include "lz_carry.h"
#include "lz_format.h"
#include "lz_gate_medicine.h"
#include "lz_nets.h"
#include "lz_words.h"

const char *
lz_gate_class(const LzEntry *species, lzq_analyte analyte)
{
  const char *field = analyte == LZQ_COPPER        ? "copper"
                      : analyte == LZQ_FORMALIN    ? "formalin"
                      : analyte == LZQ_CHLOROQUINE ? "chloroquine"
                                                   : NULL;
  return field && species ? lz_entry_text(species, field) : NULL;
}

gboolean
lz_gate_avoids(const LzEntry *species, lzq_analyte analyte)
{
  uint32_t traits = lz_model_traits(species);
  uint32_t copper = LZQ_TRAIT_INVERTEBRATE | LZQ_TRAIT_CARTILAGINOUS | LZQ_TRAIT_COPPER_SENSITIVE;
  gboolean kills = analyte == LZQ_FORMALIN || analyte == LZQ_CHLOROQUINE || analyte == LZQ_PEROXIDE;
  if (analyte == LZQ_COPPER)
    return (traits & copper) != 0;
  return (kills && traits & LZQ_TRAIT_INVERTEBRATE) ||
         g_strcmp0(lz_gate_class(species, analyte), "avoid") == 0;
}

// Nothing is stopped: the animals may go there, the nets may not follow them.
static void
warn_of_nets(LzDraft *d, const LzEntry *species, uint32_t system)
{
  if (!(lz_model_traits(species) & LZQ_TRAIT_INVERTEBRATE))
    return;
  lzq_minute since = lz_nets_in_copper(d->model, system);
  if (since == LZQ_NEVER || since > d->entry.happened_min)
    return;
  g_autofree char *when = lz_format_full(lz_desk_zone(d->desk), since);
  lz_command_note(
      d->command,
      g_strdup_printf(_("nets: those of %1$s have been in copper since %2$s, which kills "
                        "invertebrates even in traces: give %1$s nets of its own first"),
                      lz_desk_name(d->desk, "system", system), when));
}

void
lz_gate_enter(LzDraft *d, const LzEntry *species, const char *lot, uint32_t system)
{
  lz_gate_bleach(d, lot, system);
  for (int a = 0; a < LZQ_N_ANALYTES; a++) {
    lzq_analyte analyte = (lzq_analyte)a;
    if (!lz_gate_avoids(species, analyte))
      continue;
    g_autoptr(GArray) steps = lz_carry(d->model, system, analyte, d->entry.happened_min);
    if (!lz_gate_may_hold(d->model, steps, analyte, d->entry.happened_min))
      continue;
    lz_gate_stop(d, LZ_GATED_SPECIES,
                 g_strdup_printf(_("tank: %1$s holds %2$s, or may hold it, and lot %3$s must "
                                   "not meet it"),
                                 lz_desk_name(d->desk, "system", system), lz_words_analyte(analyte),
                                 lot));
  }
  warn_of_nets(d, species, system);
}
