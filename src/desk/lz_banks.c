// SPDX-License-Identifier: GPL-3.0-or-later
// The estimators kept by the desk: see lz_banks.h. What a record does to one is lzq_water.h's.
#include "lz_banks_private.h"

// --- feeding

#define BLOCK (60 * (lzq_minute)LZQ_DAY)

lzq_minute
lz_banks_begin(lzq_minute until)
{
  lzq_minute block = until / BLOCK - (until % BLOCK < 0);
  return (block - 1) * BLOCK;
}

static gboolean
concerns(const lzq_record *r, lzq_analyte analyte)
{
  return (r->kind != LZQ_REC_READING && r->kind != LZQ_REC_DOSE) || r->analyte == analyte;
}

void
lz_banks_feed(lzq_water_bank *bank, LzModel *m, const LzTrust *trust, const LzCarryStep *step)
{
  const lzq_record *r = &g_array_index(m->records, lzq_record, step->record);
  const lzq_snapshot *s = lz_model_view(m);
  if (step->waits || (r->kind == LZQ_REC_READING && !lz_trust_reading(trust, r->instrument, r->at)))
    return;
  lzq_record aged = lzq_water_aged(r, s, lz_trust_checked_at(trust, r->instrument, r->at));
  if (r->kind == LZQ_REC_DOSE) { // one in new water acts when it comes in
    aged.at = step->at;
    aged.amount = step->mg;
  }
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

gboolean
lz_banks_feeds(lzq_water_bank *bank, const LzModel *m, const LzCarryStep *step, lzq_minute begin,
               gboolean *waits)
{
  const lzq_record *r = &g_array_index(m->records, lzq_record, step->record);
  const gboolean reading = step->kind == LZQ_REC_READING, dose = step->kind == LZQ_REC_DOSE;
  if (step->at < begin)
    *waits = *waits || (bank->analyte == LZQ_COPPER && (reading || dose));
  else if (reading && step->good)
    *waits = FALSE;
  if (step->at >= begin && !*waits)
    return TRUE;
  if (step->kind == LZQ_REC_VOLUME)
    bank->volume_l = r->amount;
  else if (dose && bank->analyte == LZQ_COPPER)
    bank->form = r->form;
  return FALSE;
}

// A bank fed from its beginning.
static gboolean
make(LzKept *kept, LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until)
{
  kept->generation = m->generation;
  kept->seen = m->records->len;
  kept->taken = system < m->of_water->len ? ((GArray *)m->of_water->pdata[system])->len : 0;
  kept->last_at = LZQ_LONG_AGO;
  kept->last_kind = 0;
  kept->waits = FALSE;
  kept->made =
      lzq_water_begin(&kept->bank, lz_model_view(m), system, analyte, kept->reference) == LZQ_OK;
  if (!kept->made)
    return FALSE;
  kept->bank.form = (uint8_t)kept->form; // until a dose says which
  g_autoptr(GArray) steps = lz_carry(m, system, analyte, until);
  g_autoptr(LzTrust) trust = lz_trust_new(m, LZQ_NEVER);
  for (guint i = 0; i < steps->len; i++) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (!lz_banks_feeds(&kept->bank, m, step, kept->begin, &kept->waits))
      continue;
    lz_banks_feed(&kept->bank, m, trust, step);
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
  if (!kept->made || kept->waits || kept->generation != m->generation ||
      kept->seen > m->records->len || kept->taken > own->len)
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
    if (r->kind == LZQ_REC_DOSE && r->drip) // it may wait in new water
      return FALSE;
    if (r->at < kept->begin || r->at < at || (r->at == at && r->kind < kind))
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
  g_autoptr(LzTrust) trust = own->len > kept->taken ? lz_trust_new(m, LZQ_NEVER) : NULL;
  for (guint i = kept->taken; i < own->len; i++) {
    uint32_t index = g_array_index(own, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if (!concerns(r, analyte))
      continue;
    const LzCarryStep step = {.at = r->at, .record = index, .kind = r->kind, .mg = r->amount};
    lz_banks_feed(&kept->bank, m, trust, &step);
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
    kept->stands = G_MAXUINT;
    g_hash_table_insert(banks->kept, key, kept);
  }
  return kept;
}

static gboolean
make_past(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute begin, lzq_minute until,
          lzq_water_bank *out)
{
  LzKept past = {.begin = begin};
  past.reference = lz_banks_reference(m, system, analyte, begin, &past.form);
  gboolean made = make(&past, m, system, analyte, until);
  *out = past.bank;
  return made;
}

static guint
parts_of(const LzModel *m)
{
  const GPtrArray *bands = m->by_kind[LZS_BAND];
  return m->phases->len + (bands ? bands->len : 0);
}

// No lot has come, gone or begun a course since, anywhere, and no protocol got a part: what all of
// them asked for was looked for already. The usual temperature is what was read.
static gboolean
reference_stays(const LzKept *kept, const LzModel *m, lzq_analyte analyte, lzq_minute begin)
{
  return kept->made && kept->generation == m->generation && kept->begin == begin &&
         analyte != LZQ_TEMPERATURE && kept->stands == m->stands->len && kept->parts == parts_of(m);
}

gboolean
lz_banks_at(LzBanks *banks, LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until,
            lzq_water_bank *out)
{
  if (system >= m->of_water->len || (guint)analyte >= LZQ_N_ANALYTES)
    return FALSE;
  LzKept *kept = lz_banks_kept(banks, system, analyte);
  const lzq_minute begin = until == LZQ_NEVER ? kept->begin : lz_banks_begin(until);
  if (kept->made && begin < kept->begin) // asked about the past
    return make_past(m, system, analyte, begin, until, out);
  if (kept->seen != m->records->len || kept->generation != m->generation || !kept->made ||
      kept->begin != begin) {
    lzq_form form = kept->form;
    double reference = kept->reference;
    if (!reference_stays(kept, m, analyte, begin))
      reference = lz_banks_reference(m, system, analyte, begin, &form);
    kept->stands = m->stands->len;
    kept->parts = parts_of(m);
    if (reference == kept->reference && form == kept->form && begin == kept->begin &&
        only_adds(kept, m, system, analyte)) {
      add(kept, m, system, analyte);
    } else {
      kept->reference = reference;
      kept->form = form;
      kept->begin = begin;
      banks->made++;
      if (!make(kept, m, system, analyte, LZQ_NEVER))
        return FALSE;
    }
  }
  if (kept->last_at > until) // a minute before the last entry
    return make_past(m, system, analyte, begin, until, out);
  *out = kept->bank;
  return TRUE;
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
