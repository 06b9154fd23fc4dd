// SPDX-License-Identifier: GPL-3.0-or-later
// The estimators kept by the desk: see lz_banks.h. What a record does to one is lzq_water.h's.
#include "lz_banks_private.h"

#include <math.h>

struct _LzTrust {
  GPtrArray *checks; // per instrument: GArray of Check, by time; NULL = never checked
  gboolean trust_unchecked;
};

typedef struct {
  lzq_minute at;
  gboolean ok;
} Check;

// --- checks of instruments

static int
by_time(gconstpointer a, gconstpointer b)
{
  const Check *x = a, *y = b;
  return (x->at > y->at) - (x->at < y->at);
}

static void
free_checks(gpointer checks)
{
  if (checks)
    g_array_unref(checks);
}

LzTrust *
lz_trust_new(LzModel *m)
{
  LzTrust *trust = g_new0(LzTrust, 1);
  trust->checks = g_ptr_array_new_with_free_func(free_checks);
  trust->trust_unchecked = m->rules.trust_unchecked;
  g_ptr_array_set_size(trust->checks, (int)m->instruments->len);
  for (guint k = 0; k < m->checks->len; k++) {
    const uint32_t i = g_array_index(m->checks, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->instrument >= trust->checks->len || !lz_model_record_holds(m, i))
      continue;
    GArray *own = trust->checks->pdata[r->instrument];
    if (!own)
      trust->checks->pdata[r->instrument] = own = g_array_new(FALSE, FALSE, sizeof(Check));
    Check check = {r->at, r->ok};
    g_array_append_val(own, check);
  }
  for (guint i = 0; i < trust->checks->len; i++)
    if (trust->checks->pdata[i])
      g_array_sort(trust->checks->pdata[i], by_time);
  return trust;
}

void
lz_trust_free(LzTrust *trust)
{
  if (!trust)
    return;
  g_ptr_array_unref(trust->checks);
  g_free(trust);
}

gboolean
lz_trust_reading(const LzTrust *trust, uint32_t instrument, lzq_minute at)
{
  if (instrument >= trust->checks->len)
    return TRUE;
  const GArray *own = trust->checks->pdata[instrument];
  gboolean before = trust->trust_unchecked;
  for (guint i = 0; own && i < own->len; i++) {
    const Check *check = &g_array_index(own, Check, i);
    if (check->at > at)
      return before && check->ok;
    before = check->ok;
  }
  return before;
}

lzq_minute
lz_trust_checked_at(const LzTrust *trust, uint32_t instrument, lzq_minute at)
{
  const GArray *own = instrument < trust->checks->len ? trust->checks->pdata[instrument] : NULL;
  lzq_minute last = LZQ_LONG_AGO;
  for (guint i = 0; own && i < own->len; i++) {
    const Check *check = &g_array_index(own, Check, i);
    if (check->at <= at && check->ok)
      last = check->at;
  }
  return last;
}

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

// Protocols (uint32_t) of the courses of lots that ever stood in the water, the last one first.
static GArray *
protocols_of(const LzModel *m, uint32_t system)
{
  g_autofree gboolean *stood = g_new0(gboolean, m->lots->len + 1);
  g_autofree uint32_t *parent = g_new(uint32_t, m->lots->len + 1);
  GArray *out = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (guint i = 0; i < m->lots->len; i++)
    parent[i] = LZQ_NONE;
  for (guint i = 0; i < m->records->len; i++)
    note_stay(m, &g_array_index(m->records, lzq_record, i), system, stood, parent);
  for (guint i = 0; i < m->lots->len; i++)
    if (stood[i] && parent[i] < m->lots->len)
      stood[parent[i]] = TRUE; // its course is the child's too
  for (guint i = m->records->len; i-- > 0;) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
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
usual_temperature(const LzModel *m, uint32_t system)
{
  const GArray *all = m->of_water->pdata[system];
  double sum = 0;
  guint n = 0;
  for (guint i = 0; i < all->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, g_array_index(all, uint32_t, i));
    if (r->kind != LZQ_REC_READING || r->analyte != LZQ_TEMPERATURE || !(r->value > 0))
      continue;
    sum += r->value;
    n++;
  }
  return n ? round(2 * sum / n) / 2 : 25;
}

double
lz_banks_reference(const LzModel *m, uint32_t system, lzq_analyte analyte, lzq_form *form)
{
  *form = LZQ_FORM_NONE;
  if (analyte == LZQ_SALINITY)
    return 35; // of no weight but for an instrument without an error
  if (analyte == LZQ_TEMPERATURE)
    return usual_temperature(m, system);
  g_autoptr(GArray) protocols = protocols_of(m, system);
  double middle = middle_of_courses(m, protocols, analyte);
  if (analyte == LZQ_COPPER)
    *form = form_of_courses(m, protocols);
  return middle > 0 ? middle : analyte == LZQ_COPPER ? 0.2 : 1;
}

// --- feeding

static gboolean
concerns(const lzq_record *r, lzq_analyte analyte)
{
  return (r->kind != LZQ_REC_READING && r->kind != LZQ_REC_DOSE) || r->analyte == analyte;
}

