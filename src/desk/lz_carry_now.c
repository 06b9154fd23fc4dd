// SPDX-License-Identifier: GPL-3.0-or-later
// Levels carried from the last reading on that settles all that was before it, so that what a water
// holds now does not cost the years that it is old. Where no reading settles it, the whole record
// is walked: the answers are those of lz_carry either way.
#include "lz_carry_private.h"

#include <lzq_new_water.h>

#define FIRST_LOOK 64 // records of the water looked at from its end; four times as many each time
#define MINUTE_MS  60000

typedef struct {
  LzModel *m;
  const LzTrust *trust;
  uint32_t system;
  lzq_analyte analyte;
  lzq_minute since, until; // begins with a reading at or before `since`
} Look;

static const lzq_record *
record_at(const LzModel *m, uint32_t index)
{
  return &g_array_index(m->records, lzq_record, index);
}

// No record of this one's place or before it happened after that minute; LZQ_NEVER = nobody knows.
static lzq_minute
none_after(const LzModel *m, uint32_t index)
{
  const LzEntry *e = lz_model_entry(m, (int64_t)(record_at(m, index)->id / LZ_RECORDS_PER_ENTRY));
  if (m->disordered || !e || e->recorded_ms == 0)
    return LZQ_NEVER;
  return e->recorded_ms / MINUTE_MS + m->ahead_min;
}

// All records that hold and act after `after`, which the water's list has from place `from` on.
static GArray *
records_after(const Look *look, guint from, lzq_minute after)
{
  GArray *out = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  const GArray *all = look->m->of_water->pdata[look->system];
  for (guint i = from; i < all->len; i++) {
    const uint32_t index = g_array_index(all, uint32_t, i);
    const lzq_record *r = record_at(look->m, index);
    if (r->at > after && r->at <= look->until && lz_carry_concerns(r, look->analyte) &&
        lz_model_record_holds(look->m, index))
      lz_carry_put(out, look->m, index);
  }
  return out;
}

// By a method that sees some forms of copper only: what it is worth hangs on the last dose, however
// long ago.
static gboolean
hangs_on_form(const Look *look, const lzq_record *r)
{
  const uint32_t all = (1u << LZQ_N_FORMS) - 1;
  return look->analyte == LZQ_COPPER && r->instrument < look->m->instruments->len &&
         (g_array_index(look->m->instruments, lzq_instrument, r->instrument).sees_forms & all) !=
             all;
}

// It bears witness, every dose before it was mixed by then, none may wait in new water, and a dose
// after it is none that came with a change before it (lzq_new_water.h).
static gboolean
settles(const Look *look, const GArray *records, guint place, lzq_minute after)
{
  const lzq_record *r = record_at(look->m, g_array_index(records, uint32_t, place));
  const lzq_minute mixing = g_array_index(look->m->systems, lzq_system, look->system).mixing_min;
  const lzq_minute mixed = r->at - MAX(mixing, 0);
  const lzq_minute looked_at = MIN(mixed, r->at - LZQ_AT_WORK_MIN) - LZQ_DAY;
  if (r->kind != LZQ_REC_READING || r->suspect || looked_at <= after ||
      !lz_trust_reading(look->trust, r->instrument, r->at))
    return FALSE;
  while (place-- > 0) {
    const lzq_record *before = record_at(look->m, g_array_index(records, uint32_t, place));
    if (before->at < looked_at)
      break;
    const gboolean dose = before->kind == LZQ_REC_DOSE;
    if ((dose && (before->at >= mixed || before->drip)) ||
        (before->kind == LZQ_REC_CHANGE && before->at >= r->at - LZQ_AT_WORK_MIN))
      return FALSE;
  }
  return TRUE;
}

// The place of the last one that settles what was before it. FALSE = none does.
static gboolean
find_settled(const Look *look, const GArray *records, lzq_minute after, guint *place)
{
  for (guint i = records->len; i-- > 0;) {
    const lzq_record *r = record_at(look->m, g_array_index(records, uint32_t, i));
    if (r->kind == LZQ_REC_READING && hangs_on_form(look, r))
      return FALSE;
    *place = i;
    if (r->at <= look->since && settles(look, records, i, after))
      return TRUE;
  }
  return FALSE;
}

// Net litres in force at a minute, by the volumes on record.
static double
volume_at(const Look *look, lzq_minute at)
{
  LzModel *m = look->m;
  g_autoptr(GArray) own = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  for (guint k = 0; k < m->volumes->len; k++) {
    const uint32_t index = g_array_index(m->volumes, uint32_t, k);
    const lzq_record *r = record_at(m, index);
    if (r->system == look->system && r->at <= at && lz_model_record_holds(m, index))
      lz_carry_put(own, m, index);
  }
  return own->len ? record_at(m, g_array_index(own, uint32_t, own->len - 1))->amount
                  : g_array_index(m->systems, lzq_system, look->system).volume_l;
}

GArray *
lz_carry_since(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute since, lzq_minute until)
{
  const guint n = system < m->of_water->len ? ((const GArray *)m->of_water->pdata[system])->len : 0;
  const LzTrust *trust = lz_trust_now(m, until);
  const Look look = {m, trust, system, analyte, since, until};
  for (guint wanted = FIRST_LOOK; wanted < n; wanted *= 4) {
    const guint from = n - wanted;
    const uint32_t first =
        g_array_index((const GArray *)m->of_water->pdata[system], uint32_t, from);
    const lzq_minute after = none_after(m, first);
    guint place;
    if (after == LZQ_NEVER)
      continue;
    g_autoptr(GArray) records = records_after(&look, from, after);
    if (!find_settled(&look, records, after, &place))
      continue;
    const lzq_minute at = record_at(m, g_array_index(records, uint32_t, place))->at;
    return lz_carry_walk(m, trust, analyte, records, place, volume_at(&look, at), until);
  }
  return lz_carry(m, system, analyte, until);
}

GArray *
lz_carry_now(LzModel *m, uint32_t system, lzq_analyte analyte, lzq_minute until)
{
  return lz_carry_since(m, system, analyte, until, until);
}
