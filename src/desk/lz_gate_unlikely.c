// SPDX-License-Identifier: GPL-3.0-or-later
// First figures that hardly any station has. A later one is held against what was before it (a
// reading by its estimator, a volume by lz_gate_basis.c); a first one has nothing before it, and
// everything after rests on it.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_check.h"
#include "lz_format.h"
#include "lz_words.h"

// Counted against the invoice: twice or more, and by no fewer fish. Fewer than billed is a claim,
// and harms none. House rule.
#define TIMES    2.0
#define MANY     5.0
#define LARGEST  30000.0 // L in one system, without a larger one here: house rule
#define LARGE    5000.0  // L that are asked about beside others,
#define LARGER   5.0     // where the largest holds a fifth at most; a slip of ten is met
#define SMALLEST 2.0     // L; fish are kept in more

// What water of marine fish reads, also while salinity is lowered or copper held. Common practice,
// no source.
static const struct {
  lzq_analyte analyte;
  double low, high;
} usual[] = {
    {LZQ_SALINITY, 5, 45}, {LZQ_TEMPERATURE, 10, 36}, {LZQ_PH, 6, 9.5}, {LZQ_COPPER, 0, 3}};

void
lz_gate_unlikely_reading(LzDraft *d)
{
  const LzEntity *system = lz_model_entity(d->model, lz_draft_ref(d, "system"));
  const lzq_analyte analyte = (lzq_analyte)lz_draft_word(d, "analyte");
  const double value = lz_draft_number(d, "value");
  if (!system || d->command->as_written || lz_draft_yes(d, "suspect"))
    return;
  for (guint i = 0; i < G_N_ELEMENTS(usual); i++) {
    if (usual[i].analyte != analyte || (value >= usual[i].low && value <= usual[i].high))
      continue;
    g_autoptr(GArray) steps = lz_carry_without(d->model, system->index, analyte,
                                               d->entry.happened_min, d->entry.corrects);
    const double before = lz_carry_level(steps);
    if (before < usual[i].low || before > usual[i].high)
      return; // it was out there already
    g_autofree char *typed = lz_format_level(analyte, value);
    g_autofree char *low = lz_format_short(usual[i].low, 1);
    g_autofree char *high = lz_format_short(usual[i].high, 1);
    lz_gate_stop(d, LZ_GATED_UNLIKELY,
                 // Translators: analyte; value; system; from; to
                 g_strdup_printf(_("value: %1$s %2$s in %3$s is not what marine fish live in, "
                                   "which is %4$s to %5$s"),
                                 lz_words_analyte(analyte), typed, system->label, low, high));
    return;
  }
}

void
lz_gate_unlikely_heads(LzDraft *d)
{
  const LzEntity *shipment = lz_model_entity(d->model, lz_draft_ref(d, "shipment"));
  const double heads = lz_draft_number(d, "heads"), invoiced = lz_draft_number(d, "invoiced");
  const double expected = // of a whole shipment: a lot of it may have fewer
      shipment && lz_entry_has(shipment->now, "expected_heads")
          ? (double)lz_entry_int(shipment->now, "expected_heads")
          : NAN;
  const double billed = isnan(invoiced) ? expected : invoiced;
  if (d->before || !(heads >= TIMES * billed && heads >= billed + MANY))
    return;
  lz_gate_stop(
      d, LZ_GATED_UNLIKELY,
      g_strdup_printf(isnan(invoiced)
                          ? _("heads: %1$.0f fish, and the whole shipment was to be %2$.0f")
                          : _("heads: %1$.0f fish came, and the invoice says %2$.0f"),
                      heads, billed));
}

static const LzEntity *
largest_system(const LzModel *m, double *litres)
{
  const GPtrArray *systems = m->by_kind[LZS_SYSTEM];
  const LzEntity *largest = NULL;
  *litres = 0;
  for (guint i = 0; i < systems->len; i++) {
    const LzEntity *system = systems->pdata[i];
    const double volume = lz_entry_number(system->now, "volume_l");
    if (volume > *litres) {
      *litres = volume;
      largest = system;
    }
  }
  return largest;
}

void
lz_gate_unlikely_volume(LzDraft *d)
{
  const double litres = lz_draft_number(d, "volume_l");
  double most;
  if (d->before)
    return; // lz_gate_basis.c holds it against what it was
  const LzEntity *largest = largest_system(d->model, &most);
  const gboolean above = litres > (largest ? fmax(LARGE, LARGER * most) : LARGEST);
  if (!above && litres >= SMALLEST)
    return;
  g_autofree char *typed = lz_format_amount(litres, LZQ_UNIT_L);
  g_autofree char *other = lz_format_amount(largest ? most : LARGEST, LZQ_UNIT_L);
  if (!above)
    lz_gate_stop(d, LZ_GATED_UNLIKELY,
                 g_strdup_printf(_("volume_l: %s is too little to keep fish in"), typed));
  else if (largest)
    lz_gate_stop(d, LZ_GATED_UNLIKELY,
                 g_strdup_printf(_("volume_l: %1$s is more than five times %2$s, the largest "
                                   "system here (%3$s)"),
                                 typed, other, largest->label));
  else
    lz_gate_stop(
        d, LZ_GATED_UNLIKELY,
        g_strdup_printf(_("volume_l: %1$s is more than most systems hold, %2$s"), typed, other));
}
