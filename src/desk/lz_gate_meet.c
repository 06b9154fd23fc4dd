// SPDX-License-Identifier: GPL-3.0-or-later
// What a medicine would meet in the water: other medicines, low salinity, equipment that takes it
// out or breaks it.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_gate_medicine.h"
#include "lz_place.h"
#include "lz_words.h"

#define LOW_SALINITY 16.0 // below it copper and low salinity together are doubtful: house rule

static void
gate_pair(const LzMedicineGate *g, gboolean never, const char *other)
{
  LzDraft *d = g->draft;
  const LzEntry *station = d->model->station ? d->model->station->now : NULL;
  const char *rule = station ? lz_entry_text(station, "doubtful_pairs") : NULL;
  char *words = g_strdup_printf(_("system: %1$s would meet %2$s in %3$s"),
                                lz_words_analyte(g->analyte), other, g->system->label);
  if (!never && g_strcmp0(rule, "allow") == 0) {
    lz_command_note(d->command, words);
    return;
  }
  gboolean refuse = never || g_strcmp0(rule, "refuse") == 0;
  lz_gate_stop(d, refuse ? LZ_GATED_NEVER_MEET : LZ_GATED_DOUBTFUL, words);
}

// Days that a medicine which nobody reads is taken to be there, as published for water with fish.
static int64_t
stays_days(lzq_analyte analyte)
{
  switch (analyte) {
  case LZQ_PRAZIQUANTEL: return 9; // 2 mg/L gone after 8 +- 1 d: Thomas et al. 2016, PeerJ 4:e1857
  case LZQ_PEROXIDE: return 10;    // none on day 10, no organics: UF/IFAS FA157, citing Tort 2003
  case LZQ_CHLOROQUINE: return 21; // no rate is published; a course of 21 d counts on it: Noga 2010
  case LZQ_REDUCING_AGENT: return 2; // house rule, no source
  default: return 7;                 // house rule, no source
  }
}

// Carbon may have taken it out or not: copper is there until a reading says that it is gone.
gboolean
lz_gate_may_hold(LzModel *m, const GArray *steps, lzq_analyte analyte, lzq_minute at)
{
  if (lzq_analyte_carried(analyte) && !(lz_carry_may_hold(steps) > LZQ_NONE_LEFT))
    return FALSE;
  if (analyte == LZQ_COPPER)
    return TRUE;
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    gboolean shows = step->kind == LZQ_REC_DOSE ||
                     (step->kind == LZQ_REC_READING && step->good && step->after > LZQ_NONE_LEFT);
    if (shows && step->at > at - stays_days(analyte) * LZQ_DAY)
      return TRUE;
  }
  return FALSE;
}

// What the dose meets of an analyte: also what was given after it and entered before.
static GArray *
met(const LzMedicineGate *g, lzq_analyte analyte)
{
  const lzs_entry *entry = &g->draft->entry;
  return lz_carry_met(g->draft->model, g->system->index, analyte, entry->happened_min,
                      entry->corrects);
}

static char *
copper_words(lzq_form form)
{
  return g_strdup_printf("%s (%s)", lz_words_analyte(LZQ_COPPER), lz_words_form(form));
}

static void
gate_other_form(const LzMedicineGate *g)
{
  LzModel *m = g->draft->model;
  g_autoptr(GArray) steps = met(g, LZQ_COPPER);
  const lzq_form there = lz_carry_dosed_form(m, steps);
  if (there == LZQ_FORM_NONE || there == g->form || !(lz_carry_may_hold(steps) > LZQ_NONE_LEFT))
    return;
  g_autofree char *other = copper_words(there);
  gate_pair(g, TRUE, other);
}

static const struct {
  lzq_analyte one, other;
  gboolean never;
} pairs[] = {
    {LZQ_CHLORINE, LZQ_FORMALIN, TRUE},   {LZQ_COPPER, LZQ_FORMALIN, FALSE},
    {LZQ_COPPER, LZQ_CHLOROQUINE, FALSE}, {LZQ_COPPER, LZQ_PEROXIDE, FALSE},
    {LZQ_FORMALIN, LZQ_PEROXIDE, FALSE},  {LZQ_FORMALIN, LZQ_CHLOROQUINE, FALSE},
};

