// SPDX-License-Identifier: GPL-3.0-or-later
// What a bank begins with, from the courses of the lots that ever stood in its water: see
// lz_banks.h.
#include <math.h>

#include "lz_banks.h"

// --- the level that noise is a share of

static double
middle_of(const lzq_band *band)
{
  if (band->side == LZQ_BETWEEN)
    return 0.5 * (band->works + band->works_high);
  return isfinite(band->plan) ? 0.5 * (band->works + band->plan) : band->target;
}

// The first band of a protocol on the analyte that fish are kept in (not the one that frees water
// of it), NAN = none.
static double
middle_of_protocol(const LzModel *m, uint32_t protocol, lzq_analyte analyte)
{
  const lzq_protocol *p = &g_array_index(m->protocols, lzq_protocol, protocol);
  for (uint32_t i = 0; i < p->n_phases; i++) {
    const lzq_phase *phase = &g_array_index(m->phases, lzq_phase, p->first_phase + i);
    for (uint32_t b = 0; b < phase->n_bands; b++)
      if (phase->bands[b].analyte == analyte && phase->bands[b].side != LZQ_AT_OR_BELOW)
        return middle_of(&phase->bands[b]);
    if (phase->medicine == analyte && phase->dose_level > 0)
      return phase->dose_level;
  }
  return NAN;
}

static void
note_stay(const LzModel *m, const lzq_record *r, uint32_t system, gboolean *stood, uint32_t *parent)
{
  if (r->kind == LZQ_REC_SPLIT && r->other < m->lots->len)
    parent[r->other] = r->lot;
  if ((r->kind == LZQ_REC_RECEIVE || r->kind == LZQ_REC_MOVE) && r->lot < m->lots->len &&
      r->tank < m->tanks->len && g_array_index(m->tanks, lzq_tank, r->tank).system == system)
    stood[r->lot] = TRUE;
}

static const lzq_record *
stand_at(const LzModel *m, guint i)
{
  return &g_array_index(m->records, lzq_record, g_array_index(m->stands, uint32_t, i));
}

// Protocols (uint32_t) of the courses of lots that ever stood in the water, the last one first.
static GArray *
protocols_of(const LzModel *m, uint32_t system)
{
  g_autofree gboolean *stood = g_new0(gboolean, m->lots->len + 1);
  g_autofree uint32_t *parent = g_new(uint32_t, m->lots->len + 1);
  GArray *out = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (guint i = 0; i < m->lots->len; i++)
    parent[i] = LZQ_NONE;
  for (guint i = 0; i < m->stands->len; i++)
    note_stay(m, stand_at(m, i), system, stood, parent);
  for (guint i = 0; i < m->lots->len; i++)
    if (stood[i] && parent[i] < m->lots->len)
      stood[parent[i]] = TRUE; // its course is the child's too
  for (guint i = m->stands->len; i-- > 0;) {
    const lzq_record *r = stand_at(m, i);
    if (r->kind == LZQ_REC_COURSE && r->lot < m->lots->len && stood[r->lot] &&
        r->protocol < m->protocols->len)
      g_array_append_val(out, r->protocol);
  }
  return out;
}

static double
middle_of_courses(const LzModel *m, const GArray *protocols, lzq_analyte analyte)
{
  double middle = NAN;
  for (guint i = 0; i < protocols->len && isnan(middle); i++)
    middle = middle_of_protocol(m, g_array_index(protocols, uint32_t, i), analyte);
  return middle;
}

static lzq_form
form_of_protocol(const LzModel *m, uint32_t protocol)
{
  const lzq_protocol *p = &g_array_index(m->protocols, lzq_protocol, protocol);
  for (uint32_t i = 0; i < p->n_phases; i++) {
    const lzq_phase *phase = &g_array_index(m->phases, lzq_phase, p->first_phase + i);
    for (uint32_t b = 0; b < phase->n_bands; b++)
      if (phase->bands[b].analyte == LZQ_COPPER && phase->bands[b].form != LZQ_FORM_NONE)
        return phase->bands[b].form;
  }
  return LZQ_FORM_NONE;
}

static lzq_form
form_of_courses(const LzModel *m, const GArray *protocols)
{
  lzq_form form = LZQ_FORM_NONE;
  for (guint i = 0; i < protocols->len && form == LZQ_FORM_NONE; i++)
    form = form_of_protocol(m, g_array_index(protocols, uint32_t, i));
  return form;
}

lzq_form
lz_banks_form(const LzModel *m, uint32_t system)
{
  g_autoptr(GArray) protocols = protocols_of(m, system);
  return form_of_courses(m, protocols);
}

// The usual reading, to half a degree so that the next one does not change it.
static double
usual_temperature(const LzModel *m, uint32_t system, lzq_minute begin)
{
  const GArray *all = m->of_water->pdata[system];
  double sum = 0;
  guint n = 0;
  for (guint i = lz_model_first_since(m, all, begin); i < all->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, g_array_index(all, uint32_t, i));
    if (r->kind != LZQ_REC_READING || r->analyte != LZQ_TEMPERATURE || !(r->value > 0) ||
        r->at < begin)
      continue;
    sum += r->value;
    n++;
  }
  return n ? round(2 * sum / n) / 2 : 25;
}

double
lz_banks_reference(const LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute begin,
                   lzq_form *form)
{
  *form = LZQ_FORM_NONE;
  if (analyte == LZQ_SALINITY)
    return 35; // of no weight but for an instrument without an error
  if (analyte == LZQ_TEMPERATURE)
    return usual_temperature(m, system, begin);
  g_autoptr(GArray) protocols = protocols_of(m, system);
  double middle = middle_of_courses(m, protocols, analyte);
  if (analyte == LZQ_COPPER)
    *form = form_of_courses(m, protocols);
  return middle > 0 ? middle : analyte == LZQ_COPPER ? 0.2 : 1;
}
