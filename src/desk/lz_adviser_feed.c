// SPDX-License-Identifier: GPL-3.0-or-later
// Answers about lots of one water: medicine in their feed by the mass of the fish, and what a bath
// takes for each of them. Worked out lot by lot, then together.
#include <glib/gi18n-lib.h>
#include <lzq_bath.h>
#include <math.h>

#include "lz_adviser_private.h"
#include "lz_check.h"
#include "lz_format.h"
#include "lz_place.h"

static gboolean
is_asked(const LzAdvising *a, uint32_t lot)
{
  const GArray *asked = a->ask->lots;
  for (guint i = 0; asked && i < asked->len; i++)
    if (g_array_index(asked, uint32_t, i) == lot)
      return TRUE;
  return !asked;
}

static const char *
code_of(const LzAdvising *a, uint32_t lot)
{
  return lz_desk_name(a->desk, "lot", lot);
}

// The lots asked for into out->each; one that does not live in the water is refused.
static gboolean
take_lots(LzAdvising *a, GError **error)
{
  const LzModel *m = a->desk->model;
  for (uint32_t lot = 0; lot < m->lots->len; lot++) {
    LzPlace place = lz_place_of(a->desk->model, lot, a->desk->now);
    gboolean lives = place.system == a->ask->system && lz_place_lives(&place);
    LzAnswerLot one = {lot, place.heads, NAN};
    if (!is_asked(a, lot))
      continue;
    if (lives)
      g_array_append_val(a->out->each, one);
    else if (a->ask->lots)
      return lz_refuse(error, LZ_DESK_ERROR_USAGE, _("lots: %1$s does not live in %2$s"),
                       code_of(a, lot), lz_desk_name(a->desk, "system", a->ask->system));
  }
  if (a->out->each->len > 0)
    return TRUE;
  return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                   a->ask->lots ? _("lots: none is chosen") : _("system: no fish are in it"));
}

static char *
lot_words(const LzAdvising *a, const LzAnswerLot *one)
{
  return g_strdup_printf(ngettext("Lot %1$s, %2$d fish", "Lot %1$s, %2$d fish", (gulong)one->heads),
                         code_of(a, one->lot), one->heads);
}

// --- baths

// Each lot has a vessel made up anew.
gboolean
lz_adviser_bath_lots(LzAdvising *a, GError **error)
{
  const LzAnswer *out = a->out;
  lzq_tool tool = out->unit == LZQ_UNIT_G ? a->ask->balance : a->ask->syringe;
  tool.down = true; // at a published limit, and never beyond it
  if (!take_lots(a, error))
    return FALSE;
  double each =
      out->unit == LZQ_UNIT_MIN ? out->amount : lzq_measure_out(out->amount, tool).measured;
  g_autofree char *amount = lz_format_amount(each, out->unit);
  for (guint i = 0; i < out->each->len; i++) {
    LzAnswerLot *one = &g_array_index(out->each, LzAnswerLot, i);
    g_autofree char *what = lot_words(a, one);
    one->amount = each;
    lz_working_add(out->lines, what, "", amount, FALSE);
  }
  if (out->each->len > 1 && out->unit != LZQ_UNIT_MIN) {
    g_autofree char *how = g_strdup_printf("%u × %s", out->each->len, amount);
    g_autofree char *all = lz_format_amount(out->each->len * each, out->unit);
    lz_working_add(out->lines, _("All lots together"), how, all, TRUE);
  }
  if (out->each->len > 1)
    lz_advising_caution(a, _("A bath made up anew for each lot: what one was in takes no other."));
  return TRUE;
}

// --- feed

