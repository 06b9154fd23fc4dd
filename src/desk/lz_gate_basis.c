// SPDX-License-Identifier: GPL-3.0-or-later
// The gate in front of what every dose is computed from. A slip of ten in a volume or a strength is
// met by no gate of the dose: they all judge with it.
#include <glib/gi18n-lib.h>
#include <lzq_units.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_check.h"
#include "lz_format.h"

// Changed to so many times, or one over it: a slip of ten is met, and so is a half-filled system,
// while what somebody measured anew lies nearer. House rule of this program.
#define MOST_AT_ONCE 2.0

// `times`: of the dose before it.
static void
gate_basis(LzDraft *d, double times, const char *field, const char *was, const char *is,
           const char *label)
{
  if (!(times > 0) || isinf(times) ||
      (times < MOST_AT_ONCE - LZQ_EDGE && times > 1 / MOST_AT_ONCE + LZQ_EDGE))
    return;
  g_autofree char *factor = lz_format_short(times, 2);
  g_autofree char *words =
      // Translators: "volume_l: 13,000 L takes the place of 1,300 L (G1), and every dose becomes
      // 10 times what it was"
      g_strdup_printf(_("%1$s: %2$s takes the place of %3$s (%4$s), and every dose becomes %5$s "
                        "times what it was"),
                      field, is, was, label, factor);
  if (d->entry.reason)
    lz_command_note(d->command, g_steal_pointer(&words));
  else
    lz_gate_refuse(d, LZ_GATED_BASIS, "%s", words);
}

static void
gate_litres(LzDraft *d, const char *label, double was)
{
  const double is = lz_draft_number(d, "volume_l");
  g_autofree char *before = lz_format_amount(was, LZQ_UNIT_L);
  g_autofree char *after = lz_format_amount(is, LZQ_UNIT_L);
  gate_basis(d, is / was, "volume_l", before, after, label);
}

void
lz_gate_volume(LzDraft *d)
{
  const LzEntity *system = lz_model_entity(d->model, lz_draft_ref(d, "system"));
  gate_litres(d, system->label, lz_carry_volume(d->model, system->index, d->entry.happened_min));
}

void
lz_gate_system(LzDraft *d)
{
  if (d->before)
    gate_litres(d, lz_entry_text(d->before, "name"), lz_entry_number(d->before, "volume_l"));
}

void
lz_gate_strength(LzDraft *d)
{
  if (!d->before)
    return;
  const double was = lz_model_strength(d->before), typed = lz_draft_number(d, "strength");
  const gboolean salt = g_strcmp0(lz_draft_text(d, "strength_as"), "salt") == 0;
  const double is = salt ? lzq_from_label(LZQ_AS_COPPER_SULFATE_5H2O, typed) : typed;
  g_autofree char *was_text = lz_format_short(was, 3), *is_text = lz_format_short(is, 3);
  // Translators: the strength of what is in a bottle
  g_autofree char *before = g_strdup_printf(_("%s mg/mL"), was_text);
  g_autofree char *after = g_strdup_printf(_("%s mg/mL"), is_text);
  gate_basis(d, was / is, "strength", before, after, lz_entry_text(d->before, "name"));
}