// What takes chlorine away or binds ammonia reduces copper too and sets it free from what holds it,
// all at once. Copper that nothing holds is not set free; the pair stays doubtful.
static void
gate_reducing(const LzMedicineGate *g)
{
  LzModel *m = g->draft->model;
  const gboolean copper = g->analyte == LZQ_COPPER;
  const lzq_analyte other = copper ? LZQ_REDUCING_AGENT : LZQ_COPPER;
  if (!copper && g->analyte != LZQ_REDUCING_AGENT)
    return;
  g_autoptr(GArray) steps = met(g, other);
  if (!lz_gate_may_hold(m, steps, other, g->draft->entry.happened_min))
    return;
  const lzq_form form = copper ? g->form : lz_carry_form(m, g->system->index, steps);
  g_autofree char *name = copper ? g_strdup(lz_words_analyte(other)) : copper_words(form);
  gate_pair(g, form == LZQ_FORM_AMINE || form == LZQ_FORM_CHELATED, name);
}

static void
gate_pairs(const LzMedicineGate *g)
{
  for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++) {
    if (pairs[i].one != g->analyte && pairs[i].other != g->analyte)
      continue;
    lzq_analyte other = pairs[i].one == g->analyte ? pairs[i].other : pairs[i].one;
    g_autoptr(GArray) steps = met(g, other);
    if (lz_gate_may_hold(g->draft->model, steps, other, g->draft->entry.happened_min))
      gate_pair(g, pairs[i].never, lz_words_analyte(other));
  }
  if (g->analyte == LZQ_CHLORINE &&
      lz_place_any_lives(g->draft->model, g->system->index, g->draft->entry.happened_min))
    gate_pair(g, TRUE, _("fish"));
  gate_reducing(g);
  if (g->analyte != LZQ_COPPER)
    return;
  g_autoptr(GArray) salt = met(g, LZQ_SALINITY);
  if (lz_carry_level(salt) < LOW_SALINITY)
    gate_pair(g, FALSE, _("low salinity"));
  gate_other_form(g);
}

// --- equipment

static gboolean
is_on(const LzMedicineGate *g, lzq_gear gear)
{
  LzModel *m = g->draft->model;
  const GArray *all = m->of_water->pdata[g->system->index];
  const lzq_record *last = NULL;
  for (guint i = 0; i < all->len; i++) {
    uint32_t index = g_array_index(all, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if (r->kind == LZQ_REC_GEAR && r->gear == gear && r->at <= g->draft->entry.happened_min &&
        lz_model_record_holds(m, index) && (!last || r->at >= last->at))
      last = r;
  }
  return last && last->ok;
}

static void
gate_equipment(const LzMedicineGate *g)
{
  gboolean copper = g->analyte == LZQ_COPPER, complexed = copper && g->form != LZQ_FORM_IONIC;
  const struct {
    lzq_gear gear;
    gboolean fights;
  } gears[] = {{LZQ_GEAR_CARBON, TRUE},
               {LZQ_GEAR_RESIN, TRUE},
               {LZQ_GEAR_UV, !copper || complexed},
               {LZQ_GEAR_OZONE, TRUE}};
  if (g->analyte == LZQ_CHLORINE || g->analyte == LZQ_REDUCING_AGENT)
    return;
  for (gsize i = 0; i < G_N_ELEMENTS(gears); i++)
    if (gears[i].fights && is_on(g, gears[i].gear))
      lz_gate_stop(g->draft, LZ_GATED_EQUIPMENT,
                   g_strdup_printf(_("gear: %1$s is on in %2$s and takes out or breaks %3$s"),
                                   lz_words_gear(gears[i].gear), g->system->label,
                                   lz_words_analyte(g->analyte)));
}

void
lz_gate_meet(const LzMedicineGate *g)
{
  if (!g->system)
    return;
  gate_pairs(g);
  gate_equipment(g);
}