void
lz_banks_feed(lzq_water_bank *bank, LzModel *m, const LzTrust *trust, uint32_t index)
{
  const lzq_record *r = &g_array_index(m->records, lzq_record, index);
  const lzq_snapshot *s = lz_model_view(m);
  if (r->kind == LZQ_REC_READING && !lz_trust_reading(trust, r->instrument, r->at))
    return;
  lzq_record aged = lzq_water_aged(r, s, lz_trust_checked_at(trust, r->instrument, r->at));
  lzq_water_feed(bank, s, &aged);
}

gboolean
lz_banks_lost(lzq_analyte analyte, const LzCarryStep *step, gboolean before)
{
  if (analyte == LZQ_SALINITY || analyte == LZQ_TEMPERATURE)
    return FALSE;
  if (step->kind == LZQ_REC_GEAR) // lz_carry has those that take something out only
    return TRUE;
  return before && !(step->kind == LZQ_REC_READING && step->good);
}

// A bank fed from the beginning.
static gboolean
make(LzKept *kept, LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until)
{
  kept->generation = m->generation;
  kept->seen = m->records->len;
  kept->taken = system < m->of_water->len ? ((GArray *)m->of_water->pdata[system])->len : 0;
  kept->last_at = LZQ_LONG_AGO;
  kept->last_kind = 0;
  kept->made =
      lzq_water_begin(&kept->bank, lz_model_view(m), system, analyte, kept->reference) == LZQ_OK;
  if (!kept->made)
    return FALSE;
  kept->bank.form = (uint8_t)kept->form; // until a dose says which
  g_autoptr(GArray) steps = lz_carry(m, system, analyte, until);
  g_autoptr(LzTrust) trust = lz_trust_new(m);
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    lz_banks_feed(&kept->bank, m, trust, step->record);
    kept->last_at = step->at;
    kept->last_kind = step->kind;
    kept->unsaved++;
  }
  return TRUE;
}

// Whether everything that came since only adds to the end of what was fed.
static gboolean
only_adds(const LzKept *kept, const LzModel *m, uint32_t system, lzq_analyte analyte)
{
  const GArray *own = m->of_water->pdata[system];
  lzq_minute at = kept->last_at;
  uint8_t kind = kept->last_kind;
  if (!kept->made || kept->generation != m->generation || kept->seen > m->records->len ||
      kept->taken > own->len)
    return FALSE;
  for (guint i = kept->seen; i < m->records->len; i++)
    if (g_array_index(m->records, lzq_record, i).kind == LZQ_REC_CHECK)
      return FALSE;
  for (guint i = kept->taken; i < own->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, g_array_index(own, uint32_t, i));
    if (r->corrects || r->voided)
      return FALSE;
    if (!concerns(r, analyte))
      continue;
    if (r->at < at || (r->at == at && r->kind < kind))
      return FALSE;
    at = r->at;
    kind = r->kind;
  }
  return TRUE;
}

static void
add(LzKept *kept, LzModel *m, uint32_t system, lzq_analyte analyte)
{
  const GArray *own = m->of_water->pdata[system];
  g_autoptr(LzTrust) trust = own->len > kept->taken ? lz_trust_new(m) : NULL;
  for (guint i = kept->taken; i < own->len; i++) {
    uint32_t index = g_array_index(own, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if (!concerns(r, analyte))
      continue;
    lz_banks_feed(&kept->bank, m, trust, index);
    kept->last_at = r->at;
    kept->last_kind = r->kind;
    kept->unsaved++;
  }
  kept->taken = own->len;
  kept->seen = m->records->len;
}

LzKept *
lz_banks_kept(LzBanks *banks, uint32_t system, lzq_analyte analyte)
{
  gpointer key = GUINT_TO_POINTER(system * LZQ_N_ANALYTES + (guint)analyte);
  LzKept *kept = g_hash_table_lookup(banks->kept, key);
  if (!kept) {
    kept = g_new0(LzKept, 1);
    g_hash_table_insert(banks->kept, key, kept);
  }
  return kept;
}

gboolean
lz_banks_at(LzBanks *banks, LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until,
            lzq_water_bank *out)
{
  if (system >= m->of_water->len || (guint)analyte >= LZQ_N_ANALYTES)
    return FALSE;
  LzKept *kept = lz_banks_kept(banks, system, analyte);
  if (kept->seen != m->records->len || kept->generation != m->generation || !kept->made) {
    lzq_form form;
    double reference = lz_banks_reference(m, system, analyte, &form);
    if (reference == kept->reference && form == kept->form && only_adds(kept, m, system, analyte)) {
      add(kept, m, system, analyte);
    } else {
      kept->reference = reference;
      kept->form = form;
      banks->made++;
      if (!make(kept, m, system, analyte, LZQ_NEVER))
        return FALSE;
    }
  }
  if (kept->last_at <= until) {
    *out = kept->bank;
    return TRUE;
  }
  LzKept past = {.reference = kept->reference,
                 .form = kept->form}; // a minute before the last entry
  gboolean made = make(&past, m, system, analyte, until);
  *out = past.bank;
  return made;
}

guint
lz_banks_made(const LzBanks *banks)
{
  return banks->made;
}

LzBanks *
lz_banks_new(void)
{
  LzBanks *banks = g_new0(LzBanks, 1);
  banks->kept = g_hash_table_new_full(NULL, NULL, NULL, g_free);
  return banks;
}

void
lz_banks_free(LzBanks *banks)
{
  if (!banks)
    return;
  g_hash_table_unref(banks->kept);
  g_free(banks);
}