static void
add_lot(LzAdvising *a, const LzAnswerLot *one, lzq_group group, const lzq_feed_dose *dose)
{
  g_autofree char *what = lot_words(a, one), *mass = lz_format_short(group.mean_mass_g, 2);
  g_autofree char *how = g_strdup_printf("%d × %s g", one->heads, mass);
  g_autofree char *grams = lz_format_amount(dose->biomass_kg * 1000, LZQ_UNIT_G);
  g_autofree char *kg = lz_format_short(dose->biomass_kg, 3);
  g_autofree char *dosed = lz_format_short(a->ask->mg_per_kg, 2);
  g_autofree char *by = g_strdup_printf("%s kg × %s mg/kg", kg, dosed);
  g_autofree char *drug = lz_format_short(dose->drug_mg_day, 1);
  g_autofree char *mg = g_strconcat(drug, " mg", NULL);
  g_autofree char *product = lz_format_amount(dose->product_mg_day / 1000, LZQ_UNIT_G);
  g_autofree char *share = lz_format_short(dose->drug_mg_day / dose->product_mg_day, 3);
  g_autofree char *divided = g_strdup_printf("%s ÷ %s", mg, share);
  lz_working_add(a->out->lines, what, how, grams, FALSE);
  lz_working_add(a->out->lines, _("Medicine a day"), by, mg, FALSE);
  lz_working_add(a->out->lines, _("Product a day"),
                 dose->product_mg_day > dose->drug_mg_day ? divided : "", product, FALSE);
}

// One lot: its mass, and the rest follows as of all.
static void
add_alone(LzAdvising *a, const lzq_feed_dose *dose)
{
  lzq_working working = {.n = 0};
  const double *n = dose->working.lines[0].n;
  lzq_working_add(&working, LZQ_LINE_BIOMASS, n[0], n[1], n[2], 0);
  lz_working_append(a->out->lines, &working, "", "g");
}

static gboolean
group_of(const LzAdvising *a, const LzAnswerLot *one, lzq_group *out, GError **error)
{
  *out =
      (lzq_group){one->heads, g_array_index(a->desk->model->lots, lzq_lot, one->lot).mean_mass_g};
  return out->mean_mass_g > 0 ||
         lz_refuse(error, LZ_DESK_ERROR_USAGE,
                   _("mean_mass_g: lot %s has none; weigh some of them and enter it"),
                   code_of(a, one->lot));
}

// All together as one group: however many lots they are, the working has its last lines.
static gboolean
add_all(LzAdvising *a, const LzQuestion *ask, double grams, GError **error)
{
  const guint n = a->out->each->len;
  const lzq_group all = {1, grams};
  lzq_working working = {.n = 0};
  lzq_feed_dose dose;
  if (lz_advising_failed(
          lzq_feed_medicate(&all, 1, ask->mg_per_kg, ask->ration, ask->active_share, &dose), error))
    return FALSE;
  if (n > 1)
    lzq_working_add(&working, LZQ_LINE_BIOMASS_SUM, n, dose.biomass_kg, 0, 0);
  for (uint32_t i = 1; i < dose.working.n; i++) { // the first is the one group
    const lzq_line *line = &dose.working.lines[i];
    lzq_working_add(&working, line->code, line->n[0], line->n[1], line->n[2], line->n[3]);
  }
  lz_advising_measure(a, &working, dose.product_mg_day / 1000, LZQ_UNIT_G);
  return TRUE;
}

gboolean
lz_adviser_feed(LzAdvising *a, GError **error)
{
  LzQuestion ask = *a->ask;
  double grams = 0;
  ask.ration = isnan(ask.ration) ? 0.01 : ask.ration;
  ask.active_share = isnan(ask.active_share) ? 1 : ask.active_share;
  if (!lz_advising_needs(a, "mg_per_kg", ask.mg_per_kg, error) || !take_lots(a, error))
    return FALSE;
  for (guint i = 0; i < a->out->each->len; i++) {
    LzAnswerLot *one = &g_array_index(a->out->each, LzAnswerLot, i);
    lzq_group group;
    lzq_feed_dose dose;
    if (!group_of(a, one, &group, error) ||
        lz_advising_failed(
            lzq_feed_medicate(&group, 1, ask.mg_per_kg, ask.ration, ask.active_share, &dose),
            error))
      return FALSE;
    one->amount = dose.drug_mg_day;
    grams += group.heads * group.mean_mass_g;
    if (a->out->each->len > 1)
      add_lot(a, one, group, &dose);
    else
      add_alone(a, &dose);
  }
  if (!add_all(a, &ask, grams, error))
    return FALSE;
  lz_advising_caution(a,
                      _("Prescription medicine: the veterinarian says medicine, dose and days."));
  lz_advising_caution(a,
                      _("A day counts only if the share eaten was recorded; gloves, and no dust."));
  return TRUE;
}
