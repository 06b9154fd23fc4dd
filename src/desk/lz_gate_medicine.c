// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_gate_medicine.h. Every gate is a row of lz_gates.c.
#include "lz_gate_medicine.h"

#include <glib/gi18n-lib.h>
#include <lzq_protocol.h>
#include <math.h>

#include "lz_carry.h"
#include "lz_format.h"
#include "lz_place.h"
#include "lz_words.h"

#define AGREE_SHARE 0.05 // two sums agree within a twentieth, or the step of a 10 mL syringe
#define AGREE_ML    0.2

// --- the bottle

static void
gate_bottle(const LzMedicineGate *g)
{
  LzDraft *d = g->draft;
  if (!g->bottle)
    return;
  const LzEntry *bottle = g->bottle->now;
  const char *expiry = lz_entry_text(bottle, "expiry");
  if (d->entry.happened_min >= lz_expiry_end(d->model->zone, expiry))
    lz_gate_stop(d, LZ_GATED_EXPIRED,
                 g_strdup_printf(_("bottle: %1$s expired on %2$s"), g->bottle->label, expiry));
  // medicated feed: Regulation (EU) 2019/4 art. 16 (from memory), as a template; local rules come
  // first
  if ((g->analyte == LZQ_CHLOROQUINE || g->in_feed) && !lz_entry_has(bottle, "prescription"))
    lz_gate_stop(d, LZ_GATED_PRESCRIPTION,
                 g_strdup_printf(_("bottle: %1$s holds %2$s, and no prescription is on record"),
                                 g->bottle->label, lz_words_analyte(g->analyte)));
  double limit = lz_entry_number(bottle, "limit_level");
  const double reaches = fmax(g->after, g->if_right); // of NAN and a number, the number
  if (!g->is_amount || isnan(limit) || !(reaches > limit + LZQ_EDGE))
    return;
  g_autofree char *after = lz_format_short(reaches, 4), *most = lz_format_short(limit, 4);
  lz_gate_stop(d, LZ_GATED_STATION_LIMIT,
               g_strdup_printf(_("amount: it would make %1$s mg/L; this station never goes "
                                 "beyond %2$s with %3$s"),
                               after, most, g->bottle->label));
}

static void
gate_published(const LzMedicineGate *g)
{
  double most = lzq_published_limit(g->analyte, g->form);
  if (!g->is_amount || g->has_plan || isnan(most) || !(g->after > most + LZQ_EDGE))
    return;
  g_autofree char *after = lz_format_short(g->after, 4), *limit = lz_format_short(most, 4);
  lz_gate_stop(
      g->draft, LZ_GATED_PUBLISHED_LIMIT,
      g_strdup_printf(_("amount: it would make %1$s mg/L of %2$s; published is at most %3$s"),
                      after, lz_words_analyte(g->analyte), limit));
}

// --- the fish

static void
gate_lot(const LzMedicineGate *g, uint32_t lot, const LzPlace *place)
{
  LzDraft *d = g->draft;
  const LzModel *m = d->model;
  const LzEntity *entity = lz_model_entity_at(m, LZS_LOT, lot);
  const LzEntry *station = m->station ? m->station->now : NULL;
  const char *medicine = lz_words_analyte(g->analyte);
  const LzEntry *species = lz_model_species(m, entity);
  int64_t rest = station ? lz_entry_int(station, "settle_h") : 0;
  if (lz_gate_avoids(species, g->analyte))
    lz_gate_stop(
        d, LZ_GATED_SPECIES,
        g_strdup_printf(_("system: lot %1$s in %2$s must not meet %3$s; move it out first"),
                        entity->label, g->system ? g->system->label : "-", medicine));
  if (g->analyte != LZQ_COPPER && g_strcmp0(lz_gate_class(species, g->analyte), "unknown") == 0)
    lz_gate_stop(
        d, LZ_GATED_NO_DATA,
        g_strdup_printf(_("lot: nothing is known of %1$s with %2$s"), entity->label, medicine));
  if (rest <= 0 || d->entry.happened_min >= place->received_at + rest * 60)
    return;
  g_autofree char *came = lz_format_time(m->zone, place->received_at);
  lz_gate_stop(d, LZ_GATED_TOO_SOON,
               g_strdup_printf(_("system: lot %1$s came on %2$s; this station lets fish rest "
                                 "%3$d h before any medicine"),
                               entity->label, came, (int)rest));
}

static void
gate_fish(const LzMedicineGate *g)
{
  LzDraft *d = g->draft;
  for (uint32_t lot = 0; lot < d->model->lots->len; lot++) {
    LzPlace place = lz_place_of(d->model, lot, d->entry.happened_min);
    gboolean meant = g->lot ? g->lot->index == lot : g->system && place.system == g->system->index;
    if (meant && lz_place_lives(&place))
      gate_lot(g, lot, &place);
  }
}

// --- a second person's own sum

static gboolean
is_first(const LzMedicineGate *g)
{
  if (!g->system)
    return TRUE;
  const lzs_entry *entry = &g->draft->entry;
  g_autoptr(GArray) steps = lz_carry_met(g->draft->model, g->system->index, g->analyte,
                                         entry->happened_min, entry->corrects);
  for (guint i = 0; i < steps->len; i++)
    if (g_array_index(steps, LzCarryStep, i).kind == LZQ_REC_DOSE)
      return FALSE;
  return TRUE;
}

// Asked for without saying what the first came to: the second person must not see it.
static void
gate_alone(const LzMedicineGate *g)
{
  LzDraft *d = g->draft;
  const LzEntry *station = d->model->station ? d->model->station->now : NULL;
  gboolean risky = g->is_amount && (g->analyte == LZQ_FORMALIN || g->large || is_first(g));
  if (!station || !lz_entry_int(station, "double_check") || !d->live || isnan(g->ml) || !risky)
    return;
  double second = lz_draft_number(d, "check_ml");
  if (!d->entry.witness || isnan(second))
    lz_gate_refuse(d, LZ_GATED_ALONE,
                   _("check_ml: a second person works this dose out alone; accepted are the "
                     "initials of the witness and the mL that the witness came to"));
  else if (fabs(second - g->ml) > fmax(AGREE_ML, AGREE_SHARE * g->ml) + 1e-9)
    lz_gate_refuse(d, LZ_GATED_DISAGREE,
                   _("check_ml: the two people came to different amounts; nothing is recorded"));
}

void
lz_gate_medicine(const LzMedicineGate *g)
{
  gate_fish(g);
  gate_bottle(g);
  gate_published(g);
  lz_gate_meet(g);
  gate_alone(g);
}
